"""Tables without rules: a header line and the lines under it to bands of cells."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from statistics import median

from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.headerline import (
    Segment,
    header_over_columns,
    header_spans,
    segment_variants,
    segments_to_columns,
)
from xref.tables.linebands import lines_to_bands
from xref.tables.lines import Line, box_of, is_sign, is_wide_script, line_to_chunks
from xref.tables.margin import without_margin
from xref.tables.rivers import lines_to_rivers, rivers_to_edges
from xref.tables.seams import drawn_edges, edges_of_sparse, header_seams, split_shares
from xref.tables.signs import without_signs
from xref.tables.table import Band
from xref.tables.vocabulary import best_role

#: A gap between lines this many times the usual pitch ends a table.
GAP_ENDS = 2.6
#: The first row may stand this many font sizes under the header.
FIRST_GAP = 3.2
#: Lines at one pitch (within this), so many of them, break off where the next stands this much further.
EVEN = 1.12
EVEN_LINES = 3
BREAK = 1.3
#: A line this much larger than the body is a heading, not a row.
LARGER = 1.18
#: A column to the right of the last header that stands off by this many font sizes is other text.
STANDS_OFF = 4.0
#: A cavity stands off from the next word by this many font sizes; a blank is a third of one.
ALONE = 0.55
#: What a cavity looks like, loosely: it anchors a row.
CAVITY = re.compile(
    r"(?:[A-Z]{0,3}[-.]?\d{1,3}[A-Za-z]?|[A-Z]|\d{1,2}[/-]\d{1,2})(?:\)|[(\[][^\W\d_/-]{1,5}(?:[/-][^\W\d_]{1,5})?[)\]])?",
    re.IGNORECASE,
)
#: A connector's name somewhere in a line: capitals and figures.
NAME = re.compile(r"(?<!\w)[A-Z]{1,4}[ ._-]?\d{1,4}(?!\w)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A table as found in lines: borders, header texts, bands, the lines it used, titles inside it."""

    edges: tuple[float, ...]
    header: tuple[str, ...]
    groups: tuple[str, ...]
    bands: tuple[Band, ...]
    used: tuple[Line, ...]
    box: Box
    title: Line | None = None  #: a sub-heading line that begins this block under the same header
    lost: tuple[str, ...] = ()  #: header texts that found no column
    split: tuple[float, ...] = ()  #: for each inner border, share of lines where only a blank is parted


def header_to_readings(
    lines: Sequence[Line],
    span: tuple[int, int],
    stop: int,
    segments: Sequence[Segment],
    page: PageContent,
) -> Iterator[list[Block]]:
    """Cut the lines under a header, up to line `stop`, in each way that makes sense, the likeliest first.

    Each reading holds one block for each connector title in the lines.
    """
    seen: set[tuple[object, ...]] = set()
    for first, end, grown in header_spans(lines, span, stop, segments):
        whole = without_signs(_body(lines[end:stop], lines[end - 1]))
        ways = product(_ends(whole), segment_variants(lines[first:end], grown)) if whole else ()
        for under, parted in ways:
            body, variant = without_margin(under, parted)
            for own, edges, texts, groups in _cuts(body, variant, lines[first:end], page):
                key = (first, end, len(body), tuple(round(e / 2) for e in edges), tuple(texts))
                if len(edges) < 3 or key in seen:
                    continue
                seen.add(key)
                lost = () if any(groups) else _lost(variant, texts)
                names = (tuple(texts), tuple(groups) or ("",) * len(texts))
                reach = max(s.x1 for s in variant) + 1.0
                blocks = _at_titles_blocks(own, edges, names, lost, lines[first:end], reach, page)
                if blocks:
                    yield blocks


Cut = tuple[list[Line], list[float], list[str], list[str]]
"""Lines of a body, column borders, header texts, and texts over several columns."""


def _cuts(
    body: Sequence[Line], segments: Sequence[Segment], header: Sequence[Line], page: PageContent
) -> Iterator[Cut]:
    """Yield each way to cut a body into columns, the likeliest first."""
    left, right = min(s.x0 for s in segments), max(s.x1 for s in segments)
    rows = [line for line in body if not _over_segments(line, segments)] or list(body)
    edges = rivers_to_edges(lines_to_rivers(rows), rows)
    yield _named(body, edges_of_sparse(edges, body, segments), segments, merge=True)
    drawn = drawn_edges(page, rows, segments)
    if drawn:
        yield _named(body, drawn, segments, merge=False)
    own, _ = _without_other_text(body, edges, left, right)
    if own:
        kept = [line for line in own if not _over_segments(line, segments)] or own
        yield own, header_seams(segments, kept), [s.text for s in segments], []
    narrow = rivers_to_edges(lines_to_rivers(rows, evidence=0.0), rows)
    if len(narrow) <= len(segments) + 3:
        yield _named(body, narrow, segments, merge=True)
    if len(header) > 1:
        own, kept_edges = _without_other_text(body, edges, left, right)
        if len(kept_edges) > 2 and own:
            yield own, kept_edges, *header_over_columns(header, kept_edges)


