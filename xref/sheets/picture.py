"""Pictures of pages: rows marked where they stand, and a row cut out for the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from xref.pages.pictures import crop, page_picture
from xref.records import Box
from xref.settings import DEFAULT
from xref.sheets.files import written_whole
from xref.sheets.texts import on_one_line
from xref.sheets.typeface import BOLD, JAPANESE

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

#: A warm yellow that darkens white paper by a tenth in grey, and leaves black print black.
_BAND = (255, 214, 0, 90)
_INK, _PAPER = (0, 0, 0, 255), (255, 255, 255, 255)
_AROUND = 1.5  #: points between a row's text and its outline
_LABEL = 8.0  #: height of a label's letters, points
#: Around a row cut out for the sheet: enough of its neighbours to see that the row is the right one.
_CROP_MARGIN = 9.0
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
    image = marked(page_picture(path, page, password=password, dpi=dpi), boxes, dpi)
    with written_whole(out) as beside:
        image.save(beside, "PNG")


def crop_row(path: Path, page: int, box: Box, *, password: str = "", dpi: int = DEFAULT.picture_dpi) -> Image:
    """Return the part of the page around a row, as the page shows it."""
    return crop(page_picture(path, page, password=password, dpi=dpi), box, dpi, _CROP_MARGIN)


def marked(image: Image, boxes: Sequence[tuple[Box, str]], dpi: int) -> Image:
    """Return the picture of a page (drawn at `dpi`) with the boxes marked."""
    from PIL import Image as Pictures
    from PIL import ImageDraw

    base = image.convert("RGBA")
    layer = Pictures.new("RGBA", base.size, (0, 0, 0, 0))
    pen = ImageDraw.Draw(layer)
    scale = dpi / 72
    for box, label in boxes:
        edges = (
            max(0.0, (box.x0 - _AROUND) * scale),
            max(0.0, (box.top - _AROUND) * scale),
            min(base.width - 1.0, (box.x1 + _AROUND) * scale),
            min(base.height - 1.0, (box.bottom + _AROUND) * scale),
        )
        if edges[0] < edges[2] and edges[1] < edges[3]:
            pen.rectangle(edges, fill=_BAND, outline=_INK, width=max(1, round(scale)))
            if label:
                _label(pen, edges, on_one_line(label), base.width, scale)
    return Pictures.alpha_composite(base, layer).convert("RGB")


def _label(
    pen: ImageDraw, edges: tuple[float, float, float, float], text: str, page_wide: int, scale: float
) -> None:
    """Write white on black left of the outline, else right of it, else above it."""
    font = _font(text, _LABEL * scale)
    left, _, right, _ = font.getbbox(text)
    wide, high = right - left + 6, _LABEL * scale * 1.35
    x0, top, x1, bottom = edges
    middle = (top + bottom - high) / 2
    if x0 - wide - 2 >= 0:
        at = (x0 - wide - 2, middle)
    elif x1 + wide + 2 < page_wide:
        at = (x1 + 2, middle)
    else:
        at = (x0, max(0.0, top - high))
    pen.rectangle((*at, at[0] + wide, at[1] + high), fill=_INK)
    pen.text((at[0] + 3 - left, at[1] + high / 2), text, font=font, fill=_PAPER, anchor="lm")


def _font(text: str, size: float) -> FreeTypeFont:
    from PIL import ImageFont

    east_asian = any(ord(character) >= _EAST_ASIAN for character in text)
    return ImageFont.truetype(str(JAPANESE if east_asian else BOLD), round(size))
