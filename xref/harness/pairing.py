"""Which halves of in-lines belong together, by evidence, and which of their cavities touch.

Evidence only: the person's word, one designator with two halves, designators that differ by a half mark,
in-lines of one number (`P12`, `J12`) whose lists are alike, cavity lists that mirror each other. Letters
of a name decide nothing by themselves, since the same letter means different things in different manuals.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from xref.data.half_marks import are_opposite, are_twins, parted_name
from xref.data.potentials import potential
from xref.harness.halves import Half, Wiring, agree, differences
from xref.pins.corrections_records import MateDecision
from xref.records import Connector
from xref.store.fold import plain_key
from xref.store.settled import Mate

#: Fewer circuits in common than this may be chance: two lamps share a feed, a ground and a dimmer.
_LEAST_MIRRORED = 4
#: Halves named alike but for their marks need less: so much in common is no chance between such names.
_LEAST_MARKED = 2
#: Connectors known as in-lines may change a few numbers on the way.
_SHARE_OF_INLINES = 0.75
#: Names of two halves, or of twins, bear more changes of number, where the rest agrees by its colours.
_SHARE_OF_NAMED = 0.5
#: A circuit at the same cavity of more connectors than this is a feed or ground and tells nothing.
_MOST_SHARERS = 8
#: Two halves are judged by their cavities from so many on; with fewer, one odd wire would decide.
_LEAST_JUDGED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two halves that are plugged together, and the evidence for it."""

    one: Half
    other: Half
    how: Literal["person", "designator", "marks", "mirrored"]


def pairs_of(
    records: Iterable[Connector],
    wirings: Mapping[Half, Wiring],
    inlines: set[Half],
    said: Iterable[MateDecision],
) -> list[Pair]:
    """Return every pair of halves, each half in one pair at most; stronger evidence goes first.

    `inlines` are the halves that documents call in-line (or two halves of one name are).
    """
    known: dict[Half, Connector] = {}
    for record in sorted(records, key=lambda r: r.role != "unknown"):  # what a document knows goes last
        known[record.machine, record.connector, record.half] = record
    pairs: list[Pair] = []
    taken: set[Half] = set()
    for found in (
        _said_to_mate(said, known),
        _of_one_name(known, inlines),
        _of_marked_names(known, wirings, inlines),
        _of_twin_names(known, wirings, inlines),
        _mirrored(known, wirings, inlines),
    ):
        for pair in [pair for pair in found if not {pair.one, pair.other} & taken]:
            pairs.append(pair)
            taken |= {pair.one, pair.other}
    return pairs


def mates_of_pair(pair: Pair, wirings: Mapping[Half, Wiring]) -> list[Mate]:
    """Return the cavities of a pair that touch, n to n, with what changes between them.

    Where most of them say different things on both sides, the pairing itself is in doubt, and the cavities
    that do not agree join nothing. A pairing that the person named is never in doubt.
    """
    here, there = wirings.get(pair.one, {}), wirings.get(pair.other, {})
    shared = sorted(here.keys() & there.keys())
    both = [key for key in shared if _tells(here, key) and _tells(there, key)]
    alike = {key for key in both if agree(here[key], there[key])}
    doubtful = pair.how != "person" and len(both) >= _LEAST_JUDGED and 2 * len(alike) < len(both)
    mates = []
    for key in shared:
        found = differences(here[key], there[key])
        if doubtful and key not in alike:
            found.append("pairing-doubtful")
        mates.append(
            Mate(
                machine=pair.one[0],
                connector_a=pair.one[1],
                half_a=pair.one[2],
                cavity_a=here[key].cavity,
                connector_b=pair.other[1],
                half_b=pair.other[2],
                cavity_b=there[key].cavity,
                how=pair.how,
                differences=tuple(found),
            )
        )
    return mates


def _tells(wiring: Wiring, key: str) -> bool:
    content = wiring[key]
    return bool(content.circuits or content.colors)


def _said_to_mate(said: Iterable[MateDecision], known: Mapping[Half, Connector]) -> Iterator[Pair]:
    pairs: dict[tuple[Half, Half], None] = {}
    for decision in said:  # a later word about a connector takes the place of an earlier one
        one = (decision.machine, decision.connector_a, decision.half_a)
        other = (decision.machine, decision.connector_b, decision.half_b)
        pairs = {pair: None for pair in pairs if not {one, other} & set(pair)} | {(one, other): None}
    for one, other in pairs:
        if {one, other} <= known.keys():
            yield Pair(one=one, other=other, how="person")


def _of_one_name(known: Mapping[Half, Connector], inlines: set[Half]) -> Iterator[Pair]:
    """Yield the halves printed under one designator; of three or more, those whose marks are opposite."""
    by_name: dict[tuple[str, str], list[Half]] = defaultdict(list)
    for half in known:
        if half[2] and half in inlines:
            by_name[half[0], half[1]].append(half)
    for halves in by_name.values():
        if len(halves) == 2:
            yield Pair(one=min(halves), other=max(halves), how="designator")
        elif len(halves) > 2:
            yield from _only_opposites(halves, {half: half[2] for half in halves}, "designator")


