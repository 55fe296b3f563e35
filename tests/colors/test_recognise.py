"""Telling colours from other cells, and cells that hold more than a colour."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.colors.recognise import Combined, color_likeness, split_cavity_color, split_combined


@pytest.mark.parametrize(
    "text",
    ["BU/YE", "BLK", "red", "ws/rt", "Br", "L/Y", "DK GRN/LT BLU", "GNYE", "BUYE", "schwarz", "赤", "BK"],
)
def test_colors_look_like_colors(text: str) -> None:
    """Codes of two letters and more, pairs and words look like colours."""
    assert color_likeness(text) >= 0.7


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "-",
        "—",
        "GND",
        "CAN",
        "A/C",
        "I/P",
        "W/O",
        "L/H",
        "R-L",
        "N/A",
        "ON",
        "OFF",
        "NO",
        "NC",
        "12",
        "1440A",
        "B+",
        "0.5",
        "Not used",
        "Light switch",
        "VCC",
        "Red lamp",
        "BUS",
        "LIN",
        "5V",
        "+12V",
        "TX",
        "PUMP",
        "x" * 300,
    ],
)
def test_other_cells_do_not(text: str) -> None:
    """Plain words, signal names, numbers and usual abbreviations are no colours."""
    assert color_likeness(text) == 0


def test_single_letters_are_weak() -> None:
    """A single letter, or two without separator, is weaker than any clear code."""
    assert 0 < color_likeness("B") < color_likeness("LY") < color_likeness("BK") < color_likeness("BU/YE")
    assert color_likeness("J") < color_likeness("B")


@pytest.mark.parametrize(
    ("text", "size", "color", "circuit"),
    [
        ("0.5 BU/YE", "0.5", "BU/YE", ""),
        ("BU/YE 0,5", "0,5", "BU/YE", ""),
        ("RD 0.5", "0.5", "RD", ""),
        ("1.25R", "1.25", "R", ""),
        ("1.0G/Y", "1.0", "G/Y", ""),
        ("20 BK/WH", "20", "BK/WH", ""),
        ("20BK/WH", "20", "BK/WH", ""),
        ("1440A 0.5 BU/YE", "0.5", "BU/YE", "1440A"),
        ("0,75 ws/rt", "0,75", "ws/rt", ""),
        ("L12-04 BU/YE 0.35", "0.35", "BU/YE", "L12-04"),
        ("20 DK GRN/LT BLU", "20", "DK GRN/LT BLU", ""),
        ("0.5 mm² BU/YE", "0.5 mm²", "BU/YE", ""),
        ("18 AWG RD", "18 AWG", "RD", ""),
        ("1440 BK", "", "BK", "1440"),
        ("0.5 B 1440", "0.5", "B", "1440"),
    ],
)
def test_combined_cells(text: str, size: str, color: str, circuit: str) -> None:
    """A colour with its size or circuit is taken apart, in any order."""
    assert split_combined(text) == Combined(size=size, color=color, circuit=circuit, rest="")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "BU/YE",
        "0.5",
        "12 V",
        "12V",
        "5 W",
        "5W",
        "3.3V",
        "1.5V",
        "0.5 V",
        "0.5 A",
        "10 A",
        "GND 5",
        "CAN H",
        "M12 X1",
        "2 WS",
        "7 BK",
        "12 20 BK",
        "pin 2 red",
        "BK & BK/WH",
        "X1 R",
        "A12 RD",
        "215A",
        "10 kΩ",
        "0.5 W",
        "Lamp 0.5 red switch",
        "1 2 3",
        "5 Nm",
    ],
)
def test_unclear_cells_stay_whole(text: str) -> None:
    """Voltages, watts, cavities and texts with anything else in them are not taken apart."""
    assert split_combined(text) is None


def test_remark_is_kept() -> None:
    """A remark in brackets is handed back, not lost."""
    assert split_combined("0.5 BU/YE (shielded)") == Combined(
        size="0.5", color="BU/YE", circuit="", rest="(shielded)"
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1(red)", ("1", "red")),
        ("1 (blk)", ("1", "blk")),
        ("2 black)", ("2", "black")),
        ("A3 [BU/YE]", ("A3", "BU/YE")),
        ("1 (ON)", None),
        ("5 (L)", None),
        ("3 (CAN)", None),
        ("1 red", None),
        ("Lamp (red)", None),
        ("(red)", None),
    ],
)
def test_cavity_with_color(text: str, expected: tuple[str, str] | None) -> None:
    """A colour in brackets behind a cavity is split off only where it is a clear colour."""
    assert split_cavity_color(text) == expected


@given(st.text(max_size=60))
def test_any_text_is_survived(text: str) -> None:
    """No text breaks the recognisers, and what is split was in the cell."""
    assert 0 <= color_likeness(text) <= 1
    if found := split_combined(text):
        assert found.color and color_likeness(found.color) > 0
        assert all(
            part in " ".join(text.split()) for part in (found.size, found.color, found.circuit, found.rest)
        )
    if pair := split_cavity_color(text):
        assert all(part in text for part in pair)
