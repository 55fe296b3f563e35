"""Ways through nets of random harnesses, against all simple paths of the true wiring (networkx) and, where
the documents leave it open which wire goes where, against every reading of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from random import Random

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.harness.random_harness import Cavity, End, Harness, Printing, Size, printed, random_harness
from tests.store.sample import pin
from xref.harness.netmap import NetMap, map_of
from xref.harness.routes import MOST_ROUTES, Route, routes_between
from xref.records import Pin
from xref.store.settled import Mate

Rows = Sequence[tuple[Pin, End]]

seeds = st.integers(0, 2**32)
sizes = st.builds(
    Size,
    nets=st.integers(1, 6),
    harnesses=st.integers(1, 5),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
    rings=st.sampled_from([0.0, 0.5]),
)


#: A column that skips a printed splice may look like one that names the next stop; with two ends it cannot.
two_ended = st.builds(
    Size,
    nets=st.integers(1, 6),
    harnesses=st.integers(2, 6),
    components=st.integers(2, 6),
    most_ends=st.just(2),
    number_changes=st.sampled_from([0.0, 0.5]),
)


def maps(harness: Harness, rows: Rows) -> Iterator[tuple[NetMap, list[Cavity]]]:
    """Yield the map of each true net with the cavities of its ends."""
    mates = harness.mates()
    for net in sorted(harness.true_nets(), key=min):
        pins = [p for p, end in rows if end in net]
        ends = {Cavity(p.connector, p.half, p.cavity) for p in pins if p.role not in ("inline", "splice")}
        yield map_of(pins, mates), sorted(ends)


def hops_of(route: Route) -> tuple[Cavity, ...]:
    """Return the cavities of a way."""
    return tuple(Cavity(p.connector, p.half, p.cavity) for p in route.hops)


def inline_hops(harness: Harness, hops: Sequence[Cavity]) -> tuple[Cavity, ...]:
    """Return the in-line cavities of a way."""
    return tuple(hop for hop in hops if harness.role(hop) == "inline")


def true_ways(graph: networkx.Graph, one: Cavity, other: Cavity) -> set[tuple[Cavity, ...]]:
    """Return all simple paths of the wiring, without the names of splices."""
    return {
        tuple(node for node in path if isinstance(node, Cavity))
        for path in networkx.all_simple_paths(graph, one, other)
    }


@settings(max_examples=400, deadline=None)
@given(seed=seeds, size=sizes)
def test_stated_wires_give_all_simple_paths(seed: int, size: Size) -> None:
    """Where every row names the next stop the ways are those of the wiring, cavity by cavity, in order."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    graph = harness.graph()
    for net, ends in maps(harness, printed(harness, dice)):
        for one, other in combinations(ends, 2):
            routes = routes_between(net, one, other)
            if len(routes) >= MOST_ROUTES:
                continue
            assert {hops_of(route) for route in routes} == true_ways(graph, one, other)
            assert all(route.order == "stated" and not route.maybe for route in routes)


@settings(max_examples=400, deadline=None)
@given(seed=seeds, size=sizes)
def test_harness_names_give_the_inlines_in_order(seed: int, size: Size) -> None:
    """Where only looms are named, the in-lines of each way and their order are those of the wiring."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    graph = harness.graph()
    how = Printing(goes_to="none", blank_colors=0)
    for net, ends in maps(harness, printed(harness, dice, how)):
        for one, other in combinations(ends, 2):
            routes = routes_between(net, one, other)
            found = {inline_hops(harness, hops_of(route)) for route in routes}
            assert found == {inline_hops(harness, way) for way in true_ways(graph, one, other)}
            assert all(route.order == "stated" for route in routes)


@settings(max_examples=400, deadline=None)
@given(seed=seeds, size=two_ended, names=st.booleans(), at=st.sampled_from(["all", "ends", "inlines"]))
def test_far_devices_are_no_wires(seed: int, size: Size, names: bool, at: str) -> None:
    """Columns that name the far device, wherever they are filled in, never lead past an in-line."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    graph = harness.graph()
    how = Printing(goes_to="far", harness_names=names, blank_colors=0, doubled=0, copied=0)
    rows = [(_said_only_at(p, at), end) for p, end in printed(harness, dice, how)]
    for net, ends in maps(harness, rows):
        for one, other in combinations(ends, 2):
            (way, *more) = sorted(true_ways(graph, one, other))
            if more:
                continue
            for route in routes_between(net, one, other):
                found, true = (inline_hops(harness, hops) for hops in (hops_of(route), way))
                if route.order == "stated" and not route.maybe:
                    assert found == true
                assert {hop.connector for hop in found} <= {hop.connector for hop in true}


def _said_only_at(of: Pin, at: str) -> Pin:
    keeps = at == "all" or of.circuit == "GND" or (of.role == "inline") == (at == "inlines")
    return of if keeps else replace(of, goes_to="")


# --- nets of which nothing says which wire goes where: every reading ----------------------------------------


