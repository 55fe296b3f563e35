"""Fuse and relay boxes that print the wire on either side of each fuse."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents
from xref.pins.document import readings_to_pins
from xref.records import Pin
from xref.rows.assemble import table_to_rows
from xref.rows.choose import best_reading
from xref.rows.plan import table_to_plans
from xref.rows.row import Row
from xref.tables.find import page_to_tables
from xref.tables.page import content_to_reading

WIDTHS = (50, 50, 90, 90, 120)


def rows(page: Page) -> list[Row]:
    """Save, and return the rows of the page's tables, cut in the best way."""
    tables = [t for content in contents(page.save()) for t in page_to_tables(content, best_reading)]
    return [row for table in tables for plan in table_to_plans(table) for row in table_to_rows(table, plan)]


def pins(page: Page) -> tuple[Pin, ...]:
    """Save, and return the pins of the page's tables, cut in the best way."""
    readings = [content_to_reading(content, "asked", best_reading) for content in contents(page.save())]
    return readings_to_pins("", "a.pdf", readings).pins


def _sides(found: list[Row]) -> list[tuple[str, str]]:
    return [(r.cavity, r.values["circuit"]) for r in found]


BOTH = [("F1 in", "1000"), ("F1 out", "1440"), ("F2 in", "1001"), ("F2 out", "1441")]


@pytest.mark.parametrize(
    ("heading", "fuse", "amps", "fed", "feeds"),
    [
        ("Fuse box F100", "Fuse", "Rating", "Input circuit", "Output circuit"),
        ("Fuse box F100", "Fuse", "A", "Feed", "Load"),
        ("Fuse box F100", "Fuse", "Amps", "Line", "Load"),
        ("Fuse box F100", "Fuse No.", "Rating", "From", "To"),
        ("Fuse box F100", "Fuse", "Rating", "Circuit (in)", "Circuit (out)"),
        ("Sicherungskasten F100", "Sich.", "A", "Ltg. Eingang", "Ltg. Ausgang"),
        ("Sicherungskasten F100", "Sicherung", "Nennstrom", "von", "nach"),
        ("Boîte à fusibles F100", "Fus.", "Cal.", "Fil entrée", "Fil sortie"),
        ("Boîte à fusibles F100", "Fusible", "Calibre", "Amont", "Aval"),
        ("Caja de fusibles F100", "Fusible", "A", "Circuito de entrada", "Circuito de salida"),
        ("Scatola fusibili F100", "Fusibile", "Portata", "Cavo ingresso", "Cavo uscita"),
        ("Fuse box F100", "Pos.", "Rating", "Supply side", "Load side"),
    ],
)
@pytest.mark.parametrize("ruled", [True, False])
def test_both_sides_of_a_fuse_are_rows(
    tmp_path: Path, heading: str, fuse: str, amps: str, fed: str, feeds: str, *, ruled: bool
) -> None:
    """The wire into a fuse and the wire out of it are two cavities of it, each with its side."""
    texts = (
        (fuse, amps, fed, feeds, "Function"),
        ("F1", "10 A", "1000", "1440", "Lamp"),
        ("F2", "5 A", "1001", "1441", "Horn"),
    )
    page = Page(tmp_path / "a.pdf").heading(heading)
    page = page.ruled(texts, WIDTHS) if ruled else page.aligned(texts, (60, 130, 200, 330, 460))
    found = pins(page)
    assert [(p.connector, p.cavity, p.circuit) for p in found] == [("F100", *side) for side in BOTH]
    assert {p.role for p in found} == {"fuse"}
    assert found[0].function == "Lamp, 10 A"


