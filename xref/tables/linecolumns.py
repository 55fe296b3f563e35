"""Lines of a page set in columns -> the lines of each column: tables beside each other at other heights.

Two tables whose rows stand at the same heights are told apart by their headers. Where a page is set in
columns, their rows have nothing to do with each other, and a line across the page holds pieces of both.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from xref.data.words import fold
from xref.tables.captioned import ALIGNED, each_with_caption, side_of
from xref.tables.headerline import KNOWN, Segment, is_header_line, line_to_segments
from xref.tables.lines import Line, box_of, line_to_chunks
from xref.tables.repeated import counterparts
from xref.tables.vocabulary import best_role, only_header_words

#: Headers beside each other stand at other heights when they are this many of their font sizes apart.
APART = 0.5
#: The white between two columns is as wide as so many font sizes at least.
GUTTER = 0.6
#: A column's texts begin at most so many points left of its header (a header may be centred).
PLAY = 2.0
#: Lines of one header stand no further apart than so many font sizes, among so many lines.
NEAR = 1.35
NEAR_LINES = 3
#: A page is parted so many times at most: three columns, a table across the page under them.
DEEPEST = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Header:
    x0: float
    x1: float
    top: float
    size: float
    segments: tuple[Segment, ...] = ()

    def again_at(self) -> float:
        """Return where the same header begins again beside itself; 0 where it does not."""
        again = counterparts([s.text for s in self.segments])
        return self.segments[again[0][0]].x0 - PLAY if again else 0.0

    def parted(self, border: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return from where to where the header stands on both sides of a border."""
        left = [s for s in self.segments if s.x0 < border]
        right = [s for s in self.segments if s.x0 >= border]
        return (left[0].x0, left[-1].x1), (right[0].x0, right[-1].x1)

    def spans(self, border: float) -> bool:
        """True for one header on both sides of a border: no column comes again on the other side."""
        left = {fold(s.text) for s in self.segments if s.x0 < border}
        right = {fold(s.text) for s in self.segments if s.x0 >= border}
        return bool(left) and bool(right) and not left & right


def lines_to_columns(lines: Sequence[Line], depth: int = 0) -> list[list[Line]]:
    """Return the lines column by column; all of them as one where nothing shows columns."""
    found = _gutter(lines) if depth < DEEPEST else None
    if found is None:
        return [list(lines)]
    border, low, high = found
    zone = [line for line in lines if low <= line.box.top <= high]
    left = [part for line in zone if (part := side_of(line, border, right=False))]
    right = [part for line in zone if (part := side_of(line, border, right=True))]
    above = [line for line in lines if line.box.top < low]
    below = [line for line in lines if line.box.top > high]
    parts = [part for part in (above, left, right, below) if part]
    return [column for part in parts for column in lines_to_columns(part, depth + 1)]


def _gutter(lines: Sequence[Line]) -> tuple[float, float, float] | None:
    """Return where two columns part, and between which heights; None where no two headers show it."""
    headers = list(_headers(lines))
    captioned = _gutter_of_twins(lines, headers)
    if captioned is not None:
        return captioned
    for right in headers:
        for left in headers:
            size = max(left.size, right.size)
            if left.x1 >= right.x0 or abs(left.top - right.top) < APART * size:
                continue
            border = right.x0 - PLAY
            zone = _zone(lines, border, min(left.top, right.top), max(left.top, right.top))
            if zone is None or any(zone[0] <= h.top <= zone[1] and h.spans(border) for h in headers):
                continue
            if _is_wide(lines, border, zone, size):
                return border, *zone
    return None


def _gutter_of_twins(lines: Sequence[Line], headers: Sequence[_Header]) -> tuple[float, float, float] | None:
    """Return where tables with the same header beside each other part, each of which has its own caption."""
    for header in headers:
        border = _before_captions(lines, header.again_at())
        zone = _zone(lines, border, header.top, header.top) if border else None
        if zone is None:
            continue
        twins = [h for h in headers if zone[0] <= h.top <= zone[1] and 0 <= h.again_at() - border <= ALIGNED]
        whole = [h for n, h in enumerate(twins) if not n or h.top - twins[n - 1].top > NEAR * h.size]
        parts = [h.parted(border) for h in whole]
        inside = [line for line in lines if zone[0] <= line.box.top <= zone[1]]
        if each_with_caption(inside, border, [a for a, _ in parts], [b for _, b in parts]):
            return border, *zone
    return None


def _before_captions(lines: Sequence[Line], border: float) -> float:
    """Return a border moved to the left of texts that begin a little before a header, as captions may."""
    begins = [box_of(chunk).x0 for line in lines for chunk in line_to_chunks(line) if border]
    return min((x - 1.0 for x in begins if border - ALIGNED < x <= border), default=border)


def _headers(lines: Sequence[Line]) -> Iterator[_Header]:
    """Yield the headers among the lines, also those that share their line with a row of another table."""
    for at, line in enumerate(lines):
        segments = line_to_segments(line)
        if len(segments) < 2:
            continue
        run = _header_in(segments)
        if not run:
            continue
        near = [other.box for other in _header_lines_near(lines, at)]
        yield _Header(
            x0=min([run[0].x0, *[box.x0 for box in near]]),
            x1=max([run[-1].x1, *[box.x1 for box in near]]),
            top=line.box.top,
            size=line.size,
            segments=tuple(run),
        )


def _header_in(segments: Sequence[Segment]) -> Sequence[Segment]:
    """Return the part of a line that is a header: all, or what stands before or behind a row's texts."""
    if is_header_line(segments):
        return segments
    for run in (segments[: _run_length(segments)], segments[len(segments) - _run_length(segments[::-1]) :]):
        if 1 < len(run) < len(segments) and is_header_line(run):
            return run
    return ()


def _run_length(segments: Sequence[Segment]) -> int:
    """Return how many known headers stand side by side at the beginning."""
    return next((n for n, s in enumerate(segments) if not _is_known(s)), len(segments))


def _is_known(segment: Segment) -> bool:
    return best_role(segment.text)[1] >= KNOWN


def _header_lines_near(lines: Sequence[Line], at: int) -> list[Line]:
    """Return further lines of the same header: header words only, within a line's height."""
    line = lines[at]
    return [
        other
        for other in lines[max(at - NEAR_LINES, 0) : at + NEAR_LINES + 1]
        if other is not line
        and abs(other.box.top - line.box.top) <= NEAR * line.size
        and only_header_words(other.text)
    ]


def _zone(lines: Sequence[Line], border: float, top: float, bottom: float) -> tuple[float, float] | None:
    """Return between which heights no text crosses the border; None when one does between the headers."""
    crossing = [line.box.top for line in lines if _crosses(line, border)]
    if any(top <= at <= bottom for at in crossing):
        return None
    low = max((at for at in crossing if at < top), default=float("-inf"))
    high = min((at for at in crossing if at > bottom), default=float("inf"))
    inside = [line.box.top for line in lines if low < line.box.top < high]
    return min(inside), max(inside)


def _crosses(line: Line, border: float) -> bool:
    boxes = [box_of(chunk) for chunk in line_to_chunks(line)]
    return any(box.x0 < border < box.x1 for box in boxes)


def _is_wide(lines: Sequence[Line], border: float, zone: tuple[float, float], size: float) -> bool:
    """True when the white left of the border is no chance: as wide as between columns of a page."""
    ends = [w.box.x1 for line in lines if zone[0] <= line.box.top <= zone[1] for w in line.words]
    reach = max((x for x in ends if x <= border), default=float("-inf"))
    return border + PLAY - reach >= GUTTER * size