class Reading:
    """What one reading of a net joins: wires, and unseen splices as blocks of three ends and more."""

    def __init__(self, blocks: Sequence[Sequence[int]], places: Sequence[Cavity], plugs: Plugs) -> None:
        self.graph = networkx.Graph()
        self.graph.add_nodes_from(places)
        for number, block in enumerate(blocks):
            for end in block:
                self.graph.add_edge(places[end], number)
        for one, other in plugs:
            self.graph.add_edge(one, other)

    def holds(self) -> bool:
        """Say whether it is one net, with no wire more than it takes."""
        return bool(networkx.is_tree(self.graph))

    def required(self, one: Cavity, other: Cavity, plugs: Plugs) -> dict[str, int]:
        """Return the in-lines without which two places are not joined, with their places along the way."""
        path = networkx.shortest_path(self.graph, one, other)
        found = {}
        for here, there in plugs:
            cut = self.graph.copy()
            cut.remove_edge(here, there)
            if not networkx.has_path(cut, one, other):
                found[here.connector] = min(path.index(here), path.index(there))
        return found


Plugs = Sequence[tuple[Cavity, Cavity]]


def readings(pins: Sequence[Pin], plugs: Plugs) -> list[Reading]:
    """Return every way to wire these ends as one net; unseen splices only where wires alone do not do."""
    places = [Cavity(p.connector, p.half, p.cavity) for p in pins]
    for most in (2, len(pins)):
        found = []
        for blocks in _partitions(list(range(len(pins)))):
            if all(_may_meet(pins, block, plugs, most) for block in blocks):
                reading = Reading(blocks, places, plugs)
                if reading.holds():
                    found.append(reading)
        if found:
            return found
    return []


def _partitions(ends: list[int]) -> Iterator[list[list[int]]]:
    if not ends:
        yield []
        return
    first, rest = ends[0], ends[1:]
    for number in range(1, len(rest) + 1):
        for others in combinations(rest, number):
            left = [end for end in rest if end not in others]
            for more in _partitions(left):
                yield [[first, *others], *more]


def _may_meet(pins: Sequence[Pin], block: Sequence[int], plugs: Plugs, most: int) -> bool:
    if len(block) > most:
        return False
    for text in ("circuit", "base_color", "harness"):
        if len({getattr(pins[i], text) for i in block} - {""}) > 1:
            return False
    places = [Cavity(pins[i].connector, pins[i].half, pins[i].cavity) for i in block]
    return len(set(places)) == len(places) and not any(
        one in places and other in places for one, other in plugs
    )


small = st.builds(
    Size,
    nets=st.just(1),
    harnesses=st.integers(1, 4),
    components=st.integers(2, 6),
    most_ends=st.integers(2, 4),
    number_changes=st.sampled_from([0.0, 0.3]),
    color_changes=st.sampled_from([0.0, 0.5]),
    suffixes=st.just(0.0),
    chained=st.sampled_from([0.0, 0.5]),
    fused=st.just(0.0),
    potential=st.just(0.0),
)


def unseen(harness: Harness, dice: Random, how: Printing) -> Rows:
    """Print rows without the splices."""
    return [row for row in printed(harness, dice, how) if row[1].wire >= 0 and row[0].role != "splice"]


