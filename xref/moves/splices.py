"""Where the splices of a crossing net are best, and the wires that matter for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal

from xref.moves.crossing import least_crossings
from xref.moves.records import AS_FITTED, PlannedNet, SpliceChoice
from xref.moves.wiregraph import WireGraph

#: Kinds of wire a splice of which is never doubled: two links would be two ways for one signal.
NEVER_DOUBLED = frozenset({"sensor return", "shield", "bus"})


def splice_choice(graph: WireGraph, net: PlannedNet, may_double: bool) -> tuple[SpliceChoice | None, int]:
    """Return what moving, staying and doubling the splices of a crossing net costs, and its crossings."""
    wires, fixed = living_wires(graph, net)
    places = net.places
    least = len(places) - 1
    movable = [
        joint
        for joint in {end.joint for n in wires for end in (graph.wires[n].one, graph.wires[n].other)}
        if joint not in fixed and graph.kinds[joint] == "splice" and _degree(graph, wires, joint) > 2
    ]
    any_way = least_crossings(graph, wires, fixed, places)
    crossings = len(any_way.crossing) if any_way else least
    seated = any(len(wires_at(graph, wires, joint)) > 1 for joint in fixed)
    if not movable and not seated:
        if not may_double or crossings == least or "splice-unseen" in net.flags:
            return None, crossings
        # where its wires meet is not stated: one link in their stead serves all the same
        return SpliceChoice(moves=crossings, stays=crossings, doubled=least, chosen="doubled"), least
    stays = _counted(graph, wires, fixed, places, lambda j, p: j not in movable or p == AS_FITTED)
    moves: int | None = crossings  # each splice placed on its own, where that is fewer than all staying
    if stays is not None and stays <= crossings:
        moves = _counted(graph, wires, fixed, places, lambda j, p: j not in movable or p != AS_FITTED)
    # in a large ring the search over all places finds a bound that a narrower one may better
    crossings = min(number for number in (crossings, stays, moves) if number is not None)
    doubled = least if may_double else None
    counts = {"stays": stays, "moves": moves, "doubled": doubled}
    known = [(number, name) for name, number in counts.items() if number is not None]
    chosen: Literal["moves", "stays", "doubled"] = min(known, key=lambda item: item[0])[1]  # type: ignore[assignment]
    choice = SpliceChoice(moves=moves, stays=stays, doubled=doubled, chosen=chosen)
    return choice, least if may_double else crossings


def _counted(
    graph: WireGraph,
    wires: Sequence[int],
    fixed: Mapping[int, str],
    places: Sequence[str],
    allowed: Callable[[int, str], bool],
) -> int | None:
    placed = least_crossings(graph, wires, fixed, places, allowed=allowed)
    return None if placed is None else len(placed.crossing)


def living_wires(graph: WireGraph, net: PlannedNet) -> tuple[list[int], dict[int, str]]:
    """Return the wires that lie between living ends, and the places of the joints that are ends.

    Wires to ends that are gone, and branches with no living end at all, fall away. A gone cavity in which
    wires between living ends meet is on their way.
    """
    fixed = {graph.joint_of[end.place]: end.where for end in net.living}
    left = {wire.number for wire in graph.wires}
    while True:
        loose = {
            number
            for number in left
            for end in (graph.wires[number].one, graph.wires[number].other)
            if end.joint not in fixed and len(wires_at(graph, left, end.joint)) < 2
        }
        if not loose:
            return sorted(left), fixed
        left -= loose


def wires_at(graph: WireGraph, wires: Iterable[int], joint: int) -> list[int]:
    """Return those of some wires that end at a joint."""
    own = wires if isinstance(wires, set) else set(wires)
    return [number for number in graph.at[joint] if number in own]


def _degree(graph: WireGraph, wires: Iterable[int], joint: int) -> int:
    return len(wires_at(graph, wires, joint))
