"""Small PDFs drawn for the tests of this room, and readers for them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pypdfium2 as pdfium
from reportlab.pdfgen.canvas import Canvas

from xref.pages.content import PageContent, Word
from xref.pages.reader import DocumentReader

Draw = Callable[[Canvas], None]


def draw_pdf(path: Path, *pages: Draw, size: tuple[float, float] = (612, 792)) -> Path:
    """Draw a page with each function."""
    canvas = Canvas(str(path), pagesize=size, invariant=1)
    for page in pages:
        canvas.setFont("Helvetica", 10)
        page(canvas)
        canvas.showPage()
    canvas.save()
    return path


def set_boxes(
    path: Path,
    *,
    rotate: int = 0,
    crop: tuple[float, float, float, float] | None = None,
    media: tuple[float, float, float, float] | None = None,
) -> Path:
    """Give the first page a /Rotate, a crop box and a media box."""
    document = pdfium.PdfDocument(path.read_bytes())
    page = document[0]
    page.set_rotation(rotate)
    if media:
        page.set_mediabox(*media)
    if crop:
        page.set_cropbox(*crop)
    page.close()
    document.save(str(path))
    document.close()
    return path


def read(path: Path, page: int = 1) -> PageContent:
    """Read one page in full."""
    with DocumentReader(path) as reader:
        return reader.content(page)


def texts(content: PageContent) -> list[str]:
    """Return the words' texts in reading order."""
    return [w.text for w in content.words]


def word(content: PageContent, text: str) -> Word:
    """Return the one word with this text."""
    (found,) = [w for w in content.words if w.text == text]
    return found
