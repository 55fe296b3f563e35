"""Rows whose words are doubtful by the way they are drawn: crossed by a stamp, without meaning, not seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref.pins.build import Made
from xref.records import Box

Found = Iterator[tuple[int, str]]


def check_print(made: Sequence[Made]) -> Found:
    """Yield the rows that rest on such words: row and doubt."""
    for i, m in enumerate(made):
        for doubt in dict.fromkeys(d for d, box in m.part.page.shaky if _inside(box, m.row.box)):
            yield i, doubt


def _inside(word: Box, row: Box) -> bool:
    """True when the middle of a word lies in a row."""
    x, y = (word.x0 + word.x1) / 2, (word.top + word.bottom) / 2
    return row.x0 <= x <= row.x1 and row.top <= y <= row.bottom
