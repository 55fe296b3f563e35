"""Headers on a ground of their own: every line on it belongs to the header, however its words are broken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pages.content import PageContent
from xref.records import Box
from xref.tables.headerline import Segment, line_to_segments, merge_segments
from xref.tables.lines import Line, box_of

#: A ground is that of a header of more lines from so many of its line's heights on, and up to so many.
LOWEST = 1.8
HIGHEST = 9.0
#: Grounds of the cells of one row begin and end at the same heights, within this many points.
LEVEL = 1.0

Header = tuple[int, int, list[Segment]]


def headers_on_grounds(headers: Sequence[Header], lines: Sequence[Line], page: PageContent) -> list[Header]:
    """Return the headers, each with all the lines on its ground; further ones found on it are part of it."""
    out: list[Header] = []
    for first, end, segments in headers:
        if out and first < out[-1][1]:
            continue
        ground = _ground(lines[first], page)
        parts = {n: on for n, line in enumerate(lines) if ground and (on := _part_on(line, ground))}
        inside = list(parts)
        whole = inside and inside == list(range(inside[0], inside[-1] + 1))
        beside = any(parts[n] is not lines[n] for n in inside)
        more = len(inside) > end - first or (beside and len(inside) == end - first)
        if not whole or not more or any(map(_is_row, parts.values())):
            out.append((first, end, segments))
            continue
        merged = line_to_segments(parts[inside[0]])
        for n in inside[1:]:
            merged = merge_segments(merged, line_to_segments(parts[n]))
        out.append((inside[0], inside[-1] + 1, merged))
    return out


def _ground(line: Line, page: PageContent) -> Box | None:
    """Return the ground that a line stands on, put together from those of its cells."""
    under = [f.box for f in page.fills if _is_high(f.box, line) and f.box.top <= line.box.top + LEVEL]
    under = [
        b for b in under if b.bottom >= line.box.bottom - LEVEL and b.x0 < line.box.x1 and b.x1 > line.box.x0
    ]
    if not under:
        return None
    lowest = min(under, key=lambda b: b.bottom - b.top)
    ground = lowest
    for box in under:
        if abs(box.top - lowest.top) <= LEVEL and abs(box.bottom - lowest.bottom) <= LEVEL:
            ground = ground.union(box)
    return ground


def _is_high(box: Box, line: Line) -> bool:
    return LOWEST * line.box.height <= box.bottom - box.top <= HIGHEST * line.box.height


def _part_on(line: Line, ground: Box) -> Line | None:
    """Return what of a line stands on the ground: beside it may stand a tab of the page's edge."""
    box = line.box
    if box.top < ground.top - LEVEL or box.bottom > ground.bottom + LEVEL:
        return None
    words = tuple(w for w in line.words if ground.x0 - LEVEL <= w.box.x0 and w.box.x1 <= ground.x1 + LEVEL)
    if len(words) == len(line.words):
        return line
    return replace(line, words=words, box=box_of(words)) if words else None


def _is_row(line: Line) -> bool:
    return line.words[0].text.strip(".").isdigit()
