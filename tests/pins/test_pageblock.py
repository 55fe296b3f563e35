"""The block at the edge of a drawing sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins


def test_the_block_of_a_sheet_names_its_table(tmp_path: Path) -> None:
    """A word for connector over a name, on each sheet another one."""
    page = Page(tmp_path / "a.pdf")
    for n, name in enumerate(("X369", "X245", "X128")):
        rows = [(str(c), "BK", str(1000 + 10 * n + c), "Lamp feed") for c in (1, 2, 3)]
        page.ruled((HEADER, *rows), WIDE)
        page.y = 700
        page.ruled((("Drawn by", "Connector", "Sheet"), ("Engineering", name, "b")), (90, 90, 60), x=300)
        page.next()
    found = pins(page).pins
    assert {(p.connector, p.page) for p in found} == {("X369", 1), ("X245", 2), ("X128", 3)}
    assert not any("heading-uncertain" in p.flags for p in found)


def _sheets(path: Path, names: tuple[str, ...], tables: int = 1) -> Page:
    """Draw sheets with a name far below their tables, beside the number of the sheet."""
    page = Page(path / "a.pdf")
    for n, name in enumerate(names):
        for t in range(tables):
            rows = [(str(c + 3 * t), "BK", str(1000 + 10 * n + c + 3 * t), "Lamp feed") for c in (1, 2, 3)]
            page.ruled((HEADER, *rows), WIDE, down=60)
        page.y = 700
        page.line("Engineering department", x=300)
        page.line(name, x=300)
        page.line(f"S-{n + 7}", x=480)
        page.next()
    return page


@pytest.mark.parametrize("tables", [1, 2])
def test_a_name_in_the_same_place_of_each_sheet_names_its_tables(tmp_path: Path, tables: int) -> None:
    """No word says so: the place does, as the names differ and do not count the sheets."""
    found = pins(_sheets(tmp_path, ("X369", "X245", "X128"), tables)).pins
    assert {(p.connector, p.page) for p in found} == {("X369", 1), ("X245", 2), ("X128", 3)}
    assert not any("heading-uncertain" in p.flags for p in found)


def test_numbers_that_count_the_pages_name_nothing(tmp_path: Path) -> None:
    """Without another name, the label of a page is none."""
    found = pins(_sheets(tmp_path, ("X-4", "X-5", "X-6"))).pins
    assert all(p.connector.startswith("unnamed") for p in found)


def test_the_name_of_the_sheet_is_before_a_number_in_a_title(tmp_path: Path) -> None:
    """`Pump controller, plug 1` says which of its plugs it is; the sheet names it."""
    page = Page(tmp_path / "a.pdf")
    for n, name in enumerate(("A17.X1", "A17.X2", "A15.X1")):
        page.heading(f"Pump controller, plug {n % 2 + 1}")
        page.ruled((HEADER, *((str(c), "BK", str(1000 + 10 * n + c), "Lamp") for c in (1, 2, 3))), WIDE)
        page.y = 700
        page.line(name, x=300).next()
    found = pins(page).pins
    assert [(p.connector, p.page) for p in found][::3] == [("A17.X1", 1), ("A17.X2", 2), ("A15.X1", 3)]


def test_halves_named_at_their_tables_do_not_outdo_the_sheet_s_name(tmp_path: Path) -> None:
    """Some sheets print `X369.M` in another place, too: it is of the connector in the sheet's own place."""
    page = Page(tmp_path / "a.pdf")
    for n, name in enumerate(("X369", "X245", "X128", "X77", "X91", "X14")):
        rows = [(str(c), "BK", str(1000 + 10 * n + c), "Lamp feed") for c in (1, 2, 3)]
        if n > 2:
            page.line(f"{name}.M", x=400, down=60)
        page.y = 160
        page.ruled((HEADER, *rows), WIDE, down=60)
        page.y = 700
        page.line(name, x=300)
        page.next()
    found = [p for p in pins(page).pins if p.page <= 3]
    assert {(p.connector, p.page) for p in found} == {("X369", 1), ("X245", 2), ("X128", 3)}
    assert not any("heading-uncertain" in p.flags for p in found)
