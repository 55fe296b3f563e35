"""A page layout the person taught: the columns' places and meanings, and finding it on a page again.

Where a table of the page stands in the taught columns, its cells are kept and only the meaning of the
columns is the person's. Where nothing was found, the lines under the taught header (or, without header,
the lines with a cavity in the cavity column) are cut at the taught borders.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from xref.data.words import fold
from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.cells import column_of, line_to_cells
from xref.tables.layout import TaughtLayout
from xref.tables.lines import Line, box_of, words_to_lines
from xref.tables.page import PageReading
from xref.tables.surroundings import lines_around, pairs_of_lines
from xref.tables.table import Band, Cell, Table

#: Borders that differ by less are the same, points: a column's place moves with the width of its texts.
SAME_BORDER = 14.0
#: Lines further apart than this many of their heights are no longer one table.
TABLE_GAP = 3.0
#: Fewer lines with a cavity one below the other than this are no table where no header names it.
FEWEST_LINES = 3
#: What may stand in a cavity column.
_CAVITY = re.compile(r"[A-Za-z]{0,2}[ .-]?\d{0,3}[a-z]?")


def taught_reading(
    content: PageContent, reading: PageReading, layouts: Sequence[TaughtLayout], *, candidate: bool
) -> PageReading:
    """Return the page's reading with every table of a taught layout read that way.

    A page that would not have been looked at (`candidate` is False) keeps its taught tables only.
    """
    lines = words_to_lines(content.words)
    tables = list(reading.tables)
    taught: list[Table] = []
    for layout in layouts:
        own = [t for t in tables if not t.taught and fits(t, layout)]
        taught += [replace(t, taught=layout) for t in own]
        tables = [t for t in tables if t not in own]
        if not own:
            cut = _cut(content, lines, layout, [t.box for t in taught])
            tables = [t for t in tables if not any(_overlap(t.box, c.box) for c in cut)]
            taught += cut
    if not taught and not candidate:
        return PageReading(
            page=reading.page, label=reading.label, outcome="skipped", why=reading.why, frame=reading.frame
        )
    kept = sorted([*(tables if candidate else []), *taught], key=lambda t: (round(t.box.top / 6), t.box.x0))
    numbered = tuple(replace(t, number=n) for n, t in enumerate(kept, start=1))
    why = "read in columns the person taught" if taught else reading.why
    return replace(reading, tables=numbered, why=why)


def fits(table: Table, layout: TaughtLayout) -> bool:
    """Say whether a table stands in the taught columns, wherever on the page, under the same header."""
    if table.columns != len(layout.roles):
        return False
    shift = table.edges[1] - layout.edges[1] if table.columns > 1 else 0.0
    inner = zip(table.edges[1:-1], layout.edges[1:-1], strict=True)
    if any(abs(a - b - shift) > SAME_BORDER for a, b in inner):
        return False
    return _folded(table.header) == _folded(layout.header)


def layout_of(table: Table, roles: Sequence[str]) -> TaughtLayout:
    """Return the layout of a table whose columns the person named."""
    return TaughtLayout(roles=tuple(roles), edges=table.edges, header=table.header)


def cut_layout(content: PageContent, roles: Sequence[str]) -> TaughtLayout | None:
    """Return the layout of the page's lines cut into this many columns at the widest white rivers.

    None where the lines do not part into so many.
    """
    lines = [line for line in words_to_lines(content.words) if len(line.words) >= 2]
    rivers = _rivers(lines)
    if len(lines) < FEWEST_LINES or len(rivers) < len(roles) - 1:
        return None
    widest = sorted(sorted(rivers, key=lambda r: r[0] - r[1])[: len(roles) - 1])
    box = box_of([w for line in lines for w in line.words])
    edges = (box.x0 - 1.0, *((a + b) / 2 for a, b in widest), box.x1 + 1.0)
    body = [line for line in lines if _has_cavity(line, edges, roles)]
    above = [line for line in lines if body and line.box.bottom <= body[0].box.top + 1]
    if not body:
        return None
    near = bool(above) and body[0].box.top - above[-1].box.bottom < TABLE_GAP * above[-1].box.height
    header = tuple(c.text for c in _cells(above[-1], edges)) if near else ("",) * len(roles)
    return TaughtLayout(roles=tuple(roles), edges=edges, header=header)


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


def _cut(
    content: PageContent, lines: Sequence[Line], layout: TaughtLayout, taken: Sequence[Box]
) -> list[Table]:
    """Cut every run of lines on the page that has the layout's header over it, or its cavities in place."""
    named = [t for t in layout.header if t]
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
            box = box.union(lines[at].box)
        if not any(_overlap(box, other) for other in taken):
            tables.append(_table(content, lines, layout, body, box))
    return tables


def _is_header(line: Line, layout: TaughtLayout) -> bool:
    return _folded(tuple(c.text for c in _cells(line, layout.edges))) == _folded(layout.header)


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
    while body and not _has_cavity(body[-1], layout.edges, layout.roles) and len(body[-1].words) > 1:
        cells = [c.text for c in _cells(body[-1], layout.edges)]
        if sum(map(bool, cells)) == 1:
            break  # the rest of a wrapped text
        body.pop()
    return body


def _table(
    content: PageContent, lines: Sequence[Line], layout: TaughtLayout, body: Sequence[Line], box: Box
) -> Table:
    bands = tuple(Band(cells=tuple(_cells(line, layout.edges)), box=line.box) for line in body)
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


def _cells(line: Line, edges: Sequence[float]) -> list[Cell]:
    return line_to_cells(line.words, edges, line.box.top, line.box.bottom)


def _has_cavity(line: Line, edges: Sequence[float], roles: Sequence[str]) -> bool:
    if "cavity" not in roles:
        return True
    at = tuple(roles).index("cavity")
    text = " ".join(w.text for w in line.words if column_of(w, edges) == at)
    return bool(text) and bool(_CAVITY.fullmatch(text))


def _folded(header: Sequence[str]) -> tuple[str, ...]:
    return tuple(fold(text) for text in header)


def _overlap(one: Box, other: Box) -> bool:
    wide = min(one.x1, other.x1) - max(one.x0, other.x0)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    return wide > 0 and high > 0.3 * min(one.height, other.height)
