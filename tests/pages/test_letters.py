"""What is drawn but not plainly printed: hidden text, characters without meaning, hyphens at line ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from fixtures.hostile import write_hostile
from fixtures.stick.fonts import families, file_of
from fixtures.stick.manual import make_manual
from tests.pages.drawn import Draw, draw_pdf, read, texts
from xref.pages.reader import DocumentReader


def _picture(canvas: Canvas) -> None:
    canvas.drawImage(ImageReader(Image.new("RGB", (40, 40), "white")), 0, 500, 612, 292)


def _invisible(canvas: Canvas) -> None:
    text = canvas.beginText(72, 700)
    text.setTextRenderMode(3)
    text.textOut("1440")
    canvas.drawText(text)


def _transparent(canvas: Canvas) -> None:
    canvas.setFillAlpha(0)
    canvas.drawString(72, 700, "1440")


def _under(canvas: Canvas) -> None:
    canvas.drawString(72, 700, "1440")
    _picture(canvas)


def _over(canvas: Canvas) -> None:
    _picture(canvas)
    canvas.drawString(72, 700, "1440")


@pytest.mark.parametrize(
    ("draw", "hidden"), [(_invisible, True), (_transparent, True), (_under, True), (_over, False)]
)
def test_text_nobody_sees_is_marked(tmp_path: Path, draw: Draw, hidden: bool) -> None:
    """Invisible text and text under a picture may be a machine's guess; text over a picture is printed."""
    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert [(w.text, w.hidden) for w in content.words] == [("1440", hidden)]


@pytest.mark.parametrize(("drawn", "read_as"), [("-", "Ver-"), ("\u00ad", "Ver")])
def test_a_soft_hyphen_at_a_lines_end_is_none(tmp_path: Path, drawn: str, read_as: str) -> None:
    """A soft hyphen where a line was broken vanishes, a hyphen stays: the engine's text shows both alike."""
    file = next(file for name in families() if (file := file_of(name)))
    pdfmetrics.registerFont(TTFont("Soft", str(file)))

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Soft", 10)
        canvas.drawString(72, 714, "Hub-Mast Ver" + drawn)
        canvas.drawString(72, 700, "sorgung")

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["Hub-Mast", read_as, "sorgung"]


def test_pages_whose_characters_mean_nothing_are_unread(tmp_path: Path) -> None:
    """Where the PDF only numbers its characters, the numbers are not taken for letters."""
    truth = make_manual(1, tmp_path, layouts={"lost_letters"})
    assert truth.unread_pages
    with DocumentReader(truth.path) as reader:
        for page in truth.unread_pages:
            assert reader.triage(page).unread
            assert any(w.unmapped for w in reader.content(page).words)


@pytest.mark.parametrize("name", ["broken-filter.pdf", "broken-content.pdf"])
def test_damaged_content_is_unread_and_not_empty(tmp_path: Path, name: str) -> None:
    """A page whose content cannot be decoded is not passed over as one without text."""
    (path,) = write_hostile(tmp_path, [name])
    with DocumentReader(path) as reader:
        seen = reader.triage(1)
        assert seen.unread and "damaged" in seen.why
        assert reader.triage(2).candidate
