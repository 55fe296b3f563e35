"""Cells that name several cavities, and what looks like a cavity, a ditto or an unused mark."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tables.drawn import Page, pins
from xref.rows.cavities import LONGEST_RANGE, expand, unused_range
from xref.rows.content import (
    cavity_share,
    circuit_share,
    clean_cavity,
    color_share,
    is_cavity,
    is_dash,
    is_ditto,
    is_sequence,
    is_unused,
    size_and_color,
    size_share,
)


@pytest.mark.parametrize(
    ("text", "cavities"),
    [
        ("7", ["7"]),
        ("A3", ["A3"]),
        ("87a", ["87a"]),
        ("B", ["B"]),
        ("1.2", ["1.2"]),
        ("Pin 4", ["4"]),
        ("(4)", ["4"]),
        ("5)", ["5"]),
        ("1*", ["1"]),
        ("5 + 11", ["5", "11"]),
        ("1 / 2", ["1", "2"]),
        ("1 and 2", ["1", "2"]),
        ("1 und 2", ["1", "2"]),
        ("A1, A2", ["A1", "A2"]),
        ("3、4", ["3", "4"]),
        ("1-3", ["1", "2", "3"]),
        ("1–3, 7", ["1", "2", "3", "7"]),
        ("3 to 5", ["3", "4", "5"]),
        ("3 bis 5", ["3", "4", "5"]),
        ("1 à 3", ["1", "2", "3"]),
        ("10 thru 12", ["10", "11", "12"]),
        ("4…6", ["4", "5", "6"]),
        ("A1-A3", ["A1", "A2", "A3"]),
        ("A1-3", ["A1", "A2", "A3"]),
        ("01-03", ["01", "02", "03"]),
    ],
)
def test_a_cell_stands_for_its_cavities(text: str, cavities: list[str]) -> None:
    """Lists, ranges and single cavities are opened in printed order, each cavity as printed."""
    assert expand(text) == cavities


@pytest.mark.parametrize(
    "text", ["", "GND", "Lamp", "1 K503", "9-3", "5-5", "A1-B3", "1-2-3", f"1-{LONGEST_RANGE + 200}"]
)
def test_what_is_no_list_of_cavities_stands_for_none(text: str) -> None:
    """A range that runs backwards, over letters or too far is no range, and words are no cavities."""
    assert expand(text) == []


@given(st.integers(1, 500), st.integers(1, LONGEST_RANGE), st.sampled_from(["-", "–", " to ", " bis ", "…"]))
def test_a_range_holds_both_ends_and_all_between(low: int, more: int, sign: str) -> None:
    """However a range is printed, it is its first cavity, its last and each one between."""
    assert expand(f"{low}{sign}{low + more}") == [str(n) for n in range(low, low + more + 1)]


@pytest.mark.parametrize(
    ("text", "cavities"),
    [
        ("4–6 not used", ["4", "5", "6"]),
        ("4-6: frei", ["4", "5", "6"]),
        ("5, 7, 9 spare", ["5", "7", "9"]),
        ("A1–A3 nicht belegt", ["A1", "A2", "A3"]),
        ("2 – 3 not connected.", ["2", "3"]),
        ("10–11 non utilisé", ["10", "11"]),
        ("7 = n.c.", ["7"]),
    ],
)
def test_a_line_of_unused_cavities_names_each(text: str, cavities: list[str]) -> None:
    """`4–6 not used` says something of three cavities."""
    assert unused_range(text) == cavities


@pytest.mark.parametrize("text", ["4 Lamp", "4–9", "not used", "", "4–6 BK 1440"])
def test_other_lines_name_no_unused_cavities(text: str) -> None:
    """Cavities alone, the mark alone and rows with a wire are no such line."""
    assert unused_range(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "not used",
        "Not used",
        "NC",
        "N.C.",
        "spare",
        "unused",
        "not connected",
        "frei",
        "nicht belegt",
        "libre",
        "non utilisé",
        "未使用",
        "空き",
        "libero / spare",
    ],
)
def test_words_for_nothing_are_known_in_six_languages(text: str) -> None:
    """Common words by which manuals say that a cavity is empty."""
    assert is_unused(text)
    assert not is_dash(text)


@pytest.mark.parametrize("text", ["", "-", "—", "Freigabe", "Used", "nc valve", "Lamp", "Frequency", "0"])
def test_a_blank_a_dash_and_other_words_do_not_say_unused(text: str) -> None:
    """Unused is only what the manual says in a word: a dash alone may mean anything."""
    assert not is_unused(text)


def test_dittos_are_marks_or_words() -> None:
    """Every usual way to say `as above`, and nothing else."""
    assert all(is_ditto(t) for t in ('"', "″", "〃", "''", "do.", "dto.", "ditto"))
    assert not any(is_ditto(t) for t in ("", "d", "1", "-", "BK", "door"))


@pytest.mark.parametrize(
    ("text", "bare"), [("Pin 4", "4"), ("4.", "4"), ("[A1]", "A1"), ("7*", "7"), ("87a", "87a")]
)
def test_what_stands_round_a_cavity_is_dropped(text: str, bare: str) -> None:
    """Brackets, dots, footnote stars and the word Pin are no part of a cavity's name."""
    assert clean_cavity(text) == bare
    assert is_cavity(text)


def test_shares_tell_columns_apart() -> None:
    """Cavities, colours, circuits and sizes are each told from the others by their cells."""
    cavities, colors = ["1", "2", "3", "4"], ["BK", "BU/YE", "GN", "RD"]
    circuits, sizes = ["1440", "1441A", "2001", "2002"], ["0.5", "0.75", "1.5", "2.5"]
    assert cavity_share(cavities) == 1.0 and is_sequence(cavities)
    assert cavity_share(circuits) == 0.0
    assert color_share(colors) > 0.75 > color_share(circuits)
    assert circuit_share(circuits) == 1.0 > circuit_share(colors)
    assert size_share(sizes) == 1.0 > size_share(colors)
    assert not is_sequence(["10", "3", "25", "7"])


def test_a_column_that_repeats_itself_is_hardly_one_of_cavities() -> None:
    """A cavity stands once in its connector; a column of ones is a quantity."""
    assert cavity_share(["1", "1", "1", "1"]) < 0.6


@pytest.mark.parametrize(
    ("text", "size", "color"),
    [("0.5 BU/YE", "0.5", "BU/YE"), ("2 WS", "2", "WS"), ("BU/YE", "", "BU/YE"), ("1440 BK", "", "1440 BK")],
)
def test_size_and_color_in_one_cell_are_parted(text: str, size: str, color: str) -> None:
    """A decimal or a small whole number before a colour is a size; a long number is a circuit."""
    assert size_and_color(text) == (size, color)


def test_only_a_whole_column_names_connectors_with_its_cavities(tmp_path: Path) -> None:
    """`A1-A3` among cavities is a range and `A4/A5` a list, never connector A1 with a cavity A3."""
    cells = (("A1-A3", "BK", "1440"), ("A4/A5", "BU", "1441"), ("A6", "RD", "1442"), ("A7", "GN", "1443"))
    header = ("Cavity", "Color", "Circuit")
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *cells), (60, 60, 60))
    circuits = [*["1440"] * 3, *["1441"] * 2, "1442", "1443"]
    assert [(p.connector, p.cavity, p.circuit) for p in pins(page).pins] == [
        ("X5", f"A{n}", circuit) for n, circuit in enumerate(circuits, start=1)
    ]
