"""Blank cells repeat the line above only where the document says so."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, contents, pins
from xref.pins.document import readings_to_pins
from xref.records import Pin
from xref.tables.page import content_to_reading

ROWS = (
    ("1", "BK", "1440", "Lamp"),
    ("2", "", "1441", "Horn"),
    ("3", "RD", "1442", ""),
    ("4", "", "1443", "Fan"),
)
NOTES = [
    "A blank cell means: same as the line above.",
    "Leere Felder: wie darüber.",
    "Case vide : idem ligne précédente.",
    "Campo vuoto: come sopra.",
    "Celda en blanco: igual que arriba.",
]


def _page(path: Path, note: str) -> Page:
    page = Page(path / "a.pdf").heading("Connector X5").ruled((HEADER, *ROWS), WIDE)
    return page.line(note) if note else page


def _said(found: tuple[Pin, ...]) -> list[tuple[str, str]]:
    return [(p.color_code, p.function) for p in found]


@pytest.mark.parametrize("note", NOTES)
def test_a_note_on_the_page_fills_blanks(tmp_path: Path, note: str) -> None:
    """Colours and texts are those of the line above, and vouched for."""
    made = pins(_page(tmp_path, note)).pins
    assert _said(made) == [("BK", "Lamp"), ("BK", "Horn"), ("RD", "Horn"), ("RD", "Fan")]
    assert [p.base_color for p in made] == ["black", "black", "red", "red"]
    assert not any(p.flags for p in made)


@pytest.mark.parametrize(
    "note",
    [
        "",
        "Blank cells: not stated.",
        "A blank cell does not mean the same as above.",
        "Leere Felder: keine Angabe.",
        "Blank connector: as above.",
    ],
)
def test_without_a_note_a_blank_says_nothing(tmp_path: Path, note: str) -> None:
    """A note that says otherwise, or speaks of another column, is none."""
    made = pins(_page(tmp_path, note)).pins
    assert _said(made) == [("BK", "Lamp"), ("", "Horn"), ("RD", ""), ("", "Fan")]


def test_a_note_may_be_about_one_column(tmp_path: Path) -> None:
    """What the note names is filled, nothing else."""
    made = pins(_page(tmp_path, "Colour blank: same as the line above.")).pins
    assert _said(made) == [("BK", "Lamp"), ("BK", "Horn"), ("RD", ""), ("RD", "Fan")]


def test_nothing_is_copied_from_an_unused_cavity(tmp_path: Path) -> None:
    """Under `not used` a blank has nothing to repeat; a row without anything is filled, and doubted."""
    rows = (
        ("1", "BK", "1440", "Lamp"),
        ("2", "", "", "not used"),
        ("3", "", "1442", "Fan"),
        ("4", "", "", ""),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *rows), WIDE)
    made = pins(page.line(NOTES[0])).pins
    assert made[1].status == "unused" and not made[1].flags
    assert made[2].color_code == "" and "ditto-assumed" in made[2].flags
    assert made[3].circuit == "1442" and "ditto-assumed" in made[3].flags


def test_a_note_at_the_front_holds_for_the_document(tmp_path: Path) -> None:
    """A page before the first pinout that speaks of tables may say what a blank means in all of them."""
    page = Page(tmp_path / "a.pdf").heading("How to read the tables").line(NOTES[0]).next()
    page.heading("Connector X5").ruled((HEADER, *ROWS), WIDE)
    made = pins(page).pins
    assert _said(made) == [("BK", "Lamp"), ("BK", "Horn"), ("RD", "Horn"), ("RD", "Fan")]


def test_a_note_behind_the_pinouts_says_nothing_of_them(tmp_path: Path) -> None:
    """What a later page says of its own blanks is no note on these."""
    page = _page(tmp_path, "").next().heading("Parts").line(NOTES[0])
    made = pins(page).pins
    assert _said(made) == [("BK", "Lamp"), ("", "Horn"), ("RD", ""), ("", "Fan")]


def test_the_other_table_of_a_page_is_doubted(tmp_path: Path) -> None:
    """A note stands under one table; what it says of the other is a guess."""
    page = Page(tmp_path / "a.pdf").heading("Connector X6").ruled((HEADER, *ROWS), WIDE)
    page.heading("Connector X5").ruled((HEADER, *ROWS), WIDE).line(NOTES[0])
    readings = [content_to_reading(c, "asked") for c in contents(page.save())]
    assert readings[0].blank_notes
    made = readings_to_pins("", "a.pdf", readings).pins
    doubted = {p.connector for p in made if "ditto-assumed" in p.flags}
    assert doubted == {"X6"}
    silent = readings_to_pins("", "a.pdf", [replace(r, blank_notes=()) for r in readings]).pins
    assert not any("ditto-assumed" in p.flags for p in silent)
