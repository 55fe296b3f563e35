"""Which connectors are in-lines, decided with all documents in view.

Evidence only: halves of one designator, and cavity lists that mirror each other. Letters of a name
decide nothing, since the same letter means different things in different manuals.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations

from xref.data.potentials import potential
from xref.pins.corrections_records import MateDecision
from xref.records import Connector
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.writing import Mate, SettledRole

#: (machine, connector, half)
Half = tuple[str, str, str]
#: cavity -> the circuits in it
Wiring = dict[str, set[str]]

#: Fewer circuits in common than this may be chance: two lamps share a feed, a ground and a dimmer.
_LEAST_MIRRORED = 4
#: Connectors known as in-lines may change a few numbers on the way.
_SHARE_OF_INLINES = 0.75
#: A circuit at the same cavity of more connectors than this is a feed or ground and tells nothing.
_MOST_SHARERS = 8


def settle_roles(index: Index, said: Iterable[MateDecision] = ()) -> None:
    """Decide with all documents in view which connectors are in-lines and which cavities mate; store both.

    `said` are the mates the person named: they count before any evidence. Run it at the end of every
    indexing run; what it decided before is thrown away.
    """
    records = index.connectors()
    roles = {(role.machine, role.connector, role.half): role for role in _halves_of_one_name(records)}
    mates: list[Mate] = []
    named = list(_said_to_mate(index, said, {(r.machine, r.connector, r.half) for r in records}))
    for one, other, cavities in named:
        mates += (_mate(one, other, here, there, "person") for here, there in cavities)
        for half, mate in ((one, other), (other, one)):
            roles[half] = _inline(half, f"the person says that it is plugged into {_spoken(mate)}")
    for one, other, cavities in _mirrored(index, records, set(roles)):
        mates += (_mate(one, other, here, there, "mirrored") for here, there in cavities)
        for half, mate in ((one, other), (other, one)):
            why = f"its cavity list mirrors that of {_spoken(mate)}: the same circuits in the same cavities"
            roles.setdefault(half, _inline(half, why))
    index.set_roles(roles.values(), mates)


def _inline(half: Half, why: str) -> SettledRole:
    return SettledRole(machine=half[0], connector=half[1], half=half[2], role="inline", why=why)


def _said_to_mate(
    index: Index, said: Iterable[MateDecision], known: set[Half]
) -> Iterator[tuple[Half, Half, list[tuple[str, str]]]]:
    """Yield the connectors the person says are plugged together, with the cavities both print."""
    pairs: dict[tuple[Half, Half], None] = {}
    for decision in said:  # a later word about a connector takes the place of an earlier one
        one = (decision.machine, decision.connector_a, decision.half_a)
        other = (decision.machine, decision.connector_b, decision.half_b)
        pairs = {pair: None for pair in pairs if not {one, other} & set(pair)} | {(one, other): None}
    for one, other in pairs:
        if {one, other} <= known:
            here, there = (
                {unpadded_key(p.cavity): p.cavity for p in index.pins_of(half[1], half[0], half[2])}
                for half in (one, other)
            )
            yield one, other, [(here[key], there[key]) for key in sorted(here.keys() & there.keys())]


def _halves_of_one_name(records: Iterable[Connector]) -> Iterator[SettledRole]:
    """Two halves printed under one designator, in one document or in several, are an in-line."""
    by_name: dict[tuple[str, str], list[Connector]] = defaultdict(list)
    for record in records:
        by_name[record.machine, record.connector].append(record)
    for (machine, name), found in by_name.items():
        halves = {record.half for record in found if record.half}
        said = {record.role for record in found} - {"unknown"}
        if len(halves) < 2 or said - {"inline"}:
            continue
        documents = sorted({record.document for record in found})
        why = f"two halves stand under one designator, in {' and '.join(documents)}"
        for half in sorted(halves):
            unknown = any(record.half == half and record.role == "unknown" for record in found)
            if unknown:
                yield SettledRole(machine=machine, connector=name, half=half, role="inline", why=why)


def _mirrored(
    index: Index, records: Iterable[Connector], settled: set[Half]
) -> Iterator[tuple[Half, Half, list[tuple[str, str]]]]:
    """Yield pairs of connectors of different names whose cavity lists mirror each other and no third's.

    With each pair come the cavities that touch, as each side prints them.
    """
    known = {(record.machine, record.connector, record.half): record for record in records}
    names = Counter((machine, name) for machine, name, half in known if half)
    wirings: dict[Half, Wiring] = defaultdict(lambda: defaultdict(set))
    printed: dict[Half, dict[str, str]] = defaultdict(dict)
    for machine, name, half, cavity, circuit in index.wirings(("inline", "unknown")):
        where = (machine, name, half)
        alone = names[machine, name] < 2  # one with both its halves needs no further mate
        if alone and where not in settled and _may_be_inline(known.get(where)):
            wirings[where][unpadded_key(cavity)].add(circuit)
            printed[where][unpadded_key(cavity)] = cavity
    inlines = {where for where, record in known.items() if record.role == "inline"}
    pairs = [
        (one, other)
        for one, other in _sharers(wirings)
        if one[1] != other[1] and _mirror(wirings[one], wirings[other], {one, other} <= inlines)
    ]
    times = Counter(half for pair in pairs for half in pair)
    for one, other in pairs:
        if times[one] == times[other] == 1:
            shared = sorted(wirings[one].keys() & wirings[other].keys())
            yield one, other, [(printed[one][key], printed[other][key]) for key in shared]


def _may_be_inline(record: Connector | None) -> bool:
    # What plugs into a named component is that component's connector, however alike another's is wired.
    return record is not None and (record.role == "inline" or not record.component)


def _sharers(wirings: dict[Half, Wiring]) -> list[tuple[Half, Half]]:
    """Return pairs that have enough circuits in the same cavities to be worth a closer look."""
    places: dict[tuple[str, str, str], list[Half]] = defaultdict(list)
    for half, wiring in wirings.items():
        for cavity, circuits in wiring.items():
            for circuit in circuits:
                if potential(circuit) != "always":
                    places[half[0], cavity, circuit].append(half)
    shared = Counter(
        pair for halves in places.values() if len(halves) <= _MOST_SHARERS for pair in combinations(halves, 2)
    )
    return sorted(pair for pair, number in shared.items() if number >= _LEAST_MIRRORED)


def _mirror(one: Wiring, other: Wiring, both_inline: bool) -> bool:
    common = one.keys() & other.keys()
    alike = sum(1 for cavity in common if one[cavity] == other[cavity])
    if both_inline:
        return alike >= _SHARE_OF_INLINES * len(one.keys() | other.keys())
    return len(one) == len(other) == alike


def _mate(one: Half, other: Half, cavity: str, mate_cavity: str, how: str) -> Mate:
    return Mate(
        machine=one[0],
        connector_a=one[1],
        half_a=one[2],
        cavity_a=cavity,
        connector_b=other[1],
        half_b=other[2],
        cavity_b=mate_cavity,
        how=how,
    )


def _spoken(half: Half) -> str:
    return f"{half[1]} half {half[2]}" if half[2] else half[1]
