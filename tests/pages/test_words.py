"""Characters to words, on drawn pages."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, read, texts, word
from xref.pages.marks import Drawing, Glyph
from xref.pages.words import drawing_words


def _spaced(text: str, space: float, size: float = 10, x: float = 72, y: float = 700):  # type: ignore[no-untyped-def]
    def draw(canvas: Canvas) -> None:
        run = canvas.beginText(x, y)
        run.setFont("Helvetica-Bold", size)
        run.setCharSpace(space)
        run.textOut(text)
        canvas.drawText(run)

    return draw


def test_words_come_in_reading_order_whatever_the_drawing_order(tmp_path: Path) -> None:
    """Words are sorted from top to bottom and left to right, also when drawn at random."""
    cells = [(72 + 90 * c, 700 - 15 * r, f"w{r}x{c}") for r in range(10) for c in range(4)]
    shuffled = cells.copy()
    random.Random(1).shuffle(shuffled)

    def draw(canvas: Canvas) -> None:
        for x, y, text in shuffled:
            canvas.drawString(x, y, text)

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == [text for _, _, text in cells]


def test_letters_drawn_in_any_order_make_the_same_word(tmp_path: Path) -> None:
    """A word whose letters are drawn one by one from the back is still one word."""

    def draw(canvas: Canvas) -> None:
        x = 72 + canvas.stringWidth("MODULE", "Helvetica", 10)
        for letter in reversed("MODULE"):
            x -= canvas.stringWidth(letter, "Helvetica", 10)
            canvas.drawString(x, 700, letter)

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["MODULE"]


def test_a_real_blank_and_a_mere_gap_are_told_apart(tmp_path: Path) -> None:
    """`spaced` is true after a drawn blank and false after a gap without one."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "Lamp supply left")
        canvas.drawString(300, 700, "1440")

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert [(w.text, w.spaced) for w in content.words] == [
        ("Lamp", True),
        ("supply", True),
        ("left", True),
        ("1440", False),
    ]


@pytest.mark.parametrize("size", [5.0, 9.0, 24.0])
def test_gaps_scale_with_the_font_size(tmp_path: Path, size: float) -> None:
    """Text set slightly wide stays whole at every size; a gap of a third of the size parts it."""

    def draw(canvas: Canvas) -> None:
        _spaced("DYNAMO", 0.1 * size, size)(canvas)
        canvas.setFont("Helvetica", size)
        canvas.drawString(72, 600, "AB")
        canvas.drawString(72 + canvas.stringWidth("AB", "Helvetica", size) + size / 3, 600, "CD")

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["DYNAMO", "AB", "CD"]


@pytest.mark.parametrize("space", [3.0, 5.0, 7.5])
def test_letter_spaced_headings_are_joined(tmp_path: Path, space: float) -> None:
    """A heading with room between its letters is read as its words."""
    path = draw_pdf(tmp_path / "a.pdf", _spaced("CONNECTOR X12", space))
    assert texts(read(path)) == ["CONNECTOR", "X12"]


def test_headings_spaced_by_typed_blanks_are_joined(tmp_path: Path) -> None:
    """`S T E C K E R   M 4` typed with blanks is read as its words."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, "S T E C K E R   M 4"))
    assert texts(read(path)) == ["STECKER", "M4"]


@pytest.mark.parametrize("row", ["A B C D E F G H", "1 2 3 4 5 6 7 8", "X X X X X X", "A C E G I K", "R B G"])
def test_rows_of_single_characters_stay_apart(tmp_path: Path, row: str) -> None:
    """Column letters, cavity numbers and rows of marks are not joined."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, row))
    assert texts(read(path)) == row.split()


def test_unlike_gaps_are_not_joined(tmp_path: Path) -> None:
    """Single letters at uneven distances are cells of their own."""

    def draw(canvas: Canvas) -> None:
        for x, letter in zip((72, 83, 100, 111, 129, 144), "GNRBWY", strict=True):
            canvas.drawString(x, 700, letter)

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == list("GNRBWY")


@pytest.mark.parametrize("rise", [3.0, 4.0, 5.0])
def test_raised_footnote_numbers_are_no_part_of_the_value(tmp_path: Path, rise: float) -> None:
    """A small raised 1 glued to 12 is a mark; read as 121 it would name another cavity."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "12")
        width = canvas.stringWidth("12", "Helvetica", 10)
        canvas.setFont("Helvetica", 6)
        canvas.drawString(72 + width, 700 + rise, "1")
        run = canvas.beginText(72, 650)
        run.setFont("Helvetica", 10)
        run.textOut("1440")
        run.setFont("Helvetica", 6)
        run.setRise(rise)
        run.textOut("2)")
        run.setRise(0)
        run.setFont("Helvetica", 10)
        run.textOut(" lamp")
        canvas.drawText(run)

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert [(w.text, w.mark) for w in content.words] == [("12", "1"), ("1440", "2)"), ("lamp", "")]


def test_superscript_characters_are_marks_but_square_millimetres_are_not(tmp_path: Path) -> None:
    """`12¹` is 12 with a mark, `mm²` stays, and a footnote's own number stays text."""
    path = draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, "12¹ mm² 0.5mm² ³ see"))
    assert [(w.text, w.mark) for w in read(path).words] == [
        ("12", "1"),
        ("mm²", ""),
        ("0.5mm²", ""),
        ("³", ""),
        ("see", ""),
    ]