def _of_marked_names(
    known: Mapping[Half, Connector], wirings: Mapping[Half, Wiring], inlines: set[Half]
) -> Iterator[Pair]:
    """Yield connectors whose names differ by a half mark: `C210M` and `C210F`.

    Both are called in-line by the documents, or their cavities bear it out: `C1A` and `C1B` of one module
    are named alike too.
    """
    by_stem: dict[tuple[str, str], dict[Half, str]] = defaultdict(dict)
    for half in known:
        stem, mark = parted_name(half[1])
        if mark and not half[2] and _may_be_inline(known[half]):
            by_stem[half[0], plain_key(stem)][half] = mark
    for marks in by_stem.values():
        for pair in _only_opposites(list(marks), marks, "marks"):
            here, there = wirings.get(pair.one, {}), wirings.get(pair.other, {})
            alike = _mirror(here, there, True, _LEAST_MARKED) or _resemble(here, there, _LEAST_MARKED)
            if {pair.one, pair.other} <= inlines or alike:
                yield pair


def _of_twin_names(
    known: Mapping[Half, Connector], wirings: Mapping[Half, Wiring], inlines: set[Half]
) -> Iterator[Pair]:
    """Yield in-lines of one number that differ in what stands before or behind it, and are wired alike.

    `P12` and `J12`, `X5.1` and `X5.2`: where one of them is like two others, nothing is decided.
    """
    near: dict[tuple[str, str], list[Half]] = defaultdict(list)
    for half in sorted(inlines & wirings.keys() & known.keys()):
        if not half[2]:  # twins have one number, or one beginning
            near[half[0], "".join(filter(str.isdecimal, half[1]))].append(half)
            near[half[0], half[1][:-1]].append(half)
    found = {
        (one, other): None
        for halves in near.values()
        for one, other in combinations(halves, 2)
        if are_twins(one[1], other[1]) and _resemble(wirings[one], wirings[other], _LEAST_MIRRORED)
    }
    times = Counter(half for pair in found for half in pair)
    for one, other in found:
        if times[one] == times[other] == 1:
            yield Pair(one=one, other=other, how="marks")


def _only_opposites(
    halves: list[Half], marks: Mapping[Half, str], how: Literal["designator", "marks"]
) -> Iterator[Pair]:
    """Yield the pairs with opposite marks where neither half has a second partner."""
    found = [
        (one, other)
        for one, other in combinations(sorted(halves), 2)
        if are_opposite(marks[one], marks[other])
    ]
    times = Counter(half for pair in found for half in pair)
    for one, other in found:
        if times[one] == times[other] == 1:
            yield Pair(one=one, other=other, how=how)


def _mirrored(
    known: Mapping[Half, Connector], wirings: Mapping[Half, Wiring], inlines: set[Half]
) -> Iterator[Pair]:
    """Yield pairs of connectors of different names whose cavity lists mirror each other and no third's."""
    names = Counter((machine, name) for machine, name, half in known if half)
    free = {
        half: wiring
        for half, wiring in wirings.items()
        # one with both its halves needs no further mate
        if names[half[:2]] < 2 and _may_be_inline(known.get(half))
    }
    pairs = [
        (one, other)
        for one, other in _sharers(free)
        if one[1] != other[1] and _mirror(free[one], free[other], {one, other} <= inlines)
    ]
    times = Counter(half for pair in pairs for half in pair)
    for one, other in pairs:
        if times[one] == times[other] == 1:
            yield Pair(one=one, other=other, how="mirrored")


def _may_be_inline(record: Connector | None) -> bool:
    # What plugs into a named component is that component's connector, however alike another's is wired.
    return record is not None and (record.role == "inline" or not record.component)


def _sharers(wirings: Mapping[Half, Wiring]) -> list[tuple[Half, Half]]:
    """Return pairs that have enough circuits in the same cavities to be worth a closer look."""
    places: dict[tuple[str, str, str], list[Half]] = defaultdict(list)
    for half, wiring in wirings.items():
        for key, content in wiring.items():
            for circuit in content.circuits:
                if potential(circuit) != "always":
                    places[half[0], key, circuit].append(half)
    shared = Counter(
        pair
        for halves in places.values()
        if 1 < len(halves) <= _MOST_SHARERS
        for pair in combinations(sorted(halves), 2)
    )
    return sorted(pair for pair, number in shared.items() if number >= _LEAST_MIRRORED)


def _resemble(one: Wiring, other: Wiring, least: int) -> bool:
    """Say whether many cavities have the same circuits and nearly all agree, by circuit or by colour."""
    here = {key: content for key, content in one.items() if content.used}
    there = {key: content for key, content in other.items() if content.used}
    both, every = here.keys() & there.keys(), here.keys() | there.keys()
    same = sum(1 for key in both if here[key].circuits & there[key].circuits)
    fit = sum(1 for key in both if agree(here[key], there[key]))
    return same >= max(least, _SHARE_OF_NAMED * len(every)) and fit >= _SHARE_OF_INLINES * len(every)


def _mirror(one: Wiring, other: Wiring, both_inline: bool, least: int = _LEAST_MIRRORED) -> bool:
    here = {key: content.circuits for key, content in one.items() if content.circuits}
    there = {key: content.circuits for key, content in other.items() if content.circuits}
    alike = sum(1 for key in here.keys() & there.keys() if here[key] == there[key])
    if alike < least:
        return False
    if both_inline:
        return alike >= _SHARE_OF_INLINES * len(here.keys() | there.keys())
    return len(here) == len(there) == alike
