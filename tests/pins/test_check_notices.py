"""What is odd about circuits, and which of them name a voltage: notices, apart from doubts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins
from xref.records import Pin

TEXTS = ("Lamp", "Horn", "Fan relay", "Pump", "Seat switch", "Brake", "Display", "Charger", "Tilt", "Key")
COLORS = ("BK", "BU/YE", "RD", "GN", "WH")


def _read(tmp_path: Path, *tables: Sequence[tuple[str, str]]) -> tuple[Pin, ...]:
    """Draw a connector for each list of (circuit, colour) and read them."""
    page = Page(tmp_path / "a.pdf")
    for n, wires in enumerate(tables):
        rows = [(str(k + 1), color, circuit, TEXTS[k]) for k, (circuit, color) in enumerate(wires)]
        page.heading(f"Connector X{n + 5} - {TEXTS[n]}").ruled((HEADER, *rows), WIDE)
    return pins(page).pins


def _wires(*circuits: str) -> list[tuple[str, str]]:
    return [(circuit, COLORS[n % len(COLORS)]) for n, circuit in enumerate(circuits)]


def _named(made: Sequence[Pin], notice: str) -> set[str]:
    return {p.circuit for p in made if notice in p.notices}


@pytest.mark.parametrize(
    "name", ["GND", "+12V", "B+", "SGND", "KL30", "RETURN", "Masse", "Schirm", "Retour", "SPARE 2"]
)
def test_the_name_of_a_voltage_is_noticed(tmp_path: Path, name: str) -> None:
    """Such a text joins nothing by itself, in any document (common trade practice; DIN 72552: B+, KL30)."""
    made = _read(tmp_path, _wires("1440", "1441", name, "1442"))
    assert _named(made, "potential-name") == {name}


@pytest.mark.parametrize("name", ["CAN_H", "LIFT_UP", "RET_OIL", "R12", "NC12", "RES3", "ACC1", "P1", "SP2"])
def test_a_signal_s_name_is_no_voltage_s(tmp_path: Path, name: str) -> None:
    """A name that one wire bears may hold such a word, or be a circuit that begins like it."""
    made = _read(tmp_path, _wires("1440", "1441", name, "1442"))
    assert _named(made, "potential-name") == set()


def test_terminal_numbers_are_voltages_where_no_other_circuit_is_as_short(tmp_path: Path) -> None:
    """Among four-figure circuits, 30 and 31 are battery plus and ground (DIN 72552)."""
    made = _read(tmp_path, _wires("1440", "1441", "30", "1442", "1443", "31", "1444"))
    assert _named(made, "potential-name") == {"30", "31"}


def test_terminal_numbers_are_circuits_where_numbers_run_through_them(tmp_path: Path) -> None:
    """Among 28, 29, 32 and 33, the 30 is a circuit like the others."""
    made = _read(tmp_path, _wires("28", "29", "30", "31", "32", "33"))
    assert _named(made, "potential-name") == set()
    assert not any("potential-undecided" in p.flags for p in made)


def test_terminal_numbers_are_undecided_where_nothing_tells(tmp_path: Path) -> None:
    """Too few circuits show no habit: the row is in doubt."""
    made = _read(tmp_path, _wires("1440", "30", "1441"))
    assert {p.circuit for p in made if "potential-undecided" in p.flags} == {"30"}


def test_colors_that_change_along_a_circuit_are_noticed(tmp_path: Path) -> None:
    """Other colours are a change of wire; base and stripe reversed are more likely one wire."""
    made = _read(
        tmp_path,
        [("1440", "BK"), ("1441", "BU/YE"), ("1442", "RD")],
        [("1440", "GN"), ("1441", "YE/BU"), ("1442", "RD")],
    )
    assert _named(made, "color-changes") == {"1440"}
    assert _named(made, "reversed-colors-elsewhere") == {"1441"}


def test_sizes_that_change_along_a_circuit_are_noticed(tmp_path: Path) -> None:
    """Two areas of one circuit are said, two writings of one area are not."""
    page = Page(tmp_path / "a.pdf")
    for name, sizes in (("X5", ("0.5", "1.5", "2.5")), ("X6", ("0.5", "0.75", "2.50"))):
        rows = [(str(n + 1), COLORS[n], str(1440 + n), size) for n, size in enumerate(sizes)]
        page.heading(f"Connector {name}").ruled((("Pin", "Color", "Circuit", "mm²"), *rows), WIDE)
    assert _named(pins(page).pins, "size-changes") == {"1441"}


def test_circuits_that_look_alike_with_the_same_colors_are_noticed(tmp_path: Path) -> None:
    """`L15` and `LI5` in one colour may be one circuit; in another colour they are not."""
    made = _read(
        tmp_path,
        [("L15", "BK"), ("L20", "RD"), ("L33", "GN")],
        [("LI5", "BK"), ("L2O", "WH"), ("L34", "GN")],
    )
    assert _named(made, "near-twin-circuit") == {"L15", "LI5"}
