"""Pictures of pages, and crops of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from xref.records import Box

if TYPE_CHECKING:
    from PIL.Image import Image

POINTS_PER_INCH = 72


def page_picture(path: Path, page: int, *, password: str = "", dpi: int) -> Image:
    """Return the page as displayed. A huge page comes with fewer dots per inch than asked.

    Raises `UnreadableDocument`, `PasswordNeeded` or `PageBroken`.
    """
    # A look-up that shows no picture never loads the engine.
    from xref.pages.pdfium import PdfiumDocument

    with PdfiumDocument(path, password) as document:
        return document.render(page, dpi)


def crop(image: Image, box: Box, dpi: int, margin: float = 0.0) -> Image:
    """Cut a box (points of the page as displayed) out of its picture, with a margin in points.

    What would lie outside the picture is left out; the result has at least one pixel.
    """
    scale = dpi / POINTS_PER_INCH
    left = min(max(int((box.x0 - margin) * scale), 0), image.width - 1)
    top = min(max(int((box.top - margin) * scale), 0), image.height - 1)
    right = min(max(round((box.x1 + margin) * scale), left + 1), image.width)
    bottom = min(max(round((box.bottom + margin) * scale), top + 1), image.height)
    return image.crop((left, top, right, bottom))
