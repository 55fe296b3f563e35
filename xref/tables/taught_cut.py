"""The lines of a page cut at the borders of taught columns: what stands there without any table found."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.data.words import fold, words_of
from xref.pages.content import PageContent, Word
from xref.records import Box
from xref.tables.cells import column_of, line_to_cells
from xref.tables.layout import TaughtLayout
from xref.tables.lines import Line, box_of, line_to_chunks, middle, words_to_lines
from xref.tables.surroundings import lines_around, pairs_of_lines
from xref.tables.table import Band, Cell, Table

#: Borders that differ by less are the same, points: a column's place moves with the width of its texts.
SAME_BORDER = 14.0
#: Lines further apart than this many of their heights are no longer one table.
TABLE_GAP = 3.0
#: A header stands at most this many of its line heights over the first row.
HEADER_LINES = 4.0
#: A line belongs to the nearer of two cavities when its way there is shorter by this part at least.
CLEARLY_NEARER = 0.8
#: Fewer lines with a cavity one below the other than this are no table where no header names it.
FEWEST_LINES = 3
#: What may stand in a cavity column.
_CAVITY = re.compile(r"[A-Za-z]{0,2}[ .-]?\d{1,3}[a-z]?|[A-Z]{1,2}|[a-z]|\d{1,3}(?: ?[-–,] ?\d{1,3})+")


def cut_layout(
    content: PageContent, roles: Sequence[str], edges: Sequence[float] = ()
) -> TaughtLayout | None:
    """Return the layout of the page's lines cut into this many columns: at `edges`, else at white rivers.

    None where the lines do not part into so many, or nothing in the cavity column looks like a cavity.
    """
    lines = [line for line in words_to_lines(content.words) if len(line.words) >= 2]
    if not edges:
        parted = [line for line in lines if len(line_to_chunks(line)) >= max(2, len(roles) // 2)]
        rivers = _rivers(parted)  # a heading or a sentence would bridge them
        if len(parted) < FEWEST_LINES or len(rivers) < len(roles) - 1:
            return None
        widest = sorted(sorted(rivers, key=lambda r: r[0] - r[1])[: len(roles) - 1])
        box = box_of([w for line in parted for w in line.words])
        edges = (box.x0 - 1.0, *((a + b) / 2 for a, b in widest), box.x1 + 1.0)
    first = next((n for n, line in enumerate(lines) if _has_cavity(line, edges, roles)), None)
    if first is None:
        return None
    header = _header_above(lines[:first], lines[first], edges)
    return TaughtLayout(roles=tuple(roles), edges=tuple(edges), header=header, line=header, anew=True)


def _header_above(above: Sequence[Line], first: Line, edges: Sequence[float]) -> tuple[str, ...]:
    """Return the texts of the line over the first row that stands in most columns, two at least."""
    best = ("",) * (len(edges) - 1)
    for line in above:
        near = first.box.top - line.box.bottom <= HEADER_LINES * line.box.height
        if near and len(line_to_chunks(line)) >= 2:
            texts = tuple(c.text for c in _cells(line, edges))
            if sum(map(bool, texts)) >= max(2, sum(map(bool, best))):
                best = texts
    return best


def _rivers(lines: Sequence[Line]) -> list[tuple[float, float]]:
    """Return the white gaps that at most one line in twenty crosses, left to right."""
    if not lines:
        return []
    spans = sorted((w.box.x0, w.box.x1) for line in lines for w in line.words)
    left, right = spans[0][0], max(x1 for _, x1 in spans)
    allowed = len(lines) // 20
    inked = [0] * (int(right - left) + 2)
    for x0, x1 in spans:
        for x in range(int(x0 - left), int(x1 - left) + 1):
            inked[x] += 1
    rivers: list[tuple[float, float]] = []
    start: int | None = None
    for x, count in enumerate(inked):
        if count <= allowed and start is None:
            start = x
        elif count > allowed and start is not None:
            if x - start >= 2:
                rivers.append((left + start, left + x))
            start = None
    return [river for river in rivers if river[0] > left]


def cut_tables(
    content: PageContent, lines: Sequence[Line], layout: TaughtLayout, taken: Sequence[Box]
) -> list[Table]:
    """Cut every run of lines on the page that has the layout's header over it, or its cavities in place."""
    named = any(layout.line)
    starts = [n for n, line in enumerate(lines) if named and _is_header(line, layout)]
    if not named:
        starts = [n - 1 for n, line in enumerate(lines) if _has_cavity(line, layout.edges, layout.roles)][:1]
    tables = []
    for at in starts:
        body = _body(lines[at + 1 :], layout)
        rows = sum(_has_cavity(line, layout.edges, layout.roles) for line in body)
        if rows < (1 if named else FEWEST_LINES):
            continue
        box = box_of([w for line in body for w in line.words])
        if named:
            box = _with_header(box, lines[: at + 1], layout.edges)
        if not any(overlap(box, other) for other in taken):
            tables.append(_table(content, lines, layout, body, box))
    return tables


def _with_header(box: Box, above: Sequence[Line], edges: Sequence[float]) -> Box:
    """Return the box with the header: the taught line, and those close above it in two columns or more."""
    box = box.union(above[-1].box)
    for line in reversed(above[:-1]):
        close = box.top - line.box.bottom <= 0.6 * line.box.height
        if not close or sum(bool(c.text) for c in _cells(line, edges)) < 2:
            break
        box = box.union(line.box)
    return box


def _is_header(line: Line, layout: TaughtLayout) -> bool:
    texts = folded(tuple(c.text for c in _cells(line, layout.edges)))
    return any(texts) and texts == folded(layout.line)