def _named(body: Sequence[Line], edges: Sequence[float], segments: Sequence[Segment], *, merge: bool) -> Cut:
    """Give borders their header texts, without the text that stands beside the table."""
    left, right = min(s.x0 for s in segments), max(s.x1 for s in segments)
    own, edges = _without_other_text(body, edges, left, right)
    if len(edges) < 3 or not own:
        return [], [], [], []
    texts = segments_to_columns(segments, _spans(own, edges))
    if merge:
        edges, texts = _merge_unnamed(edges, texts)
    return own, [min(edges[0], left - 1.0), *edges[1:]], list(texts), []


def _lost(segments: Sequence[Segment], texts: Sequence[str]) -> tuple[str, ...]:
    """Return the header texts that no column took."""
    left = list(texts)
    lost = []
    for seg in segments:
        if seg.text in left:
            left.remove(seg.text)
        else:
            lost.append(seg.text)
    return tuple(lost)


def _at_titles_blocks(
    body: Sequence[Line],
    edges: Sequence[float],
    names: tuple[tuple[str, ...], tuple[str, ...]],
    lost: tuple[str, ...],
    header: Sequence[Line],
    reach: float,
    page: PageContent,
) -> list[Block]:
    blocks = []
    texts, groups = names
    for title, part in _at_titles(body, edges):
        bands = lines_to_bands(part, edges, page, _anchors(texts))
        if not bands:
            continue
        over = header if title is None else ()
        split = split_shares(part, edges)
        named = [w for line in over for w in line.words if w.box.x1 >= edges[0] and w.box.x0 <= reach]
        box = box_of([*named, *(w for line in part for w in line.words)])
        blocks.append(
            Block(
                edges=tuple(edges),
                header=texts,
                groups=groups,
                bands=tuple(bands),
                used=(*part, *((title,) if title else ())),
                box=replace(box, x0=min(box.x0, edges[0])),
                title=title,
                lost=lost,
                split=split,
            )
        )
    return blocks


def _anchors(texts: Sequence[str]) -> list[int]:
    return [j for j, t in enumerate(texts) if best_role(t)[0] == "cavity"] or [0]


def _body(lines: Sequence[Line], header: Line) -> list[Line]:
    """Take lines while they run on: no wide gap, no larger type."""
    out: list[Line] = []
    previous = header
    pitches: list[float] = []
    for line in lines:
        pitch = line.box.top - previous.box.top
        usual = median(pitches) if len(pitches) >= 2 else None
        first = not out and line.box.top - header.box.bottom <= FIRST_GAP * line.size
        limit = GAP_ENDS * max(usual, 1.4 * line.size) if usual else (FIRST_GAP + 1.2) * line.size
        if pitch > limit and not first:
            break
        if out and line.size > LARGER * median(b.size for b in out):
            break
        if out and pitch > 1.0:
            pitches.append(pitch)
        out.append(line)
        previous = line
    return out


def _ends(body: Sequence[Line]) -> list[list[Line]]:
    """Return a body whole, and up to where the even pitch of its lines breaks: other text may follow.

    What begins like a row after the break is looked for in the whole first.
    """
    pitches = [b.box.top - a.box.top for a, b in pairwise(body)]
    for n, pitch in enumerate(pitches):
        before = pitches[:n]
        if len(before) < EVEN_LINES or pitch < BREAK * median(before):
            continue
        if max(before) > EVEN * median(before):
            break
        short, word = list(body[: n + 1]), body[n + 1].words[0]
        return [list(body), short] if CAVITY.fullmatch(word.text) else [short, list(body)]
    return [list(body)]


def _spans(body: Sequence[Line], edges: Sequence[float]) -> list[tuple[float, float]]:
    """Return how far each column's words reach (narrowest sense: middles inside)."""
    spans = []
    for left, right in pairwise(edges):
        xs = [w.box for line in body for w in line.words if left <= (w.box.x0 + w.box.x1) / 2 < right]
        spans.append((min(b.x0 for b in xs), max(b.x1 for b in xs)) if xs else (left, right))
    return spans


