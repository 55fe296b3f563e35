"""Lines that run on as a table without a header: rows told by their cavities and the rivers between."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from xref.pages.content import PageContent
from xref.tables.aligned import Block, crosses, starts_row
from xref.tables.linebands import lines_to_bands
from xref.tables.lines import Line, box_of, line_to_chunks
from xref.tables.rivers import lines_to_rivers, rivers_to_edges
from xref.tables.ruled import has_unknown_header
from xref.tables.signs import without_signs
from xref.tables.vocabulary import CAVITY_LIKE

#: In so many lines narrow rivers are no accident.
FEWEST_NARROW = 4
#: One word of so many letters in this share of the rows is part of sentences that begin alike.
LETTERS = 4
SAME_WORD = 0.6


def _without_single(lines: Sequence[Line]) -> list[Line]:
    """Drop lines of one chunk at both ends: headings and captions, not rows."""
    out = list(lines)
    while out and len(line_to_chunks(out[0])) < 2 and not _row_like(out[0], lines):
        out.pop(0)
    while out and len(line_to_chunks(out[-1])) < 2 and not _row_like(out[-1], lines):
        out.pop()
    return out


def _row_like(line: Line, lines: Sequence[Line]) -> bool:
    """True for a line of short words that begins with a cavity, under or over those of the other lines."""
    first = line.words[0]
    beside = [x.words[0] for x in lines if x is not line and abs(x.box.x0 - line.box.x0) < 2 * line.size]
    return (
        len(line.words) > 2
        and bool(CAVITY_LIKE.fullmatch(first.text))
        and len(beside) >= 2
        and all(CAVITY_LIKE.fullmatch(w.text) for w in beside)
    )


def _rows_at_end(lines: Sequence[Line], edges: Sequence[float]) -> list[Line]:
    """Take lines from the table's end outward while they are rows, though only blanks part their words."""
    out: list[Line] = []
    for line in lines:
        if len(line.words) < 2 or not starts_row(line, edges):
            break
        out.append(line)
    return out


def blocks_without_header(lines: Sequence[Line], page: PageContent) -> Iterator[Block]:
    """Read lines that run on as a table without header, in each way that makes sense, the likeliest first."""
    lines = without_signs(lines)
    inner = _without_single(lines)
    if len(inner) < 2:
        return
    wide = lines_to_rivers(inner)
    ways = [wide, lines_to_rivers(inner, evidence=0.0)] if len(inner) >= FEWEST_NARROW else [wide]
    for rivers in ways[: 1 + (len(ways[-1]) > len(wide))]:
        edges = rivers_to_edges(rivers, inner)
        block = _block(lines, inner, edges, page) if len(edges) >= 3 else None
        if block is not None and (rivers is wide or not _running_text(block)):
            yield block


def _running_text(block: Block) -> bool:
    """True when a column holds one and the same word: white runs through sentences that begin alike."""
    for j in range(len(block.edges) - 1):
        texts = [b.cells[j].text for b in block.bands if b.cells[j].text]
        word, count = Counter(texts).most_common(1)[0] if texts else ("", 0)
        if count >= SAME_WORD * len(block.bands) and sum(c.isalpha() for c in word) >= LETTERS:
            return True
    return False


def _block(
    lines: Sequence[Line], inner: Sequence[Line], edges: Sequence[float], page: PageContent
) -> Block | None:
    at = lines.index(inner[0])
    before = _rows_at_end(lines[:at][::-1], edges)[::-1]
    after = _rows_at_end(lines[at + len(inner) :], edges)
    rows = [
        *before,
        *(line for line in inner if not crosses(line, edges) or starts_row(line, edges)),
        *after,
    ]
    if len(rows) < 2:
        return None
    bands = lines_to_bands(rows, edges, page, [0])
    blank = header = ("",) * (len(edges) - 1)
    if has_unknown_header(bands):
        header = tuple(c.text for c in bands[0].cells)
    box = box_of([w for line in rows for w in line.words])
    return Block(
        edges=tuple(edges),
        header=header,
        groups=blank,
        bands=tuple(bands[header != blank :]),
        used=tuple(rows),
        box=box,
    )
