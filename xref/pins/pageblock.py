"""The block at the edge of a drawing sheet that names the connector of the page: a key over its value."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from xref.pins.heading import Head, parse_heading
from xref.pins.naming import CERTAIN, Naming
from xref.pins.pinouts import Pinout
from xref.tables.page import PageReading
from xref.tables.surroundings import is_key
from xref.tables.table import Table

#: A block has no more lines than this under its keys.
MOST_LINES = 3
#: So many pages with such a block make it a habit.
FEWEST_PAGES = 2


def blocks_of_pages(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> dict[int, Naming]:
    """Return what the block of each page says, where there is one and it names one connector.

    It is certain where several pages have one and the page holds one table only.
    """
    tables: dict[int, set[int]] = defaultdict(set)
    for pinout in pinouts:
        tables[pinout.table.page].add(pinout.table.number)
    found: dict[int, Head] = {}
    for reading in readings:
        own = tables.get(reading.page, set())
        heads = [h for t in reading.tables if own and t.number not in own for h in _named(t)]
        if len({h.connector for h in heads}) == 1:
            found[reading.page] = heads[0]
    usual = len(found) >= FEWEST_PAGES
    return {
        page: Naming(
            head=head, score=CERTAIN if usual and len(tables[page]) == 1 else CERTAIN - 0.1, where="page"
        )
        for page, head in found.items()
    }


def _named(table: Table) -> Iterator[Head]:
    """Yield the connectors that stand under a word for connector in a small table."""
    if len(table.bands) > MOST_LINES:
        return
    rows = [table.header, *(tuple(c.text for c in b.cells) for b in table.bands)]
    for n, row in enumerate(rows[:-1]):
        for column, key in enumerate(row):
            if not key or is_key(key) != "connector":
                continue
            value = next((r[column] for r in rows[n + 1 :] if r[column]), "")
            head = parse_heading(value)
            if head.designator and head.connector == value.strip():
                yield replace(head, worded=True)