def check_readings(harness: Harness, rows: Rows, exact: bool) -> None:
    """Hold the ways between all ends against every reading of the rows."""
    pins = [p for p, _ in rows]
    plugs = [
        (Cavity(m.connector_a, m.half_a, m.cavity_a), Cavity(m.connector_b, m.half_b, m.cavity_b))
        for m in harness.mates()
    ]
    if len(pins) > 8:
        return
    found = readings(pins, plugs)
    net = map_of(pins, harness.mates())
    ends = sorted({Cavity(p.connector, p.half, p.cavity) for p in pins if p.role != "inline"})
    for one, other in combinations(ends, 2) if found else ():
        each = [reading.required(one, other, plugs) for reading in found]
        always = set.intersection(*(set(named) for named in each))
        routes = routes_between(net, one, other)
        for route in routes:
            passed = list(dict.fromkeys(hop.connector for hop in route.hops[1:-1] if hop.role == "inline"))
            assert set(passed) <= always, (passed, always)
            if route.order == "stated":
                assert all(sorted(passed, key=named.__getitem__) == passed for named in each)
            assert not exact or set(passed) == always, (passed, always)
            orders = {tuple(sorted(always, key=named.__getitem__)) for named in each}
            if len(orders) > 1:
                assert route.order == "not stated"


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=small, colors=st.booleans())
def test_only_inlines_that_every_reading_requires(seed: int, size: Size, colors: bool) -> None:
    """Where neither wires nor looms are named, exactly the in-lines of all readings are on the way."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    how = Printing(documents=1, doubled=0, copied=0, goes_to="none", harness_names=False)
    rows = unseen(harness, dice, _blank(how, 0.0 if colors else 1.0))
    check_readings(harness, rows, exact=True)


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=small, named=st.floats(0, 1))
def test_some_harness_names_claim_no_more_than_every_reading(seed: int, size: Size, named: float) -> None:
    """Where some looms are named, no in-line is said to be on the way that a reading does without."""
    dice = Random(seed)
    harness = random_harness(dice, size)
    how = Printing(documents=1, doubled=0, copied=0, goes_to="none")
    rows = [
        (p if dice.random() < named else replace(p, harness=""), end)
        for p, end in unseen(harness, dice, _blank(how, 1.0))
    ]
    check_readings(harness, rows, exact=False)


def _blank(how: Printing, share: float) -> Printing:
    return replace(how, blank_colors=share)


# --- by hand ------------------------------------------------------------------------------------------------


def plugged(name: str, cavity: str = "1") -> Mate:
    """Make the mate of one in-line cavity."""
    sides = {"connector_a": name, "half_a": "A", "cavity_a": cavity}
    return Mate(machine="lift", **sides, connector_b=name, half_b="B", cavity_b=cavity, how="designator")


def ways(pins: Sequence[Pin], mates: Sequence[Mate], start: str, end: str) -> list[tuple[list[str], str]]:
    """Return the ways between cavity 1 of two connectors as texts, with what is known of their order."""
    routes = routes_between(map_of(pins, mates), (start, "", "1"), (end, "", "1"))
    return [([hop.connector + hop.half for hop in route.hops], route.order) for route in routes]


def test_a_ring_gives_two_ways() -> None:
    """In a ring of two splices there are two ways, and cutting one leaves the other."""
    pins = [
        pin("A1", "1", "5", role="ground", goes_to="S1:a"),
        pin("S1", "a", "5", role="splice"),
        pin("S1", "b", "5", role="splice", goes_to="S2:b"),
        pin("S1", "c", "5", role="splice", goes_to="X5A:1"),
        pin("X5", "1", "5", half="A", role="inline"),
        pin("X5", "1", "5", half="B", role="inline", goes_to="S2:c"),
        pin("S2", "a", "5", role="splice", goes_to="B1:1"),
        pin("S2", "b", "5", role="splice"),
        pin("S2", "c", "5", role="splice"),
        pin("B1", "1", "5", role="component"),
    ]
    assert ways(pins, [plugged("X5")], "A1", "B1") == [
        (["A1", "S1", "S1", "S2", "S2", "B1"], "stated"),
        (["A1", "S1", "S1", "X5A", "X5B", "S2", "S2", "B1"], "stated"),
    ]


@pytest.mark.parametrize("at", ["A1", "B1", "both"])
def test_a_far_device_does_not_lead_past_the_inline(at: str) -> None:
    """`A1 goes to B1`, with X5 on the same circuit, is no wire from A1 to B1."""
    pins = [
        pin("A1", "1", "5", goes_to="B1:1" if at != "B1" else ""),
        pin("X5", "1", "5", half="A", role="inline"),
        pin("X5", "1", "5", half="B", role="inline"),
        pin("B1", "1", "5", goes_to="A1:1" if at != "A1" else ""),
    ]
    (route,) = ways(pins, [plugged("X5")], "A1", "B1")
    assert {name[:2] for name in route[0]} == {"A1", "X5", "B1"}
    assert route[1] == "not stated"


def test_two_inlines_without_looms_have_no_order() -> None:
    """Both are on the way, which comes first is not stated."""
    pins = [pin("A1", "1", "5"), pin("B1", "1", "5")]
    pins += [pin(name, "1", "5", half=half, role="inline") for name in ("X5", "X6") for half in "AB"]
    ((hops, order),) = ways(pins, [plugged("X5"), plugged("X6")], "A1", "B1")
    assert (sorted(hops), order) == (["A1", "B1", "X5A", "X5B", "X6A", "X6B"], "not stated")


def test_an_inline_on_the_branch_of_a_third_is_said_to_be_open() -> None:
    """With three ends and no splice the in-line may lie before any of them."""
    pins = [pin(name, "1", "5") for name in ("A1", "B1", "C1")]
    pins += [pin("X5", "1", "5", half=half, role="inline") for half in "AB"]
    (route,) = routes_between(map_of(pins, [plugged("X5")]), ("A1", "", "1"), ("B1", "", "1"))
    assert [hop.connector for hop in route.hops] == ["A1", "B1"]
    assert (route.order, route.maybe) == ("not stated", ("X5",))


def test_an_inline_whose_other_half_is_missing_ends_the_way() -> None:
    """What lies beyond a half without its mate is not in the documents; the gap is kept."""
    net = map_of([pin("A1", "1", "5"), pin("X5", "1", "5", half="A", role="inline")], [])
    assert net.unmated == [("X5", "A", "1")]


def test_halves_in_doubt_are_not_passed() -> None:
    """A pairing in doubt is no plug."""
    doubtful = replace(plugged("X5"), differences=("pairing-doubtful",))
    pins = [pin("X5", "1", c, half=half, role="inline") for half, c in (("A", "5"), ("B", "6"))]
    assert not map_of(pins, [doubtful]).plugs.get(("X5", "A", "1"))
