"""Letters that lie under or over the page's text: watermarks and stamps, taken out of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from statistics import median

from xref.pages.marks import Glyph
from xref.records import Box

#: A watermark's letters are at least this many times as large as the page's usual text.
LARGE = 1.8
#: A slanted run this many times as large is a watermark even where it crosses nothing.
SLANTED_LARGE = 1.5
#: Brightness (0 black, 1 white) from which letters count as light.
LIGHT = 0.5
#: A light stamp is brighter than the text it crosses by at least this.
LIGHT_STEP = 0.3
#: Dark large letters must cross this many characters; one may touch a drop capital.
LARGE_CROSSED = 2
#: Share of a light stamp's letters that lie on other text.
STAMP_SHARE = 0.5
#: Ink fills about this part of a letter's box; the rest is room above and below.
INK = 0.7
#: Side of the squares in which characters are looked up, in points.
SQUARE = 24.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """A page's glyphs, sorted into its text, slanted text that disturbs nothing, and underlay."""

    text: list[Glyph]
    slanted: list[list[Glyph]]  #: runs that read at an angle and cross no other text
    underlay: list[Glyph]


def split_layers(glyphs: list[Glyph]) -> Layers:
    """Sort watermark letters from the page's text."""
    inked = [g for g in glyphs if g.text.strip()]
    if not inked:
        return Layers(text=glyphs, slanted=[], underlay=[])
    usual = median(g.size for g in inked)
    suspects = [g for g in inked if g.angle % 90 or g.size >= LARGE * usual or brightness(g) >= LIGHT]
    if not suspects:
        return Layers(text=glyphs, slanted=[], underlay=[])
    squares = _squares(inked)
    underlay: list[Glyph] = []
    slanted: list[list[Glyph]] = []
    for run in _runs(suspects):
        if _is_underlay(run, usual, squares):
            underlay.extend(run)
        elif run[0].angle % 90:
            slanted.append(run)
    taken = {g.order for g in underlay} | {g.order for run in slanted for g in run}
    text = [g for g in glyphs if g.order not in taken and (g.text.strip() or not g.angle % 90)]
    return Layers(text=text, slanted=slanted, underlay=underlay)


def brightness(glyph: Glyph) -> float:
    """Return how bright a glyph is, 0 black to 1 white (ITU-R BT.601 weights)."""
    red, green, blue = glyph.color
    return 0.299 * red + 0.587 * green + 0.114 * blue


def _runs(glyphs: list[Glyph]) -> Iterator[list[Glyph]]:
    """Group letters drawn one after the other that look alike."""
    run: list[Glyph] = []
    for glyph in glyphs:
        if run and not _alike(run[-1], glyph):
            yield run
            run = []
        run.append(glyph)
    if run:
        yield run


def _alike(one: Glyph, other: Glyph) -> bool:
    return (
        one.angle == other.angle
        and one.color == other.color
        and abs(one.size - other.size) <= 0.05 * one.size
        and other.order - one.order <= 3
    )


def _squares(glyphs: Iterable[Glyph]) -> dict[tuple[int, int], list[Glyph]]:
    squares: dict[tuple[int, int], list[Glyph]] = {}
    for glyph in glyphs:
        x, y = _centre(glyph)
        squares.setdefault((int(x // SQUARE), int(y // SQUARE)), []).append(glyph)
    return squares


def _centre(glyph: Glyph) -> tuple[float, float]:
    return (glyph.x0 + glyph.x1) / 2, (glyph.top + glyph.bottom) / 2


def _is_underlay(run: list[Glyph], usual: float, squares: dict[tuple[int, int], list[Glyph]]) -> bool:
    own = {g.order for g in run}
    size = run[0].size
    bright = brightness(run[0])
    crossed: set[int] = set()
    crossing = 0
    for glyph in run:
        under = [g for g in _under(glyph, squares) if g.order not in own and g.text != glyph.text]
        crossed.update(g.order for g in under)
        crossing += any(brightness(g) <= bright - LIGHT_STEP for g in under)
    if run[0].angle % 90:
        return bool(crossed) or size >= SLANTED_LARGE * usual
    if size >= LARGE * usual:
        return len(crossed) >= (1 if bright >= LIGHT else LARGE_CROSSED)
    return crossing >= max(2.0, STAMP_SHARE * len(run))


def _under(glyph: Glyph, squares: dict[tuple[int, int], list[Glyph]]) -> Iterator[Glyph]:
    """Yield the characters whose centre lies in this letter's ink."""
    ink = _Ink(glyph)
    for i in range(int(glyph.x0 // SQUARE), int(glyph.x1 // SQUARE) + 1):
        for j in range(int(glyph.top // SQUARE), int(glyph.bottom // SQUARE) + 1):
            for other in squares.get((i, j), ()):
                x, y = _centre(other)
                if ink.touches(Box(x0=x, top=y, x1=x, bottom=y)):
                    yield other


def crosses_any(box: Box, underlay: list[Glyph]) -> bool:
    """True when the ink of some watermark letter meets the box."""
    return any(
        g.x0 < box.x1 and g.x1 > box.x0 and g.top < box.bottom and g.bottom > box.top and _Ink(g).touches(box)
        for g in underlay
    )


class _Ink:
    """A letter's ink as a rectangle turned by its angle."""

    def __init__(self, glyph: Glyph) -> None:
        turn = math.radians(glyph.angle)
        self.cosine, self.sine = math.cos(turn), -math.sin(turn)  # y grows downwards
        self.x, self.y = _centre(glyph)
        width, height = glyph.x1 - glyph.x0, glyph.bottom - glyph.top
        reach, rise = abs(self.cosine), abs(self.sine)
        side = glyph.size
        advance = (width - side * rise) / reach if reach >= rise else (height - side * reach) / rise
        self.half_along = max(advance, 0.0) / 2
        self.half_across = side * INK / 2

    def touches(self, box: Box) -> bool:
        """True when the ink meets the box (separating axes of two rectangles)."""
        dx, dy = (box.x0 + box.x1) / 2 - self.x, (box.top + box.bottom) / 2 - self.y
        half_x, half_y = box.width / 2, box.height / 2
        reach, rise = abs(self.cosine), abs(self.sine)
        along = abs(dx * self.cosine + dy * self.sine)
        across = abs(-dx * self.sine + dy * self.cosine)
        return (
            abs(dx) <= half_x + self.half_along * reach + self.half_across * rise
            and abs(dy) <= half_y + self.half_along * rise + self.half_across * reach
            and along <= self.half_along + half_x * reach + half_y * rise
            and across <= self.half_across + half_x * rise + half_y * reach
        )
