"""Names in a cell of a table's header."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins
from xref.pins.several import stem_of_halves

#: Titles broken over lines in a box left of their tables.
TITLES = (
    ("Key switch", "3-way"),
    ("Throttle grip,", "left", "3-way"),
    ("Rear lamp", "3-way"),
    ("Horn", "3-way"),
)


def _boxes(path: Path, count: int) -> Page:
    page = Page(path / "a.pdf")
    for n, title in enumerate(TITLES[:count]):
        cells = [(*title, "", "")[k] for k in range(4)]
        rows = [(cells[k + 1], str(k + 1), "BK", str(1000 + 10 * n + k), "Lamp feed") for k in range(3)]
        more = [("", str(k), "BK", str(1000 + 10 * n + k), "Lamp feed") for k in (4, 5, 6)]
        page.ruled(((cells[0], *HEADER), *rows, *more), (100, *WIDE), down=30)
    return page


def test_a_box_beside_its_table_that_was_taken_for_a_column_is_its_title(tmp_path: Path) -> None:
    """It holds the title, broken over lines, with the count of ways, and each table has another one."""
    names = dict.fromkeys(p.connector for p in pins(_boxes(tmp_path, 4)).pins)
    assert list(names) == ["Key switch", "Throttle grip, left", "Rear lamp", "Horn"]


def test_a_column_of_one_table_is_no_title(tmp_path: Path) -> None:
    """One table with a column nobody knows names nothing."""
    assert {p.connector for p in pins(_boxes(tmp_path, 1)).pins} != {"Key switch"}


@pytest.mark.parametrize(
    ("text", "stem"),
    [
        ("X5-A Cab X5-B Frame", "X5"),
        ("A50.X4-S Cab A50.X4-B Frame", "A50.X4"),
        ("X5A and X6B", ""),
        ("X5-A Cab", ""),
        ("X5 and X6", ""),
    ],
)
def test_two_halves_in_one_line_have_one_name(text: str, stem: str) -> None:
    """What differs in the mark alone is one connector."""
    assert stem_of_halves(text) == stem
