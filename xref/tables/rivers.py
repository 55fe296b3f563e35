"""Columns without rules: white rivers that run down between the words of a block of lines."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from xref.tables.lines import Line, line_to_chunks

#: A river may be bridged by this share of the lines (texts that run over, sub-headings).
BRIDGED = 0.06
#: Narrowest river, in font sizes; narrower ones are gaps between letters.
NARROWEST_RIVER = 0.3
#: Where two headers ask for a border between them, this much white is enough.
NARROWEST_ASKED = 0.15
#: Of the lines with words on both sides, this share must show a chunk's gap there: words of running
#: text line up by chance in a few lines, but then only blanks part them.
GAP_EVIDENCE = 0.34


@dataclass(frozen=True, slots=True, kw_only=True)
class River:
    """White space between two columns, with the share of lines that show a wide gap there."""

    x0: float
    x1: float
    evidence: float


def lines_to_rivers(lines: Sequence[Line], evidence: float = GAP_EVIDENCE) -> list[River]:
    """Return the rivers of a block of lines, left to right; `evidence` 0 also gives narrow ones."""
    if not lines:
        return []
    left = min(line.box.x0 for line in lines)
    right = max(line.box.x1 for line in lines)
    width = int(right - left) + 2
    cover = [0] * width
    for line in lines:
        for word in line.words:
            for x in range(max(0, int(word.box.x0 - left + 0.5)), min(width, int(word.box.x1 - left + 0.5))):
                cover[x] += 1
    allowed = int(BRIDGED * len(lines))
    size = sorted(line.size for line in lines)[len(lines) // 2]
    rivers = []
    start: int | None = None
    for x in range(width):
        white = cover[x] <= allowed
        if white and start is None:
            start = x
        elif not white and start is not None:
            rivers.extend(_river(lines, left + start, left + x, size, evidence))
            start = None
    return rivers


def _river(lines: Sequence[Line], x0: float, x1: float, size: float, least: float) -> list[River]:
    if x1 - x0 < (NARROWEST_RIVER if least else NARROWEST_ASKED) * size:
        return []
    middle = (x0 + x1) / 2
    both = gaps = 0
    for line in lines:
        if line.words[0].box.x1 <= middle <= line.words[-1].box.x0:
            both += 1
            chunks = line_to_chunks(line)
            gaps += any(a[-1].box.x1 <= middle <= b[0].box.x0 for a, b in itertools.pairwise(chunks))
    if both == 0:
        return []
    evidence = gaps / both
    return [River(x0=x0, x1=x1, evidence=evidence)] if evidence >= least else []


def rivers_to_edges(rivers: Sequence[River], lines: Sequence[Line]) -> list[float]:
    """Return column borders: the middle of each river, and the outer ends of the lines."""
    left = min(line.box.x0 for line in lines) - 1.0
    right = max(line.box.x1 for line in lines) + 1.0
    return [left, *[(r.x0 + r.x1) / 2 for r in rivers], right]
