"""What the work needs: labels, splices, caps, heat-shrink, wire by size and colour, time.

Each figure is counted from the lines, or estimated with the default it rests on named.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from xref.moves.metering import readings_of
from xref.moves.plan_file import TAIL_METRES, PlanFile
from xref.moves.records import Fate, Join, Link, Plan

#: So much more wire is cut off the reel than the way is long: ends, a mistake, the way round a frame. A
#: default of this project, not a figure of any standard.
WASTE = 1.10
#: Minutes for one splice with its two labels, at least and at most, and for one line of continuity.
#: Defaults of this project from bench practice; they leave out finding the place and dressing the loom.
SPLICE_MINUTES = (4, 6)
READING_MINUTES = 1

FATES: tuple[Fate, ...] = ("unknown", "needs host", "dies", "crosses", "travels", "stays")

#: (size in mm², base, stripe and ring colour, code where the colours are not known)
_Kind = tuple[float | None, str, str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class WireNeed:
    """Extension wire of one size and colour."""

    size_mm2: float | None
    color: str  #: the code as first printed
    base_color: str
    stripe_color: str
    ring_color: str
    pieces: int
    metres: float | None  #: with waste; None where no piece has a length
    unmeasured: int  #: pieces whose way was not given, in no metres


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSaved:
    """Wire that falls away, less what is added; below 0 where more is added."""

    metres: float | None  #: None where nothing of it is known
    links_left_out: int  #: whose old way is not known
    extensions_left_out: int  #: whose way was not given


def labels_needed(cuts: int, extensions: int) -> int:
    """Return the labels: both stubs of every cut, both ends of every extension."""
    return 2 * cuts + 2 * extensions


def splices_needed(extensions: int, direct: int) -> int:
    """Return the splices: one at each end of an extension, one for stubs joined directly."""
    return 2 * extensions + direct


def heat_shrink_needed(splices: int, caps: int) -> int:
    """Return the pieces of heat-shrink: one over each splice and each cap."""
    return splices + caps


def wire_needed(joins: Iterable[Join]) -> tuple[WireNeed, ...]:
    """Return the extension wire by size and colour, thickest first, unknown sizes before all."""
    kinds: dict[_Kind, list[Join]] = defaultdict(list)
    for join in joins:
        if join.wire is not None:
            wire = join.wire
            code = "" if wire.base_color else wire.color
            kinds[wire.size_mm2, wire.base_color, wire.stripe_color, wire.ring_color, code].append(join)
    found = [_need(kind, own) for kind, own in kinds.items()]
    return tuple(sorted(found, key=lambda n: (n.size_mm2 is not None, -(n.size_mm2 or 0.0), n.color)))


def _need(kind: _Kind, joins: Iterable[Join]) -> WireNeed:
    wires = [join.wire for join in joins if join.wire is not None]
    lengths = [wire.length_m for wire in wires if wire.length_m is not None]
    return WireNeed(
        size_mm2=kind[0],
        color=wires[0].color,
        base_color=kind[1],
        stripe_color=kind[2],
        ring_color=kind[3],
        pieces=len(wires),
        metres=round(sum(lengths) * WASTE, 2) if lengths else None,
        unmeasured=len(wires) - len(lengths),
    )


def wire_saved(links: Iterable[Link], joins: Iterable[Join]) -> WireSaved:
    """Return old less new way of every link, less the extensions; without a length: left out, counted."""
    saved: list[float] = []
    links_out = extensions_out = 0
    for link in links:
        if link.old_m is None or link.new_m is None:
            links_out += 1
        else:
            saved.append(link.old_m - link.new_m)
    for join in joins:
        if join.wire is not None:
            if join.wire.length_m is None:
                extensions_out += 1
            else:
                saved.append(-join.wire.length_m)
    return WireSaved(
        metres=round(sum(saved), 2) if saved else None,
        links_left_out=links_out,
        extensions_left_out=extensions_out,
    )


def minutes_needed(splices: int, readings: int) -> tuple[int, int]:
    """Return the minutes at the bench, at least and at most."""
    least, most = (splices * each + readings * READING_MINUTES for each in SPLICE_MINUTES)
    return least, most


def counts_of(plan: Plan, said: PlanFile, one_by_one: Mapping[str, int]) -> dict[str, object]:
    """Return the length of every list under its name, the nets under each fate, and what the work needs.

    `how` says of each figure whether it is counted, or estimated and by which default.
    """
    extensions = sum(join.wire is not None for join in plan.joins)
    splices = splices_needed(extensions, len(plan.joins) - extensions)
    readings = len(readings_of(plan))
    saved = wire_saved(plan.links, plan.joins)
    counted: dict[str, object] = {
        "nets": len(plan.nets),
        "cuts": len(plan.cuts),
        "joins": len(plan.joins),
        "caps": len(plan.caps),
        "links": len(plan.links),
        "inlines": len(plan.inlines),
        "refused": len(plan.refused),
        "host": len(plan.host),
        "buses": len(plan.buses),
        "supplies": len(plan.supplies),
        "cautions": len(plan.cautions),
        "questions": len(plan.questions),
        "crossings": sum(net.crossings for net in plan.nets),
        **{fate: sum(net.fate == fate for net in plan.nets) for fate in FATES},
        "inlines_go": sum(item.fate == "goes" for item in plan.inlines),
        "extensions": extensions,
        "labels": labels_needed(len(plan.cuts), extensions),
        "splices": splices,
        "heat_shrink": heat_shrink_needed(splices, len(plan.caps)),
        "readings": readings,
    }
    how = dict.fromkeys(counted, "counted")
    if any(net.at_least for net in plan.nets):
        how["crossings"] = "counted, at least: some nets branch where no document says"
    tail = f"{said.tail_m * 1000:.0f} mm{' (the default)' if said.tail_m == TAIL_METRES else ''}"
    how |= {
        "one_by_one": "counted",
        "wire": f"estimated: routes given, a tail of {tail} at each end, "
        f"{WASTE - 1:.0%} for waste (a default)",
        "wire_saved_m": "estimated: old less new ways, less the extensions without waste",
        "minutes": f"estimated: {SPLICE_MINUTES[0]} to {SPLICE_MINUTES[1]} min a splice with its labels, "
        f"{READING_MINUTES} min a reading (defaults)",
    }
    return {
        **counted,
        "one_by_one": dict(one_by_one),
        "wire": [_need_to_json(need) for need in wire_needed(plan.joins)],
        "wire_saved_m": saved.metres,
        "wire_saved_left_out": {"links": saved.links_left_out, "extensions": saved.extensions_left_out},
        "minutes": list(minutes_needed(splices, readings)),
        "how": how,
    }


def _need_to_json(need: WireNeed) -> dict[str, object]:
    return {
        "size_mm2": need.size_mm2,
        "color": need.color,
        "base_color": need.base_color,
        "stripe_color": need.stripe_color,
        "ring_color": need.ring_color,
        "pieces": need.pieces,
        "metres": need.metres,
        "unmeasured": need.unmeasured,
    }
