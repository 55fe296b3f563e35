"""The headers among the lines of a page: where one begins, and what makes a line one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from xref.colors.recognise import color_likeness
from xref.tables.headerline import Segment, grow_header, is_header_line, line_to_segments
from xref.tables.lines import Line, line_to_chunks
from xref.tables.vocabulary import heads_cavities, numbers_rows

#: So many rows under `No.` count on from 1; this share of the texts beside them look this much like colours.
FEWEST_ROWS = 2
COLOR = 0.6
COLORS = 0.8


def find_headers(lines: Sequence[Line]) -> list[tuple[int, int, list[Segment]]]:
    """Return (first line, end, segments) of every header among the lines of a page."""
    found: list[tuple[int, int, list[Segment]]] = []
    for at, line in enumerate(lines):
        if found and at < found[-1][1]:
            continue
        segments = line_to_segments(line)
        if found and _within_column(line, found[-1][2]):
            continue
        if is_header_line(segments) or _over_cavities(segments, lines[at + 1 : at + 9]):
            found.append(grow_header(lines, at))
    return found


def _within_column(line: Line, header: Sequence[Segment]) -> bool:
    """True for words with ordinary blanks that stand in one column of the header above: a cell's text."""
    if len(line.words) < 2 or len(line_to_chunks(line)) > 1:
        return False
    return any(a.x0 - 2 <= line.box.x0 and line.box.x1 < b.x0 for a, b in pairwise(header))


def _over_cavities(segments: Sequence[Segment], following: Sequence[Line]) -> bool:
    """True when a word for cavity stands over a run of cavities, whatever the other headers say.

    A word that only says `No.` does so where another header stands over colours.
    """
    if len(segments) < 2:
        return False
    for seg in segments:
        under = _under(seg, following)
        if heads_cavities(seg.text, under):
            return True
        if numbers_rows(seg.text) and under[:FEWEST_ROWS] == [str(n + 1) for n in range(FEWEST_ROWS)]:
            others = [_under(s, following) for s in segments if s is not seg]
            if any(len(texts) >= FEWEST_ROWS and _are_colors(texts) for texts in others):
                return True
    return False


def _under(seg: Segment, following: Sequence[Line]) -> list[str]:
    """Return the words under a header as long as each line has one there."""
    reach = seg.x1 - seg.x0
    low, high = seg.x0 - 0.3 * reach, seg.x1 + 0.3 * reach
    under: list[str] = []
    for n, line in enumerate(following):
        words = [w for w in line.words if low <= (w.box.x0 + w.box.x1) / 2 <= high]
        if n == 0 and not words:
            continue  # the second line of other headers
        if len(words) != 1:
            break
        under.append(words[0].text)
    return under


def _are_colors(texts: Sequence[str]) -> bool:
    return sum(color_likeness(t) >= COLOR for t in texts) >= COLORS * len(texts)
