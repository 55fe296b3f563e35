"""A drawing whose text runs sideways, turned so that it reads left to right."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from xref.pages.marks import Drawing, Glyph, Path

#: Share of the characters that must run one way before the page is turned to it.
TURNED_SHARE = 0.6

Point = tuple[float, float]


def reading_turn(glyphs: tuple[Glyph, ...]) -> int:
    """Return how far the page must be turned clockwise (0, 90, 180, 270) for most of its text to read."""
    counts = Counter(g.angle for g in glyphs if g.text.strip())
    if not counts:
        return 0
    angle, most = counts.most_common(1)[0]
    if angle in (90, 180, 270) and most >= TURNED_SHARE * counts.total():
        return angle
    return 0


def turn_drawing(drawing: Drawing, turn: int) -> Drawing:
    """Turn everything drawn clockwise by 0, 90, 180 or 270 degrees; the frame turns with it."""
    if turn == 0:
        return drawing
    width, height = drawing.width, drawing.height
    sideways = turn in (90, 270)
    return Drawing(
        width=height if sideways else width,
        height=width if sideways else height,
        glyphs=tuple(turn_glyph(g, turn, width, height) for g in drawing.glyphs),
        paths=tuple(_turn_path(p, turn, width, height) for p in drawing.paths),
    )


def turn_point(x: float, y: float, turn: int, width: float, height: float) -> Point:
    """Turn a point clockwise together with the frame of the given width and height."""
    if turn == 90:
        return height - y, x
    if turn == 180:
        return width - x, height - y
    if turn == 270:
        return y, width - x
    return x, y


def turn_box(
    box: tuple[float, float, float, float], turn: int, width: float, height: float
) -> tuple[float, float, float, float]:
    """Turn (x0, top, x1, bottom) clockwise together with the frame."""
    ax, ay = turn_point(box[0], box[1], turn, width, height)
    bx, by = turn_point(box[2], box[3], turn, width, height)
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def turn_glyph(glyph: Glyph, turn: int, width: float, height: float) -> Glyph:
    """Turn one glyph; text that climbed the page (angle 90) reads left to right after turning by 90."""
    x0, top, x1, bottom = turn_box((glyph.x0, glyph.top, glyph.x1, glyph.bottom), turn, width, height)
    origin_x, origin_y = turn_point(glyph.origin_x, glyph.origin_y, turn, width, height)
    return glyph._replace(
        x0=x0,
        top=top,
        x1=x1,
        bottom=bottom,
        origin_x=origin_x,
        origin_y=origin_y,
        angle=(glyph.angle - turn) % 360,
    )


def _turn_path(path: Path, turn: int, width: float, height: float) -> Path:
    x0, top, x1, bottom = turn_box((path.x0, path.top, path.x1, path.bottom), turn, width, height)
    runs = tuple(tuple(turn_point(x, y, turn, width, height) for x, y in run) for run in path.runs)
    return replace(path, x0=x0, top=top, x1=x1, bottom=bottom, runs=runs)
