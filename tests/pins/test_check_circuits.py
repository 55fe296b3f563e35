"""Circuits and codes against those of the whole document."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE, flags
from tests.tables.drawn import Page, pins

Row = tuple[str, str, str, str]


def _rows(circuits: Sequence[str], colors: Sequence[str] = ("BK", "RD")) -> list[Row]:
    texts = ("Lamp", "Horn", "Fan relay", "Pump", "Seat switch", "Brake", "Display", "Charger", "Tilt", "Key")
    return [
        (str(n + 1), colors[n % len(colors)], circuit, texts[n % len(texts)])
        for n, circuit in enumerate(circuits)
    ]


def _doubts(tmp_path: Path, rows: Sequence[Sequence[str]]) -> dict[str, tuple[str, ...]]:
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Lamp").ruled((HEADER, *rows), WIDE)
    return flags(pins(page).pins)


NUMBERS = ["1440", "1441", "1442", "1443", "1500", "1501", "1502", "1503", "1504"]


def test_a_circuit_of_a_form_nobody_else_has_is_doubted(tmp_path: Path) -> None:
    """Where all circuits are numbers, `15O5` with a letter is likely a misread one."""
    assert _doubts(tmp_path, _rows([*NUMBERS, "15O5"])) == {"10": ("circuit-odd",)}


def test_the_name_of_a_voltage_is_no_odd_circuit(tmp_path: Path) -> None:
    """`GND` stands among numbers in any manual."""
    assert _doubts(tmp_path, _rows([*NUMBERS, "GND"])) == {}


def test_the_legs_of_a_circuit_are_not_odd(tmp_path: Path) -> None:
    """`1440A` and `1440B` beside numbers are legs of one circuit."""
    assert _doubts(tmp_path, _rows([*NUMBERS, "1440A"])) == {}


def test_a_few_circuits_show_no_form(tmp_path: Path) -> None:
    """Three circuits are no habit."""
    assert _doubts(tmp_path, _rows(["1440", "1441", "L15"])) == {}


def test_a_circuit_that_was_hyphenated_is_doubted(tmp_path: Path) -> None:
    """`14-43`, where all others have four figures, was broken at the end of a line."""
    found = _doubts(tmp_path, _rows(["1440", "1441", "1442", "14-43", "15-00", "1501", "1502", "1503"]))
    assert found == {"4": ("circuit-odd",), "5": ("circuit-odd",)}


@pytest.mark.parametrize(
    ("row", "doubt"),
    [
        (("4", "BK", "", "Pump"), "circuit-missing"),
        (("4", "", "1443", "Pump"), "color-missing"),
        (("4", "BK", "1443", ""), "function-missing"),
    ],
)
def test_a_value_that_the_other_rows_have_is_missed(tmp_path: Path, row: Row, doubt: str) -> None:
    """A used row without what its table's other rows have was perhaps not read in full."""
    assert _doubts(tmp_path, [*_rows(NUMBERS[:3]), row]) == {"4": (doubt,)}


def test_a_dash_says_that_there_is_nothing(tmp_path: Path) -> None:
    """Where the page prints a dash, nothing is missing."""
    assert _doubts(tmp_path, [*_rows(NUMBERS[:3]), ("4", "–", "1443", "Pump")]) == {}


def test_a_text_that_swallowed_a_circuit_is_doubted(tmp_path: Path) -> None:
    """A number that is a circuit elsewhere, in the text of a row that has none, is its circuit."""
    found = _doubts(tmp_path, [*_rows(NUMBERS), ("10", "BK", "–", "Pump 1440")])
    assert found == {"10": ("text-overfull",)}


def test_codes_joined_in_another_way_are_doubted(tmp_path: Path) -> None:
    """Where two colours are joined by a stroke, two with a blank may be the codes of two wires."""
    colors = ("BK/RD", "BU/YE", "GN/WH", "BN/RD", "BU/BK", "RD/WH", "GN/YE", "YE/BK")
    found = _doubts(tmp_path, [*_rows(NUMBERS[:8], colors), ("9", "BK RD", "1509", "Pump")])
    assert found["9"] == ("color-odd",)


def test_a_colour_glued_to_a_circuit_is_doubted(tmp_path: Path) -> None:
    """`L31-10GN–BN` in rows that name no colour are two columns in one."""
    header, wide = ("Cavity", "Circuit", "Function"), (60, 90, 150)
    rows = [(str(n), f"L3{n}-10GN–BN", "Lamp") for n in range(1, 4)]
    made = pins(Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *rows), wide)).pins
    assert all("circuit-odd" in p.flags or p.color_code for p in made)
