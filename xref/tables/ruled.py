"""Ruled tables: a grid and the words in it to bands of cells, header recognised by its words."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.pages.content import PageContent, Word
from xref.records import Box
from xref.tables.cells import inside, line_to_cells, words_to_cell
from xref.tables.grid import Grid, Region
from xref.tables.lines import middle, words_to_lines
from xref.tables.signs import words_without_signs
from xref.tables.table import Band, Cell
from xref.tables.variants import names_variant
from xref.tables.vocabulary import best_role, heads_cavities, names_columns

#: Header words must make up this much of a row for the row to be a header.
HEADER_SHARE = 0.5
#: How many rows at the top of a grid may be titles and headers together.
DEEPEST_HEADER = 5
#: A first row of unknown words is a header only over so many rows in all.
FEWEST_WITH_HEADER = 3
#: A text that is a known phrase for a column scores at least this.
WHOLE = 0.9
#: What a cavity looks like when several stand in one cell, one a line.
CAVITY_LINE = re.compile(r"[A-Z]{0,3}-?\d{1,3}[a-z]?|[A-Z]|\d{1,2}[/-]\d{1,2}", re.IGNORECASE)


def grid_to_bands(grid: Grid, page: PageContent) -> list[Band]:
    """Fill the cells of a grid with the words of the page, one band a row of the grid."""
    outline = grid.box
    words = words_without_signs([w for w in page.words if inside(w, outline)])
    words = sorted(words, key=lambda w: middle(w.box))
    middles = [middle(w.box) for w in words]
    rows, columns = len(grid.ys) - 1, len(grid.xs) - 1
    table: list[list[Cell | None]] = [[None] * columns for _ in range(rows)]
    for region in grid.regions:
        box = Box(
            x0=grid.xs[region.c0],
            top=grid.ys[region.r0],
            x1=grid.xs[region.c1 + 1],
            bottom=grid.ys[region.r1 + 1],
        )
        level = words[bisect_left(middles, box.top) : bisect_right(middles, box.bottom)]
        here = [w for w in level if inside(w, box)]
        _place(table, region, words_to_cell(
            here,
            box,
            row_span=region.r1 - region.r0 + 1,
            col_span=region.c1 - region.c0 + 1,
        ))  # fmt: skip
    bands = []
    for i in range(rows):
        cells = [c for c in table[i] if c is not None]
        box = Box(x0=grid.xs[0], top=grid.ys[i], x1=grid.xs[-1], bottom=grid.ys[i + 1])
        bands.append(Band(cells=tuple(cells), box=box, ruled=True))
    return bands


def _place(table: list[list[Cell | None]], region: Region, cell: Cell) -> None:
    for i in range(region.r0, region.r1 + 1):
        for j in range(region.c0, region.c1 + 1):
            if table[i][j] is not None:
                continue
            here = cell if j == region.c0 else replace(cell, text="", words=(), lines=(), col_span=1)
            table[i][j] = here if i == region.r0 else replace(here, first=False)


def drop_blank_columns(bands: Sequence[Band], edges: Sequence[float]) -> tuple[list[Band], list[float]]:
    """Drop columns in which no cell of any band begins with text: doubled frames, merged spans."""
    columns = len(edges) - 1
    keep = [j for j in range(columns) if any(b.cells[j].text for b in bands)]
    if len(keep) == columns or not keep:
        return list(bands), list(edges)
    out = [replace(b, cells=tuple(b.cells[j] for j in keep)) for b in bands]
    return out, [edges[j] for j in keep] + [edges[-1]]


def header_depth(bands: Sequence[Band]) -> tuple[int, int]:
    """Return (titles, header end): bands before the header, and the index after its last band.

    (0, 0) when no band within the first few is made of header words.
    """
    for start, band in enumerate(bands[:DEEPEST_HEADER]):
        if not is_header(band):
            continue
        end = start + 1
        first_row = band.cells
        while end < min(len(bands), start + 3) and _goes_on(bands[end], first_row):
            end += 1
        begin = start
        while begin > 0 and _is_group_row(bands[begin - 1]):
            begin -= 1
        return begin, end
    for start, band in enumerate(bands[:2]):
        for j, cell in enumerate(band.cells):
            under = [b.cells[j].text for b in bands[start + 1 :]]
            if len(band.cells) > 1 and heads_cavities(cell.text, under):
                return start, start + 1
    return 0, 0


def is_header(band: Band) -> bool:
    """True for a band of header words: two core roles at least, and half of its texts known."""
    texts = [c.text for c in band.cells if c.text]
    if len(texts) < 2 or any(t.strip(".").isdigit() for t in texts):
        return False
    return names_columns(texts, HEADER_SHARE, HEADER_SHARE)


def has_unknown_header(bands: Sequence[Band]) -> bool:
    """True when the first band holds words over every filled column, and figures stand under one of them."""
    if len(bands) < FEWEST_WITH_HEADER:
        return False
    first, rest = bands[0], bands[1:]
    texts = [c.text for c in first.cells]
    filled = [j for j in range(len(texts)) if any(b.cells[j].text for b in rest)]
    if len(filled) < 2 or not all(texts[j] for j in filled):
        return False
    if any(c.isdigit() for t in texts for c in t) or any(len(t) < 2 and t.isupper() for t in texts[:1]):
        return False
    return any(_figures([b.cells[j].text for b in rest]) for j in filled)


def _figures(texts: Sequence[str]) -> bool:
    filled = [t for t in texts if t]
    return len(filled) >= 2 and sum(any(c.isdigit() for c in t) for t in filled) >= 0.8 * len(filled)


def _goes_on(band: Band, first: Sequence[Cell]) -> bool:
    """A second header row: known words only, none of them under a finished single-row header alone."""
    texts = [c.text for c in band.cells if c.text and c.first]
    if any(not c.first for c in band.cells if c.text) and not texts:
        return True
    if not texts:
        return False
    if _under_spans(band, first):
        return True
    known = [t for t in texts if best_role(t)[1] >= 0.9 or names_variant(t)]
    spans = any(c.col_span > 1 or c.row_span > 1 for c in first)
    return len(known) == len(texts) and (spans or len(texts) >= 2)


def _under_spans(band: Band, first: Sequence[Cell]) -> bool:
    """True where all that a row says stands under wide headers, and the others reach down over it."""
    under = {k for j, c in enumerate(first) if c.text and c.col_span > 1 for k in range(j, j + c.col_span)}
    rest = [c for j, c in enumerate(band.cells) if j not in under]
    return bool(under) and bool(rest) and not any(c.first for c in rest)


def _is_group_row(band: Band) -> bool:
    """A row above the header whose cells span some, but not all, of the columns."""
    spans = [c.col_span for c in band.cells if c.text]
    return len(spans) >= 2 and max(spans) < len(band.cells) and max(spans) > 1


def is_title_over(band: Band) -> bool:
    """True for a row over the header whose wide cells are no words for columns: a title, in pieces."""
    cells = [c for c in band.cells if c.text and c.first]
    wide = [c for c in cells if c.col_span > 1]
    return bool(wide) and not any(best_role(c.text)[1] >= WHOLE for c in cells)


def header_texts(bands: Sequence[Band], begin: int, end: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return each column's header text and the text of the group header over it."""
    columns = len(bands[begin].cells)
    texts, groups = [""] * columns, [""] * columns
    for band in bands[begin:end]:
        for j, cell in enumerate(band.cells):
            if not cell.text or not cell.first:
                continue
            if cell.col_span > 1:
                for k in range(j, min(columns, j + cell.col_span)):
                    groups[k] = f"{groups[k]} {cell.text}".strip()
                if best_role(cell.text)[1] >= 0.9 and band is bands[end - 1]:
                    texts[j] = f"{texts[j]} {cell.text}".strip()
            else:
                texts[j] = f"{texts[j]} {cell.text}".strip()
    return tuple(texts), tuple(groups)


