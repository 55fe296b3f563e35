"""A header on a ground of its own over a ruled grid: no rule joins them, they share their columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from xref.pages.content import PageContent, Word
from xref.records import Box
from xref.tables.cells import inside
from xref.tables.headerline import header_over_columns
from xref.tables.lines import Line, box_of, join_words, line_to_chunks, words_to_lines
from xref.tables.vocabulary import names_columns

#: A ground stands so close over its grid, and may reach into it by so much, points.
GAP = 7.0
INTO = 2.0
#: Grounds of the cells of one row begin and end at the same heights, within this many points.
LEVEL = 1.0
#: A ground is as wide as its grid: it covers this share of it and reaches out no further, points.
COVERS = 0.9
OUT = 12.0
#: A ground higher than this holds no header, points.
HIGHEST = 80.0
#: A text that reaches over a border by so little stands in one column, points.
HAIR = 3.0
#: Header words must make up this share of the texts on it.
KNOWN = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderBand:
    """The texts over a grid's columns, and the ground they stand on."""

    texts: tuple[str, ...]
    groups: tuple[str, ...]
    box: Box


def header_band(outline: Box, edges: Sequence[float], page: PageContent) -> HeaderBand | None:
    """Return the header on the ground right above a grid, None where there is none."""
    ground = _ground(outline, page)
    if ground is None:
        return None
    lines = words_to_lines([w for w in page.words if inside(w, ground)])
    if not lines:
        return None
    texts, groups = _over_columns(lines, edges)
    named = [t for t in texts if t]
    if len(named) < 2 or any(t.strip(".").isdigit() for t in named):
        return None
    if not names_columns(named, KNOWN, KNOWN):
        return None
    return HeaderBand(texts=tuple(texts), groups=tuple(groups), box=ground)


def _over_columns(lines: Sequence[Line], edges: Sequence[float]) -> tuple[list[str], list[str]]:
    """Return each column's text, and the text that stands over it and others.

    A text that a border would cut is one over all columns it touches, if each has a text of its own below.
    """
    rest: list[Line] = []
    groups = [""] * (len(edges) - 1)
    for n, line in enumerate(lines):
        kept: list[Word] = []
        for chunk in line_to_chunks(line):
            touched = _touched(chunk, edges)
            below = [_touched(c, edges) for other in lines[n + 1 :] for c in line_to_chunks(other)]
            if len(touched) > 1 and all([j] in below for j in touched):
                for j in touched:
                    groups[j] = f"{groups[j]} {join_words(chunk)}".strip()
            else:
                kept += chunk
        if kept:
            rest.append(replace(line, words=tuple(kept), box=box_of(kept)))
    texts, over = header_over_columns(rest, edges)
    return texts, [f"{a} {b}".strip() for a, b in zip(groups, over, strict=True)]


def _touched(chunk: Sequence[Word], edges: Sequence[float]) -> list[int]:
    """Return the columns that words reach into by more than a hair."""
    box = box_of(chunk)
    return [j for j, (a, b) in enumerate(pairwise(edges)) if box.x0 < b - HAIR and box.x1 > a + HAIR]


def _ground(outline: Box, page: PageContent) -> Box | None:
    """Return the ground that ends at the top of a grid and is as wide, put together from its cells' own."""
    near = [
        f.box
        for f in page.fills
        if outline.top - GAP <= f.box.bottom <= outline.top + INTO
        and f.box.height <= HIGHEST
        and f.box.x0 >= outline.x0 - OUT
        and f.box.x1 <= outline.x1 + OUT
    ]
    for lowest in sorted(near, key=lambda b: -b.width):
        level = [
            b for b in near if abs(b.top - lowest.top) <= LEVEL and abs(b.bottom - lowest.bottom) <= LEVEL
        ]
        ground = lowest
        for box in level:
            ground = ground.union(box)
        filled = sum(b.width for b in _apart(level))
        if min(filled, ground.width) >= COVERS * outline.width:
            return ground
    return None


def _apart(boxes: Sequence[Box]) -> list[Box]:
    """Return the boxes that do not lie on one before them: a ground may be drawn twice."""
    out: list[Box] = []
    for box in sorted(boxes, key=lambda b: b.x0):
        if not out or box.x0 >= out[-1].x1 - LEVEL:
            out.append(box)
    return out
