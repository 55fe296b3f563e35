"""Tables that stand on their side."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from tests.tables.drawn import Page, body, only_table, rows

ON_SIDE = (
    ("Pin", "1", "2", "3", "4"),
    ("Color", "BK", "RD", "BU/YE", "GN"),
    ("Circuit", "1440", "2310", "3001", "1090"),
)
WIDE = (60, 50, 50, 50, 50)


def test_a_table_on_its_side_is_set_upright(tmp_path: Path) -> None:
    """Header words down the first column, one cavity in each further column."""
    table = only_table(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(ON_SIDE, WIDE))
    assert table.header == ("Pin", "Color", "Circuit")
    assert body(table) == [
        ["1", "BK", "1440"],
        ["2", "RD", "2310"],
        ["3", "BU/YE", "3001"],
        ["4", "GN", "1090"],
    ]


def test_rows_of_a_table_on_its_side_have_the_place_of_their_column(tmp_path: Path) -> None:
    """Each row's box is the printed column, so that a picture marks it."""
    found = rows(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(ON_SIDE, WIDE))
    assert [r.cavity for r in found] == ["1", "2", "3", "4"]
    assert all(a.box.x1 <= b.box.x0 + 1 for a, b in pairwise(found))


def test_blocks_under_one_another_are_one_table(tmp_path: Path) -> None:
    """Where the first label comes again, the cavities run on."""
    more = (
        ("Pin", "5", "6", "7", "8"),
        ("Color", "WH", "PK", "VT", "GY"),
        ("Circuit", "11", "12", "13", "14"),
    )
    table = only_table(Page(tmp_path / "a.pdf").heading("Connector X5").ruled((*ON_SIDE, *more), WIDE))
    assert [band[0] for band in body(table)] == [str(n) for n in range(1, 9)]


def test_an_upright_table_stays_as_it_is(tmp_path: Path) -> None:
    """A header row over its columns is never turned."""
    upright = (("Pin", "Color", "Circuit"), ("1", "BK", "1440"), ("2", "RD", "2310"), ("3", "BU", "3001"))
    table = only_table(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(upright, (60, 60, 60)))
    assert table.header == ("Pin", "Color", "Circuit") and len(table.bands) == 3
