"""Every net of a machine with its ends, their places after the move, and what happens to it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from xref.harness.far_end import far_end
from xref.harness.likely import Likely
from xref.harness.netmap import NetMap, Place, Stop
from xref.harness.nets import ON_THE_PATH
from xref.moves.names import Named, find_name
from xref.moves.plan_file import PlanError, PlanFile
from xref.moves.records import AS_FITTED, DROPPED, LEFT_BEHIND, End, Fate
from xref.store.fold import plain_key, unpadded_key
from xref.store.index import Index

#: Flags of a net that make it one nobody may decide about, with the words the plan says it in.
UNKNOWN_BECAUSE: dict[str, str] = {
    "end-missing": "only one end of it is in the documents",
    "mate-missing": "an in-line cavity on it has no mate in the documents",
    "splice-one-leg": "only one leg of a splice on it is in the documents",
    "splice-contradicts": "a row goes to a splice on it that is said to join another circuit",
    "circuit-contradicts": "its number stands on wires of different colours with nothing between",
    "cavity-contradicts": "tables put different wires into one cavity of it",
    "fuse-between": "its number stands on both sides of a fuse",
    "options-open": "which options are fitted decides what it joins",
    "pins-in-doubt": "a row of it may have been misread",
}


@dataclass(frozen=True, slots=True)
class Places:
    """Where each connector of the machine will be."""

    of: Mapping[str, str]  #: connector -> a place of the plan or DROPPED
    otherwise: str  #: AS_FITTED or LEFT_BEHIND
    line: Mapping[str, str] = field(default_factory=dict)  #: connector -> the name in the plan it goes by

    def where(self, connector: str) -> str:
        """Return where a connector will be."""
        return self.of.get(connector, self.otherwise)


def places_of(index: Index, machine: str, plan: PlanFile) -> Places:
    """Return the places the plan gives; a connector's own place goes before that of its component.

    Raises:
        PlanError: a name fits nothing or several things, is an in-line, or is both placed and dropped.
    """
    of: dict[str, str] = {}
    owner: dict[str, Named] = {}
    found: list[tuple[Named, str, str]] = []
    given = [(name, where, f'place."{name}"') for name, where in plan.place.items()]
    given += [(name, DROPPED, "drop.components") for name in plan.drop]
    for name, where, key in given:
        if where.casefold() in (AS_FITTED, LEFT_BEHIND, DROPPED) and key.startswith("place"):
            raise PlanError(
                f"{plan.name}: {key} is {where}, which is no place.",
                hint="Leave the line out, or use [drop].",
            )
        named = find_name(index, machine, name, plan.name, key)
        found.append((named, where, key))
        if named.inline:
            raise PlanError(
                f"{plan.name}: {key} is an in-line connector or a splice, which lies on the way "
                "and has no place.",
                hint="Place components; [inlines] keep names in-lines that must stay.",
            )
        for connector in named.connectors:
            before = owner.get(connector)
            if before is not None and bool(before.component) == bool(named.component):
                raise PlanError(
                    f"{plan.name}: {connector} is named twice, as {before.name} and as {name}.",
                    hint="Give each module one line.",
                )
            if before is None or before.component:  # a connector's own line goes before its component's
                owner[connector], of[connector] = named, where
    for named, where, key in found:
        others = {of[connector] for connector in named.connectors}
        if where not in others:
            raise PlanError(
                f"{plan.name}: {key} is {where}, but each of its plugs has a line of its own that says "
                f"{' and '.join(sorted(others))}.",
                hint="Delete one of them.",
            )
    lines = {connector: named.name for connector, named in owner.items()}
    return Places(of, AS_FITTED if plan.rest == "stays" else LEFT_BEHIND, lines)


def ends_of(net: NetMap, places: Places) -> tuple[End, ...]:
    """Return the ends of a net, each cavity once, with where they will be; whatever page names them first."""
    return tuple(
        End(place=place, pin=stop.pins[0], where=places.where(place[0]))
        for place, stop in sorted(net.stops.items(), key=lambda item: item[0])
        if stop.role not in ON_THE_PATH
    )


def loose_of(net: NetMap) -> tuple[str, ...]:
    """Return the circuits of a net of which the documents lack a wire end.

    Every wire has two ends and one number, so an odd number of ends lacks one; and a wire that begins in one
    splice does not end in the same, so a splice cannot have more legs than all the rest has ends. Where an
    end prints no number, it may be the missing one.
    """
    ends: dict[str, int] = {}
    legs: dict[str, dict[str, int]] = {}
    for place, stop in net.stops.items():
        for circuit, number in stop.wires().items():
            ends[circuit] = ends.get(circuit, 0) + number
            if stop.role == "splice":
                own = legs.setdefault(circuit, {})
                own[place[0]] = own.get(place[0], 0) + number
    if "" in ends:
        return ()
    return tuple(
        circuit
        for circuit, number in ends.items()
        if number % 2 or (circuit in legs and 2 * max(legs[circuit].values()) > number)
    )


class Documented:
    """Every cavity the documents print a wire in, under the names a far end may be called by."""

    def __init__(self, maps: Iterable[NetMap]) -> None:
        """Take the nets of a whole machine."""
        cavities: dict[str, set[str]] = defaultdict(set)
        others: set[str] = set()
        self._as_printed: set[str] = set()  #: spares the folding of most
        for net in maps:
            for (connector, half, cavity), stop in net.stops.items():
                cavities[connector + half].add(cavity)
                others.add(connector)
                for pin in stop.pins:
                    others.add(pin.component)
                    self._as_printed.add(f"{connector}{half}:{pin.cavity}")
        self._cavities: dict[str, set[str]] = defaultdict(set)  #: of each plug, by its folded name
        for name, found in cavities.items():
            self._cavities[plain_key(name)] |= found
        self._names = sorted(self._cavities.keys() | {plain_key(name) for name in others if name})

    def prints(self, far: str) -> bool:
        """Say whether a far end (`X5-B:7`) is printed, or is of a component or plug that may be meant."""
        if far in self._as_printed:
            return True
        name, cavity = _named(far), far_end(far)[1]
        if name in self._cavities and unpadded_key(cavity) in self._cavities[name]:
            return True
        # `A30:4` may be said of the plug `A30 X1`, or by the component's name
        at = bisect_right(self._names, name) if name in self._cavities else bisect_left(self._names, name)
        return at < len(self._names) and self._names[at].startswith(name)


def broken_of(net: NetMap, documented: Documented) -> tuple[str, ...]:
    """Return far ends that rows name although no table prints them: an end of the net is not known.

    A column may name the far device beyond a fuse or a relay, so one row's word counts only where that
    cavity is in no table. Where both ends of a wire that was laid since nothing else is left name others, or
    it would run from one loom into another, what joins them is a splice or an in-line nowhere read.
    """
    names = {plain_key(place[0] + place[1]) for place in net.stops}
    found: dict[str, None] = {}
    for stop in net.stops.values():
        for pin in stop.pins:
            far_text = pin.goes_to
            if ":" in far_text and not documented.prints(far_text) and _named(far_text) not in names:
                found[far_text] = None
    for place, wires in net.wires.items():
        for far, circuit in wires:
            here, there = net.stops[place], net.stops[far]
            named = (_elsewhere(names, here, circuit, there), _elsewhere(names, there, circuit, here))
            looms = {here.harness, there.harness} - {""}
            if all(named) or (any(named) and len(looms) > 1):
                found |= dict.fromkeys(filter(None, named))
    return tuple(sorted(found))


def _named(far: str) -> str:
    """Return the connector a far end names, folded."""
    return plain_key(far_end(far)[0])


def _elsewhere(names: AbstractSet[str], here: Stop, circuit: str, far: Stop) -> str:
    """Return the cavity a row says its wire goes to where none of the net's names is meant, "" else."""
    told = [pin.goes_to for pin in here.pins if pin.circuit == circuit and ":" in pin.goes_to]
    for text in told:
        name = _named(text)
        # `A30:4` may be said of `A30 X1`, or by the component's name
        owners = {plain_key(pin.component) for pin in far.pins}
        if name and name not in names | owners and not plain_key(far.place[0]).startswith(name):
            return text
    return ""