def explode(band: Band, edges: Sequence[float]) -> list[Band]:
    """Split a band whose cells hold several rows, one a line: columns are ruled there, rows are not."""
    holders = [c for c in band.cells if _holds_rows(c, band)]
    anchor = max(holders, key=_counts_up, default=None)
    if anchor is None or any(c.row_span > 1 and c.text for c in band.cells):
        return [band]
    lines = words_to_lines(anchor.words)
    tops = [line.box.top for line in lines]
    middles = [middle(line.box) for line in lines]
    centred = any(w.box.bottom <= lines[0].box.top + 1 for c in band.cells for w in c.words)
    words: list[list[Word]] = [[] for _ in lines]
    for cell in band.cells:
        if cell.col_span > 1 and cell.text:
            return [band]
        for word in cell.words:
            here = middle(word.box)
            if centred:
                at = min(range(len(lines)), key=lambda i: abs(middles[i] - here))
            else:
                at = max((i for i, top in enumerate(tops) if top <= here), default=0)
            words[at].append(word)
    borders = [band.box.top, *[t - 1.0 for t in tops[1:]], band.box.bottom]
    return [
        Band(
            cells=tuple(line_to_cells(words[i], edges, borders[i], borders[i + 1])),
            box=Box(x0=band.box.x0, top=borders[i], x1=band.box.x1, bottom=borders[i + 1]),
            ruled=i == 0,
        )
        for i in range(len(lines))
    ]


def _counts_up(cell: Cell) -> tuple[int, int]:
    """Cavities count up line by line; circuits and codes beside them may look like cavities, but do not."""
    numbers = [int(m.group()) for t in cell.lines if (m := re.search(r"\d+", t))]
    steps = sum(b - a in (0, 1) for a, b in pairwise(numbers))
    return steps, len(cell.lines)


def _holds_rows(cell: Cell, band: Band) -> bool:
    """True when each line of a cell is a cavity; repeats only where another cell has as many lines."""
    texts = [t.strip() for t in cell.lines]
    if len(texts) < 2 or not all(CAVITY_LINE.fullmatch(t) for t in texts):
        return False
    distinct = len(set(texts)) == len(texts)
    return distinct or any(c is not cell and len(c.lines) == len(texts) for c in band.cells)
