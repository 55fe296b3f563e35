"""Rows held against the text as the PDF's engine parts it: whatever the first reading spoils is seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page
from xref.pages.reader import DocumentReader
from xref.pins.document import readings_to_pins
from xref.pins.second_reading import put_together
from xref.pipeline import page_task
from xref.records import Pin
from xref.tables.page import PageReading
from xref.tables.table import Table

ROWS = (
    ("1", "BK", "1440", "Lamp left"),
    ("2", "BU/YE", "1441", "Horn"),
    ("3", "RD", "1442", "Fan relay"),
    ("4", "BK", "1443", "Pump"),
    ("5", "RD", "1444", "Seat switch"),
)


def _read(page: Page) -> list[PageReading]:
    with DocumentReader(page.save()) as reader:
        return [page_task(reader, number) for number in range(1, reader.page_count + 1)]


def _spoiled(readings: Sequence[PageReading], old: str, new: str) -> list[PageReading]:
    """Return the readings as a reader would give them that took one cell's text for another."""
    return [
        replace(
            r,
            tables=tuple(
                replace(
                    t,
                    bands=tuple(
                        replace(
                            b,
                            cells=tuple(replace(c, text=new) if c.text == old else c for c in b.cells),
                        )
                        for b in t.bands
                    ),
                )
                for t in r.tables
            ),
        )
        for r in readings
    ]


def _doubted(readings: Sequence[PageReading]) -> list[str]:
    pins: Sequence[Pin] = readings_to_pins("", "a.pdf", readings).pins
    return [p.cavity for p in pins if "readings-disagree" in p.flags]


def _manual(tmp_path: Path) -> Page:
    return Page(tmp_path / "a.pdf").heading("Connector X5 - Lamp").ruled((HEADER, *ROWS), WIDE)


def test_what_both_readings_see_alike_carries_no_doubt(tmp_path: Path) -> None:
    """A table read as it stands is vouched for."""
    readings = _read(_manual(tmp_path))
    assert [p.flags for p in readings_to_pins("", "a.pdf", readings).pins] == [()] * 5


@pytest.mark.parametrize(
    ("old", "new"),
    [("1442", "1447"), ("RD", ""), ("1442", ""), ("Fan relay", "Fan"), ("RD", "RD BK")],
)
def test_what_the_first_reading_spoils_is_doubted(tmp_path: Path, old: str, new: str) -> None:
    """Another circuit, a lost colour, a lost circuit, a text cut short, a text too long: the row says so."""
    assert "3" in _doubted(_spoiled(_read(_manual(tmp_path)), old, new))


def test_rows_that_were_read_right_stay_vouched_beside_a_spoiled_one(tmp_path: Path) -> None:
    """Only the row that disagrees is in doubt."""
    assert _doubted(_spoiled(_read(_manual(tmp_path)), "1442", "1447")) == ["3"]


def test_where_several_rows_disagree_the_others_are_doubted_too(tmp_path: Path) -> None:
    """What cut two of five rows wrongly has cut the others as well."""
    readings = _spoiled(_spoiled(_read(_manual(tmp_path)), "1442", "1447"), "1443", "1448")
    made = readings_to_pins("", "a.pdf", readings).pins
    assert [p.flags for p in made] == [
        ("neighbours-doubtful",),
        ("neighbours-doubtful",),
        ("readings-disagree",),
        ("readings-disagree",),
        ("neighbours-doubtful",),
    ]


def test_what_stands_beside_a_table_cut_too_soon_is_doubted(tmp_path: Path) -> None:
    """Columns that were not taken into the table leave values of the row outside: they are seen there."""
    readings = [
        replace(r, tables=tuple(_first_columns(t) for t in r.tables)) for r in _read(_manual(tmp_path))
    ]
    assert _doubted(readings) == ["1", "2", "3", "4", "5"]


def _first_columns(table: Table) -> Table:
    """Return a table as if it ended behind its second column."""
    bands = tuple(replace(b, cells=b.cells[:2]) for b in table.bands)
    box = replace(table.box, x1=table.edges[2])
    return replace(
        table,
        box=box,
        edges=table.edges[:3],
        header=table.header[:2],
        groups=table.groups[:2],
        split=table.split[:1],
        bands=bands,
    )


def test_a_text_is_put_together_from_whole_tokens() -> None:
    """`BU/YE` is `BU/` and `YE`, but it is not in `BU/YEL`; a bracket parts a token."""
    assert put_together("BU/YE", ["1", "BU/", "1440", "YE"], set()) == {1, 3}
    assert put_together("BU/YE", ["BU/YEL"], set()) is None
    assert put_together("1", ["1=red"], set()) == {0}
    assert put_together("1", ["1440"], set()) is None
