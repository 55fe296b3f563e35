"""Pages set in two columns."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, contents, pins
from xref.tables.pagecolumns import page_columns

HEADER = ("Pin", "Color", "Circuit")
NAMES = ("X5", "X6", "X7", "X8")


def two_columns(path: Path, shift: float) -> Page:
    """Draw two tables in each column without rules, the right ones lower by so much."""
    page = Page(path / "a.pdf")
    for column, x in enumerate((60, 330)):
        page.y = 100 + shift * column
        for n, name in enumerate(NAMES[2 * column : 2 * column + 2]):
            first = 1000 * (2 * column + n + 1)
            page.heading(f"{name} Pump", x=x, size=9, down=16)
            cells = [(str(c), "BK/YE", str(first + c)) for c in range(1, 11)]
            page.aligned((HEADER, *cells), (x, x + 50, x + 120))
    return page


def test_two_columns_are_read_one_after_the_other(tmp_path: Path) -> None:
    """Their lines stand at other heights; each column has headers of its own."""
    found = pins(two_columns(tmp_path, 6)).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {(n, str(i + 1)) for i, n in enumerate(NAMES)}
    assert len(found) == 40


def test_twin_tables_are_one_page(tmp_path: Path) -> None:
    """Lines at the same heights stand in one table, or in tables side by side."""
    (content,) = contents(two_columns(tmp_path, 0).save())
    assert page_columns(content) == [content]
