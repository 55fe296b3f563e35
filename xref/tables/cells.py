"""Words into cells: a word goes where its middle is; one that runs over a border is cut there."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace

from xref.pages.content import Word
from xref.records import Box
from xref.tables.lines import Line, lines_text, words_to_lines
from xref.tables.table import Cell

#: A word may stand this much over a border (part of a character's width) before it is cut.
OVERHANG = 0.6


def words_to_cell(
    words: Sequence[Word],
    box: Box,
    *,
    row_span: int = 1,
    col_span: int = 1,
    first: bool = True,
    cut: bool = False,
) -> Cell:
    """Build a cell from the words in it, its lines joined."""
    own, text, texts = _in_lines(words)
    return Cell(
        text=text,
        box=box,
        words=own,
        lines=(text,) if texts == (text,) else texts,  # the same text is kept once
        row_span=row_span,
        col_span=col_span,
        first=first,
        cut=cut,
    )


def _in_lines(words: Sequence[Word]) -> tuple[tuple[Word, ...], str, tuple[str, ...]]:
    """Return the words of a cell in the order of its lines, its text, and the text of each line."""
    if len(words) == 1 and words[0].text:
        return tuple(words), " ".join(words[0].text.split()), (words[0].text,)
    lines = words_to_lines(words)
    return (
        tuple(w for line in lines for w in line.words),
        lines_text(lines),
        tuple(line.text for line in lines),
    )


def column_of(word: Word, edges: Sequence[float]) -> int:
    """Return the column (from 0) in which the middle of a word stands, kept inside the table."""
    x = (word.box.x0 + word.box.x1) / 2
    return min(max(bisect_right(edges, x) - 1, 0), len(edges) - 2)


def cut_word(word: Word, edges: Sequence[float]) -> list[tuple[Word, bool]]:
    """Cut a word where it runs well over a column border; each part says whether it was cut."""
    if len(word.edges) != len(word.text) or len(word.text) < 2:
        return [(word, False)]
    width = (word.box.x1 - word.box.x0) / len(word.text)
    inside = [e for e in edges[1:-1] if word.box.x0 + OVERHANG * width < e < word.box.x1 - OVERHANG * width]
    if not inside:
        return [(word, False)]
    parts: list[tuple[Word, bool]] = []
    start = 0
    for border in [*inside, float("inf")]:
        end = start
        while end < len(word.text) and sum(word.edges[end]) / 2 < border:
            end += 1
        if end > start:
            box = replace(word.box, x0=word.edges[start][0], x1=word.edges[end - 1][1])
            last = end == len(word.text)
            parts.append(
                (
                    replace(
                        word,
                        text=word.text[start:end],
                        box=box,
                        edges=word.edges[start:end],
                        mark=word.mark if last else "",
                    ),
                    True,
                )
            )
        start = end
    return parts


def line_to_cells(
    line_words: Sequence[Word], edges: Sequence[float], top: float, bottom: float
) -> list[Cell]:
    """Put the words of one band into its columns."""
    columns: list[list[Word]] = [[] for _ in range(len(edges) - 1)]
    was_cut = [False] * len(columns)
    for word in line_words:
        for part, cut in cut_word(word, edges):
            at = column_of(part, edges)
            columns[at].append(part)
            was_cut[at] = was_cut[at] or cut
    return [
        words_to_cell(c, Box(x0=edges[j], top=top, x1=edges[j + 1], bottom=bottom), cut=was_cut[j])
        for j, c in enumerate(columns)
    ]


def inside(word: Word, box: Box) -> bool:
    """True when the middle of a word is in the box."""
    x, y = (word.box.x0 + word.box.x1) / 2, (word.box.top + word.box.bottom) / 2
    return box.x0 <= x <= box.x1 and box.top <= y <= box.bottom


def lines_inside(lines: Sequence[Line], box: Box) -> list[Line]:
    """Return the lines whose middle is in the box."""
    return [
        line
        for line in lines
        if box.x0 <= (line.box.x0 + line.box.x1) / 2 <= box.x1
        and box.top <= (line.box.top + line.box.bottom) / 2 <= box.bottom
    ]
