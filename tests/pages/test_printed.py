"""The page's text as pdfium parts it, in the frame the page is read in."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, read, set_boxes
from xref.pages.printed import pack_tokens
from xref.pages.reader import DocumentReader


def _row(canvas: Canvas) -> None:
    for x, text in ((72, "1"), (120, "BU/YE"), (180, "1440"), (240, "Work lamp")):
        canvas.drawString(x, 700, text)


def _tokens(path: Path) -> list[str]:
    with DocumentReader(path) as reader:
        return [t.text for t in reader.printed(1, reader.content(1).turned)]


def test_tokens_are_parted_by_blanks_and_gaps(tmp_path: Path) -> None:
    """Each cell's words stand alone, in printed order."""
    assert _tokens(draw_pdf(tmp_path / "a.pdf", _row)) == ["1", "BU/YE", "1440", "Work", "lamp"]


@pytest.mark.parametrize("crop", [None, (40, 50, 560, 760)])
def test_tokens_stand_where_the_words_stand(
    tmp_path: Path, crop: tuple[float, float, float, float] | None
) -> None:
    """Their boxes are in the frame of the page's words, crop box and all."""
    path = set_boxes(draw_pdf(tmp_path / "a.pdf", _row), crop=crop)
    words = {w.text: w.box for w in read(path).words}
    with DocumentReader(path) as reader:
        tokens = {t.text: t for t in reader.printed(1, 0)}
    for text in ("BU/YE", "1440"):
        box, token = words[text], tokens[text]
        assert abs(box.x0 - token.x0) < 1.5 and abs(box.x1 - token.x1) < 1.5
        assert box.top - 1.5 < token.middle < box.bottom + 1.5


def test_a_raised_mark_is_a_token_of_its_own(tmp_path: Path) -> None:
    """`12` with a small 1 behind it is not 121."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "12")
        canvas.setFont("Helvetica", 6)
        canvas.drawString(83.2, 703, "1")

    assert _tokens(draw_pdf(tmp_path / "a.pdf", draw)) == ["12", "1"]


def test_packed_tokens_come_out_as_they_went_in(tmp_path: Path) -> None:
    """Packing loses neither a character nor a digit of a place; no tokens pack to nothing."""
    with DocumentReader(draw_pdf(tmp_path / "a.pdf", _row)) as reader:
        tokens = reader.printed(1, 0)
    assert pack_tokens(tokens).tokens() == tokens
    assert not pack_tokens(()) and pack_tokens(()).tokens() == ()


def test_text_that_runs_sideways_is_left_alone(tmp_path: Path) -> None:
    """pdfium parts words along the width only; of a page that was turned for reading it tells nothing."""

    def draw(canvas: Canvas) -> None:
        canvas.rotate(90)
        for x, text in ((72, "1"), (120, "BU/YE"), (180, "1440")):
            canvas.drawString(x, -300, text)

    assert _tokens(draw_pdf(tmp_path / "a.pdf", draw)) == []
