"""What a page worker hands back: the tables of one page, its colour key, and what became of the page."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import Literal

from xref.colors.key import key_pairs_in_text
from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.find import page_to_tables
from xref.tables.lines import line_to_chunks, words_to_lines
from xref.tables.table import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class PageReading:
    """One page as read or skipped. `frame` is the page without its words, to place boxes."""

    page: int
    label: str
    outcome: Literal["read", "skipped", "unread"]
    why: str
    tables: tuple[Table, ...] = ()
    key_pairs: tuple[tuple[str, str], ...] = ()
    frame: PageContent | None = None

    def to_page(self, box: Box) -> Box:
        """Bring a box of the reading frame to the page as displayed."""
        return self.frame.to_page(box) if self.frame else box


def content_to_reading(content: PageContent, why: str) -> PageReading:
    """Find the tables and the colour-key pairs of a page."""
    return PageReading(
        page=content.number,
        label=content.label,
        outcome="read",
        why=why,
        tables=page_to_tables(content),
        key_pairs=tuple(_key_pairs(content)),
        frame=replace(content, words=(), rules=(), fills=()),
    )


def _key_pairs(content: PageContent) -> list[tuple[str, str]]:
    """Collect (code, colour word) pairs: neighbours on a line, and `BK = black` texts."""
    pairs: list[tuple[str, str]] = []
    for line in words_to_lines(content.words):
        chunks = [" ".join(w.text for w in c) for c in line_to_chunks(line)]
        beside = [(a, b) for a, b in itertools.pairwise(chunks) if len(a) <= 6 or len(b) <= 6]
        pairs += beside
        pairs += [p for p in key_pairs_in_text(line.text) if p not in beside]
    return pairs
