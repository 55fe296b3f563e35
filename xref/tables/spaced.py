"""Letter-spaced lines (`C O N N E C T O R  X 5`) to their words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from xref.pages.content import Word
from xref.records import Box
from xref.tables.lines import Line, is_wide_script

#: Set letters touch or nearly so; from this gap on (font sizes) they are set apart on purpose.
APART = 0.08
#: Letters further apart than this (font sizes) are words of their own, as in the picture of a face.
FURTHEST = 0.6
#: A blank between spaced words is two letter gaps and the blank itself, which is 0.2 sizes at least.
BLANK = 0.15
#: A line of fewer characters proves no spacing.
FEWEST = 4

Piece = tuple[str, float, float, Word]


def respaced(line: Line) -> Line:
    """Return a letter-spaced line cut into its real words; any other line as it is.

    The gaps between its letters, not its blanks, tell: they are wide and alike, and wider ones part words.
    """
    pieces = _pieces(line)
    if len(pieces) < FEWEST or is_wide_script(line.text):
        return line
    gaps = [b[1] - a[2] for a, b in pairwise(pieces)]
    usual = median(gaps)
    tight = sorted(gaps)[len(gaps) // 4]
    if tight < APART * line.size or usual > FURTHEST * line.size:
        return line
    border = 2 * usual + BLANK * line.size
    words: list[list[Piece]] = [[pieces[0]]]
    for gap, piece in zip(gaps, pieces[1:], strict=True):
        if gap > border:
            words.append([])
        words[-1].append(piece)
    return Line(words=tuple(_word(w) for w in words), box=line.box, size=line.size)


def _pieces(line: Line) -> list[Piece]:
    """Each character with its edges; none where a word does not know them."""
    out: list[Piece] = []
    for word in line.words:
        if len(word.edges) != len(word.text):
            return []
        out += [(c, x0, x1, word) for c, (x0, x1) in zip(word.text, word.edges, strict=True)]
    return out


def _word(pieces: Sequence[Piece]) -> Word:
    first = pieces[0][3]
    box = Box(x0=pieces[0][1], top=first.box.top, x1=pieces[-1][2], bottom=first.box.bottom)
    return replace(
        first,
        text="".join(p[0] for p in pieces),
        box=box,
        edges=tuple((p[1], p[2]) for p in pieces),
        mark="",
    )
