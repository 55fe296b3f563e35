"""What a page holds, whichever engine read it: words, rules and fills in one frame.

The frame is the page as displayed (cropped, /Rotate applied), in points from its top left. A page
whose text runs sideways is given *turned* so that the text reads left to right; `turned` says by how
much, and `to_page` brings a box back to the page as displayed.
"""

from __future__ import annotations

from dataclasses import dataclass

from xref.records import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """Characters that belong together: no real space glyph and no wide gap between them.

    `text` is without soft hyphens and zero-width characters; a raised footnote mark glued to it stands
    in `mark` (`12¹` is text `12`, mark `1`). `chars` gives each character's left and right edge so that
    a word that runs over a column border can be cut.
    """

    text: str
    box: Box
    size: float  #: font size, points
    bold: bool = False
    mark: str = ""
    color: tuple[float, float, float] = (0.0, 0.0, 0.0)  #: RGB 0–1
    edges: tuple[tuple[float, float], ...] = ()  #: (x0, x1) of each character of `text`
    spaced: bool = True  #: a real space glyph or line end stood before it (False: only a gap)
    underlay: bool = False  #: a watermark's letters cross this word's box
    unmapped: bool = False  #: some character has no Unicode meaning in the PDF
    hidden: bool = False  #: nothing of it is seen: the text laid under a scan's picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A drawn straight line (also a thin filled box, or a row of dashes or dots joined to one line)."""

    x0: float
    top: float
    x1: float
    bottom: float

    @property
    def horizontal(self) -> bool:
        """True for a line that runs left to right."""
        return (self.x1 - self.x0) >= (self.bottom - self.top)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """A filled area that is no line: zebra stripes, header bands, coloured cells."""

    box: Box
    color: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PageContent:
    """Everything the reading needs of one page."""

    number: int  #: from 1
    label: str  #: the number printed on it or in the PDF's page labels; "" if none
    width: float  #: of the frame (after `turned`)
    height: float
    words: tuple[Word, ...]
    rules: tuple[Rule, ...] = ()
    fills: tuple[Fill, ...] = ()
    turned: int = 0  #: 0, 90, 180 or 270 degrees clockwise that the displayed page was turned for reading
    image_share: float = 0.0  #: part of the page's area covered by pictures, 0–1

    def to_page(self, box: Box) -> Box:
        """Bring a box of this frame back to the page as displayed."""
        if self.turned == 90:
            return Box(x0=box.top, top=self.width - box.x1, x1=box.bottom, bottom=self.width - box.x0)
        if self.turned == 180:
            return Box(
                x0=self.width - box.x1,
                top=self.height - box.bottom,
                x1=self.width - box.x0,
                bottom=self.height - box.top,
            )
        if self.turned == 270:
            return Box(x0=self.height - box.bottom, top=box.x0, x1=self.height - box.top, bottom=box.x1)
        return box