def test_a_small_line_below_a_large_one_is_no_mark(tmp_path: Path) -> None:
    """Small print on a line of its own keeps its words."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 14)
        canvas.drawString(72, 700, "X12")
        canvas.setFont("Helvetica", 7)
        canvas.drawString(98, 690, "2")

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["X12", "2"]


def _watermarked(canvas: Canvas, angle: float, grey: float, size: float) -> None:
    canvas.saveState()
    canvas.translate(306, 600)
    canvas.rotate(angle)
    canvas.setFillGray(grey)
    canvas.setFont("Helvetica-Bold", size)
    canvas.drawCentredString(0, -size / 3, "DRAFT")
    canvas.restoreState()
    for row in range(20):
        canvas.drawString(80, 740 - 14 * row, f"{row + 1}")
        canvas.drawString(250, 740 - 14 * row, "BK/WH supply of the lamp on the left")


@pytest.mark.parametrize(
    ("angle", "grey", "size"), [(45, 0.8, 90), (30, 0.0, 60), (0, 0.85, 80), (0, 0.1, 90), (90, 0.7, 60)]
)
def test_watermarks_are_taken_out_and_crossed_words_are_marked(
    tmp_path: Path, angle: float, grey: float, size: float
) -> None:
    """A watermark's letters are in no word; words it crosses say so, words far from it do not."""
    content = read(draw_pdf(tmp_path / "a.pdf", lambda c: _watermarked(c, angle, grey, size)))
    assert not any(w.size > 20 for w in content.words)
    assert len(content.words) == 20 * 9
    assert any(w.underlay for w in content.words)
    assert not any(w.underlay for w in content.words if w.box.x1 < 100)


def test_a_large_heading_is_no_watermark(tmp_path: Path) -> None:
    """Large light letters that cross nothing stay words."""

    def draw(canvas: Canvas) -> None:
        for row in range(20):
            canvas.drawString(80, 640 - 14 * row, "BK/WH supply of the lamp")
        canvas.setFont("Helvetica-Bold", 40)
        canvas.setFillGray(0.7)
        canvas.drawString(80, 700, "Harness")

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert word(content, "Harness").size == pytest.approx(40)
    assert not any(w.underlay for w in content.words)


def test_text_printed_twice_is_read_once(tmp_path: Path) -> None:
    """Letters printed again a hair beside themselves are one bold word; doubled letters stay two."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "Killswitch 1440")
        canvas.drawString(72.3, 700, "Killswitch 1440")

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert texts(content) == ["Killswitch", "1440"]
    assert all(w.bold for w in content.words)


def test_text_lying_over_other_text_is_not_interleaved(tmp_path: Path) -> None:
    """A cell that runs over into the next column leaves both texts whole."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "Windscreenheater")
        canvas.drawString(120, 700, "1440")

    assert sorted(texts(read(draw_pdf(tmp_path / "a.pdf", draw)))) == ["1440", "Windscreenheater"]


def test_a_letter_that_falls_on_its_like_is_no_second_print(tmp_path: Path) -> None:
    """Where text runs into the next column and two equal letters meet, both words stay whole."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "GF878")
        canvas.drawString(100.5 - canvas.stringWidth("Sb-", "Helvetica", 10), 700, "Sb-Gr")

    assert sorted(texts(read(draw_pdf(tmp_path / "a.pdf", draw)))) == ["GF878", "Sb-Gr"]


def test_columns_that_nearly_touch_stay_apart(tmp_path: Path) -> None:
    """Two cells drawn at different times with hardly any room between them are two words."""

    def draw(canvas: Canvas) -> None:
        for row in range(3):
            canvas.drawString(100, 700 - 14 * row, "GE528")
        for row in range(3):
            canvas.drawRightString(99.2, 700 - 14 * row, "R-P")

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["R-P", "GE528"] * 3


def test_trailing_blanks_of_a_neighbour_do_not_cut_a_word(tmp_path: Path) -> None:
    """Blanks drawn after one cell that reach over the next cell's text do not split it."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "BK" + " " * 40)
        canvas.drawString(120, 700, "1440")

    assert texts(read(draw_pdf(tmp_path / "a.pdf", draw))) == ["BK", "1440"]