@pytest.mark.parametrize("name", ["Fuse", "Relay"])
def test_a_side_s_own_colors_go_with_it(tmp_path: Path, name: str) -> None:
    """Under a word for each side stand its circuit and its colour: no halves of an in-line."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .ruled(
            (
                (name, "Input", "", "Output", ""),
                ("", "Circuit", "Color", "Circuit", "Color"),
                ("F1", "1000", "RD", "1440", "BK"),
                ("F2", "1001", "RD/WH", "1441", "BU"),
            ),
            (40, 60, 60, 60, 60),
            spans=[((0, 0), (0, 1)), ((1, 0), (2, 0)), ((3, 0), (4, 0))],
        )
    )
    found = rows(page)
    assert _sides(found) == BOTH
    assert [r.values["color"] for r in found] == ["RD", "BK", "RD/WH", "BU"]
    assert not any(r.half for r in found)


def test_one_color_for_two_wires_is_in_doubt(tmp_path: Path) -> None:
    """A colour that may be of either wire, or of the fuse, is given to neither, and the rows say so."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .ruled(
            (
                ("Fuse", "Rating", "Input circuit", "Output circuit", "Color"),
                ("F1", "10 A", "1000", "1440", "RD"),
                ("F2", "5 A", "1001", "1441", "BK/WH"),
            ),
            WIDTHS,
        )
    )
    found = rows(page)
    assert _sides(found) == BOTH
    assert all("color" not in r.values and "column-unread" in r.doubts for r in found)


def test_two_circuits_of_which_nothing_says_the_side_are_in_doubt(tmp_path: Path) -> None:
    """Where no word tells the two circuits of a fuse apart, its rows say that one of them is not read."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .ruled(
            (
                ("Fuse", "Rating", "Circuit", "Circuit", "Function"),
                ("F1", "10 A", "1000", "1440", "Lamp"),
                ("F2", "5 A", "1001", "1441", "Horn"),
            ),
            WIDTHS,
        )
    )
    assert all("column-unread" in r.doubts for r in rows(page))


def test_several_wires_behind_one_fuse_are_several_rows(tmp_path: Path) -> None:
    """Two outputs in one cell, or in a line of their own, are each a row of the fuse's output."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .aligned(
            (
                ("Fuse", "Rating", "Input circuit", "Output circuit", "Function"),
                ("F1", "10 A", "1000", "1440, 1442", "Lamps"),
                ("F2", "5 A", "1001", "1441", "Horn"),
                ("", "", "", "1443", "Fan"),
            ),
            (60, 130, 200, 330, 460),
        )
    )
    assert _sides(rows(page)) == [
        ("F1 in", "1000"),
        ("F1 out", "1440"),
        ("F1 out", "1442"),
        ("F2 in", "1001"),
        ("F2 out", "1441"),
        ("F2 out", "1443"),
    ]


def test_a_spare_place_and_a_ditto_are_read_as_such(tmp_path: Path) -> None:
    """A place without a fuse is one unused cavity; a ditto mark takes the feed from above."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .ruled(
            (
                ("Fuse", "Rating", "Input circuit", "Output circuit", "Function"),
                ("F1", "10 A", "1000", "1440", "Lamp"),
                ("F2", "5 A", '"', "1441", "Horn"),
                ("F3", "–", "–", "–", "Spare"),
            ),
            WIDTHS,
        )
    )
    found = rows(page)
    assert [(r.cavity, r.unused) for r in found] == [
        ("F1 in", False),
        ("F1 out", False),
        ("F2 in", False),
        ("F2 out", False),
        ("F3", True),
    ]
    assert found[2].values["circuit"] == "1000"


def test_two_blocks_side_by_side_keep_their_sides(tmp_path: Path) -> None:
    """A fuse list set in two blocks beside each other is read block by block."""
    head = ("Fuse", "Input", "Output")
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Fuse box F100")
        .ruled(
            (
                (*head, *head),
                ("F1", "1000", "1440", "F3", "1002", "1442"),
                ("F2", "1001", "1441", "F4", "1003", "1443"),
            ),
            (50, 60, 60, 50, 60, 60),
        )
    )
    assert _sides(rows(page)) == [
        *BOTH, ("F3 in", "1002"), ("F3 out", "1442"), ("F4 in", "1003"), ("F4 out", "1443"),
    ]  # fmt: skip


def test_a_module_s_inputs_and_outputs_are_no_sides_of_a_fuse(tmp_path: Path) -> None:
    """`Input` and `Output` over a module's pins say what its pins do."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5 - Pump controller")
        .ruled(
            (
                ("Pin", "Color", "Circuit", "Input", "Output"),
                ("1", "BK", "1440", "x", ""),
                ("2", "RD", "1441", "", "x"),
                ("3", "GN", "1442", "x", ""),
            ),
            (40, 60, 60, 60, 60),
        )
    )
    assert [(r.cavity, r.values["circuit"]) for r in rows(page)] == [
        ("1", "1440"),
        ("2", "1441"),
        ("3", "1442"),
    ]
