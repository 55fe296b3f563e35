"""The short wires between two moved ends that used to go a long way round."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Collection, Hashable, Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from xref.harness.netmap import Place
from xref.moves.records import PlannedNet
from xref.moves.seams import CutAt, Stub
from xref.moves.wiregraph import WireGraph

if TYPE_CHECKING:
    from xref.moves.lines import RawJoin

#: A piece: a joint, or the bare wire between two cuts.
_Piece = int | tuple[str, int]
#: Pieces, each with the pieces that hang on it, and by which joint: None where they are one anyway.
_Pieces = dict[_Piece, list[tuple[_Piece, Hashable]]]


def links_of(
    graph: WireGraph,
    net: PlannedNet,
    wires: Collection[int],
    cuts: Collection[CutAt],
    joins: Sequence[RawJoin],
) -> list[tuple[Place, Place]]:
    """Return for each joint made in one place the two moved ends it joins, nearest first, each pair once.

    `wires` are those that lead to what lives. A joint that joins no two moved ends is no link: it mends what
    stays as fitted, or one of its sides is the new vehicle's.
    """
    pieces = _pieces(graph, wires, cuts)
    local = [join for join in joins if join.between is None and not join.host]
    for number, join in enumerate(local):
        first, *others = (_piece(graph, cuts, stub) for stub in join.stubs)
        for piece in others:
            pieces[first].append((piece, number))
            pieces[piece].append((first, number))
    moved = {graph.joint_of[end.place]: end.place for end in net.living if end.moved}
    found: dict[frozenset[Place], tuple[Place, Place]] = {}
    for number, join in enumerate(local):
        sides = [_nearest(pieces, _piece(graph, cuts, stub), number, moved.keys()) for stub in join.stubs]
        ends = [moved[side] for side in dict.fromkeys(sides) if side is not None]
        for pair in pairwise(ends):
            found.setdefault(frozenset(pair), pair)
    return list(found.values())


def _pieces(graph: WireGraph, wires: Collection[int], cuts: Collection[CutAt]) -> _Pieces:
    pieces: _Pieces = defaultdict(list)
    cut = {number for number, _ in cuts}
    for number in wires:
        if number not in cut:
            one, other = graph.wires[number].one.joint, graph.wires[number].other.joint
            pieces[one].append((other, None))
            pieces[other].append((one, None))
    return pieces


def _piece(graph: WireGraph, cuts: Collection[CutAt], stub: Stub) -> _Piece:
    """Return what a stub hangs on: its plug's joint, or what the rest of the wire leads to."""
    (number, joint), side = stub
    if side == "plug":
        return joint
    far = graph.wires[number].far(joint).joint
    return ("wire", number) if (number, far) in cuts else far


def _nearest(pieces: _Pieces, start: _Piece, without: int, wanted: Collection[int]) -> int | None:
    """Return the first wanted joint from a piece outward, over any joint but one."""
    seen, todo = {start}, deque([start])
    while todo:
        piece = todo.popleft()
        if isinstance(piece, int) and piece in wanted:
            return piece
        for other in _onward(pieces, piece, without):
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return None


def _onward(pieces: _Pieces, piece: _Piece, without: int) -> Iterator[_Piece]:
    return (other for other, joint in pieces.get(piece, ()) if joint != without)
