"""A plan's wire ends and what is written on each, in the order of work.

Two labels a cut, one on each stub; two an extension, one on each end. Both are printed before the first cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from xref.data.wire_labels import short_color
from xref.moves.ids import ALPHABET, EXTENSION
from xref.moves.records import Cut, Join, Plan, Side
from xref.records import Pin

Where = Literal["plug", "loom", "extension", "along"]

#: Marks along a wire as aircraft repair has it (AC 43.13-1B, 11-205 to 11-208): none under 3 inches, one in
#: the middle up to 7, else one at each end and one every 15 inches. In millimetres, as marked out on a bench.
SHORTEST_MARKED_MM, LONGEST_WITH_ONE_MM, APART_MM = 76.0, 178.0, 381.0

#: The letters that stand for a side in ids, as in those of caps.
_SIDE_LETTER: dict[Side, str] = {"plug": "P", "loom": "K"}


@dataclass(frozen=True, slots=True, kw_only=True)
class WireEnd:
    """A wire end, or a place along an extension, and the words on its label."""

    order: int  #: from 1, the order of work
    id: str  #: of this label alone
    text: str  #: all on one line, as the plan has it; the colours apart
    head: tuple[str, ...]  #: what is looked for: the cut's id, the circuit
    way: tuple[str, ...]  #: what it hangs on, and behind ">" where it leads
    color: str  #: the colours in short words, the code as printed where they are not known
    cut: str
    side: Where
    place: str  #: of an extension's end; "" for a stub, which is labelled where it lies
    pin: Pin  #: the cavity the cut is named by
    size_mm2: float | None
    color_code: str


def marks_along(length_mm: float) -> int:
    """Return how many marks a wire of this length bears, those at its ends among them."""
    if length_mm < SHORTEST_MARKED_MM:
        return 0
    if length_mm <= LONGEST_WITH_ONE_MM:
        return 1
    return 1 + math.ceil(length_mm / APART_MM)


def wire_ends(plan: Plan, *, along: bool = False) -> tuple[WireEnd, ...]:
    """Return the labels of a plan: stubs in the order of the cuts, then extensions in that of the joints.

    With `along`, extensions whose length is known bear marks on their way, between those at their ends.
    """
    cuts = {cut.id: cut for cut in plan.cuts}
    found = [end for cut in plan.cuts for end in _stubs(cut)]
    for join in plan.joins:
        if join.wire is not None:
            found += _extension(join, cuts, along=along)
    return tuple(_numbered(found))


def unmeasured(plan: Plan) -> int:
    """Return how many extensions have no length, so that nobody knows how many marks they bear."""
    return sum(join.wire is not None and join.wire.length_m is None for join in plan.joins)


def alike(ends: Iterable[WireEnd]) -> tuple[str, ...]:
    """Return the texts that stand on more than one label: there must be none."""
    seen: dict[str, int] = {}
    for end in ends:
        seen[end.text] = seen.get(end.text, 0) + 1
    return tuple(text for text, number in seen.items() if number > 1)


def _numbered(ends: Iterable[WireEnd]) -> Iterator[WireEnd]:
    """Number the labels; ids that meet, where two extensions hang on one stub, get a sign more."""
    taken: dict[str, int] = {}
    for order, end in enumerate(ends, start=1):
        number = taken[end.id] = taken.get(end.id, 0) + 1
        again, at = divmod(number - 2, len(ALPHABET))
        more = "" if number == 1 else ALPHABET[at] * (again + 1)
        yield replace(end, order=order, id=f"{end.id}{more}")


def _stubs(cut: Cut) -> Iterator[WireEnd]:
    pin = cut.pin
    sides: tuple[Side, Side] = ("plug", "loom")
    for side, text in zip(sides, cut.labels, strict=True):
        yield WireEnd(
            order=0,
            id=f"{cut.id}{_SIDE_LETTER[side]}",
            text=text,
            head=tuple(filter(None, (cut.id, cut.circuit))),
            way=_way(text, cut.id, cut.circuit),
            color=short_color(pin.base_color, pin.stripe_color, pin.ring_color) or pin.color_code,
            cut=cut.id,
            side=side,
            place="",
            pin=pin,
            size_mm2=pin.size_mm2,
            color_code=pin.color_code,
        )


def _extension(join: Join, cuts: dict[str, Cut], *, along: bool) -> list[WireEnd]:
    assert join.wire is not None
    wire, ends = join.wire, []
    for text in join.labels:
        id_ = text.split(" ", 1)[0]
        cut = cuts[id_.partition("+")[0]]
        way = _way(text, f"{id_} {EXTENSION}", cut.circuit)
        here = "".join(way)
        side: Side = next(
            (
                own
                for (name, own), at in zip(join.stubs, join.at, strict=True)
                if name == cut.id and here.startswith(f"{at}>")
            ),
            "plug",
        )
        ends.append(
            WireEnd(
                order=0,
                id=f"{cut.id}{_SIDE_LETTER[side]}X",
                text=text,
                head=tuple(filter(None, (id_, EXTENSION, cut.circuit))),
                way=way,
                color=short_color(wire.base_color, wire.stripe_color, wire.ring_color) or wire.color,
                cut=cut.id,
                side="extension",
                place=way[0] if way else "",
                pin=cut.pin,
                size_mm2=wire.size_mm2,
                color_code=wire.color,
            )
        )
    if along and wire.length_m is not None:
        ends[1:1] = _along(ends[0], marks_along(wire.length_m * 1000.0))
    return ends


def _along(end: WireEnd, marks: int) -> list[WireEnd]:
    """Return the marks between the ends: as at the first end, with a number from there."""
    between = max(0, marks - 2)
    found = []
    for number in range(1, between + 1):
        count = f"({number} of {between})"
        found.append(
            replace(
                end,
                id=f"{end.id}{number}",
                text=f"{end.text} {count}",
                way=(*end.way, count),
                side="along",
            )
        )
    return found


def _way(text: str, id_: str, circuit: str) -> tuple[str, ...]:
    """Return what stands behind id and circuit, parted before the ">"."""
    rest = text.removeprefix(" ".join(filter(None, (id_, circuit)))).strip()
    near, sign, far = rest.partition(">")
    return tuple(filter(None, (near, sign + far)))
