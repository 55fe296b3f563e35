"""Which in-lines are needed after the move, and which may be unplugged instead of cut."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.data.function_words import kinds_of
from xref.harness.answers import InlineView
from xref.harness.netmap import Place, place_of
from xref.moves.lines import NetLines
from xref.moves.records import AS_FITTED, InlineFate, PlannedNet
from xref.moves.wiregraph import WireGraph, reachable
from xref.records import Pin

#: Cavities named in a reason; the rest are counted.
_MOST_NAMED = 6


@dataclass(frozen=True, slots=True)
class Through:
    """A net at an in-line, with the places its living ends have on either side of it."""

    net: PlannedNet
    cavity: str
    sides: tuple[frozenset[str], frozenset[str]]


def inline_fates(
    views: Iterable[InlineView],
    nets: Mapping[Place, Sequence[PlannedNet]],
    graphs: Mapping[int, WireGraph],
    keep: frozenset[str],
) -> list[InlineFate]:
    """Return the fate of every in-line; `nets` are found by their cavities, `keep` are connectors to keep."""
    return [_fate(view, nets, graphs, keep) for view in views]


def _fate(
    view: InlineView,
    nets: Mapping[Place, Sequence[PlannedNet]],
    graphs: Mapping[int, WireGraph],
    keep: frozenset[str],
) -> InlineFate:
    through = list(_through(view, nets, graphs))
    holding = {item.cavity: reason for item in through if (reason := _keeps(item))}
    undocumented = _undocumented(view)
    named = any(half.connector in keep for half in view.halves)
    moved = any(item.net.touched for item in through)
    because = ""
    if named:
        because = "the plan keeps it"
    elif undocumented:
        because = undocumented
    elif holding:
        because = _because(holding)
    elif not through:
        because = "nothing is known to pass through it"
    return InlineFate(
        connector=view.names,
        fate="stays" if because else "goes",
        border=bool(through) and moved and not _blank(view) and _is_border(through),
        cavities_used_after=len(holding),
        because=because or "no cavity of it carries anything that stays",
        held=tuple(holding),
    )


def used_after(
    views: Sequence[InlineView],
    fates: Iterable[InlineFate],
    graphs: Mapping[int, WireGraph],
    lines: Mapping[int, NetLines],
) -> list[InlineFate]:
    """Return the fates with the cavities that are used when all lines are done: none of an in-line that goes.

    Those that carry what stays hold it; a crossing net may pass it all the same. The contacts of what travels
    come out of it.
    """
    passed = {
        place for n, found in lines.items() for joint in found.passed for place in graphs[n].places[joint]
    }
    halves = {place[:2] for place in passed}
    counted = []
    for view, fate in zip(views, fates, strict=True):
        used = set(fate.held) if fate.fate == "stays" else set()
        if fate.fate == "stays" and any((half.connector, half.half) in halves for half in view.halves):
            used |= {
                cavity.cavity
                for cavity in view.cavities
                if any(place_of(pin) in passed for pin in (*cavity.one, *cavity.other))
            }
        counted.append(replace(fate, cavities_used_after=len(used)))
    return counted


def _through(
    view: InlineView, nets: Mapping[Place, Sequence[PlannedNet]], graphs: Mapping[int, WireGraph]
) -> Iterable[Through]:
    for cavity in view.cavities:
        seen: set[int] = set()
        for pin in (*cavity.one, *cavity.other):
            for net in nets.get(place_of(pin), ()):
                if net.number in seen:
                    continue
                seen.add(net.number)
                halves = [(half.connector, half.half) for half in view.halves]
                sides = _sides(net, graphs.get(net.number), place_of(pin), halves)
                yield Through(net, cavity.cavity, sides)


def _sides(
    net: PlannedNet, graph: WireGraph | None, at: Place, halves: Sequence[tuple[str, str]]
) -> tuple[frozenset[str], frozenset[str]]:
    """Return the places of living ends on the side of each half of an in-line, seen from one cavity.

    In a ring both sides have everything.
    """
    everything = frozenset(end.where for end in net.living)
    if graph is None or at not in graph.joint_of or len(halves) != 2:
        return everything, everything
    joint = graph.joint_of[at]
    of_half: dict[tuple[str, str], set[int]] = {half: set() for half in halves}
    for number in graph.at[joint]:
        place = graph.wires[number].at(joint).place
        if place is not None and place[:2] in of_half:
            of_half[place[:2]].add(number)
    sides = []
    for half in halves:
        own = {graph.wires[number].far(joint).joint for number in of_half[half]}
        reached = {far for start in own for far in reachable(graph, start, set(graph.at[joint]))}
        sides.append(frozenset(end.where for end in net.living if graph.joint_of[end.place] in reached))
    return sides[0], sides[1]


def _keeps(item: Through) -> str:
    """Return why a net keeps an in-line, "" if it does not."""
    net = item.net
    if net.refused:
        return "is never cut"
    if net.fate == "unknown":
        return "is not known well enough"
    if net.fate == "stays":
        return "stays"
    if not net.accepted:
        return "is a safety circuit that was not accepted"
    if any("shield" in kinds_of(pin.function) for pin in net.rows):
        return "is a shield"
    if all(AS_FITTED in side for side in item.sides):
        return "has ends that stay on both sides"
    return ""


def _is_border(through: Sequence[Through]) -> bool:
    """Say whether all that crosses may be unplugged: nothing stays through, no place lies on both sides."""
    if any(item.net.fate in ("stays", "unknown") or item.net.refused for item in through):
        return False
    one = frozenset(place for item in through for place in item.sides[0])
    other = frozenset(place for item in through for place in item.sides[1])
    return bool(one and other) and not one & other


def _undocumented(view: InlineView) -> str:
    """Return what of its cavities is not in the documents, "" where all of both halves are."""
    if len(view.halves) < 2:
        return view.likely or "only one half of it is in the documents"
    for half in view.halves:
        if half.cavities_stated is not None and half.cavities_read < half.cavities_stated:
            left = half.cavities_stated - half.cavities_read
            return f"{left} of its {half.cavities_stated} cavities are not in the documents"
    blank = _blank(view)
    if blank:
        return f"cavities of which nothing is said: {_named(blank)}"
    lone = [cavity.cavity for cavity in view.cavities if not (cavity.one and cavity.other)]
    if lone:
        return f"cavities on one half only: {_named(lone)}"
    doubtful = [c.cavity for c in view.cavities if any(pin.flags for pin in (*c.one, *c.other))]
    if doubtful:
        return f"cavities that may have been misread: {_named(doubtful)}"
    return ""


def _blank(view: InlineView) -> list[str]:
    """Return the cavities where a half neither names a wire nor says that there is none.

    A blank row, or one with nothing but a function, may be of a wire no net knows.
    """
    return [
        cavity.cavity
        for cavity in view.cavities
        if any(own and not any(_says(pin) for pin in own) for own in (cavity.one, cavity.other))
    ]


def _says(pin: Pin) -> bool:
    return pin.status == "unused" or bool(pin.circuit or pin.base_color or pin.goes_to)


def _because(holding: Mapping[str, str]) -> str:
    reasons: dict[str, list[str]] = {}
    for cavity, reason in holding.items():
        reasons.setdefault(reason, []).append(cavity)
    return "; ".join(
        f"{'cavity' if len(cavities) == 1 else 'cavities'} {_named(cavities)}: what passes there {reason}"
        for reason, cavities in reasons.items()
    )


def _named(cavities: Sequence[str]) -> str:
    left = len(cavities) - _MOST_NAMED
    return ", ".join(cavities[:_MOST_NAMED]) + (f" and {left} more" if left > 0 else "")
