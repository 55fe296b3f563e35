"""Of several ways to cut a region, the one whose rows validate best is kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.tables.drawn import Page, body, contents
from xref.rows.choose import best_reading
from xref.rows.quality import table_quality
from xref.tables.find import page_to_tables
from xref.tables.table import Table

ROWS = (
    ("1", "BK", "1440", "Lamp left"),
    ("2", "RD", "2310", "Horn relay"),
    ("3", "BU/YE", "3001", "Lift valve"),
    ("4", "GN", "1090", "Tilt sensor"),
)


HEADER = ("Pin", "Color", "Circuit", "Function")


def _ruled(folder: Path) -> Table:
    page = Page(folder / "a.pdf").heading("Connector X5")
    return _chosen(page.ruled((HEADER, *ROWS), (50, 60, 60, 120)))


def _chosen(page: Page) -> Table:
    (content,) = contents(page.save())
    (table,) = page_to_tables(content, best_reading)
    return table


def _cut(table: Table, cells: tuple[tuple[str, ...], ...], header: tuple[str, ...]) -> Table:
    bands = tuple(
        replace(band, cells=tuple(replace(band.cells[0], text=t, words=()) for t in texts))
        for band, texts in zip(table.bands, cells, strict=True)
    )
    edges = tuple(float(n) for n in range(len(header) + 1))
    return replace(table, header=header, bands=bands, edges=edges, groups=("",) * len(header))


def test_a_reading_that_keeps_a_column_beats_one_that_swallows_it(tmp_path: Path) -> None:
    """Circuits inside the functions are worth less than circuits in a column of their own."""
    header = ("Pin", "Color", "Circuit", "Function")
    table = _chosen(
        Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *ROWS), (50, 60, 60, 120))
    )
    swallowed = _cut(
        table, tuple((r[0], r[1], f"{r[2]} {r[3]}") for r in ROWS), ("Pin", "Color", "Circuit Function")
    )
    assert table_quality(table).worth > table_quality(swallowed).worth
    assert best_reading([(swallowed,), (table,)]) == (table,)


def test_rows_that_a_rival_reads_otherwise_are_contested(tmp_path: Path) -> None:
    """Two good ways to cut that name different circuits leave the rows in doubt."""
    header = ("Pin", "Color", "Circuit", "Function")
    table = _chosen(
        Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *ROWS), (50, 60, 60, 120))
    )
    other = _cut(table, (("1", "BK", "1441", "Lamp left"), *ROWS[1:]), HEADER)
    (kept,) = best_reading([(replace(table, header=("Pin", "Color", "Circuit", "Xyz")),), (other,)])
    assert kept.contested


def test_columns_that_only_a_blank_parts_are_found_by_their_header(tmp_path: Path) -> None:
    """Narrow columns without rules are cut between their headers, where the cells then validate."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    table = _chosen(page.aligned((HEADER, *ROWS), (72, 92, 126, 160)))
    assert body(table) == [list(r) for r in ROWS]


def test_no_reading_gives_no_table() -> None:
    """An empty region stays empty."""
    assert best_reading([]) == ()