def test_rotated_header_cells_read_along_their_direction(tmp_path: Path) -> None:
    """A header turned by 90° is one word a piece, with its box as it stands on the page."""

    def draw(canvas: Canvas) -> None:
        for row in range(10):
            canvas.drawString(72, 600 - 14 * row, f"{row + 1} BK 1440 Lamp supply")
        canvas.saveState()
        canvas.translate(80, 620)
        canvas.rotate(90)
        canvas.drawString(0, 0, "Cavity number")
        canvas.restoreState()

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert content.turned == 0
    cavity = word(content, "Cavity")
    assert cavity.box.height > 2 * cavity.box.width
    assert cavity.box.top > word(content, "number").box.bottom
    assert all(edge == (cavity.box.x0, cavity.box.x1) for edge in cavity.edges)


def test_each_character_has_its_edges(tmp_path: Path) -> None:
    """Edges are one pair a character, from left to right, over the word's box."""
    content = read(draw_pdf(tmp_path / "a.pdf", lambda c: c.drawString(72, 700, "office M12·X1 1440A")))
    for found in content.words:
        assert len(found.edges) == len(found.text)
        assert found.edges[0][0] == pytest.approx(found.box.x0)
        assert found.edges[-1][1] == pytest.approx(found.box.x1)
        assert list(found.edges) == sorted(found.edges)


def test_japanese_words_stay_whole(tmp_path: Path) -> None:
    """Japanese cells are words, not single characters, and Latin codes beside them stay whole."""
    pdfmetrics.registerFont(UnicodeCIDFont("HeiseiKakuGo-W5"))

    def draw(canvas: Canvas) -> None:
        canvas.setFont("HeiseiKakuGo-W5", 10)
        for column, text in enumerate(("端子番号", "線色", "回路No.", "未使用", "ECUアース")):
            canvas.drawString(72 + 90 * column, 700, text)

    content = read(draw_pdf(tmp_path / "a.pdf", draw))
    assert texts(content) == ["端子番号", "線色", "回路No.", "未使用", "ECUアース"]


def _line(text: str | list[str], size: float = 10.0, step: float = 6.0) -> Drawing:
    glyphs = tuple(
        Glyph(
            text=c,
            x0=72 + step * i,
            top=100,
            x1=72 + step * (i + 1),
            bottom=110,
            size=size,
            font="F",
            origin_x=72 + step * i,
            origin_y=108,
            order=i,
        )
        for i, c in enumerate(text)
    )
    return Drawing(width=600, height=800, glyphs=glyphs)


@pytest.mark.parametrize(
    ("drawn", "expected"),
    [
        (["1", "4", "\u00ad", "4", "0", "-"], ["1440-"]),
        (["1", "4", "4", "0", "\u00ad"], ["1440"]),
        (["M", "\u200b", "1", "\u2060", "2", "\ufeff"], ["M12"]),
        (["M", "1", "\u00a0", "X", "2"], ["M1", "X2"]),
        (["o", "\ufb03", "c", "e"], ["office"]),
        (["a", "\u202e", "b"], ["ab"]),
    ],
)
def test_characters_without_width_fold_away(drawn: list[str], expected: list[str]) -> None:
    """Soft hyphens, zero-width and direction characters vanish, no-break blanks part, ligatures open."""
    words = drawing_words(_line(drawn))
    assert [w.text for w in words] == expected
    assert all(len(w.edges) == len(w.text) for w in words)


@pytest.mark.parametrize(
    ("drawn", "expected"),
    [
        (["L", "4", "\u00ad", "1", "7"], ["L4-17"]),
        (["\u00ad"], ["-"]),
        (["B", "\u00ad", "G", "\u00ad"], ["B-G-"]),
    ],
)
def test_a_fonts_only_hyphen_is_a_hyphen_whatever_its_code(drawn: list[str], expected: list[str]) -> None:
    """Where a font draws U+00AD inside words and no other hyphen, that is printed: L4-17, not L417."""
    assert [w.text for w in drawing_words(_line(drawn))] == expected


@pytest.mark.parametrize("unknown", ["(cid:12)", "\ufffd", "\uf0b7", "\x1b", "\x07"])
def test_characters_without_meaning_are_marked(unknown: str) -> None:
    """A character the PDF does not explain is kept as one mark and its word says so."""
    (found,) = drawing_words(_line(["1", unknown, "4"]))
    assert found.text == "1\ufffd4" and found.unmapped


@pytest.mark.parametrize("bad", [[], [" "], ["\u200b"], [" ", " "]])
def test_nothing_printed_gives_no_word(bad: list[str]) -> None:
    """Blanks and invisible characters alone are no words."""
    assert drawing_words(_line(bad)) == ()
