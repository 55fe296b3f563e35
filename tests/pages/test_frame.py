"""Boxes agree with the page as displayed, checked against the ink of pypdfium2's own picture of it."""

from __future__ import annotations

from pathlib import Path

import pypdfium2 as pdfium
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageDraw
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, read, set_boxes, texts
from xref.pages.content import PageContent
from xref.pages.turned import turn_box
from xref.records import Box

SCALE = 3


def _table(canvas: Canvas) -> None:
    for row in range(12):
        for column, text in enumerate((f"{row + 1}", "BK/WH", f"14{row:02}", "Lamp supply")):
            canvas.drawString(150 + 80 * column, 600 - 24 * row, text)
    canvas.drawString(20, 780, "outside")
    canvas.drawString(560, 10, "beyond")


def _stray_ink(path: Path, content: PageContent, margin: float = 1.0) -> tuple[int, int]:
    """Return how many dark pixels lie outside every word's box, and how many boxes hold none."""
    document = pdfium.PdfDocument(str(path))
    picture = document[0].render(scale=SCALE).to_pil().convert("L").point(lambda v: 255 if v < 128 else 0)
    document.close()
    assert abs(picture.width - SCALE * max(content.width, 1)) <= 2 or content.turned in (90, 270)
    outside = picture.copy()
    brush = ImageDraw.Draw(outside)
    bare = 0
    for word in content.words:
        box = content.to_page(word.box)
        sides = [int(SCALE * (v + m)) for v, m in zip(
            (box.x0, box.top, box.x1, box.bottom), (-margin, -margin, margin, margin), strict=True
        )]  # fmt: skip
        bare += picture.crop(sides).getbbox() is None
        brush.rectangle(sides, fill=0)
    return sum(outside.histogram()[128:]), bare


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
@pytest.mark.parametrize("crop", [None, (120.5, 300.25, 500, 700)])
@pytest.mark.parametrize("media", [None, (-50, -30, 612, 792), (40, 5, 600, 790)])
def test_boxes_cover_the_displayed_ink(
    tmp_path: Path,
    rotate: int,
    crop: tuple[float, float, float, float] | None,
    media: tuple[float, float, float, float] | None,
) -> None:
    """For any rotation, crop and media box, every word's box holds ink and no ink is left over."""
    path = set_boxes(draw_pdf(tmp_path / "a.pdf", _table), rotate=rotate, crop=crop, media=media)
    content = read(path)
    assert len(content.words) >= 40
    assert _stray_ink(path, content) == (0, 0)


def test_text_outside_the_crop_box_is_not_there(tmp_path: Path) -> None:
    """Text that a crop box hides is left out."""
    path = set_boxes(draw_pdf(tmp_path / "a.pdf", _table), crop=(120, 300, 500, 700))
    assert "outside" not in texts(read(path)) and "BK/WH" in texts(read(path))


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_sideways_text_is_turned_to_read(tmp_path: Path, turn: int) -> None:
    """A table drawn sideways reads in the same order as upright, and its boxes lie on the displayed ink."""

    def sideways(canvas: Canvas) -> None:
        canvas.translate(306, 396)
        canvas.rotate(turn)
        canvas.translate(-306, -396)
        for row in range(5):
            for column, text in enumerate(("7", "BK/WH", "1440")):
                canvas.drawString(200 + 60 * column, 450 - 20 * row, f"{text}{row}")

    path = draw_pdf(tmp_path / "a.pdf", sideways)
    content = read(path)
    assert content.turned == turn
    assert texts(content) == [f"{text}{row}" for row in range(5) for text in ("7", "BK/WH", "1440")]
    assert _stray_ink(path, content) == (0, 0)


@given(
    turn=st.sampled_from([0, 90, 180, 270]),
    width=st.floats(10, 2000),
    height=st.floats(10, 2000),
    sides=st.lists(st.floats(0, 2000), min_size=4, max_size=4),
)
def test_to_page_undoes_the_turn(turn: int, width: float, height: float, sides: list[float]) -> None:
    """A box of the displayed page, turned for reading and brought back, is where it was."""
    box = (min(sides[0], sides[2]), min(sides[1], sides[3]), max(sides[0], sides[2]), max(sides[1], sides[3]))
    x0, top, x1, bottom = turn_box(box, turn, width, height)
    sideways = turn in (90, 270)
    content = PageContent(
        number=1,
        label="",
        width=height if sideways else width,
        height=width if sideways else height,
        words=(),
        turned=turn,
    )
    back = content.to_page(Box(x0=x0, top=top, x1=x1, bottom=bottom))
    assert (back.x0, back.top, back.x1, back.bottom) == pytest.approx(box, abs=1e-6)
