"""What is drawn on a page, whichever engine read it: glyphs and strokes in the displayed frame."""

from __future__ import annotations

from dataclasses import dataclass

Color = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Glyph:
    """One drawn character. Boxes are points from the top left of the frame.

    `angle` is how far its baseline is turned counter-clockwise, in degrees from 0 to 359; text that
    climbs the page has 90. (`origin_x`, `origin_y`) is where its baseline begins.
    """

    text: str
    x0: float
    top: float
    x1: float
    bottom: float
    size: float
    font: str = ""
    color: Color = (0.0, 0.0, 0.0)
    angle: int = 0
    origin_x: float = 0.0
    origin_y: float = 0.0
    order: int = 0  #: place in the drawing order


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """One drawn path: straight runs as point lists, and how it is painted."""

    runs: tuple[tuple[tuple[float, float], ...], ...]  #: polylines of its straight parts
    x0: float
    top: float
    x1: float
    bottom: float
    box: bool = False  #: an axis-parallel rectangle
    stroke: bool = False
    fill: bool = False
    fill_color: Color = (0.0, 0.0, 0.0)
    line_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Everything drawn on one page as displayed."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...] = ()
    paths: tuple[Path, ...] = ()
