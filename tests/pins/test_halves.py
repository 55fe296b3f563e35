"""Halves of in-line connectors, in the ways manuals print them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, OTHERS, ROWS, WIDE, manual
from tests.tables.drawn import Page, pins
from xref.pins.document import DocumentPins

#: Both halves in one row.
TWO = ("Pin", "Color", "Circuit", "Color", "Circuit", "Function")
BOTH = (
    ("1", "BK", "1440", "BK", "1440", "Lamp"),
    ("2", "BU", "1441", "BU", "1441", "Horn"),
    ("3", "RD", "1442", "GN", "1542", "Fan"),
)


def halves(made: DocumentPins) -> set[tuple[str, str]]:
    """Return each connector and half of a reading."""
    return {(p.connector, p.half) for p in made.pins}


@pytest.mark.parametrize(
    ("one", "two", "expected"),
    [
        ("X5 half A (main harness)", "X5 half B (mast harness)", ("A", "B")),
        ("X5 – Hälfte A", "X5 – Hälfte B", ("A", "B")),
        ("X5 M, main harness", "X5 F, mast harness", ("M", "F")),
        ("X5 (main harness)", "X5 (mast harness)", ("main harness", "mast harness")),
        ("Plug X5 – main harness", "Receptacle X5 – mast harness", ("Plug", "Receptacle")),
        ("X5, fiche (main harness)", "X5, embase (mast harness)", ("fiche", "embase")),
        ("X5.B main side", "X5.S mast side", ("B", "S")),
        ("In-line X5, plug half", "In-line X5, socket half", ("plug", "socket")),
    ],
)
def test_two_headings_of_one_name_say_the_halves(
    tmp_path: Path, one: str, two: str, expected: tuple[str, str]
) -> None:
    """Tables of one name with the same cavities are told apart by what their headings say of halves."""
    made = pins(manual(tmp_path, (one, ROWS), (two, ROWS)))
    assert halves(made) == {("X5", half) for half in expected}
    assert not any(p.flags for p in made.pins)


def test_two_harnesses_with_other_wires_make_no_halves(tmp_path: Path) -> None:
    """Each harness may have an X5 of its own."""
    others = [(n, c, k, f"{f} relay") for n, c, k, f in OTHERS]
    made = pins(manual(tmp_path, ("X5 (main harness)", ROWS), ("X5 (mast harness)", others)))
    assert halves(made) == {("X5", "")}


def test_two_harnesses_beside_marked_names_make_halves(tmp_path: Path) -> None:
    """`X5-A` and `X5-B` on two harnesses with the same cavities mate, whatever the circuits are called."""
    made = pins(manual(tmp_path, ("X5-A Main harness", ROWS), ("X5-B Mast harness", OTHERS)))
    assert halves(made) == {("X5", "A"), ("X5", "B")}


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("Half A (main harness)", "Half B (mast harness)"), ("A", "B")),
        (("Male", "Female"), ("Male", "Female")),
        (("Plug", "Receptacle"), ("Plug", "Receptacle")),
        (("A", "B"), ("A", "B")),
        (("Main harness side (A)", "Mast harness side (B)"), ("A", "B")),
    ],
)
def test_lines_under_one_heading_say_the_halves(
    tmp_path: Path, lines: tuple[str, str], expected: tuple[str, str]
) -> None:
    """A table headed as the other half only belongs to the connector that was named before."""
    page = Page(tmp_path / "a.pdf")
    for name in ("X5", "X6"):
        page.heading(f"{name} In-line connector", size=14)
        for line in lines:
            page.heading(line).ruled((HEADER, *ROWS), WIDE)
    made = pins(page)
    assert halves(made) == {(name, half) for name in ("X5", "X6") for half in expected}
    assert not any("heading-uncertain" in p.flags for p in made.pins)


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        ("Half A (main harness)", "Half B (mast harness)", ("A", "B")),
        ("Main harness (female)", "Mast harness (male)", ("female", "male")),
        ("X5.M   Main harness", "X5.F   Mast harness", ("M", "F")),
    ],
)
def test_two_texts_over_a_table_of_both_halves_name_them(
    tmp_path: Path, left: str, right: str, expected: tuple[str, str]
) -> None:
    """They stand over the columns of their halves, outside of the table."""
    page = Page(tmp_path / "a.pdf").heading("In-line connector X5", down=18)
    y = page.y
    page.line(left, x=90, down=0)
    page.y = y
    page.line(right, x=262, down=14)
    made = pins(page.ruled((TWO, *BOTH), (40, 80, 80, 80, 80, 120)))
    assert halves(made) == {("X5", half) for half in expected}
    assert {p.harness.casefold() for p in made.pins} == {"main harness", "mast harness"}


@pytest.mark.parametrize("header", ["Half", "Side"])
def test_a_column_may_say_of_each_row_which_half_it_is(tmp_path: Path, header: str) -> None:
    """Each cavity stands twice, once for each half."""
    rows = [(n, half, c, k, f) for n, c, k, f in ROWS for half in "AB"]
    page = Page(tmp_path / "a.pdf").heading("In-line connector X5")
    made = pins(page.ruled((("Cavity", header, *HEADER[1:]), *rows), (60, 40, 80, 70, 150)))
    assert halves(made) == {("X5", "A"), ("X5", "B")}


def test_halves_without_a_printed_mark_are_doubted(tmp_path: Path) -> None:
    """Both halves stand in one row and nothing says which is which: A and B are only counted."""
    page = Page(tmp_path / "a.pdf").heading("In-line X5").ruled((TWO, *BOTH), (40, 60, 60, 60, 60, 90))
    found = pins(page).pins
    assert {p.half for p in found} == {"A", "B"}
    assert all("half-unmarked" in p.flags for p in found)


def test_each_half_may_have_a_designator_of_its_own(tmp_path: Path) -> None:
    """`Plug P67` and `Receptacle J67` over the columns of the two halves name two connectors."""
    page = Page(tmp_path / "a.pdf").heading("In-line P67/J67")
    y = page.y
    page.line("Plug P67", x=90, down=0)
    page.y = y
    page.line("Receptacle J67", x=262, down=14)
    made = pins(page.ruled((TWO, *BOTH), (40, 80, 80, 80, 80, 120)))
    assert halves(made) == {("P67", ""), ("J67", "")}
    assert {p.role for p in made.pins} == {"inline"}
    changed = {p.connector: p.circuit for p in made.pins if p.cavity == "3"}
    assert changed == {"P67": "1442", "J67": "1542"}
