"""Signs between columns, and where the body of an aligned table ends."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, body, contents, tables
from xref.rows.choose import best_reading
from xref.tables.find import page_to_tables
from xref.tables.table import Table

HEADER = ("Pin", "Function")


def _first(page: Page) -> Table:
    return page_to_tables(contents(page.save())[0], best_reading)[0]


@pytest.mark.parametrize("sign", [":", "=", "|"])
def test_a_sign_in_every_row_is_no_text(tmp_path: Path, sign: str) -> None:
    """`1 : Lamp supply` says what cavity 1 is for; the sign only parts."""
    rows = [("1", sign, "Lamp supply"), ("2", sign, "Horn"), ("3", sign, "Fan speed")]
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5")
        .aligned((("Pin", "", "Function"), *rows), (60, 90, 110))
    )
    table = _first(page)
    assert table.header == HEADER
    assert body(table) == [[a, c] for a, _, c in rows]


def test_a_dash_in_every_row_stays(tmp_path: Path) -> None:
    """A dash says that nothing is there, also where every row has one."""
    rows = (("Pin", "Color", "Function"), ("1", "-", "Lamp"), ("2", "-", "Horn"), ("3", "-", "Fan"))
    table = _first(Page(tmp_path / "a.pdf").heading("Connector X5").aligned(rows, (60, 100, 150)))
    assert [b.cells[1].text for b in table.bands] == ["-", "-", "-"]


def test_a_dash_before_each_text_parts(tmp_path: Path) -> None:
    """`1 – Lamp supply`: as close to the text as its words, the dash says nothing."""
    rows = (("Pin", "Function"), ("1", "- Lamp supply"), ("2", "- Horn"), ("3", "- Fan"))
    table = _first(Page(tmp_path / "a.pdf").heading("Connector X5").aligned(rows, (60, 110)))
    assert body(table) == [["1", "Lamp supply"], ["2", "Horn"], ["3", "Fan"]]


def test_a_body_ends_where_its_even_pitch_breaks(tmp_path: Path) -> None:
    """Keys and values a little further down are no rows, though no wide gap parts them."""
    rows = (
        ("Pin", "Color", "Circuit"),
        ("1", "BK", "1440"),
        ("2", "BU", "1441"),
        ("3", "RD", "1442"),
        ("4", "GN", "1443"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5").aligned(rows, (60, 100, 150), down=20)
    page.line("Housing of the unit: grey, sealed", x=62).line("Number of ways: 4 in two rows", x=62)
    assert body(_first(page)) == [list(row) for row in rows[1:]]


def test_mirrored_cavities_are_no_list(tmp_path: Path) -> None:
    """`GND 1 : 2 CAN_H` holds two cavities, each with its text outside: no item reads `2 CAN_H`."""
    rows = [("GND", "1", ":", "2", "CAN_H"), ("TXD", "3", ":", "4", "0V"), ("VCC", "5", ":", "6", "RXD")]
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5")
        .aligned(rows, (60, 110, 125, 140, 160), bold_first=False)
    )
    (table,) = tables(page)
    assert table.kind == "aligned"
    assert body(table) == [[a, b, c, d] for a, b, _, c, d in rows]


def test_narrow_columns_without_header_are_columns(tmp_path: Path) -> None:
    """Where little more than a blank parts cavity and colour, rows alike still show three columns."""
    rows = [(str(n), "GN" if n % 2 else "BU", f"144{n}") for n in range(1, 7)]
    page = Page(tmp_path / "a.pdf").line("Text").aligned(rows, (60, 68, 95), bold_first=False)
    table = _first(page)
    assert body(table) == [list(row) for row in rows]


def test_sentences_that_begin_alike_are_no_columns(tmp_path: Path) -> None:
    """Steps that begin with the same words are running text."""
    steps = [f"{n} Voltage between pin {n} (BU) and ground" for n in range(1, 6)]
    page = Page(tmp_path / "a.pdf").line("Steps")
    for step in steps:
        page.line(step)
    assert tables(page) == []
