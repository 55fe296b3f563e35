"""What is drawn on a page, whichever engine read it: glyphs and strokes in the displayed frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from xref.errors import PageBroken
from xref.pages.leaves import Frame
from xref.pages.places import Places

Color = tuple[float, float, float]
Point = tuple[float, float]
Sides = tuple[float, float, float, float]  #: x0, top, x1, bottom

#: What is drawn this far outside the page is not displayed (points; half a hairline's play).
CROP_PLAY = 0.5
#: A path side may lean this much and still count as parallel to the page's edge, in points.
SQUARE_PLAY = 0.35
#: Characters smaller than this cannot be read by anybody, in points.
SMALLEST_GLYPH = 1.0
#: Text turned by this little is straight text on a page that was scanned askew, in degrees.
LEAN_PLAY = 2.0


class Glyph(NamedTuple):
    """One drawn character. Boxes are points from the top left of the frame.

    A named tuple, because a page makes thousands and a frozen dataclass takes three times as long to make.
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
    hidden: bool = False  #: drawn so that nothing of it is seen (the text laid under a scan)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Everything drawn on one page as displayed."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...] = ()
    paths: tuple[Path, ...] = ()
    text: tuple[Frame, Places] | None = None  #: what pdfium says of the page's characters, where it was asked


def is_box(runs: tuple[tuple[Point, ...], ...]) -> bool:
    """Tell one closed run of four sides, each parallel to an edge of the page, from other shapes."""
    if len(runs) != 1 or len(runs[0]) not in (5, 6):
        return False
    points = runs[0]
    (last_x, last_y), (first_x, first_y) = points[-1], points[0]
    if abs(last_x - first_x) > SQUARE_PLAY or abs(last_y - first_y) > SQUARE_PLAY:
        return False
    for x, y in points:
        if abs(x - last_x) > SQUARE_PLAY and abs(y - last_y) > SQUARE_PLAY:
            return False
        last_x, last_y = x, y
    return True


def lies_under(x: float, y: float, boxes: Iterable[Sides]) -> bool:
    """True for a point inside one of the boxes."""
    return any(x0 <= x <= x1 and top <= y <= bottom for x0, top, x1, bottom in boxes)


def snapped(degrees: float) -> int:
    """Return whole degrees from 0 to 359; what leans by less than `LEAN_PLAY` counts as straight."""
    quarter = round(degrees / 90) * 90
    return (quarter if abs(degrees - quarter) <= LEAN_PLAY else round(degrees)) % 360


def too_many(name: str, page: int, what: str, most: int) -> PageBroken:
    """Return the error for a page that holds more than `most` of `what`."""
    return PageBroken(f"{name}: page {page} holds more than {most:,} {what} and was skipped.")
