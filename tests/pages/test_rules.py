"""Lines, thin boxes, outlines, dashes and fills, on drawn pages."""

from __future__ import annotations

from pathlib import Path

import pytest
import typst
from fpdf import FPDF
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, read
from xref.pages.content import PageContent, Rule


def _rounded(rule: Rule) -> tuple[int, int, int, int]:
    return round(rule.x0), round(rule.top), round(rule.x1), round(rule.bottom)


def _rules(path: Path) -> list[tuple[int, int, int, int]]:
    return [_rounded(r) for r in read(path).rules]


def test_a_drawn_line_is_a_rule(tmp_path: Path) -> None:
    """A stroked line is one rule in the displayed frame, horizontal or vertical."""

    def draw(canvas: Canvas) -> None:
        canvas.line(100, 700, 400, 700)
        canvas.line(100, 700, 100, 500)
        canvas.line(100, 100, 400, 300)

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert [(_rounded(r), r.horizontal) for r in content.rules] == [
        ((100, 92, 400, 92), True),
        ((100, 92, 100, 292), False),
    ]


@pytest.mark.parametrize("thickness", [0.3, 1.0, 1.9])
def test_a_thin_filled_box_is_a_rule(tmp_path: Path, thickness: float) -> None:
    """A filled rectangle thinner than two points is a line, no fill."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.rect(100, 700, 300, thickness, stroke=0, fill=1))
    content = read(path)
    assert [r.horizontal for r in content.rules] == [True] and not content.fills


def test_an_outlined_box_gives_its_four_sides(tmp_path: Path) -> None:
    """A stroked rectangle is four rules and no fill."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.rect(100, 600, 300, 100))
    assert _rules(path) == [
        (100, 92, 400, 92),
        (100, 192, 400, 192),
        (100, 92, 100, 192),
        (400, 92, 400, 192),
    ]
    assert not read(path).fills


def test_a_filled_box_is_a_fill_with_its_color(tmp_path: Path) -> None:
    """A large filled rectangle is a fill; its sides are rules only if they are stroked; white is paper."""

    def draw(canvas: Canvas) -> None:
        canvas.setFillColorRGB(0.8, 0.9, 1.0)
        canvas.rect(100, 600, 300, 14, stroke=0, fill=1)
        canvas.rect(100, 560, 300, 14, stroke=1, fill=1)
        canvas.setFillColorRGB(1, 1, 1)
        canvas.rect(100, 500, 300, 14, stroke=0, fill=1)

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert [f.color for f in content.fills] == [pytest.approx((0.8, 0.9, 1.0), abs=1 / 255)] * 2
    assert len(content.rules) == 4


def test_a_rounded_box_is_a_fill_and_its_straight_sides(tmp_path: Path) -> None:
    """A rectangle with round corners counts as one; a circle does not."""

    def draw(canvas: Canvas) -> None:
        canvas.setFillGray(0.8)
        canvas.roundRect(100, 600, 300, 40, 6, stroke=1, fill=1)
        canvas.circle(300, 300, 50, stroke=1, fill=1)

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert len(content.fills) == 1 and len(content.rules) == 4


@pytest.mark.parametrize(("dash", "gap"), [(1, 1), (1, 2), (3, 2), (6, 4), (10, 5)])
def test_dashes_drawn_one_by_one_are_one_rule(tmp_path: Path, dash: float, gap: float) -> None:
    """A row of short strokes is one line from its first to its last piece, in either direction."""

    def draw(canvas: Canvas) -> None:
        place = 100.0
        while place < 400:
            canvas.line(place, 700, place + dash, 700)
            canvas.line(100, place, 100, place + dash)
            place += dash + gap

    rules = read(draw_pdf(tmp_path / "a.pdf", draw)).rules
    assert [r.horizontal for r in rules] == [True, False]
    assert all(max(r.x1 - r.x0, r.bottom - r.top) == pytest.approx(300, abs=16) for r in rules)


