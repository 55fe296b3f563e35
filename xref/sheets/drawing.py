"""A drawing, over a picture or on blank paper, as plain shapes: every file format draws the same.

Lengths are in points.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING

from xref.records import Box
from xref.sheets.typeface import BOLD, JAPANESE, REGULAR

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageFont import FreeTypeFont

#: Red, green, blue, 0–255.
Color = tuple[int, int, int]

#: From here on Unicode's blocks are those of East Asian writing.
_EAST_ASIAN = 0x2E80
#: Letters are measured at this size, so that rounding to whole dots does not add up.
_MEASURED_AT = 100
#: Height of a line of text and of a capital letter, in sizes of the type.
LEADING, CAPITAL = 1.25, 0.71


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points; `dash` gives lengths of dashes and gaps, () a solid line."""

    points: tuple[tuple[float, float], ...]
    color: Color
    width: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled rectangle."""

    box: Box
    color: Color


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """A filled polygon."""

    points: tuple[tuple[float, float], ...]
    color: Color


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text on one line: its left edge and the middle of its capitals.

    One that is `turned` reads from bottom to top: it is turned by a quarter about that point.
    """

    x: float
    middle: float
    text: str
    size: float
    color: Color = (0, 0, 0)
    bold: bool = False
    turned: bool = False

    @property
    def box(self) -> Box:
        """The room it takes."""
        half = self.size * LEADING / 2
        wide = text_width(self.text, self.size, bold=self.bold)
        if self.turned:
            return Box(x0=self.x - half, top=self.middle - wide, x1=self.x + half, bottom=self.middle)
        return Box(x0=self.x, top=self.middle - half, x1=self.x + wide, bottom=self.middle + half)


Shape = Stroke | Area | Fill | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Shapes in order, over a page's picture at its place on a larger sheet, or over nothing."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    picture: Image | None = None
    picture_box: Box | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """Shapes on white paper of a size in points."""

    width: float
    height: float
    shapes: tuple[Stroke | Area | Label, ...]


def around(box: Box, by: float) -> Box:
    """Return a box larger by so much on each side."""
    return Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by)


def outline(box: Box, color: Color, width: float, dash: tuple[float, ...] = ()) -> Stroke:
    """Return the four sides of a box."""
    corners = ((box.x0, box.top), (box.x1, box.top), (box.x1, box.bottom), (box.x0, box.bottom))
    return Stroke(points=(*corners, corners[0]), color=color, width=width, dash=dash)


def hatching(box: Box, color: Color, width: float, gap: float) -> Iterable[Stroke]:
    """Return slanted lines that fill a box: seen also where colours are not."""
    x = box.x0 - box.height + gap / 2
    while x < box.x1:
        low, high = max(x, box.x0), min(x + box.height, box.x1)
        if low < high:
            yield Stroke(
                points=((low, box.bottom - (low - x)), (high, box.bottom - (high - x))),
                color=color,
                width=width,
            )
        x += gap


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of a text."""
    runs = runs_of(text)
    return sum(font(east, bold, _MEASURED_AT).getlength(run) for east, run in runs) * size / _MEASURED_AT


def broken(text: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """Break a text at blanks into lines of a width in points; a longer word is cut, never dropped."""
    lines: list[str] = [""]
    for word in text.split():
        candidate = f"{lines[-1]} {word}".strip()
        if text_width(candidate, size, bold=bold) <= width:
            lines[-1] = candidate
            continue
        if lines[-1]:
            lines.append("")
        for letter in word:
            if lines[-1] and text_width(lines[-1] + letter, size, bold=bold) > width:
                lines.append("")
            lines[-1] += letter
    return lines


def runs_of(text: str) -> list[tuple[bool, str]]:
    """Cut a text into runs that are, or are not, in an East Asian writing."""
    return [(east, "".join(run)) for east, run in groupby(text, lambda char: ord(char) >= _EAST_ASIAN)]


@cache
def font(east_asian: bool, bold: bool, size: float) -> FreeTypeFont:
    """Return the font for a run, at a size in dots (parts of a dot count)."""
    from PIL import ImageFont

    return ImageFont.truetype(str(JAPANESE if east_asian else BOLD if bold else REGULAR), size)
