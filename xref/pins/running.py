"""Titles that come back on page after page: they name the manual or a chapter, no table."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from xref.pins.heading import DESIGNATOR
from xref.tables.lines import Line, box_of, join_words, line_to_chunks
from xref.tables.page import PageReading
from xref.tables.table import Around, Table

#: A text of the page's head that comes back on this many pages is a running title, no heading; one with a
#: designator only when it stands over this share of the pages with tables, for a long table has pages too.
RUNNING = 3
RUNNING_SHARE = 0.7


def running_titles(readings: Sequence[PageReading]) -> frozenset[str]:
    """Return the texts that stand at the head of many pages, without their page numbers.

    A line of the page's head may have parts that stand apart: each is looked at by itself, too.
    """
    counts: Counter[str] = Counter()
    pages = 0
    for reading in readings:
        heads = [a.line for t in reading.tables for a in t.around if a.where == "page"]
        texts = {_bare(line.text) for line in heads}
        texts |= {_bare(join_words(c)) for line in heads for c in line_to_chunks(line)}
        pages += bool(reading.tables)
        counts.update(t for t in texts if t)
    return frozenset(
        text
        for text, n in counts.items()
        if n >= RUNNING and (n >= RUNNING_SHARE * pages or not DESIGNATOR.search(text))
    )


def _bare(text: str) -> str:
    """A text without its page number."""
    return re.sub(r"^\W*\d{1,4}\W+|\W+\d{1,4}\W*$", "", text).strip()


def without_running(table: Table, running: frozenset[str]) -> Table:
    """Return a table without running titles among the lines around it."""
    around = tuple(kept for a in table.around if (kept := _own_part(a, running)) is not None)
    return replace(table, around=around)


def _own_part(near: Around, running: frozenset[str]) -> Around | None:
    if near.where != "page":
        return near
    if _bare(near.line.text) in running:
        return None
    chunks = line_to_chunks(near.line)
    kept = [c for c in chunks if _bare(join_words(c)) not in running]
    if len(kept) == len(chunks):
        return near
    words = tuple(w for c in kept for w in c)
    return replace(near, line=Line(words=words, box=box_of(words), size=near.line.size)) if words else None