def test_dots_are_one_rule(tmp_path: Path) -> None:
    """A row or a column of square dots is one line; a few dots are none."""

    def draw(canvas: Canvas) -> None:
        for i in range(80):
            canvas.rect(100 + 3 * i, 700, 0.8, 0.8, stroke=0, fill=1)
            canvas.rect(100, 400 + 3 * i, 0.8, 0.8, stroke=0, fill=1)
        for i in range(3):
            canvas.rect(450 + 3 * i, 300, 0.8, 0.8, stroke=0, fill=1)

    rules = read(draw_pdf(tmp_path / "a.pdf", draw)).rules
    assert [r.horizontal for r in rules] == [True, False]


def test_a_dash_pattern_is_one_rule(tmp_path: Path) -> None:
    """A line drawn with a dash pattern is one line."""

    def draw(canvas: Canvas) -> None:
        canvas.setDash(2, 2)
        canvas.line(100, 700, 400, 700)

    assert _rules(draw_pdf(tmp_path / "a.pdf", draw)) == [(100, 92, 400, 92)]


def test_doubled_and_touching_lines_are_one(tmp_path: Path) -> None:
    """Two strokes side by side are one rule, and so are cell borders end to end with a gap at the corner."""

    def draw(canvas: Canvas) -> None:
        canvas.line(100, 700, 400, 700)
        canvas.line(100, 698.5, 400, 698.5)
        for cell in range(5):
            canvas.line(100 + 60 * cell + 0.5, 600, 160 + 60 * cell - 0.5, 600)

    assert _rules(draw_pdf(tmp_path / "a.pdf", draw)) == [(100, 93, 400, 93), (100, 192, 400, 192)]


def test_tables_side_by_side_keep_their_own_lines(tmp_path: Path) -> None:
    """Lines at one height with room between them stay two."""

    def draw(canvas: Canvas) -> None:
        canvas.line(72, 700, 280, 700)
        canvas.line(300, 700.8, 540, 700.8)

    assert len(_rules(draw_pdf(tmp_path / "a.pdf", draw))) == 2


def _grid_lines(content: PageContent) -> tuple[int, int]:
    """Count rules of at least a row's height, horizontal and vertical."""
    long = [r for r in content.rules if max(r.x1 - r.x0, r.bottom - r.top) >= 10]
    return sum(r.horizontal for r in long), sum(not r.horizontal for r in long)


def test_cells_drawn_each_with_its_border_make_a_grid(tmp_path: Path) -> None:
    """A table whose cells each carry a border (fpdf2) has one rule for each edge of the grid."""
    pdf = FPDF(unit="pt")
    pdf.add_page()
    pdf.set_font("Helvetica", size=9)
    for row in range(6):
        for cell in ("1", "BK/WH", "1440", "Lamp"):
            pdf.cell(90, 14, f"{cell}{row}", border=1)
        pdf.ln(14)
    pdf.output(str(tmp_path / "a.pdf"))
    assert _grid_lines(read(tmp_path / "a.pdf")) == (7, 5)


def test_a_typeset_table_makes_a_grid(tmp_path: Path) -> None:
    """A table set by typst has one rule for each edge of the grid and its stripes as fills."""
    source = tmp_path / "a.typ"
    source.write_text(
        "#set page(width: 400pt, height: 300pt)\n"
        "#table(columns: (40pt, 60pt, 60pt), stroke: 0.5pt,"
        " fill: (x, y) => if calc.odd(y) { luma(220) },\n"
        + ",\n".join(f"[{r}], [BK/WH], [14{r:02}]" for r in range(8))
        + ")\n",
        encoding="utf-8",
    )
    typst.compile(str(source), output=str(tmp_path / "a.pdf"))
    content = read(tmp_path / "a.pdf")
    assert _grid_lines(content) == (9, 4)
    assert len({round(f.box.top) for f in content.fills}) == 4


def test_lines_outside_the_page_are_cut_or_left_out(tmp_path: Path) -> None:
    """A line that leaves the page ends at its edge; one beyond it is not there."""

    def draw(canvas: Canvas) -> None:
        canvas.line(-200, 700, 900, 700)
        canvas.line(100, 900, 400, 900)

    assert _rules(draw_pdf(tmp_path / "a.pdf", draw)) == [(0, 92, 612, 92)]
