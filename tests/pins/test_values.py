"""Texts of a row to wires: combined cells parted, two wires in one cell, dashes and footnote marks gone."""

from __future__ import annotations

import pytest

from xref.pins.values import blank_if_none, color_in_cavity, row_to_wires
from xref.records import Box
from xref.rows.row import Row


def _row(cavity: str = "1", **values: str) -> Row:
    return Row(values=values, box=Box(x0=0, top=0, x1=10, bottom=10), row_no=1, cavity=cavity)


@pytest.mark.parametrize(
    ("values", "size", "color", "circuit"),
    [
        ({"color": "0.5 BU/YE"}, "0.5", "BU/YE", ""),
        ({"color": "2 WS"}, "2", "WS", ""),
        ({"color": "BK/WH 0.75"}, "0.75", "BK/WH", ""),
        ({"size": "0.5 BU"}, "0.5", "BU", ""),
        ({"circuit": "1440A 0.5 BU/YE"}, "0.5", "BU/YE", "1440A"),
        ({"circuit": "1440A BU/YE"}, "", "BU/YE", "1440A"),
        ({"color": "BK", "size": "0.75", "circuit": "1440"}, "0.75", "BK", "1440"),
        ({"color": "BK†", "circuit": "1440 1)"}, "", "BK", "1440"),
    ],
)
def test_combined_cells_are_parted(values: dict[str, str], size: str, color: str, circuit: str) -> None:
    """Size, colour and circuit find their places whichever column they share; footnote marks fall off."""
    (wire,) = row_to_wires(_row(**values))
    assert (wire.size, wire.color, wire.circuit) == (size, color, circuit)


@pytest.mark.parametrize(
    ("color", "circuit", "wires"),
    [
        ("BK & BK/WH", "1440 & 1441", [("BK", "1440"), ("BK/WH", "1441")]),
        ("BK und BU", "1440, 1441", [("BK", "1440"), ("BU", "1441")]),
        ("BK & BK/WH", "1440", [("BK", "1440"), ("BK/WH", "1440")]),
    ],
)
def test_two_wires_in_one_cell_are_two(color: str, circuit: str, wires: list[tuple[str, str]]) -> None:
    """Two colours joined by a word are two wires, each with its own circuit where as many are printed."""
    assert [(w.color, w.circuit) for w in row_to_wires(_row(color=color, circuit=circuit))] == wires


def test_words_joined_by_and_are_no_wires() -> None:
    """Only colours on both sides make two wires."""
    assert len(row_to_wires(_row(color="Lamp & Horn"))) == 1
    assert len(row_to_wires(_row(color="BK", function="Lamp & Horn"))) == 1


@pytest.mark.parametrize("text", ["1(red)", "1 (red)"])
def test_a_color_beside_the_cavity_is_taken_from_it(text: str) -> None:
    """`1(red)` is cavity 1 with a red wire."""
    (wire,) = row_to_wires(_row(text))
    assert (wire.cavity, color_in_cavity(_row(text))) == ("1", "red")


def test_dashes_stand_for_nothing() -> None:
    """A dash under a function, and dashes or words for nothing elsewhere, leave a blank."""
    (wire,) = row_to_wires(_row(function="—", goes_to="-", signal="--"))
    assert (wire.function, wire.goes_to, wire.signal) == ("", "", "")
    assert [blank_if_none(t) for t in ("-", "not used", "", "BK")] == ["", "", "", "BK"]
