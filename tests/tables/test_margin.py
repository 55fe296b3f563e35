"""Text in the margin left of a table: it names the table and is no part of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, body, only_table, pins

HEADER = ("Pin", "Wire", "Color", "Function")
ROWS = (
    ("1", "1440", "BK", "Lamp"),
    ("2", "1441", "BU/YE", "Horn"),
    ("3", "1442", "RD", "Fan"),
    ("4", "1443", "GN", "Valve"),
)
XS = (190, 230, 290, 350)


def _page(path: Path, *names: str) -> Page:
    """Draw tables with a name in large type, a component and a face in the margin of each."""
    page = Page(path / "a.pdf").heading("Connectors", size=15, down=30)
    for n, name in enumerate(names):
        top = page.y
        rows = [(a, b.replace("14", f"{14 + n}"), c, d) for a, b, c, d in ROWS]
        page.aligned((HEADER, *rows), XS)
        after, page.y = page.y, top + 5
        page.heading(name, size=13, down=14).line("Front lamp and", size=8, down=11)
        page.line("horn", size=8, down=16).line("1 2 3 4", size=5)
        page.y = after
    return page


def test_text_of_the_margin_is_in_no_cell(tmp_path: Path) -> None:
    """It stands between the rows and at their height, left of the header over the cavities."""
    table = only_table(_page(tmp_path, "X12"))
    assert body(table) == [list(row) for row in ROWS]
    assert table.header == HEADER


@pytest.mark.parametrize("names", [("X12", "X95", "X40"), ("X 12", "X 95", "X 40")])
def test_the_large_mark_in_the_margin_names_the_table(tmp_path: Path, names: tuple[str, ...]) -> None:
    """A letter and a number with a blank between is a name, too, where a line that stands out is no more."""
    found = pins(_page(tmp_path, *names)).pins
    assert {(p.connector, p.circuit[:2]) for p in found} == {
        (name, f"{14 + n}") for n, name in enumerate(names)
    }
    assert len(found) == 12


def test_a_title_in_the_margin_may_wrap(tmp_path: Path) -> None:
    """Its lines are one title."""
    page = Page(tmp_path / "a.pdf")
    for n, (one, two) in enumerate((("Throttle", "grip"), ("Lamp", "selector"), ("Seat", "catch"))):
        top = page.y
        rows = [(a, b.replace("14", f"{14 + n}"), c, d) for a, b, c, d in ROWS]
        page.aligned((HEADER, *rows), XS, down=40)
        after, page.y = page.y, top + 4
        page.heading(one, x=110, size=9, down=11).heading(two, x=110, size=9, down=11)
        page.y = after
    assert {p.connector for p in pins(page).pins} == {"Throttle grip", "Lamp selector", "Seat catch"}
