"""A drawn net as a file: a long strip for a screen, in columns where it is very long; A4 pages for paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

from xref.harness.answers import CircuitAnswer, TraceAnswer
from xref.records import Box
from xref.sheets.drawing import Area, Drawing, Fill, Label, Shape, Stroke
from xref.sheets.drawing_files import write_drawing
from xref.sheets.net_layout import GREY, SMALL, Layout, laid_out
from xref.sheets.net_plan import Plan, plan_of_circuit, plan_of_trace
from xref.sheets.net_shapes import shapes_of

#: A strip longer than this is set in columns beside each other: viewers refuse pictures that are higher.
TALLEST = 9000.0
#: A4 upright; what is printed keeps within US Letter too when the page is centred on it.
PAGE_WIDE, PAGE_HIGH = 595.28, 841.89
_SIDE, _ABOVE, _FOOT = 30.0, 48.0, 14.0
_BETWEEN = 18.0  #: between two columns of a page
_LARGEST = 1.3  #: a small net is not blown up beyond this on paper
#: Below this a net is set in two columns instead of being made smaller.
_SMALLEST = 0.85
_MARK = 16.0  #: room for the words that say where a cut column goes on


def write_circuit_drawing(answer: CircuitAnswer, path: Path) -> bool:
    """Draw the nets of a circuit; False, and no file, where it has none."""
    return _write(plan_of_circuit(answer), path)


def write_trace_drawing(answer: TraceAnswer, path: Path) -> bool:
    """Draw the ways of a trace; False, and no file, where there is none."""
    return _write(plan_of_trace(answer), path)


def _write(plan: Plan, path: Path) -> bool:
    if not plan.parts:
        return False
    layout = laid_out(plan)
    write_drawing(on_a_screen(layout), path, pages_of(layout) if path.suffix.lower() == ".pdf" else ())
    return True


def on_a_screen(layout: Layout) -> Drawing:
    """Return the strip as one drawing, in columns where it is longer than TALLEST."""
    if layout.height <= TALLEST:
        return Drawing(width=layout.width, height=layout.height, shapes=tuple(shapes_of(layout)))
    columns = _columns(layout, TALLEST)
    shapes: list[Shape] = []
    for number, column in enumerate(columns):
        shapes += (moved(shape, 1.0, number * layout.width, 0.0) for shape in column)
    return Drawing(width=layout.width * len(columns), height=TALLEST, shapes=tuple(shapes))


def pages_of(layout: Layout) -> list[Drawing]:
    """Return the strip on A4 pages: as one column where it fits, else in two columns a page."""
    wide, high = PAGE_WIDE - 2 * _SIDE, PAGE_HIGH - 2 * _ABOVE
    scale = min(_LARGEST, wide / layout.width, high / layout.height)
    if scale >= _SMALLEST:
        left = (PAGE_WIDE - layout.width * scale) / 2
        shapes = tuple(moved(shape, scale, left, _ABOVE) for shape in shapes_of(layout))
        return [Drawing(width=PAGE_WIDE, height=PAGE_HIGH, shapes=shapes)]
    each = (wide - _BETWEEN) / 2
    scale = each / layout.width
    columns = _columns(layout, high / scale)
    pages = [columns[n : n + 2] for n in range(0, len(columns), 2)]
    return [_page(page, number, len(pages), each, scale) for number, page in enumerate(pages, start=1)]


def _page(columns: Sequence[list[Shape]], number: int, many: int, each: float, scale: float) -> Drawing:
    shapes: list[Shape] = []
    for n, column in enumerate(columns):
        shapes += (moved(shape, scale, _SIDE + n * (each + _BETWEEN), _ABOVE) for shape in column)
    foot = Label(
        x=_SIDE, middle=PAGE_HIGH - _ABOVE + _FOOT, text=f"page {number} of {many}", size=9, color=GREY
    )
    return Drawing(width=PAGE_WIDE, height=PAGE_HIGH, shapes=(*shapes, foot) if many > 1 else tuple(shapes))


def _columns(layout: Layout, tall: float) -> list[list[Shape]]:
    """Cut a strip where only lines that run down cross, and say at each cut where it goes on."""
    shapes = shapes_of(layout)
    cuts = list(_cuts(layout, tall - 2 * _MARK))
    edges = [0.0, *cuts, layout.height]
    columns = []
    for number, (top, bottom) in enumerate(pairwise(edges), start=1):
        column: list[Shape] = [moved(shape, 1.0, 0.0, _MARK - top) for shape in _between(shapes, top, bottom)]
        if number > 1:
            column.append(_mark(layout, f"column {number}, goes on from {number - 1}", _MARK / 2))
        if number < len(edges) - 1:
            column.append(_mark(layout, f"goes on in column {number + 1}", bottom - top + 1.5 * _MARK))
        columns.append(column)
    return columns


def _mark(layout: Layout, text: str, middle: float) -> Label:
    return Label(x=layout.width * 0.5, middle=middle, text=text, size=SMALL, bold=True)


def _cuts(layout: Layout, tall: float) -> Iterator[float]:
    """Yield the heights of the cuts: each column as long as it may be."""
    top = 0.0
    allowed = sorted(layout.breaks)
    while layout.height - top > tall:
        fitting = [y for y in allowed if top < y <= top + tall]
        if not fitting:  # one stop higher than a page: it is cut through rather than lost
            fitting = [top + tall]
        top = fitting[-1]
        yield top


def _between(shapes: Sequence[Shape], top: float, bottom: float) -> Iterator[Shape]:
    """Yield what lies between two heights; areas that cross one are cut there."""
    for shape in shapes:
        if isinstance(shape, Area):
            box = shape.box
            high, low = max(box.top, top), min(box.bottom, bottom)
            if high < low:
                yield replace(shape, box=replace(box, top=high, bottom=low))
        elif top <= _middle(shape) < bottom:
            yield shape


def _middle(shape: Stroke | Fill | Label) -> float:
    if isinstance(shape, Label):
        return shape.middle
    heights = [y for _, y in shape.points]
    return (min(heights) + max(heights)) / 2


def moved(shape: Shape, scale: float, x: float, y: float) -> Shape:
    """Return a shape made larger or smaller about the origin, then moved."""
    if isinstance(shape, Area):
        box = shape.box
        return replace(
            shape,
            box=Box(
                x0=box.x0 * scale + x,
                top=box.top * scale + y,
                x1=box.x1 * scale + x,
                bottom=box.bottom * scale + y,
            ),
        )
    if isinstance(shape, Label):
        return replace(shape, x=shape.x * scale + x, middle=shape.middle * scale + y, size=shape.size * scale)
    points = tuple((px * scale + x, py * scale + y) for px, py in shape.points)
    if isinstance(shape, Fill):
        return replace(shape, points=points)
    dash = tuple(part * scale for part in shape.dash)
    return replace(shape, points=points, width=shape.width * scale, dash=dash)
