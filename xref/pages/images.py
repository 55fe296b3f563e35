"""Pictures on a page: how much of it they cover, and what text lies unseen below them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from ctypes import addressof, c_float
from itertools import repeat

from xref.pages import calls
from xref.pages.leaves import Frame, Leaf, Matrix, TooDeep, page_frame, page_leaves, times
from xref.pages.marks import Sides
from xref.pages.pdfium import PdfiumDocument

#: Squares per side of the grid on which the area under pictures is counted; 1/1600 of a page is fine enough.
SHARE_GRID = 40


def image_share(document: PdfiumDocument, number: int) -> float:
    """Return the part of a page's area that lies under pictures, 0 to 1."""
    with document.handles(number) as (page, _):
        objects = map(calls.get_object, repeat(page), range(calls.count_objects(page)))
        if not {calls.IMAGE, calls.FORM} & set(map(calls.object_kind, objects)):
            return 0.0  # most pages
        frame = page_frame(page)
        covered: set[tuple[int, int]] = set()
        try:
            for leaf in page_leaves(page):
                if leaf.kind == calls.IMAGE:
                    covered |= _grid_squares(_sides(leaf, frame.matrix), frame)
        except TooDeep:
            pass  # what lies shallower is counted
    return len(covered) / (SHARE_GRID * SHARE_GRID)


def covers(leaves: Sequence[Leaf], frame: Frame) -> list[tuple[int, Sides]]:
    """Return each picture nothing shines through: how many texts were drawn before it, and its box."""
    found: list[tuple[int, Sides]] = []
    texts = 0
    for leaf in leaves:
        if leaf.kind == calls.TEXT:
            texts += 1
        elif leaf.kind == calls.IMAGE and texts and not calls.has_transparency(leaf.handle):
            found.append((texts, _sides(leaf, frame.matrix)))
    return found


def _sides(leaf: Leaf, to_frame: Matrix) -> Sides:
    """Return the box of a picture in the displayed frame."""
    bounds = (c_float * 4)()
    start = addressof(bounds)
    calls.object_bounds(leaf.handle, start, start + 4, start + 8, start + 12)
    left, bottom, right, top = bounds
    a, b, c, d, e, f = times(leaf.matrix, to_frame)
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    xs = [a * x + c * y + e for x, y in corners]
    ys = [b * x + d * y + f for x, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _grid_squares(sides: Sides, frame: Frame) -> set[tuple[int, int]]:
    """Return the squares of a grid laid over the frame whose centres the picture covers."""
    if frame.width <= 0 or frame.height <= 0 or not all(map(math.isfinite, sides)):
        return set()

    def reach(low: float, high: float, length: float) -> range:
        first = math.ceil(low / length * SHARE_GRID - 0.5)
        last = math.floor(high / length * SHARE_GRID - 0.5)
        return range(max(first, 0), min(last, SHARE_GRID - 1) + 1)

    rows = reach(sides[1], sides[3], frame.height)
    return {(column, row) for column in reach(sides[0], sides[2], frame.width) for row in rows}
