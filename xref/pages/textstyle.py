"""What all characters of one text object share, looked up once per object and once per font.

It lives for one page: addresses of objects and fonts are used again by later pages.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from ctypes import addressof, c_char, c_float
from dataclasses import dataclass
from typing import NamedTuple

from xref.pages import calls
from xref.pages.leaves import Frame, Leaf, Matrix, matrix_of, times
from xref.pages.marks import Color, snapped
from xref.pages.paths import paint_of

#: What the other engine calls fonts without a name.
NAMELESS = "unknown"
#: Text that runs steeper than this is measured along the page's height.
FLAT = 0.3
#: Letters that lean by more than this share of their height are drawn slanted.
SHEARED = 0.02


@dataclass(slots=True)
class Font:
    """A font of the page; `widths` are of characters, as shares of the font size."""

    handle: int
    name: str
    descent: float  #: share of the font size, 0 or less
    widths: dict[int, float]


@dataclass(slots=True)
class Style:
    """Lengths and directions are of the displayed frame unless said."""

    font: Font
    size: float  #: across the reading direction, in points
    stretch: float  #: points along it for each unit of the font's width
    along: tuple[float, float]  #: the reading direction, length 1
    box: tuple[float, float, float, float]  #: what the letter's box adds to its baseline: x0, top, x1, bottom
    slope: float  #: the reading direction's share along x, in the PDF's own axes
    rise: float  #: and along y
    sheared: bool
    angle: int
    color: Color
    hidden: bool

    def width(self, code: int) -> float:
        """Return how wide the font says that a character is."""
        share = self.font.widths.get(code)
        if share is None:
            answer = (c_float * 1)()
            calls.glyph_width(self.font.handle, code, 1.0, addressof(answer))
            share = self.font.widths[code] = answer[0]
        return share * self.stretch


class Letter(NamedTuple):
    """A drawn character: where its baseline begins in the displayed frame, and how far it goes."""

    text: str
    x: float
    y: float
    advance: float
    style: Style


class Styles:
    """The styles of a page's text objects, which are known by their place in the drawing order."""

    def __init__(self, texts: Sequence[Leaf], frame: Frame) -> None:
        self.count = len(texts)
        self._texts = texts
        self._frame = frame
        self._places = {leaf.handle: place for place, leaf in enumerate(texts)}
        self._matrices = [times(matrix_of(leaf.handle), leaf.matrix) for leaf in texts]
        self._fonts: dict[int, Font] = {}
        self.steep = {
            place for place, (a, b, *_) in enumerate(self._matrices) if abs(a) < FLAT * math.hypot(a, b)
        }

    def place(self, handle: int) -> int | None:
        """Return the place of a text object, None for one that is not of the page."""
        return self._places.get(handle)

    def origin(self, place: int) -> tuple[float, float]:
        """Return where the object's text begins."""
        _, _, _, _, x, y = times(self._matrices[place], self._frame.matrix)
        return x, y

    def to_frame(self, before: Matrix) -> Matrix:
        """Return the matrix that does `before` and then brings a point to the displayed frame."""
        return times(before, self._frame.matrix)

    def at(self, place: int) -> Style | None:
        """Return the style of an object; None where its letters have no width or height."""
        handle = self._texts[place].handle
        a, b = self._matrices[place][:2]
        reach = math.hypot(a, b)
        p, q, r, s, _, _ = times(self._matrices[place], self._frame.matrix)
        size = (c_float * 1)()
        calls.font_size(handle, addressof(size))
        across = (q * r - p * s) / reach * size[0] if reach else 0.0
        if not (0 < reach < math.inf and 0 < abs(across) < math.inf):
            return None
        # Slanted letters lean over their neighbours; their box stays upright.
        high, low = across * q / reach, -across * p / reach
        font = self._font(calls.font_of(handle) or 0)
        foot = high * font.descent, low * font.descent
        head = foot[0] + high, foot[1] + low
        color, visible = paint_of(handle)
        return Style(
            font=font,
            size=abs(across),
            stretch=reach * abs(size[0]),
            along=(p / reach, q / reach),
            box=(min(foot[0], head[0]), min(foot[1], head[1]), max(foot[0], head[0]), max(foot[1], head[1])),
            slope=a / reach,
            rise=b / reach,
            sheared=abs(p * r + q * s) > SHEARED * reach * reach,
            angle=snapped(math.degrees(math.atan2(-q, p))),
            color=color,
            hidden=not visible or calls.render_mode(handle) in calls.UNSEEN_MODES,
        )

    def _font(self, handle: int) -> Font:
        font = self._fonts.get(handle)
        if font is None:
            name, length, descent = (c_char * 256)(), 0, (c_float * 1)()
            if handle:
                length = calls.font_name(handle, addressof(name), len(name))
                calls.font_descent(handle, 1.0, addressof(descent))
            shown = name.value.decode("utf-8", "replace") if 1 < length <= len(name) else NAMELESS
            font = Font(handle, shown, min(descent[0], -descent[0]), {})
            self._fonts[handle] = font
        return font
