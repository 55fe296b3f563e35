"""Nets of random harnesses: what is worked out from the printed rows is what the wires are.

The independent oracle is networkx: connected components of the true wiring.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.harness.random_harness import (
    Cavity,
    End,
    Harness,
    Printing,
    Size,
    printed,
    random_harness,
)
from tests.harness.sample import filled
from xref.harness.nets import Net, Term, nets_of
from xref.records import Pin
from xref.store.index import Index

Rows = Sequence[tuple[Pin, End]]

sizes = st.builds(
    Size,
    nets=st.integers(1, 10),
    harnesses=st.integers(1, 5),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
    rings=st.sampled_from([0.0, 0.3]),
    parallel=st.sampled_from([0.0, 0.4]),
)
seeds = st.integers(0, 2**32)


def pure_nets(harness: Harness, rows: Rows) -> list[Net]:
    """Give rows to the pure function, with places numbered by cavity and the true mates and GND wires."""
    rows = [row for row in rows if row[1].wire >= 0]
    number: dict[Cavity, int] = {}
    terms = []
    ends: dict[End, list[int]] = defaultdict(list)
    for i, (pin, end) in enumerate(rows):
        place = Cavity(pin.connector, pin.half, pin.cavity)
        ends[end].append(i)
        terms.append(
            Term(
                place=number.setdefault(place, len(number)),
                connector=pin.connector,
                circuit=pin.circuit,
                joins=pin.circuit != "GND",
                base=pin.base_color,
                role=pin.role,
                owner=pin.component,
                table=(int(pin.document[7:-4]), pin.page, pin.table_no),
            )
        )
    mates = [
        (
            number[Cavity(m.connector_a, m.half_a, m.cavity_a)],
            number[Cavity(m.connector_b, m.half_b, m.cavity_b)],
        )
        for m in harness.mates()
        if {Cavity(m.connector_a, half, m.cavity_a) for half in "AB"} <= number.keys()
    ]
    grounds = [
        (i, j)
        for n, wire in enumerate(harness.wires)
        if wire.circuit == "GND"
        for i in ends[End(n, 0)]
        for j in ends[End(n, 1)]
    ]
    return nets_of(terms, mates, grounds)


def pure_partition(harness: Harness, rows: Rows) -> set[frozenset[End]]:
    """Return the nets of the pure function as sets of wire ends; every row is in exactly one."""
    used = [end for _, end in rows if end.wire >= 0]
    nets = pure_nets(harness, rows)
    assert sorted(i for net in nets for i in net.members) == list(range(len(used)))
    return {frozenset(used[i] for i in net.members) for net in nets}


def check_stored(folder: Path, harness: Harness, rows: Rows) -> int:
    """Hold the nets the index keeps against the wires, and return how many mates were in doubt.

    Where an in-line changes number and colour in most of its cavities, its halves are in doubt and join
    nothing; then its nets say that something is missing.
    """
    end_of = dict(rows)
    found: dict[int, set[End]] = defaultdict(set)
    flags: dict[int, tuple[str, ...]] = {}
    with Index.open(filled(folder, *(pin for pin, _ in rows))) as index:
        doubtful = {(mate.connector_a, mate.cavity_a) for mate in index.mates() if mate.doubtful}
        read = [
            (number, of, replace(pin, notices=()))
            for number, of, pins in index.all_nets("lift")
            for pin in pins
        ]
    assert {end_of[pin] for *_, pin in read} == {end for _, end in rows if end.wire >= 0}
    for number, of, pin in read:
        found[number].add(end_of[pin])
        flags[number] = of
        assert (pin.connector, pin.cavity) not in doubtful or "mate-missing" in of
    assert {frozenset(ends) for ends in found.values()} == harness.true_nets(doubtful)
    return len(doubtful)


@settings(max_examples=2000, deadline=None)
@given(seed=seeds, size=sizes)
def test_nets_are_the_connected_parts_of_the_wiring(seed: int, size: Size) -> None:
    """The partition of the rows is that of the true wires, whatever changes on the way."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    assert pure_partition(harness, printed(harness, dice)) == harness.true_nets()


@settings(max_examples=500, deadline=None)
@given(seed=seeds, size=sizes)
def test_order_and_copies_change_no_net(seed: int, size: Size) -> None:
    """Pages in another order, documents in another order, and rows printed again: the same nets and flags."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    rows = printed(harness, dice, Printing(documents=3, copied=0, doubled=0))
    again = [(replace(pin, page=pin.page + 500), end) for pin, end in rows if dice.random() < 0.5]
    flags = flags_by_net(harness, rows)
    for others in (shuffled(rows, dice), [*rows, *again], [*again, *rows], [*rows, *in_another(rows)]):
        assert flags_by_net(harness, others) == flags


@settings(max_examples=500, deadline=None)
@given(seed=seeds, size=sizes, documents=st.integers(1, 6))
def test_splitting_over_documents_changes_no_net(seed: int, size: Size, documents: int) -> None:
    """One document or six: the same nets and flags."""
    harness = random_harness(Random(seed), size)
    one = printed(harness, Random(seed), Printing(documents=1, blank_colors=0))
    more = printed(harness, Random(seed + 1), Printing(documents=documents, blank_colors=0))
    assert flags_by_net(harness, one) == flags_by_net(harness, more)


def flags_by_net(harness: Harness, rows: Rows) -> dict[frozenset[End], tuple[str, ...]]:
    """Return the flags of each net."""
    used = [end for _, end in rows if end.wire >= 0]
    return {frozenset(used[i] for i in net.members): net.flags for net in pure_nets(harness, rows)}


def shuffled(rows: Rows, dice: Random) -> list[tuple[Pin, End]]:
    """Put the tables into another order; rows of one table stay together."""
    tables: dict[tuple[str, int], list[tuple[Pin, End]]] = defaultdict(list)
    for pin, end in rows:
        tables[pin.document, pin.page].append((pin, end))
    return [row for key in dice.sample(sorted(tables), len(tables)) for row in tables[key]]


def in_another(rows: Rows) -> Iterable[tuple[Pin, End]]:
    """Print everything again in a document of its own."""
    return [(replace(pin, document="manual-77.pdf"), end) for pin, end in rows]


@pytest.mark.parametrize("seed", range(30))
def test_nets_through_the_store(tmp_path: Path, seed: int) -> None:
    """The same holds for what an indexing run leaves in the index: pairing and from/to rows are its own."""
    dice = Random(seed)
    size = Size(
        nets=dice.randrange(2, 12),
        harnesses=dice.randrange(1, 5),
        number_changes=seed % 4 * 0.05,
        rings=seed % 2 * 0.3,
        parallel=seed % 3 * 0.2,
    )
    harness = random_harness(dice, size)
    in_doubt = check_stored(tmp_path, harness, printed(harness, dice, Printing(documents=1 + seed % 3)))
    assert not in_doubt or size.number_changes


@pytest.mark.parametrize("seed", range(5))
def test_order_and_documents_change_no_stored_net(tmp_path: Path, seed: int) -> None:
    """Pages renumbered, documents renamed and rows printed again leave the nets of the index as they are."""
    dice = Random(1000 + seed)
    harness = random_harness(dice, Size(number_changes=0.05))
    rows = printed(harness, dice, Printing(documents=3))
    names = {"manual-0.pdf": "z.pdf", "manual-1.pdf": "a.pdf", "manual-2.pdf": "m.pdf"}
    renamed = [(replace(p, document=names[p.document], page=900 - p.page), end) for p, end in rows]
    check_stored(tmp_path / "renamed", harness, renamed)
    check_stored(tmp_path / "again", harness, [*rows, *in_another(rows)])
