"""What a module is wired to."""

from __future__ import annotations

from pathlib import Path

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.harness.answers import Neighbor
from xref.harness.connector import connectors_named
from xref.harness.neighbors import neighbors_of
from xref.records import Pin
from xref.store.index import Index


def part(name: str, cavity: str, circuit: str, component: str = "", **fields: object) -> Pin:
    """Make a row of a component's connector."""
    return pin(name, cavity, circuit, component=component, **{"role": "component", **fields})


def around(folder: Path, name: str, *pins: Pin) -> list[Neighbor]:
    """Store the pins and return the neighbours of a name."""
    with Index.open(filled(folder, *pins)) as index:
        return list(neighbors_of(index, connectors_named(index, name)))


CONTROLLER = [part("A1", str(n), str(100 + n), "Winch controller") for n in (1, 2, 3, 4)]


def test_circuits_are_counted_and_inlines_named(tmp_path: Path) -> None:
    """A neighbour counts once a circuit, also beyond an in-line that changes the number; most come first."""
    pins = [
        *CONTROLLER,
        part("M1", "1", "201", "Winch motor"),
        pin("X5", "1", "101", half="A", role="inline"),
        pin("X5", "1", "201", half="B", role="inline"),
        *(part("B1", "1", "102", "Drum sensor"), part("B1", "2", "103", "Drum sensor")),
        part("B1", "3", "103", "Drum sensor"),
        pin("G1", "1", "104", role="ground"),
    ]
    found = around(tmp_path, "Winch controller", *pins)
    assert [(n.component, n.count, n.circuits, n.through) for n in found] == [
        ("Drum sensor", 2, ("102", "103"), ()),
        ("Winch motor", 1, ("101",), ("X5",)),
        ("G1", 1, ("104",), ()),
    ]


def test_only_means_no_third_component_even_by_way_of_others(tmp_path: Path) -> None:
    """Sensors on one supply talk only to the controller; a display that also talks to a pump does not."""
    pins = [
        *CONTROLLER,
        *(part("B1", "1", "101", "Drum sensor"), part("B2", "1", "101", "Rope sensor")),
        part("B1", "2", "102", "Drum sensor"),
        *(part("P1", "1", "103", "Display"), part("P1", "2", "900", "Display")),
        part("M9", "1", "900", "Bilge pump"),
        *(part("B3", "1", "104", "Brake sensor"), part("B3", "2", "901", "Brake sensor")),
        pin("F1", "1", "901", role="fuse"),
    ]
    only = {n.component: n.only for n in around(tmp_path, "A1", *pins)}
    assert only == {"Drum sensor": True, "Rope sensor": True, "Display": False, "Brake sensor": True}


def test_voltage_names_and_other_machines_reach_nothing(tmp_path: Path) -> None:
    """Two modules with a `GND` cavity are no neighbours by it, nor are those of two machines by a number."""
    pins = [
        part("A1", "1", "GND", "Winch controller"),
        part("A2", "1", "GND", "Bilge pump"),
        part("A1", "2", "101", "Winch controller"),
        part("A9", "2", "101", "Crane", machine="crane", document="crane.pdf"),
    ]
    assert around(tmp_path, "A1", *pins) == []


def test_a_misread_row_on_the_way_is_said(tmp_path: Path) -> None:
    """A neighbour reached over a doubtful row is doubtful."""
    pins = [*CONTROLLER, part("B1", "1", "101", "Drum sensor", flags=("cavity-gap",))]
    (found,) = around(tmp_path, "A1", *pins)
    assert found.doubtful
