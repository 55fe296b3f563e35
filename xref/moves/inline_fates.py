"""Which in-lines are needed after the move, and which may be unplugged instead of cut."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
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
#: An in-line is said to be held by few where no more of its cavities hold it than these, or than this share
#: of those in use: more wires are not led past it for its sake. Both are this project's choice.
_FEW_CAVITIES, _FEW_SHARE = 3, 0.25

#: What frees an in-line of a net, by the reason for which it holds it.
_FREED_BY: dict[str, str] = {
    "is not known well enough": "xref circuit says what is missing or in doubt",
    "is a safety circuit that was not accepted": "read it and name it in [safety]",
    "is a shield": "move what it shields along with it",
}
_LED_PAST = "move what it joins as well, or lead it past the in-line: two cuts and a joint for each wire"


@dataclass(frozen=True, slots=True)
class Through:
    """A net at a cavity of an in-line."""

    net: PlannedNet
    cavity: str
    at: Place
    halves: Sequence[tuple[str, str]]
    graph: WireGraph | None

    def sides(self) -> tuple[frozenset[str], frozenset[str]]:
        """Return the places its living ends have on either side of the in-line."""
        return _sides(self.net, self.graph, self.at, self.halves)


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
        border=_is_border(through) and not _blank(view),
        cavities_used_after=len(holding),
        because=because or "no cavity of it carries anything that stays",
        held=tuple(holding),
        free=() if named or undocumented else tuple(_freeing(through, holding)),
    )


def used_after(
    views: Sequence[InlineView],
    fates: Iterable[InlineFate],
    graphs: Mapping[int, WireGraph],
    lines: Mapping[int, NetLines],
) -> list[InlineFate]:
    """Return the fates with the cavities that are used when all lines are done: none of an in-line that goes.

    Those that carry what stays hold it; a crossing net may pass it all the same. The contacts of what travels
    come out of it. Counted too is what is cut out of one that goes, only to be joined again.
    """
    passed = {
        place for n, found in lines.items() for joint in found.passed for place in graphs[n].places[joint]
    }
    rejoined = Counter(
        half
        for n, found in lines.items()
        for joint in found.rejoined
        for half in {place[:2] for place in graphs[n].places[joint]}
    )
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
        again = max(rejoined[half.connector, half.half] for half in view.halves)
        counted.append(replace(fate, cavities_used_after=len(used), rejoined=again))
    return counted


def _through(
    view: InlineView, nets: Mapping[Place, Sequence[PlannedNet]], graphs: Mapping[int, WireGraph]
) -> Iterable[Through]:
    halves = [(half.connector, half.half) for half in view.halves]
    for cavity in view.cavities:
        seen: set[int] = set()
        for place in dict.fromkeys(place_of(pin) for pin in (*cavity.one, *cavity.other)):
            for net in nets.get(place, ()):
                if net.number not in seen:
                    seen.add(net.number)
                    yield Through(net, cavity.cavity, place, halves, graphs.get(net.number))


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
    if all(AS_FITTED in side for side in item.sides()):
        return "has ends that stay on both sides"
    return ""


def _freeing(through: Sequence[Through], holding: Mapping[str, str]) -> Iterator[str]:
    """Yield what would free an in-line that few of its used cavities hold, while others become free.

    What is never cut nobody frees; all else is named by its circuits, for each reason once.
    """
    used = len({item.cavity for item in through})
    if len(holding) > max(_FEW_CAVITIES, int(_FEW_SHARE * used)) or len(holding) == used:
        return
    if "is never cut" in holding.values() or not any(item.net.touched for item in through):
        return
    circuits: dict[str, dict[str, None]] = defaultdict(dict)
    for item in through:
        reason = _keeps(item)
        if reason:
            circuits[reason] |= dict.fromkeys(item.net.circuits or (item.net.name,))
    for reason, names in sorted(circuits.items()):
        yield f"{', '.join(sorted(names))}: {_FREED_BY.get(reason, _LED_PAST)}"


def _is_border(through: Sequence[Through]) -> bool:
    """Say whether all that crosses may be unplugged: nothing stays through, no place lies on both sides."""
    if any(item.net.fate in ("stays", "unknown") or item.net.refused for item in through):
        return False
    if not any(item.net.touched for item in through):
        return False
    sides = [item.sides() for item in through]
    one = frozenset(place for own, _ in sides for place in own)
    other = frozenset(place for _, own in sides for place in own)
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
