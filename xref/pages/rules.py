"""Paths in, rules and fills out: lines, thin boxes, outlines, dashes and dots joined, doubles merged."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from xref.pages.content import Fill, Rule
from xref.pages.marks import Drawing, Path
from xref.records import Box

#: A box thinner than this is a line, in points.
THIN = 2.0
#: A thicker bar is a line too if it is no thicker than this and at least `BAR` times as long.
THICK_BAR = 4.0
BAR = 20.0
#: A line may lean this much over its whole length and still be straight, in points.
LEAN = 1.0
#: Lines side by side, closer than this, are one (double rules, borders of neighbouring cells).
DOUBLE = 2.5
#: Lines end to end with a gap up to this are one (borders of neighbouring cells leave out the corner).
CORNER_GAP = 1.5
#: Longest piece of a dashed line, and the widest gap between its pieces, in points.
DASH = 14.0
DASH_GAP = 6.0
#: A dashed or dotted line has at least this many pieces.
LEAST_DASHES = 4
#: Shorter lines are ticks, serifs of drawn letters or arrow heads, in points.
SHORTEST = 3.0
#: From this brightness on a fill is paper.
PAPER = 0.985
#: A filled shape is a rectangle with round corners if its straight sides reach this share of its box.
ROUNDED = 0.5


class _Piece(NamedTuple):
    """A stretch from `start` to `end` at `place` on the other axis."""

    place: float
    start: float
    end: float

    @property
    def length(self) -> float:
        return self.end - self.start


def drawing_rules(drawing: Drawing) -> tuple[Rule, ...]:
    """Return the straight lines of a drawing, horizontal ones first, each from top left."""
    flat: list[_Piece] = []
    steep: list[_Piece] = []
    # Neighbouring cells draw the border between them twice.
    for x0, top, x1, bottom in dict.fromkeys(_straight_lines(drawing)):
        # A dot may belong to a row or to a column of dots: both are tried, short leftovers fall away.
        dot = max(x1 - x0, bottom - top) < THIN
        if dot or x1 - x0 >= bottom - top:
            flat.append(_Piece((top + bottom) / 2, x0, x1))
        if dot or bottom - top > x1 - x0:
            steep.append(_Piece((x0 + x1) / 2, top, bottom))
    rows = [Rule(x0=p.start, top=p.place, x1=p.end, bottom=p.place) for p in _merged(flat)]
    columns = [Rule(x0=p.place, top=p.start, x1=p.place, bottom=p.end) for p in _merged(steep)]
    rows.sort(key=lambda r: (r.top, r.x0))
    columns.sort(key=lambda r: (r.x0, r.top))
    return tuple(rows + columns)


def drawing_fills(drawing: Drawing) -> tuple[Fill, ...]:
    """Return the filled areas that are neither lines nor paper-white, in drawing order, cut to the page."""
    fills = []
    for path in drawing.paths:
        if not path.fill or min(path.fill_color) >= PAPER or _is_line(path) or not _is_area(path):
            continue
        box = Box(
            x0=max(path.x0, 0.0),
            top=max(path.top, 0.0),
            x1=min(path.x1, drawing.width),
            bottom=min(path.bottom, drawing.height),
        )
        if box.width > 0 and box.height > 0:
            fills.append(Fill(box=box, color=path.fill_color))
    return tuple(fills)


def _is_line(path: Path) -> bool:
    """True for a path as thin as a line."""
    thin, long = sorted((path.x1 - path.x0, path.bottom - path.top))
    return thin < THIN or (path.fill and not path.stroke and thin <= THICK_BAR and long >= BAR * thin)


def _is_area(path: Path) -> bool:
    """True for a rectangle, also one with round corners; letters drawn as outlines are none."""
    if path.box:
        return True
    width, height = path.x1 - path.x0, path.bottom - path.top
    across = down = 0.0
    for run in path.runs:
        for (ax, ay), (bx, by) in pairwise(run):
            if abs(ay - by) <= LEAN and min(abs(ay - path.top), abs(ay - path.bottom)) <= LEAN:
                across += abs(ax - bx)
            elif abs(ax - bx) <= LEAN and min(abs(ax - path.x0), abs(ax - path.x1)) <= LEAN:
                down += abs(ay - by)
    return across >= 2 * ROUNDED * width and down >= 2 * ROUNDED * height


def _straight_lines(drawing: Drawing) -> Iterator[tuple[float, float, float, float]]:
    """Yield x0, top, x1, bottom of every straight horizontal or vertical stretch, cut to the page."""
    for path in drawing.paths:
        for x0, top, x1, bottom in _lines_of(path):
            left, right = max(x0, 0.0), min(x1, drawing.width)
            head, foot = max(top, 0.0), min(bottom, drawing.height)
            if left <= right and head <= foot:
                yield left, head, right, foot


def _lines_of(path: Path) -> Iterable[tuple[float, float, float, float]]:
    if _is_line(path):
        return _middle_line(path)
    if not path.stroke:
        return ()
    found = []
    for run in path.runs:
        for (ax, ay), (bx, by) in pairwise(run):
            if ax == bx and ay == by:
                continue  # a box closed twice
            if abs(ax - bx) <= LEAN or abs(ay - by) <= LEAN:
                found.append((min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)))
    return found


def _middle_line(path: Path) -> Iterable[tuple[float, float, float, float]]:
    """Return the line that a thin path draws; nothing if it is a slanted or bent hairline."""
    width, height = path.x1 - path.x0, path.bottom - path.top
    if max(width, height) < THIN:
        return ((path.x0, path.top, path.x1, path.bottom),)
    if width >= height:
        middle = (path.top + path.bottom) / 2
        return ((path.x0, middle, path.x1, middle),)
    middle = (path.x0 + path.x1) / 2
    return ((middle, path.top, middle, path.bottom),)


def _merged(pieces: list[_Piece]) -> list[_Piece]:
    """Join pieces end to end and side by side, dashes to lines; drop what stays too short."""
    whole = _joined([p for p in pieces if p.length > DASH], CORNER_GAP)
    dashes = _dashed_lines([p for p in pieces if p.length <= DASH])
    return [p for p in _joined(whole + dashes, CORNER_GAP) if p.length >= SHORTEST]


def _joined(pieces: list[_Piece], gap: float) -> list[_Piece]:
    """Join pieces whose places differ by up to `DOUBLE` and whose stretches meet within `gap`."""
    result: list[_Piece] = []
    for band in _bands(pieces):
        open_runs: list[list[_Piece]] = []
        for piece in sorted(band, key=lambda p: (p.start, p.place)):
            for run in open_runs[: -OPEN_RUNS - 1 : -1]:
                near = abs(piece.place - run[0].place) <= DOUBLE
                if near and piece.start <= max(q.end for q in run[-RUN_TAIL:]) + gap:
                    run.append(piece)
                    break
            else:
                open_runs.append([piece])
        result.extend(_one_piece(run) for run in open_runs)
    return result


#: How many unfinished lines of a band, and how many last pieces of each, are looked at.
OPEN_RUNS = 8
RUN_TAIL = 8


def _one_piece(run: list[_Piece]) -> _Piece:
    total = sum(p.length for p in run)
    weights = [p.length if total else 1.0 for p in run]
    place = sum(p.place * w for p, w in zip(run, weights, strict=True)) / sum(weights)
    return _Piece(place, min(p.start for p in run), max(p.end for p in run))


def _bands(pieces: list[_Piece], width: float = DOUBLE) -> Iterator[list[_Piece]]:
    """Group pieces whose neighbouring places differ by at most `width`."""
    band: list[_Piece] = []
    for piece in sorted(pieces, key=lambda p: p.place):
        if band and piece.place - band[-1].place > width:
            yield band
            band = []
        band.append(piece)
    if band:
        yield band


def _dashed_lines(pieces: list[_Piece]) -> list[_Piece]:
    """Join short pieces in a row to lines; a few short pieces by themselves stay what they are."""
    lines: list[_Piece] = []
    for band in _bands(pieces, width=DOT_PLAY):
        run: list[_Piece] = []
        reach = 0.0
        for piece in sorted(band, key=lambda p: p.start):
            if run and piece.start - reach > _dash_gap(run[-1]):
                lines.extend(_finished(run))
                run = []
            reach = max(reach, piece.end) if run else piece.end
            run.append(piece)
        lines.extend(_finished(run))
    return lines


#: Dots and dashes of one line differ in place by at most this, in points.
DOT_PLAY = 0.6


def _dash_gap(piece: _Piece) -> float:
    """Return the widest gap after a dash: dots stand about as far apart as dashes are long."""
    return min(DASH_GAP, max(CORNER_GAP * 2, 2 * piece.length))


def _finished(run: list[_Piece]) -> list[_Piece]:
    if len(run) >= LEAST_DASHES:
        return [_one_piece(run)]
    return _joined(run, CORNER_GAP)
