"""Opening documents, and what a first look at a page says."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from fixtures.hostile import HOSTILE, ODD_NAME, PASSWORD, write_hostile
from tests.pages.drawn import draw_pdf, set_boxes
from xref.errors import PageBroken, PasswordNeeded, UnreadableDocument
from xref.pages.images import image_share
from xref.pages.pdfium import MOST_PIXELS, PdfiumDocument, shown_name
from xref.pages.pictures import crop, page_picture
from xref.pages.triage import triage_page
from xref.records import Box
from xref.settings import DEFAULT


@pytest.mark.parametrize("name", [name for name, (_, outcome) in HOSTILE.items() if outcome == "open"])
def test_what_cannot_be_opened_is_one_sentence(tmp_path: Path, name: str) -> None:
    """A file that is no readable PDF gives one line that names it."""
    (path,) = write_hostile(tmp_path, [name])
    with pytest.raises(UnreadableDocument) as caught:
        PdfiumDocument(path)
    assert name in caught.value.message and "\n" not in caught.value.message
    assert caught.value.exit_code == 2


def test_missing_files_and_folders_are_named(tmp_path: Path) -> None:
    """A path that is no file gives one line that names it."""
    for path in (tmp_path / "gone.pdf", tmp_path):
        with pytest.raises(UnreadableDocument, match=path.name):
            PdfiumDocument(path)


def test_passwords_open_and_are_not_repeated(tmp_path: Path) -> None:
    """An encrypted document opens with its password; a wrong one is told apart and not quoted."""
    (path,) = write_hostile(tmp_path, ["encrypted.pdf"])
    with PdfiumDocument(path, PASSWORD) as document:
        assert "BK" in document.text(1)
    with pytest.raises(PasswordNeeded, match="needs a password"):
        PdfiumDocument(path)
    with pytest.raises(PasswordNeeded, match="does not open") as caught:
        PdfiumDocument(path, "sesame shut")
    assert "shut" not in caught.value.message + caught.value.hint


def test_odd_names_are_shown_without_control_characters() -> None:
    """A file's name cannot steer a terminal."""
    assert "\x1b" not in shown_name(Path(ODD_NAME))


def test_pages_that_are_not_there_are_said(tmp_path: Path) -> None:
    """Asking for page 0 or one past the last is an error with the number of pages."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, "x"))
    with PdfiumDocument(path) as document:
        for number in (0, 2):
            with pytest.raises(PageBroken, match="last one is 1"):
                document.text(number)


@pytest.mark.parametrize(("rotate", "size"), [(0, (380, 400)), (90, (400, 380))])
def test_sizes_are_as_displayed(tmp_path: Path, rotate: int, size: tuple[int, int]) -> None:
    """Width and height follow crop box and rotation."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, "x"))
    with PdfiumDocument(set_boxes(path, rotate=rotate, crop=(120, 300, 500, 700))) as document:
        assert document.size(1) == pytest.approx(size)


def _picture(canvas: Canvas, width: float, height: float) -> None:
    canvas.drawImage(ImageReader(Image.new("RGB", (40, 40), "navy")), 0, 0, width, height)


@pytest.mark.parametrize(("width", "height", "share"), [(612, 792, 1.0), (612, 396, 0.5), (306, 396, 0.25)])
def test_the_share_of_pictures_is_measured(tmp_path: Path, width: float, height: float, share: float) -> None:
    """The part of a page under pictures counts once, however many lie there, inside forms too."""

    def plain(canvas: Canvas) -> None:
        _picture(canvas, width, height)
        _picture(canvas, width, height)

    def in_form(canvas: Canvas) -> None:
        canvas.beginForm("f")
        _picture(canvas, width * 2, height * 2)
        canvas.endForm()
        canvas.scale(0.5, 0.5)
        canvas.doForm("f")

    path = draw_pdf(tmp_path / "a.pdf", plain, in_form)
    with PdfiumDocument(path) as document:
        assert [image_share(document, n) for n in (1, 2)] == pytest.approx([share, share], abs=0.03)


def test_pages_without_text_are_unread_only_if_something_is_drawn(tmp_path: Path) -> None:
    """A scan, also with a page number, and letters drawn as outlines are unread; an empty page is not."""

    def numbered(canvas: Canvas) -> None:
        _picture(canvas, 612, 700)
        canvas.drawString(300, 750, "12")

    def outlines(canvas: Canvas) -> None:
        for i in range(300):
            canvas.line(72 + i, 700, 74 + i, 708)

    def beside(canvas: Canvas) -> None:
        _picture(canvas, 612, 300)
        for row in range(6):
            canvas.drawString(72, 700 - 14 * row, f"{row + 1} BK/WH 14{row:02} Lamp")

    pages = (lambda c: _picture(c, 612, 792), numbered, outlines, lambda c: None, beside)
    with PdfiumDocument(draw_pdf(tmp_path / "a.pdf", *pages)) as document:
        seen = [triage_page(document, n, DEFAULT) for n in range(1, 6)]
    assert [(t.candidate, t.unread) for t in seen] == [
        (False, True),
        (False, True),
        (False, True),
        (False, False),
        (True, False),
    ]
    assert seen[0].why == seen[1].why == "picture only: no text to read"
    assert "picture covers" in seen[4].why


@pytest.mark.parametrize(
    ("high", "text", "unread"),
    [(160, "", True), (160, "Connector X5 p. 12", True), (60, "", True), (60, "Connector X5 p. 12", False)],
)
def test_a_small_scan_on_an_empty_page_is_unread(
    tmp_path: Path, high: float, text: str, *, unread: bool
) -> None:
    """A picture as large as a small table is the page where nothing else stands on it; a logo is none."""

    def page(canvas: Canvas) -> None:
        _picture(canvas, 612, high)
        canvas.drawString(72, 750, text)

    with PdfiumDocument(draw_pdf(tmp_path / "a.pdf", page)) as document:
        assert triage_page(document, 1, DEFAULT).unread is unread


def test_pictures_of_huge_pages_are_bounded(tmp_path: Path) -> None:
    """A page that claims ten million points still gives a picture of bounded size."""
    (path,) = write_hostile(tmp_path, ["enormous.pdf"])
    picture = page_picture(path, 1, dpi=110)
    assert 0 < picture.width * picture.height <= MOST_PIXELS * 1.01


def test_a_crop_stays_inside_the_picture(tmp_path: Path) -> None:
    """A box is cut with its margin, and never beyond the picture."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.rect(100, 600, 50, 50, fill=1))
    picture = page_picture(path, 1, dpi=72)
    piece = crop(picture, Box(x0=100, top=142, x1=150, bottom=192), 72, margin=-2)
    assert set(piece.convert("L").get_flattened_data()) == {0}
    assert crop(picture, Box(x0=-90, top=-90, x1=9000, bottom=9000), 72, margin=5).size == picture.size
    assert min(crop(picture, Box(x0=900, top=900, x1=901, bottom=901), 72).size) >= 1
