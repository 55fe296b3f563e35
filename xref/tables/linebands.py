"""Lines of a table without a full grid to bands of cells; drawn borders between rows are kept."""

from __future__ import annotations

from collections.abc import Sequence

from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.cells import line_to_cells, words_to_cell
from xref.tables.lines import Line, box_of
from xref.tables.table import Band

#: A rule or fill counts as a row's border when it covers this share of the table's width.
BORDER_SHARE = 0.5


def lines_to_bands(
    body: Sequence[Line], edges: Sequence[float], page: PageContent, anchors: Sequence[int]
) -> list[Band]:
    """Turn lines into bands; lines between two drawn borders are one band when they hold one row.

    `anchors` are the columns of cavities: side by side there may be several, whose rows differ in height.
    """
    borders = _borders(page, edges, body)
    groups: list[list[Line]] = []
    ruled: list[bool] = []
    previous: Line | None = None
    for line in body:
        parted = previous is None or any(
            previous.box.bottom - 1.5 <= y <= line.box.top + 1.5 for y in borders
        )
        if parted or not groups:
            groups.append([line])
            ruled.append(bool(borders))
        else:
            groups[-1].append(line)
        previous = line
    bands: list[Band] = []
    for group, by_rule in zip(groups, ruled, strict=True):
        if by_rule and len(group) > 1 and all(_anchors(group, edges, a) <= 1 for a in anchors):
            bands.append(_band(group, edges, ruled=True))
        else:
            bands.extend(_band([line], edges, ruled=by_rule and i == 0) for i, line in enumerate(group))
    return bands


def _anchors(group: Sequence[Line], edges: Sequence[float], anchor: int) -> int:
    left, right = edges[anchor], edges[anchor + 1]
    return sum(any(left <= (w.box.x0 + w.box.x1) / 2 < right for w in line.words) for line in group)


def _band(group: Sequence[Line], edges: Sequence[float], *, ruled: bool) -> Band:
    words = [w for line in group for w in line.words]
    box = box_of(words)
    box = Box(x0=min(box.x0, edges[0]), top=box.top, x1=max(box.x1, edges[-1]), bottom=box.bottom)
    if len(group) == 1:
        return Band(cells=tuple(line_to_cells(words, edges, box.top, box.bottom)), box=box, ruled=ruled)
    columns = [line_to_cells(line.words, edges, line.box.top, line.box.bottom) for line in group]
    cells = []
    for j in range(len(edges) - 1):
        inside = [w for row in columns for w in row[j].words]
        cell_box = Box(x0=edges[j], top=box.top, x1=edges[j + 1], bottom=box.bottom)
        cells.append(words_to_cell(inside, cell_box, cut=any(row[j].cut for row in columns)))
    return Band(cells=tuple(cells), box=box, ruled=ruled)


def _borders(page: PageContent, edges: Sequence[float], body: Sequence[Line]) -> list[float]:
    """Return the heights of rules and of edges of fills that part rows of this table."""
    left, right = edges[0], edges[-1]
    top, bottom = body[0].box.top - 20, body[-1].box.bottom + 20
    need = BORDER_SHARE * (right - left)
    heights = [
        (r.top + r.bottom) / 2
        for r in page.rules
        if r.horizontal and min(r.x1, right) - max(r.x0, left) >= need and top <= r.top <= bottom
    ]
    for fill in page.fills:
        if min(fill.box.x1, right) - max(fill.box.x0, left) >= need and fill.box.height < 0.5 * page.height:
            heights += [fill.box.top, fill.box.bottom]
    return sorted(h for h in heights if top <= h <= bottom)