def undecided_of(net: NetMap, likely: Mapping[tuple[str, str], Likely]) -> tuple[str, ...]:
    """Return which lone halves of in-lines on a net may be plugged into which others.

    Only where that is so of all of them: of another half the mate is in no document.
    """
    lone = dict.fromkeys(place[:2] for place in net.unmated)
    if not all(half in likely for half in lone):
        return ()
    return tuple(likely[half].sentence() for half in lone)


def fate_of(
    ends: Iterable[End],
    flags: Iterable[str],
    loose: Sequence[str] = (),
    broken: Sequence[str] = (),
    lacking: Sequence[str] = (),
    undecided: Sequence[str] = (),
) -> tuple[Fate, str]:
    """Return the fate of a net, the first that holds, and why in words.

    `loose` is as `loose_of` finds it, `broken` as `broken_of` does; `lacking` says of which splices wires are
    missing, `undecided` of which halves of in-lines it is only likely what they are plugged into.
    """
    ends = list(ends)
    living = [end for end in ends if end.lives]
    moved = [end for end in living if end.moved]
    where = dict.fromkeys(end.where for end in living)
    flags = [flag for flag in flags if not undecided or flag != "mate-missing"]
    reasons = [UNKNOWN_BECAUSE[flag] for flag in flags if flag in UNKNOWN_BECAUSE]
    reasons += [*undecided, *lacking]
    if loose and not reasons and "splice-unseen" not in flags:
        reasons = [f"of a wire numbered {', '.join(loose)} only one end is in the documents"]
    if broken:
        reasons.append(f"a wire of it goes to {', '.join(broken)}, which is not in the documents")
    if reasons:
        return "unknown", "; ".join(reasons)
    if moved and len(living) < 2:
        return "needs host", f"of its ends only {_spoken(moved[0].place)} lives"
    if len(living) < 2:
        left = f"only {_spoken(living[0].place)} is left" if living else "none of its ends is left"
        return "dies", left
    if not moved:
        return "stays", "all its living ends stay as fitted"
    if len(where) == 1:
        return "travels", f"all its living ends go to {next(iter(where))}"
    return "crosses", f"its ends are in {_listed(list(where))}"


def _spoken(place: Place) -> str:
    return f"{place[0]}{' ' + place[1] if place[1] else ''}:{place[2].upper()}"


def _listed(names: list[str]) -> str:
    return ", ".join(names[:-1]) + f" and {names[-1]}"
