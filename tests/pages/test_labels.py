"""The number printed on a page."""

from __future__ import annotations

from pathlib import Path

import pypdfium2 as pdfium
import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, read


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("83", "83"),
        ("Page 83", "83"),
        ("Seite 83", "83"),
        ("- 12 -", "12"),
        ("12 / 340", "12"),
        ("Page 83 of 109", "83"),
        ("8-34", "8-34"),
        ("E-12", "E-12"),
        ("xiv", "xiv"),
        ("Electrical system", ""),
        ("Rev. 3 of 2019-04", ""),
    ],
)
@pytest.mark.parametrize("y", [30, 765])
def test_a_number_alone_at_foot_or_head_is_the_label(tmp_path: Path, text: str, label: str, y: float) -> None:
    """A page number stands alone, with or without the word page, at foot or head."""

    def draw(canvas: Canvas) -> None:
        canvas.drawCentredString(306, y, text)
        canvas.drawString(72, 400, "7 BK 1440")

    assert read(draw_pdf(tmp_path / "a.pdf", draw)).label == label


def test_a_number_beside_a_running_head_is_the_label(tmp_path: Path) -> None:
    """A number at the edge counts beside words of its line, but not beside another number."""

    def one(canvas: Canvas) -> None:
        canvas.drawString(72, 30, "Lift truck manual")
        canvas.drawRightString(540, 30, "45")

    def two(canvas: Canvas) -> None:
        canvas.drawString(72, 30, "2019")
        canvas.drawRightString(540, 30, "45")

    path = draw_pdf(tmp_path / "a.pdf", one, two)
    assert [read(path, n).label for n in (1, 2)] == ["45", ""]


def test_the_pdfs_own_label_comes_first(tmp_path: Path) -> None:
    """Where the PDF has page labels, they are taken."""

    def draw(canvas: Canvas) -> None:
        canvas.addPageLabel(0, style="ROMAN_LOWER", start=4, prefix="A-")
        canvas.drawCentredString(306, 30, "99")

    path = draw_pdf(tmp_path / "a.pdf", draw)
    with pdfium.PdfDocument(str(path)) as document:
        assert read(path).label == document.get_page_label(0) != ""