def _body(lines: Sequence[Line], layout: TaughtLayout) -> list[Line]:
    body: list[Line] = []
    left, right = layout.edges[0] - SAME_BORDER, layout.edges[-1] + SAME_BORDER
    for line in lines:
        far = body and line.box.top - body[-1].box.bottom > TABLE_GAP * line.box.height
        outside = line.box.x0 < left or line.box.x1 > right
        if far or (body and outside) or _is_header(line, layout):
            break
        if not outside:
            body.append(line)
    last = max((n for n, x in enumerate(body) if _has_cavity(x, layout.edges, layout.roles)), default=-1)
    return [x for n, x in enumerate(body) if n <= last or _is_rest(x, body[last], layout.edges)]


def _is_rest(line: Line, last: Line, edges: Sequence[float]) -> bool:
    """Say whether a line under the last row is the rest of a text of it: one column, close below."""
    near = line.box.top - last.box.bottom <= line.box.height
    return near and sum(bool(c.text) for c in _cells(line, edges)) == 1


def _table(
    content: PageContent, lines: Sequence[Line], layout: TaughtLayout, body: Sequence[Line], box: Box
) -> Table:
    bands = tuple(_bands(content, body, layout))
    table = Table(
        page=content.number,
        number=0,
        kind="aligned",
        box=box,
        edges=layout.edges,
        header=layout.header,
        header_score=0.0,
        bands=bands,
        taught=layout,
    )
    around = lines_around(table, [box], lines, content)
    return replace(table, around=around, head=pairs_of_lines(around))


def _bands(content: PageContent, body: Sequence[Line], layout: TaughtLayout) -> list[Band]:
    """Put the lines of wrapped texts to the line with the cavity they belong to, one band per row.

    Where a text stands around its cavity's line, each of its lines goes to the nearer cavity; if that is
    not clear, the cells are marked as cut, which is a doubt of the row.
    """
    edges = layout.edges
    rows = [line for line in body if _cavity_text(line, edges, layout.roles)]
    if not rows:
        return []
    words = [list(line.words) for line in rows]
    unclear: list[set[int]] = [set() for _ in rows]
    centred = body[0] is not rows[0]
    for line in body:
        if line in rows:
            continue
        for first, last in _blocks(layout.roles):
            part = [w for w in line.words if first <= column_of(w, edges) <= last]
            if part:
                at, sure = _row_of(part, rows, content, edges) if centred else (_above(line, rows), True)
                words[at] += part
                unclear[at] |= set() if sure else {column_of(w, edges) for w in part}
    bands = []
    for own, doubted in zip(words, unclear, strict=True):
        box = box_of(own)
        box = replace(box, x0=min(box.x0, edges[0]), x1=max(box.x1, edges[-1]))
        cells = line_to_cells(own, edges, box.top, box.bottom)
        marked = tuple(replace(c, cut=c.cut or j in doubted) for j, c in enumerate(cells))
        bands.append(Band(cells=marked, box=box))
    return bands


def _blocks(roles: Sequence[str]) -> list[tuple[int, int]]:
    """Return first and last column of each part of a table that has a cavity column of its own."""
    cavities = [j for j, role in enumerate(roles) if role == "cavity"]
    starts = [0, *(j - cavities[0] for j in cavities[1:]), len(roles)]
    return [(a, b - 1) for a, b in pairwise(starts)]


def _above(line: Line, rows: Sequence[Line]) -> int:
    return max((n for n, row in enumerate(rows) if row.box.top <= line.box.top), default=0)


def _row_of(
    words: Sequence[Word], rows: Sequence[Line], content: PageContent, edges: Sequence[float]
) -> tuple[int, bool]:
    """Return the row a part of a line belongs to, and whether that is clear."""
    y = middle(box_of(words))
    borders = [r.top for r in content.rules if r.horizontal and r.x0 < edges[1] and r.x1 > edges[-2]]
    distances = []
    for n, row in enumerate(rows):
        low, high = sorted((y, middle(row.box)))
        parted = any(low < border < high for border in borders)
        distances.append((parted, high - low, n))
    nearest, *others = sorted(distances)[:2]
    sure = not others or others[0][0] > nearest[0] or nearest[1] < CLEARLY_NEARER * others[0][1]
    return nearest[2], sure


def _cells(line: Line, edges: Sequence[float]) -> list[Cell]:
    return line_to_cells(line.words, edges, line.box.top, line.box.bottom)


def _has_cavity(line: Line, edges: Sequence[float], roles: Sequence[str]) -> bool:
    if "cavity" not in roles:
        return True
    text = _cavity_text(line, edges, roles)
    return bool(_CAVITY.fullmatch(text)) and fold(text) not in words_of("cavity")


def _cavity_text(line: Line, edges: Sequence[float], roles: Sequence[str]) -> str:
    """Return what stands in the first cavity column of a line that holds one, else in the next."""
    for at, role in enumerate(roles):
        text = " ".join(w.text for w in line.words if role == "cavity" and column_of(w, edges) == at)
        if text:
            return text
    return "" if "cavity" in roles else line.text


def folded(header: Sequence[str]) -> tuple[str, ...]:
    """Return header texts as they are compared."""
    return tuple(fold(text) for text in header)


def overlap(one: Box, other: Box) -> bool:
    """Say whether two tables cannot both stand there: they share more than a touch of their height."""
    wide = min(one.x1, other.x1) - max(one.x0, other.x0)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    return wide > 0 and high > 0.3 * min(one.height, other.height)
