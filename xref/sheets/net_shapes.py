"""The shapes of a drawn net: each kind of stop another form, so that none needs colour to be known.

Ends are plugs, in-lines two halves with tongue and groove, splices a black disc, grounds three bars, fuses an
upright case with its wire through it; what is not stated is dashed. A wire is its base colour within a black
outline, the stripe a band along it, the ring bars across it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, pi, sin

from xref.colors.words import luminance
from xref.records import Box
from xref.sheets.drawing import Area, Color, Fill, Label, Shape, Stroke, text_width
from xref.sheets.net_layout import FACING, HEIGHTS, INK, SHAPE, Layout, Line, Node

PAPER: Color = (255, 255, 255)
_EDGE = 1.2  #: width of a wire's outline
_WIRE, _STRIPE, _BAR, _DASHED = 12.0, 4.4, 4.0, 2.4
_RING_EVERY, _RING = 16.0, 4.0
_STRIPE_EDGE = 0.9  #: around a stripe, so that it shows on a base of the same grey
#: Contrast from which on a line is seen beside a colour (WCAG 2.1, 1.4.11).
_STANDS_OUT = 3.0
_DASH, _DASH_GAP = 6.0, 5.0
_PEN = 2.4
_DOT = 8.0
_INSIDE = 15.0  #: size of the cavity written into a shape


def shapes_of(layout: Layout) -> list[Shape]:
    """Return a layout as shapes: lines below, stops over them, words on top."""
    lines = sorted(layout.lines, key=lambda line: line.look == "wire")
    found: list[Shape] = [shape for line in lines for shape in _line(line)]
    found += (Fill(points=_circle(x, y, _DOT), color=INK) for x, y in layout.dots)
    for node in layout.nodes:
        found += _node(node)
    return [*found, *layout.labels]


def _line(line: Line) -> Iterator[Area]:
    if line.look == "bar":
        yield from _path(line.points, _BAR, INK)
    elif line.look == "dashes":
        for (x0, y0), (x1, y1) in pairwise(line.points):
            yield from _dashed(x0, y0, x1, y1)
    else:
        yield from _wire(line)


def _dashed(x0: float, y0: float, x1: float, y1: float) -> Iterator[Area]:
    length, done = abs(x1 - x0) + abs(y1 - y0), 0.0
    while done < length:
        far = min(done + _DASH, length)
        a, b = done / length, far / length
        ends = ((x0 + (x1 - x0) * a, y0 + (y1 - y0) * a), (x0 + (x1 - x0) * b, y0 + (y1 - y0) * b))
        yield from _path(ends, _DASHED, INK)
        done = far + _DASH_GAP


def _path(points: Sequence[tuple[float, float]], wide: float, color: Color) -> Iterator[Area]:
    """Yield the rectangles of a line of this width; corners are filled."""
    half = wide / 2
    last = len(points) - 2
    for n, ((x0, y0), (x1, y1)) in enumerate(pairwise(points)):
        before, after = (half if n else 0.0), (half if n < last else 0.0)
        if x0 == x1:
            yield Area(box=Box(x0=x0 - half, top=y0 - before, x1=x0 + half, bottom=y1 + after), color=color)
        else:
            yield Area(box=Box(x0=x0 - before, top=y0 - half, x1=x1 + after, bottom=y0 + half), color=color)


def _wire(line: Line) -> Iterator[Area]:
    wire = line.wire
    yield from _path(line.points, _WIRE, INK)
    inner = _WIRE - 2 * _EDGE
    yield from _path(line.points, inner, _rgb(wire.base) if wire is not None and wire.base else PAPER)
    if wire is None or not wire.base:
        yield from _marks_along(line.points, inner * 0.45, 3.0, INK, every=9.0)
        return
    if wire.stripe:
        yield from _path(line.points, _STRIPE + 2 * _STRIPE_EDGE, _edge(wire.base, wire.stripe))
        yield from _path(line.points, _STRIPE, _rgb(wire.stripe))
    if wire.ring:
        edge = _edge(wire.base, wire.ring)
        yield from _marks_along(line.points, inner, _RING + 2 * _STRIPE_EDGE, edge, _RING_EVERY)
        yield from _marks_along(line.points, inner, _RING, _rgb(wire.ring), _RING_EVERY)


def _marks_along(
    points: Sequence[tuple[float, float]], across: float, along: float, color: Color, every: float
) -> Iterator[Area]:
    """Yield bars across a line at equal steps."""
    for (x0, y0), (x1, y1) in pairwise(points):
        length = abs(x1 - x0) + abs(y1 - y0)
        at = every / 2
        while at < length - along / 2:
            x, y = (x0, y0 + at) if x0 == x1 else (x0 + at, y0)
            wide, high = (across, along) if x0 == x1 else (along, across)
            box = Box(x0=x - wide / 2, top=y - high / 2, x1=x + wide / 2, bottom=y + high / 2)
            yield Area(box=box, color=color)
            at += every


def _edge(base: str, mark: str) -> Color:
    """Return white, or black where white does not stand out from both: two colours of one grey stay two."""
    lightest = max(luminance(base), luminance(mark))
    return PAPER if 1.05 / (lightest + 0.05) >= _STANDS_OUT else INK


def _rgb(color: str) -> Color:
    return (int(color[1:3], 16), int(color[3:5], 16), int(color[5:7], 16))


def _node(node: Node) -> Iterator[Shape]:
    if node.kind == "half":
        yield from _half(node)
    elif node.kind in ("splice", "joint"):
        yield Fill(points=_disc(node), color=INK)
    elif node.kind == "ground":
        yield from _ground(node)
    elif node.kind == "fuse":
        yield from _fuse(node)
    elif node.kind == "again":
        yield from _again(node)
    elif node.kind == "hub":
        yield Fill(points=_disc(node), color=PAPER)
        yield Stroke(points=_closed(_disc(node)), color=INK, width=_PEN)
        yield _inside(node, "?")
    else:
        yield from _end(node)


def _end(node: Node) -> Iterator[Shape]:
    """A plug: a body with cut corners; dashed where nobody says what it is."""
    left, right, cut = node.x - SHAPE / 2, node.x + SHAPE / 2, 7.0
    points = (
        *((left + cut, node.top), (right - cut, node.top), (right, node.top + cut)),
        *((right, node.bottom - cut), (right - cut, node.bottom), (left + cut, node.bottom)),
        *((left, node.bottom - cut), (left, node.top + cut)),
    )
    yield from _body(points, dashed=node.kind == "unknown")
    yield _inside(node, node.inside)


def _half(node: Node) -> Iterator[Shape]:
    """A half of an in-line: the upper one has the tongue, the lower one the groove it goes into."""
    yield from _body(_half_points(node.x, node.top, node.bottom, node.faces))
    yield _inside(node, node.inside, up=0.0 if node.faces != "up" else -3.0)
    if node.alone and node.faces == "down":
        top = node.bottom + FACING
        bottom = top + HEIGHTS["half"]
        yield from _body(_half_points(node.x, top, bottom, "up"), dashed=True)
        yield _text_at(node.x, (top + bottom) / 2 + 2, "?")


def _half_points(x: float, top: float, bottom: float, faces: str) -> tuple[tuple[float, float], ...]:
    left, right, tongue, deep = x - SHAPE / 2, x + SHAPE / 2, 11.0, 6.0
    if faces == "down":
        teeth = ((x + tongue, bottom), (x + tongue - 4, bottom + deep), (x - tongue + 4, bottom + deep))
        return ((left, top), (right, top), (right, bottom), *teeth, (x - tongue, bottom), (left, bottom))
    if faces == "up":
        groove = ((x - tongue, top), (x - tongue + 4, top + deep), (x + tongue - 4, top + deep))
        return ((left, top), *groove, (x + tongue, top), (right, top), (right, bottom), (left, bottom))
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _ground(node: Node) -> Iterator[Shape]:
    """Three bars, each shorter, under a stem."""
    yield from _path(((node.x, node.top), (node.x, node.top + 14)), _BAR, INK)
    for n, wide in enumerate((SHAPE - 4, 28.0, 13.0)):
        y = node.top + 14 + 9 * n
        yield from _path(((node.x - wide / 2, y), (node.x + wide / 2, y)), 4.4, INK)


def _fuse(node: Node) -> Iterator[Shape]:
    """An upright case with its wire through it, the cavity beside the wire."""
    half = 13.0
    points = (
        *((node.x - half, node.top), (node.x + half, node.top)),
        *((node.x + half, node.bottom), (node.x - half, node.bottom)),
    )
    yield from _body(points)
    yield Stroke(points=((node.x, node.top), (node.x, node.bottom)), color=INK, width=2.0)
    for y in (node.top + 7, node.bottom - 7):
        yield Stroke(points=((node.x - half, y), (node.x + half, y)), color=INK, width=2.0)


def _again(node: Node) -> Iterator[Shape]:
    """An arrow that points back up."""
    x, top, bottom = node.x, node.top, node.bottom
    head = ((x, top + 2), (x + 14, top + 15), (x - 14, top + 15))
    yield Fill(points=head, color=INK)
    yield from _path(((x, top), (x, bottom)), _BAR, INK)


def _body(points: tuple[tuple[float, float], ...], *, dashed: bool = False) -> Iterator[Shape]:
    yield Fill(points=points, color=PAPER)
    yield Stroke(points=_closed(points), color=INK, width=_PEN, dash=(_DASH, _DASH_GAP) if dashed else ())


def _closed(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    # a little past the first corner, so that it is no open joint
    (x0, y0), (x1, y1) = points[:2]
    return (*points, points[0], (x0 + (x1 - x0) * 0.1, y0 + (y1 - y0) * 0.1))


def _disc(node: Node) -> tuple[tuple[float, float], ...]:
    return _circle(node.x, (node.top + node.bottom) / 2, (node.bottom - node.top) / 2)


def _circle(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    turns = [2 * pi * n / 36 for n in range(36)]
    return tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns)


def _inside(node: Node, text: str, up: float = 0.0) -> Label:
    return _text_at(node.x, (node.top + node.bottom) / 2 - up, text)


def _text_at(x: float, middle: float, text: str) -> Label:
    """Return a text centred at x: smaller where a shape is too narrow for it, then shortened."""
    size, room = _INSIDE, SHAPE - 8
    while size > 10 and text_width(text, size, bold=True) > room:
        size -= 1
    if text_width(text, size, bold=True) > room:
        while text and text_width(text + "…", size, bold=True) > room:
            text = text[:-1]
        text += "…"
    return Label(x=x - text_width(text, size, bold=True) / 2, middle=middle, text=text, size=size, bold=True)
