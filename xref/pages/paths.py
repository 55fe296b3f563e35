"""The paths of a page through pdfium, one for each subpath, in the displayed frame."""

from __future__ import annotations

import math
from ctypes import addressof, c_float, c_int, c_uint

from xref.pages import calls
from xref.pages.leaves import Frame, Leaf, matrix_of, times
from xref.pages.marks import CROP_PLAY, Color, Path, Point, is_box


def leaf_paths(leaf: Leaf, frame: Frame) -> list[Path]:
    """Return the painted subpaths of one path object."""
    mode, stroke = c_int(), c_int()
    calls.draw_mode(leaf.handle, addressof(mode), addressof(stroke))
    if not (mode.value or stroke.value):
        return []
    count = calls.count_segments(leaf.handle)
    matrix = times(times(matrix_of(leaf.handle), leaf.matrix), frame.matrix)
    width = c_float()
    calls.stroke_width(leaf.handle, addressof(width))
    color = color_of(leaf.handle) if mode.value else (0.0, 0.0, 0.0)
    paths = []
    for points, runs in _subpaths(leaf.handle, count, matrix):
        path = _path(points, runs, frame)
        if path is not None:
            x0, top, x1, bottom = path
            kept = tuple(tuple(run) for run in runs if len(run) > 1)
            paths.append(
                Path(
                    runs=kept,
                    x0=x0,
                    top=top,
                    x1=x1,
                    bottom=bottom,
                    box=is_box(kept),
                    stroke=bool(stroke.value),
                    fill=bool(mode.value),
                    fill_color=color,
                    line_width=width.value,
                )
            )
    return paths


def color_of(handle: int) -> Color:
    """Return an object's fill colour as RGB 0–1; what has no plain reading (patterns) counts as black."""
    parts = (c_uint * 4)()
    start = addressof(parts)
    if not calls.fill_color(handle, start, start + 4, start + 8, start + 12):
        return 0.0, 0.0, 0.0
    return parts[0] / 255, parts[1] / 255, parts[2] / 255


def _subpaths(
    handle: int, count: int, matrix: tuple[float, ...]
) -> list[tuple[list[Point], list[list[Point]]]]:
    """Return each subpath's points and its straight runs; curves interrupt these."""
    a, b, c, d, e, f = matrix
    point = (c_float * 2)()
    x_at = addressof(point)
    y_at = x_at + 4
    found: list[tuple[list[Point], list[list[Point]]]] = []
    curve = 0
    for place in range(count):
        segment = calls.get_segment(handle, place)
        kind = calls.segment_kind(segment)
        calls.segment_point(segment, x_at, y_at)
        x, y = point
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
        if calls.segment_closes(segment):
            start = found[-1][0][0]
            if found[-1][1][-1][-1] != start:
                found[-1][1][-1].append(start)
    return found


def _path(
    points: list[Point], runs: list[list[Point]], frame: Frame
) -> tuple[float, float, float, float] | None:
    """Return the box of a subpath, None if it cannot be seen."""
    xs = [x for x, _ in points]
    ys = [y for _, y in points]
    box = min(xs), min(ys), max(xs), max(ys)
    if len(points) < 2 or not all(map(math.isfinite, box)):
        return None
    if box[2] < -CROP_PLAY or box[0] > frame.width + CROP_PLAY:
        return None
    if box[3] < -CROP_PLAY or box[1] > frame.height + CROP_PLAY:
        return None
    return box
