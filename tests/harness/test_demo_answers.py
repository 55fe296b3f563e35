"""The demo manuals, read and asked, against the harness they were drawn from."""

from __future__ import annotations

import csv
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import combinations

import pytest

from fixtures.demo.draw_wires import LEFT_OUT
from fixtures.demo.harness import HEADS, WIRES, End
from tests.conftest import ROOT
from xref.harness.lookup import answer_circuit, answer_trace, module_sheet
from xref.harness.netview import nets_with
from xref.harness.steps import Step
from xref.pipeline import index_paths
from xref.records import Pin
from xref.settings import Settings
from xref.store.index import Index
from xref.workspace import Workspace

TRUTH = ROOT / "fixtures" / "demo" / "truth"
Place = tuple[str, str, str]


def _rows(name: str) -> list[dict[str, str]]:
    with (TRUTH / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROLES = {(row["connector"], row["half"]): row["role"] for row in _rows("connectors")}
NET_OF: dict[Place, str] = {
    (row["connector"], row["half"], row["cavity"]): row["net"] for row in _rows("nets")
}


#: The scanned sheet is not read: what stands only there is in no answer.
READABLE = sorted(path.stem for path in TRUTH.glob("q16-*.csv") if "scan" not in path.stem)


def _wires() -> dict[Place, int]:
    """Return how many wires lie in each cavity: what the document that says most of it prints."""
    wires: Counter[Place] = Counter()
    for document in READABLE:
        printed = Counter(
            (row["connector"], row["half"], row["cavity"]) for row in _rows(document) if row["circuit"]
        )
        wires |= printed
    return wires


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Index]:
    """Index the demo manuals once."""
    workspace = Workspace(tmp_path_factory.mktemp("demo"))
    manuals = sorted((ROOT / "examples" / "manuals").glob("*.pdf"))
    index_paths(manuals, workspace, machine="forklift", settings=Settings(workers=2))
    with Index.open(workspace) as opened:
        yield opened


def test_every_appearance_stands_under_its_true_role(index: Index) -> None:
    """Ends, splices, grounds and fuses are what the harness has there, whichever document printed the row."""
    wrong = []
    for _, circuit in index.circuit_names():
        answer = answer_circuit(index, circuit)
        groups = {
            "component": answer.ends,
            "splice": answer.splices,
            "ground": answer.grounds,
            "fuse": answer.fuses,
            "inline": [half for passing in answer.pass_throughs for half in passing.halves],
        }
        wrong += [
            (circuit, pin.connector, pin.document, role)
            for role, pins in groups.items()
            for pin in pins
            if ROLES.get((pin.connector, pin.half)) != role
        ]
    assert wrong == []


def test_no_circuit_joins_two_nets_and_no_half_is_missing(index: Index) -> None:
    """All places of a circuit lie in one net of the harness, and each in-line shows both halves."""
    for _, circuit in index.circuit_names():
        answer = answer_circuit(index, circuit)
        nets = {NET_OF[pin.connector, pin.half, pin.cavity] for pin in answer.appearances}
        assert len(nets) == 1, circuit
        assert not [passing for passing in answer.pass_throughs if passing.missing_half], circuit


def test_every_sheet_has_each_wire_once_and_all_its_ends(index: Index) -> None:
    """For every module: one line per wire, and exactly the ends, grounds and fuses of its net."""
    by_net: dict[str, set[Place]] = defaultdict(set)
    wires = _wires()
    for place, net in NET_OF.items():
        if place in wires and ROLES[place[:2]] in ("component", "ground", "fuse"):
            by_net[net].add(place)
    checked = 0
    for component in sorted({row["component"] for row in _rows("connectors")} - {""}):
        for part in module_sheet(index, [component]).parts:
            wired = [line for line in part.lines if line.pin.circuit]
            lines = Counter((line.pin.connector, line.pin.half, line.pin.cavity) for line in wired)
            assert lines == {place: wires[place] for place in lines}
            for line in wired:
                assert line.others is not None
                ends = (*line.others.ends, *line.others.grounds, *line.others.fuses)
                found = {(pin.connector, pin.half, pin.cavity) for pin in ends}
                place = (line.pin.connector, line.pin.half, line.pin.cavity)
                assert found == by_net[NET_OF[place]], place
                checked += 1
    assert checked > 100