def _without_other_text(
    body: Sequence[Line], edges: Sequence[float], header_left: float, header_right: float
) -> tuple[list[Line], list[float]]:
    """Drop text that stands beside the table: columns far right or left of all header words."""
    size = median(line.size for line in body)
    spans = _spans(body, edges)
    keep = list(range(len(spans)))
    while len(keep) > 2 and spans[keep[-1]][0] > header_right:
        if spans[keep[-1]][0] - max(header_right, spans[keep[-2]][1]) < STANDS_OFF * size:
            break
        keep.pop()
    while len(keep) > 2 and spans[keep[0]][1] < header_left:
        if min(header_left, spans[keep[1]][0]) - spans[keep[0]][1] < STANDS_OFF * size:
            break
        keep.pop(0)
    if len(keep) == len(spans):
        return list(body), list(edges)
    left, right = edges[keep[0]], edges[keep[-1] + 1]
    out = []
    for line in body:
        words = tuple(w for w in line.words if left <= (w.box.x0 + w.box.x1) / 2 <= right)
        if words:
            out.append(Line(words=words, box=box_of(words), size=line.size))
    return out, [edges[j] for j in keep] + [right]


def _merge_unnamed(edges: Sequence[float], header: Sequence[str]) -> tuple[list[float], list[str]]:
    """Join a column without header to the one on its left: a river inside its texts (`BU  YE`) by chance.

    Kept apart it would be lost without a word; joined, a text that does not fit raises a doubt.
    """
    out_edges, texts = [edges[0]], [header[0]]
    for j in range(1, len(header)):
        if not header[j] and texts[-1]:
            continue
        out_edges.append(edges[j])
        texts.append(header[j])
    return [*out_edges, edges[-1]], texts


def _over_segments(line: Line, segments: Sequence[Segment]) -> bool:
    """True for running text: one chunk under two header segments or more, so no row of this table."""
    if len(line_to_chunks(line)) > 1 or (len(line.words) < 2 and not is_wide_script(line.text)):
        return False
    return sum(s.x1 > line.box.x0 and s.x0 < line.box.x1 - 2 for s in segments) >= 2


def crosses(line: Line, edges: Sequence[float]) -> bool:
    """True when the line runs over column borders as running text does."""
    for chunk in line_to_chunks(line):
        box = box_of(chunk)
        crossed = [e for e in edges[1:-1] if box.x0 + 2 < e < box.x1 - 2]
        if len(crossed) >= 2 or (crossed and len(line_to_chunks(line)) == 1):
            return True
    return False


def _at_titles(body: Sequence[Line], edges: Sequence[float]) -> list[tuple[Line | None, list[Line]]]:
    """Cut a body at lines that run across it: a title of the next connector, or the end of the table."""
    parts: list[tuple[Line | None, list[Line]]] = [(None, [])]
    named = _names_in_column(body, edges)
    for i, line in enumerate(body):
        following = body[i + 1 : i + 3]
        if i in named:
            parts.append((line, []))
            continue
        if not crosses(line, edges) or starts_row(line, edges):
            parts[-1][1].append(line)
            continue
        if len(line.words) > 12 or not following or all(crosses(f, edges) for f in following):
            break
        parts.append((line, []))
    return [(title, part) for title, part in parts if part]


def _names_in_column(body: Sequence[Line], edges: Sequence[float]) -> list[int]:
    """Return the lines that hold a name by itself, in one column, over a row with the first cavity again.

    Where there are any, such a line over the very first row is one too.
    """
    rows = [line for line in body if starts_row(line, edges)]
    found = [
        n
        for n, (line, below) in enumerate(pairwise(body))
        if NAME.search(line.text)
        and line not in rows
        and line.box.x0 >= edges[1] - 2
        and len(line_to_chunks(line)) <= 2
        and below in rows
        and below.words[0].text == rows[0].words[0].text
    ]
    return found if any(n > 0 for n in found) else []


def starts_row(line: Line, edges: Sequence[float]) -> bool:
    """A row whose text runs over a border is still a row: a cavity stands alone in the first column."""
    word = line.words[0]
    gap = line.words[1].box.x0 - word.box.x1 if len(line.words) > 1 else ALONE * word.size
    close = len(line.words) > 1 and line.words[1].box.x0 >= edges[1] - 2 and not is_sign(line.words[1].text)
    return (
        (gap >= ALONE * word.size or close)
        and word.box.x1 <= edges[1] + 2
        and bool(CAVITY.fullmatch(word.text))
    )
