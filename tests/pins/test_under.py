"""Headings that stand under their tables: each table has one, and nobody's is taken from it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, OTHERS, ROWS, WIDE
from tests.tables.drawn import Page, pins

UNCERTAIN = "heading-uncertain"


def under(page: Page, text: str, *, down: float = 20) -> None:
    """Print a bold line right under the table drawn last."""
    page.y -= 14
    page.heading(text, size=10, down=down)


def test_in_a_column_of_tables_each_takes_the_heading_under_it(tmp_path: Path) -> None:
    """The first table has nothing above it, and the last heading no table below."""
    page = Page(tmp_path / "a.pdf")
    for name, rows in (("X5", ROWS), ("X6", OTHERS)):
        page.ruled((HEADER, *rows), WIDE)
        under(page, name, down=26)
    found = pins(page).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {("X5", "1"), ("X6", "2")}
    assert not any(UNCERTAIN in p.flags for p in found)


def test_a_table_left_over_leaves_all_in_doubt(tmp_path: Path) -> None:
    """A heading between two tables, and no other one, may be either's: it names the lower one."""
    page = Page(tmp_path / "a.pdf").ruled((HEADER, *ROWS), WIDE)
    under(page, "X6", down=26)
    found = pins(page.ruled((HEADER, *OTHERS), WIDE)).pins
    assert {p.connector for p in found if p.circuit[0] == "2"} == {"X6"}
    assert all(UNCERTAIN in p.flags for p in found if p.circuit[0] == "1")
    assert not any(p.connector == "X6" for p in found if p.circuit[0] == "1")


@pytest.mark.parametrize(
    "text",
    [
        "Table above: connector X5 (pump)",
        "Tabella sopra: connettore X5",
        "Tabelle oben: Stecker X5",
        "Above: X5, pump.",
    ],
)
def test_words_that_point_up_name_the_table_above(tmp_path: Path, text: str) -> None:
    """Another title over the table does not outdo them, and the next table has its own heading."""
    page = Page(tmp_path / "a.pdf").heading("Connector locations").ruled((HEADER, *ROWS), WIDE)
    page.y -= 14
    page.line(text, down=40).heading("X6", down=22)
    found = pins(page.ruled((HEADER, *OTHERS), WIDE)).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {("X5", "1"), ("X6", "2")}


def test_the_heading_of_the_next_page_is_not_the_last_table_s(tmp_path: Path) -> None:
    """A heading at the foot of a page, whose table begins overleaf, names no table above it for certain."""
    page = Page(tmp_path / "a.pdf").heading("Connectors of the mast").ruled((HEADER, *ROWS), WIDE)
    under(page, "X6")
    found = pins(page.next().ruled((HEADER, *OTHERS), WIDE)).pins
    assert not [p for p in found if p.circuit[0] == "1" and p.connector == "X6" and UNCERTAIN not in p.flags]