def _joined() -> dict[Place, set[Place]]:
    """Return which cavities of the harness lie next to each other: by a wire, plugged, or on one splice."""
    found: dict[Place, set[Place]] = defaultdict(set)

    def join(one: Place, other: Place) -> None:
        found[one].add(other)
        found[other].add(one)

    places: set[Place] = set()
    for wire in WIRES:
        if LEFT_OUT not in (wire.a.connector, wire.b.connector):
            one, other = _place(wire.a), _place(wire.b)
            join(one, other)
            places |= {one, other}
    for one, other in combinations(sorted(places), 2):
        role = HEADS[one[0]].role
        same_cavity = role == "inline" and one[2] == other[2]
        if one[0] == other[0] and (role == "splice" or same_cavity):
            join(one, other)
    return found


def _place(end: End | Pin) -> Place:
    return (end.connector, end.half, end.cavity)


def _true_ways(joined: dict[Place, set[Place]], start: Place, goal: Place) -> list[tuple[Place, ...]]:
    """Return every way between two cavities that is on no splice, in-line cavity or end twice."""
    found = []
    todo = [(start,)]
    while todo:
        way = todo.pop()
        for place in joined[way[-1]] - set(way):
            # the legs of a splice are one point: from one of them straight to another, and away
            legs = [at for at in (*way, place) if HEADS[at[0]].role == "splice" and at[0] == place[0]]
            if len(legs) > 2:
                continue
            if place == goal:
                found.append((*way, place))
            else:
                todo.append((*way, place))
    return found


def test_every_way_of_the_harness_is_traced(index: Index) -> None:
    """Between any two ends of one net, the ways are exactly those that are wired, cavity by cavity.

    Where wires alone join two ends by no way (a bus in and out of a component), no wire is made up.
    """
    joined = _joined()
    ends: dict[str, list[Place]] = defaultdict(list)
    for place in sorted(joined):
        if HEADS[place[0]].role not in ("inline", "splice"):
            ends[NET_OF[place]].append(place)
    checked = 0
    for places in ends.values():
        for one, other in combinations(places, 2):
            answer = answer_trace(index, f"{one[0]}:{one[2]}", f"{other[0]}:{other[2]}")
            traced = sorted(tuple(_place(pin) for pin in route.hops) for route in answer.paths)
            ways = sorted(_true_ways(joined, one, other))
            assert traced == ways or not ways, (one, other)
            assert {route.order for route in answer.paths} == {"stated" if ways else "not stated"}
            for route in answer.paths:
                for pin, onward, kind in zip(route.hops, route.hops[1:], route.between, strict=False):
                    if kind in ("wire", "plug", "splice"):
                        assert _place(onward) in joined[_place(pin)], (one, other)
            checked += len(ways)
    assert checked > 100


def test_every_hop_has_the_colour_and_number_of_a_wire_that_lies_there(index: Index) -> None:
    """What stands at a hop before a wire is that wire's circuit, also where it changes at an in-line."""
    circuits = {frozenset((_place(wire.a), _place(wire.b))): wire.circuit for wire in WIRES}
    for wire in WIRES:
        if LEFT_OUT in (wire.a.connector, wire.b.connector):
            continue
        for route in answer_trace(index, f"{wire.a}", f"{wire.b}").paths:
            between = zip(route.hops, route.hops[1:], route.between, strict=False)
            for pin, onward, kind in between:
                if kind == "wire":
                    assert circuits[frozenset((_place(pin), _place(onward)))] in (pin.circuit, onward.circuit)
                else:
                    assert frozenset((_place(pin), _place(onward))) not in circuits


def test_the_tree_of_every_net_has_each_of_its_wires_once(index: Index) -> None:
    """The wires in the way of a circuit are the wires of its net, none missing, none made up."""
    shown: set[frozenset[Place]] = set()
    for _, circuit in index.circuit_names():
        for view in nets_with(index, index.pins_on_circuit(circuit)):
            steps: list[Step] = [step for top in view.tops for step in top.all()]
            wires = [
                frozenset((_place(step.link.near), _place(step.link.far)))
                for step in steps
                if step.link and step.link.kind == "wire" and step.link.near and step.link.far
            ]
            assert len(wires) == len(set(wires)), circuit
            assert view.order == "stated" or len(view.tops) > 1, circuit
            shown |= set(wires)
    assert shown == {
        frozenset((_place(wire.a), _place(wire.b)))
        for wire in WIRES
        if LEFT_OUT not in (wire.a.connector, wire.b.connector)
    }
