"""Pictures of pages: rows marked where they stand, and a row cut out for the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from xref.pages.pictures import POINTS_PER_INCH, crop
from xref.records import Box
from xref.settings import DEFAULT
from xref.sheets.files import written_whole
from xref.sheets.texts import on_one_line
from xref.sheets.typeface import BOLD, JAPANESE

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

#: A warm yellow laid over like a marker pen: white paper darkens by a tenth, black print stays black.
_BAND = (255, 230, 120)
_INK, _PAPER = (0, 0, 0), (255, 255, 255)
_AROUND = 1.5  #: points between a row's text and its outline
_LABEL = 8.0  #: height of a label's letters, points
#: Around a row cut out for the sheet, points: about one line, to see it among its neighbours.
_CROP_MARGIN = 12.0
#: Above a row in doubt mostly the head of its columns and its heading are looked for, points.
_LINES_ABOVE, _LINES_BELOW = 130.0, 50.0
#: From here on Unicode's blocks are those of East Asian writing.
_EAST_ASIAN = 0x2E80


def mark_rows(
    path: Path,
    page: int,
    boxes: Sequence[tuple[Box, str]],
    out: Path,
    *,
    password: str = "",
    dpi: int = DEFAULT.picture_dpi,
) -> None:
    """Write a PNG of the page with each box under a band, in an outline, with its label beside it.

    Boxes are in points from the top left of the page as displayed.

    Raises:
        XrefError: the document cannot be read, or the picture cannot be written.
    """
    image = marked(*drawn_page(path, page, password=password, dpi=dpi), boxes)
    with written_whole(out) as beside:
        image.save(beside, "PNG")


def drawn_page(
    path: Path, page: int, *, password: str = "", dpi: int = DEFAULT.picture_dpi
) -> tuple[Image, float]:
    """Return the picture of a page and its dots per point, told from its size.

    A huge page comes with fewer dots than asked; a mark scaled by what was asked would be misplaced.
    """
    # A look-up that shows no picture never loads the engine.
    from xref.pages.pdfium import PdfiumDocument

    with PdfiumDocument(path, password) as document:
        image = document.render(page, dpi)
        return image, image.width / document.size(page)[0]


def crop_row(image: Image, scale: float, box: Box) -> Image:
    """Return the part of a page's picture around a row, as the page shows it."""
    dots = Box(x0=box.x0 * scale, top=box.top * scale, x1=box.x1 * scale, bottom=box.bottom * scale)
    return crop(image, dots, POINTS_PER_INCH, _CROP_MARGIN * scale)


def row_in_context(image: Image, scale: float, box: Box, label: str) -> Image:
    """Return the part of a page's picture around a row, the row marked: the lines by which it is found.

    Its whole width is shown, because the heading and the next table may stand beside it.
    """
    shown = marked(image, scale, [(box, label)])
    part = Box(
        x0=0.0,
        top=max(0.0, (box.top - _LINES_ABOVE) * scale),
        x1=float(image.width),
        bottom=(box.bottom + _LINES_BELOW) * scale,
    )
    return crop(shown, part, POINTS_PER_INCH)


def marked(image: Image, scale: float, boxes: Sequence[tuple[Box, str]]) -> Image:
    """Return the picture of a page (`scale` dots per point) with the boxes marked."""
    from PIL import Image as Pictures
    from PIL import ImageChops, ImageDraw

    base = image.convert("RGB")
    bands = Pictures.new("RGB", base.size, _PAPER)
    band_pen = ImageDraw.Draw(bands)
    places: list[tuple[tuple[float, float, float, float], str]] = []
    # one printed row may hold several pins: both ends of a wire, both halves of an in-line
    labels: dict[Box, dict[str, None]] = {}
    for box, label in boxes:
        labels.setdefault(box, {})[on_one_line(label)] = None
    for box, texts in labels.items():
        edges = (
            max(0.0, (box.x0 - _AROUND) * scale),
            max(0.0, (box.top - _AROUND) * scale),
            min(base.width - 1.0, (box.x1 + _AROUND) * scale),
            min(base.height - 1.0, (box.bottom + _AROUND) * scale),
        )
        if edges[0] < edges[2] and edges[1] < edges[3]:
            band_pen.rectangle(edges, fill=_BAND)
            places.append((edges, ", ".join(filter(None, texts))))
    base = ImageChops.multiply(base, bands)
    pen = ImageDraw.Draw(base)
    for edges, label in places:
        pen.rectangle(edges, outline=_INK, width=max(1, round(scale)))
        if label:
            _label(pen, edges, label, base.width, scale)
    return base


def _label(
    pen: ImageDraw, edges: tuple[float, float, float, float], text: str, page_wide: int, scale: float
) -> None:
    """Write white on black left of the outline, else right of it, else above it."""
    runs = [(_font(east_asian, _LABEL * scale), run) for east_asian, run in _by_writing(text)]
    wide, high = sum(font.getlength(run) for font, run in runs) + 6, _LABEL * scale * 1.35
    x0, top, x1, bottom = edges
    middle = (top + bottom - high) / 2
    if x0 - wide - 2 >= 0:
        at = (x0 - wide - 2, middle)
    elif x1 + wide + 2 < page_wide:
        at = (x1 + 2, middle)
    else:
        at = (x0, max(0.0, top - high))
    pen.rectangle((*at, at[0] + wide, at[1] + high), fill=_INK)
    x = at[0] + 3
    for font, run in runs:
        pen.text((x, at[1] + high / 2), run, font=font, fill=_PAPER, anchor="lm")
        x += font.getlength(run)


def _by_writing(text: str) -> list[tuple[bool, str]]:
    """Cut a text into runs that are, or are not, in an East Asian writing."""
    return [
        (east_asian, "".join(run)) for east_asian, run in groupby(text, lambda char: ord(char) >= _EAST_ASIAN)
    ]


def _font(east_asian: bool, size: float) -> FreeTypeFont:
    from PIL import ImageFont

    return ImageFont.truetype(str(JAPANESE if east_asian else BOLD), round(size))
