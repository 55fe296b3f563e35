"""Marks on pictures of pages."""

from __future__ import annotations

from pathlib import Path

import pymupdf
import pytest
from PIL import Image

from xref.records import Box
from xref.sheets.picture import crop_row, drawn_page, mark_rows, marked, row_in_context

ROW = Box(x0=150, top=100, x1=400, bottom=120)


@pytest.fixture
def page(tmp_path: Path) -> Path:
    """Return a PDF whose one page has a black bar in the middle of the row."""
    path = tmp_path / "page.pdf"
    with pymupdf.open() as document:
        document.new_page(width=500, height=300).draw_rect((200, 105, 300, 115), fill=(0, 0, 0))
        document.save(path)
    return path


def test_marked_row_has_band_outline_and_label(page: Path, tmp_path: Path) -> None:
    """Within the box the paper is yellow and print stays black; an outline is around, a label beside."""
    mark_rows(page, 1, [(ROW, "M12 X1:7")], tmp_path / "out.png", dpi=72)
    image = Image.open(tmp_path / "out.png").convert("RGB")
    assert image.size == (500, 300)
    red, _, blue = image.getpixel((350, 110))  # type: ignore[misc]
    assert red > 240 > blue
    assert max(image.getpixel((250, 110))) < 40  # type: ignore[arg-type]
    assert max(image.getpixel((350, 98))) < 40  # type: ignore[arg-type]
    beside = image.crop((90, 100, 148, 120)).convert("L").getextrema()
    assert beside[0] < 40  # type: ignore[operator]
    assert image.getpixel((350, 200)) == (255, 255, 255)


def test_two_pins_of_one_row_share_one_label() -> None:
    """A row that prints both ends of a wire has both names beside it, none over the other."""
    paper = Image.new("RGB", (600, 100), "white")
    row = Box(x0=300, top=40, x1=500, bottom=55)
    both = marked(paper, 1, [(row, "A1:1"), (row, "X5-B:7"), (row, "A1:1")])
    assert both.tobytes() == marked(paper, 1, [(row, "A1:1, X5-B:7")]).tobytes()
    assert both.tobytes() != marked(paper, 1, [(row, "A1:1")]).tobytes()


def test_band_shows_in_grey() -> None:
    """In black and white the band is darker than paper and lighter than half."""
    image = marked(Image.new("RGB", (300, 100), "white"), 1, [(Box(x0=100, top=20, x1=250, bottom=60), "")])
    grey = image.convert("L").getpixel((200, 40))
    assert 128 < grey < 245  # type: ignore[operator]


@pytest.mark.parametrize(
    "box",
    [
        Box(x0=0, top=0, x1=500, bottom=300),
        Box(x0=-50, top=-9, x1=900, bottom=5),
        Box(x0=900, top=900, x1=950, bottom=950),
        Box(x0=10, top=10, x1=10, bottom=10),
    ],
)
def test_boxes_at_or_over_the_edge_do_no_harm(box: Box) -> None:
    """A box at the page's edge or beyond it is drawn as far as it is on the page."""
    assert marked(Image.new("RGB", (500, 300), "white"), 1, [(box, "制御 M12:7\x00")]).size == (500, 300)


def test_crop_holds_the_row_and_its_surroundings(page: Path) -> None:
    """A row's crop is the row with a margin around it."""
    image = crop_row(*drawn_page(page, 1, dpi=72), ROW)
    assert 250 < image.width < 290
    assert 20 < image.height < 60
    assert image.convert("L").getextrema()[0] < 40  # type: ignore[operator]


def test_marks_and_crops_keep_to_the_row_on_a_huge_page(tmp_path: Path) -> None:
    """A page too large for the dots asked for is marked and cropped where its row stands."""
    wide, high = 14000, 9000
    row = Box(x0=13000, top=8000, x1=13900, bottom=8400)
    path = tmp_path / "poster.pdf"
    with pymupdf.open() as document:
        document.new_page(width=wide, height=high).draw_rect((13100, 8100, 13800, 8300), fill=(0, 0, 0))
        document.save(path)
    image, scale = drawn_page(path, 1, dpi=150)
    assert scale < 150 / 72, "the page was to be drawn with fewer dots than asked"
    strip = crop_row(image, scale, row).convert("L")
    assert sum(strip.histogram()[:40]) > strip.width * strip.height / 4
    red, _, blue = marked(image, scale, [(row, "")]).getpixel((int(13050 * scale), int(8050 * scale)))  # type: ignore[misc]
    assert red > 240 > blue


def test_a_doubtful_row_is_shown_marked_with_the_lines_around_it(page: Path) -> None:
    """The strip has the page's whole width, begins well over the row, and holds it under a band."""
    image, scale = drawn_page(page, 1, dpi=72)
    strip = row_in_context(image, scale, ROW, "D12")
    assert strip.size == (500, 170)  # from the top edge of the page to 50 points under the row
    red, _, blue = strip.getpixel((350, 110))  # type: ignore[misc]
    assert red > 240 > blue
    low = row_in_context(image, scale, Box(x0=150, top=270, x1=400, bottom=290), "D13")
    assert low.size == (500, 160)  # from 130 points over the row to the lower edge of the page
