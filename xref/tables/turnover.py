"""Tables that stand on their side: header words down the first column, one cavity in each further column."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from xref.records import Box
from xref.tables.cells import line_to_cells
from xref.tables.headerline import Segment
from xref.tables.lines import Line, box_of, line_to_chunks
from xref.tables.table import Band, Cell
from xref.tables.vocabulary import CAVITY_LIKE, CORE_ROLES, best_role, numbers_rows

#: Header words down the side are surer than words over columns: a value may be one by chance.
KNOWN = 0.9
KNOWN_SHARE = 0.6
#: So many cavities stand side by side at least; fewer are a row, unless every label is a header word.
FEWEST = 3
#: Share of the cells beside the word for cavity that must look like cavities.
LIKE_CAVITIES = 0.8
#: A border stands off from a cell by this much, points.
TOUCH = 1.0
#: Rows are set in one size, within this share of it; a heading is larger.
ALIKE = 0.15
#: At most so many lines make one such table, at least two.
MOST_ROWS = 12


def stands_on_its_side(bands: Sequence[Band]) -> bool:
    """True when the first column names what each row holds, and one row holds cavities."""
    return bool(_groups(bands))


def _groups(bands: Sequence[Band]) -> list[list[Band]]:
    """Part bands where the first label comes again: blocks of one table under one another; [] if upright."""
    rows = [b for b in bands if b.cells and b.cells[0].text]
    if not len(rows) >= 2:
        return []
    starts = [n for n, b in enumerate(rows) if b.cells[0].text == rows[0].cells[0].text]
    groups = [rows[a:b] for a, b in zip(starts, [*starts[1:], len(rows)], strict=True)]
    labels = [b.cells[0].text for b in groups[0]]
    if len(set(labels)) < len(labels):
        return []  # other lines with labels stand over the blocks
    alike = all(labels == [b.cells[0].text for b in g] and _runs_on(g) for g in groups[1:])
    return groups if _on_its_side(groups[0]) and alike else []


def _runs_on(rows: Sequence[Band]) -> bool:
    """True when a further block has cavities where the first has them; its last one may hold but one."""
    at = next((n for n, b in enumerate(rows) if _may_head_cavities(b.cells[0].text)), 0)
    texts = [c.text for c in rows[at].cells[1:] if c.text]
    return bool(texts) and all(CAVITY_LIKE.fullmatch(t) for t in texts)


def _on_its_side(rows: Sequence[Band]) -> bool:
    names = [b.cells[0].text for b in rows]
    if not 2 <= len(rows) <= MOST_ROWS:
        return False
    sure = len(rows) > 2 and all(best_role(n)[1] >= KNOWN for n in names)
    fewest = FEWEST - 1 if sure else FEWEST
    cavities = [b for b in rows if _holds_cavities(b, fewest) and _may_head_cavities(b.cells[0].text)]
    others = [n for b, n in zip(rows, names, strict=True) if b not in cavities[:1]]
    known = [n for n in others if best_role(n)[1] >= KNOWN and best_role(n)[0] in CORE_ROLES]
    return bool(cavities) and len(known) >= KNOWN_SHARE * len(others)


def _may_head_cavities(text: str) -> bool:
    """A word for cavity, or one that says nothing else (`No.`)."""
    role, score = best_role(text)
    return role in ("cavity", "") or score < KNOWN


def _holds_cavities(band: Band, fewest: int) -> bool:
    texts = [c.text for c in band.cells[1:] if c.text]
    like = [t for t in texts if CAVITY_LIKE.fullmatch(t)]
    return len(texts) >= fewest and len(like) >= LIKE_CAVITIES * len(texts) and len(set(like)) == len(like)


def turn_over(
    bands: Sequence[Band], edges: Sequence[float]
) -> tuple[tuple[str, ...], list[Band], tuple[float, ...]]:
    """Return header, bands and borders of a table set upright: each former column is a band."""
    groups = _groups(bands)
    labels = [b.cells[0].text for b in groups[0]]
    out = []
    for rows in groups:
        top, bottom = rows[0].box.top, rows[-1].box.bottom
        by_label = {b.cells[0].text: b for b in rows}
        for j in range(1, len(edges) - 1):
            cells = tuple(_upright(by_label[name].cells[j]) for name in labels if name in by_label)
            if len(cells) == len(labels) and any(c.text for c in cells):
                box = Box(x0=edges[j], top=top, x1=edges[j + 1], bottom=bottom)
                out.append(Band(cells=cells, box=box, ruled=True))
    borders = (*[b.box.top for b in groups[0]], groups[0][-1].box.bottom)
    return tuple(labels), out, borders


def _upright(cell: Cell) -> Cell:
    return Cell(text=cell.text, box=cell.box, words=cell.words, lines=cell.lines, cut=cell.cut)


def side_segments(line: Line) -> list[Segment]:
    """Return the label and the cavities of a line such as `Pin 1 2 3 4`, as segments; [] for another line."""
    if sum(bool(CAVITY_LIKE.fullmatch(w.text)) for w in line.words) < FEWEST:
        return []
    for size in range(1, min(4, len(line.words))):
        label, rest = line.words[:size], line.words[size:]
        text = " ".join(w.text for w in label)
        named = best_role(text.rstrip(":"))[0] == "cavity" and best_role(text.rstrip(":"))[1] >= KNOWN
        if not named and not numbers_rows(text.rstrip(":")):
            continue
        if len(rest) >= FEWEST and all(CAVITY_LIKE.fullmatch(w.text) for w in rest):
            first = Segment(text=text, x0=label[0].box.x0, x1=label[-1].box.x1)
            return [first, *(Segment(text=w.text, x0=w.box.x0, x1=w.box.x1) for w in rest)]
    return []


def lines_on_their_side(lines: Sequence[Line], at: int) -> list[Line]:
    """Return the lines around a line of cavities that begin with header words: the rows of one table."""
    out = [lines[at]]
    for step in (-1, 1):
        n = at + step
        while 0 <= n < len(lines) and len(out) < MOST_ROWS and _labelled(lines[n], lines[n - step]):
            out.append(lines[n])
            n += step
    return sorted(out, key=lambda line: line.box.top)


def _labelled(line: Line, neighbour: Line) -> bool:
    near = abs(line.box.top - neighbour.box.top) < 3.0 * max(line.size, neighbour.size)
    near = near and abs(line.size - neighbour.size) < ALIKE * neighbour.size
    label = " ".join(w.text for w in line_to_chunks(line)[0]).rstrip(":")
    longer = any(
        best_role(" ".join(w.text for w in line.words[:n]).rstrip(":"))[1] >= KNOWN
        for n in range(1, min(4, len(line.words)) + 1)
    )
    return near and (longer or numbers_rows(line.words[0].text) or best_role(label)[1] >= KNOWN)


def side_edges(segments: Sequence[Segment], lines: Sequence[Line]) -> list[float]:
    """Return borders between the cavities of the line that holds them, where they cut the fewest words."""
    ways = [
        [(s.x0 + s.x1) / 2 for s in segments[1:]],
        [s.x0 + (segments[2].x0 - segments[1].x0) / 2 - TOUCH for s in segments[1:]],
        [s.x1 - (segments[2].x1 - segments[1].x1) / 2 + TOUCH for s in segments[1:]],
    ]
    middles = min(ways, key=lambda m: _words_cut(m, lines))  # cells are centred, or flush left or right
    inner = [(a + b) / 2 for a, b in pairwise(middles)]
    first = middles[0] - (middles[1] - middles[0]) / 2
    label = max(
        [w.box.x1 for line in lines for w in line.words if (w.box.x0 + w.box.x1) / 2 < first],
        default=segments[0].x1,
    )
    left = min(line.box.x0 for line in lines) - 1.0
    right = max(line.box.x1 for line in lines) + 1.0
    return [
        left,
        max(min(first, segments[1].x0 - 0.5), min(label + 0.5, segments[1].x0 - 0.5)),
        *inner,
        right,
    ]


def side_bands(rows: Sequence[Line], segments: Sequence[Segment]) -> tuple[list[Band], list[float]]:
    """Return the bands and borders of lines that may be a table on its side; nothing for less than two."""
    if len(rows) < 2:
        return [], []
    edges = side_edges(segments, rows)
    cells = [tuple(line_to_cells(x.words, edges, x.box.top, x.box.bottom)) for x in rows]
    return [Band(cells=c, box=x.box) for c, x in zip(cells, rows, strict=True)], edges


def _words_cut(middles: Sequence[float], lines: Sequence[Line]) -> int:
    """Count the words over a border midway between two cells, and the blanks of one cell that it parts."""
    borders = [(a + b) / 2 for a, b in pairwise(middles)]
    chunks = [box_of(chunk) for line in lines for chunk in line_to_chunks(line)[1:]]
    return sum(c.x0 + TOUCH < x < c.x1 - TOUCH for x in borders for c in chunks)
