"""The paths of a page through pdfium, one for each subpath, in the displayed frame."""

from __future__ import annotations

import math
from collections import deque
from ctypes import addressof, c_float, c_int, c_uint
from itertools import repeat

from xref.pages import calls
from xref.pages.leaves import Frame, Leaf, Matrix, matrix_of, times
from xref.pages.marks import CROP_PLAY, Color, Path, Point, is_box

BLACK: Color = (0.0, 0.0, 0.0)


def leaf_paths(leaf: Leaf, frame: Frame) -> list[Path]:
    """Return the painted subpaths of one path object."""
    modes = (c_int * 2)()
    calls.draw_mode(leaf.handle, addressof(modes), addressof(modes) + 4)
    fill, stroke = bool(modes[0]), bool(modes[1])
    if not (fill or stroke):
        return []
    matrix = times(times(matrix_of(leaf.handle), leaf.matrix), frame.matrix)
    color = color_of(leaf.handle) if fill else BLACK
    paths = []
    for points, runs in _subpaths(leaf.handle, matrix):
        xs = [x for x, _ in points]
        ys = [y for _, y in points]
        x0, top, x1, bottom = min(xs), min(ys), max(xs), max(ys)
        if len(points) < 2 or not math.isfinite(x0 + top + x1 + bottom):
            continue
        if x1 < -CROP_PLAY or x0 > frame.width + CROP_PLAY:
            continue
        if bottom < -CROP_PLAY or top > frame.height + CROP_PLAY:
            continue
        kept = tuple(tuple(run) for run in runs if len(run) > 1)
        paths.append(
            Path(
                runs=kept,
                x0=x0,
                top=top,
                x1=x1,
                bottom=bottom,
                box=is_box(kept),
                stroke=stroke,
                fill=fill,
                fill_color=color,
            )
        )
    return paths


def color_of(handle: int) -> Color:
    """Return an object's fill colour as RGB 0–1; what has no plain reading (patterns) counts as black."""
    return paint_of(handle)[0]


def paint_of(handle: int) -> tuple[Color, bool]:
    """Return an object's fill colour, and whether the paint can be seen at all."""
    parts = (c_uint * 4)()
    start = addressof(parts)
    if not calls.fill_color(handle, start, start + 4, start + 8, start + 12):
        return BLACK, True
    red, green, blue, alpha = parts
    return (red / 255, green / 255, blue / 255), alpha > 0


def _subpaths(handle: int, matrix: Matrix) -> list[tuple[list[Point], list[list[Point]]]]:
    """Return each subpath's points and its straight runs; curves interrupt these."""
    a, b, c, d, e, f = matrix
    count = calls.count_segments(handle)
    segments = list(map(calls.get_segment, repeat(handle), range(count)))
    numbers = (c_float * (2 * count))()
    at = addressof(numbers)
    places = range(at, at + 8 * count, 8)
    deque(map(calls.segment_point, segments, places, range(at + 4, at + 4 + 8 * count, 8)), maxlen=0)
    kinds = list(map(calls.segment_kind, segments))
    found: list[tuple[list[Point], list[list[Point]]]] = []
    curve = 0
    ends = [*kinds[1:], calls.MOVE_TO]
    for place, (x, y, kind, after) in enumerate(zip(numbers[0::2], numbers[1::2], kinds, ends, strict=True)):
        here = (a * x + c * y + e, b * x + d * y + f)
        if kind == calls.MOVE_TO or not found:
            found.append(([here], [[here]]))
            curve = 0
        elif kind == calls.LINE_TO:
            found[-1][0].append(here)
            found[-1][1][-1].append(here)
        else:
            # Three segments make a curve: two handles, then its end.
            curve += 1
            if curve % 3 == 0:
                found[-1][0].append(here)
                found[-1][1].append([here])
        if after == calls.MOVE_TO and calls.segment_closes(segments[place]):
            start = found[-1][0][0]
            if found[-1][1][-1][-1] != start:
                found[-1][1][-1].append(start)
    return found
