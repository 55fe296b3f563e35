"""The only door to reportlab: paper, type, and the small drawings of a printed sheet. Lengths in points."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color, HexColor, black, white
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    Image,
    KeepTogether,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from xref.colors.words import text_on
from xref.sheets.drawing import CAPITAL, Area, Drawing, Fill, Page, Shape, Stroke
from xref.sheets.printed import Wire
from xref.sheets.typeface import BOLD, JAPANESE, REGULAR, SIGNS, Face, in_runs

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

#: A4 lying down. What is printed keeps within the smaller of A4 and US Letter (792 × 612) when the page
#: is centred on Letter at full size: hence margins wider than a printer needs.
PAGE = (841.89, 595.28)
SIDE, ABOVE, BELOW = 43.0, 52.0, 46.0
WIDTH = PAGE[0] - 2 * SIDE
INK, GREY, PALE = black, Color(0.32, 0.32, 0.32), Color(0.9, 0.9, 0.9)
HAIR = 0.6
SMALL = 8  #: for references that are read close by

__all__ = ["CondPageBreak", "KeepTogether", "Spacer"]


@cache
def _faces(*, bold: bool) -> tuple[Face, ...]:
    """Register the fonts once and return them in order of preference."""
    first = _true_type("sheet-bold" if bold else "sheet", BOLD if bold else REGULAR)
    return (first, _true_type("sheet-signs", SIGNS), _true_type("sheet-japanese", JAPANESE))


def _true_type(name: str, path: Path) -> Face:
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(name, str(path)))
    font: Any = pdfmetrics.getFont(name)
    glyphs = font.face.charToGlyph
    return name, lambda character: ord(character) in glyphs


def marked_up(text: str, *, bold: bool = False) -> str:
    """Return a text of the manual as harmless paragraph markup, each run in a font that has it."""
    faces = _faces(bold=bold)
    return "".join(
        escape(run) if name == faces[0][0] else f'<font name="{name}">{escape(run)}</font>'
        for name, run in in_runs(text, faces)
    )


@cache
def _style(size: float, bold: bool, color: str, align: Literal[0, 1]) -> ParagraphStyle:
    return ParagraphStyle(
        f"s{size}{bold}{color}{align}",
        fontName=_faces(bold=bold)[0][0],
        fontSize=size,
        leading=size * 1.18,
        textColor=HexColor(color),
        alignment=align,
        splitLongWords=1,
    )


def words(
    text: str, size: float = 9, *, bold: bool = False, color: str = "#000000", centred: bool = False
) -> Paragraph:
    """Return a text as a paragraph that wraps; markup in it is shown, not obeyed."""
    return Paragraph(marked_up(text, bold=bold), _style(size, bold, color, 1 if centred else 0))


def mixed(parts: Sequence[tuple[str, bool]], size: float = 9, *, small: str = "") -> Paragraph:
    """Return one paragraph of (text, bold) parts, with a `small` text at its end."""
    plain = _style(size, False, "#000000", 0)
    bold = _faces(bold=True)[0][0]
    return Paragraph(
        "".join(
            f'<font name="{bold}">{marked_up(text, bold=True)}</font>' if heavy else marked_up(text)
            for text, heavy in parts
        )
        + (f' <font size="{SMALL}">{marked_up(small)}</font>' if small else ""),
        plain,
    )


class Swatch(Flowable):
    """A wire's colours: base, the stripe as a band along it, the ring as bars across; the code beside it."""

    wide, high = 34.0, 13.0

    def __init__(self, wire: Wire) -> None:
        super().__init__()
        self.wire = wire
        self.width, self.height = self.wide, self.high

    def draw(self) -> None:
        """Draw base, stripe and ring within an outline; a colour that is not known stays white with a "?"."""
        pen: Canvas = self.canv
        wire, wide, high = self.wire, self.wide, self.high
        pen.setFillColor(HexColor(wire.base) if wire.base else white)
        pen.rect(0, 0, wide, high, stroke=0, fill=1)
        if wire.stripe:
            _band(pen, wire.stripe, 0, high * 0.34, wide, high * 0.32)
        if wire.ring:
            for share in (0.2, 0.72):
                _band(pen, wire.ring, wide * share, 0, wide * 0.09, high)
        pen.setStrokeColor(INK)
        pen.setLineWidth(0.9)
        pen.rect(0, 0, wide, high, stroke=1, fill=0)
        if not wire.base:
            pen.setFillColor(INK)
            pen.setFont(_faces(bold=True)[0][0], high * 0.8)
            pen.drawCentredString(wide / 2, high * 0.22, "?")


def _band(pen: Canvas, color: str, x: float, y: float, wide: float, high: float) -> None:
    """Fill a band and edge it thinly, so that it shows on a base of the same grey."""
    pen.setFillColor(HexColor(color))
    pen.setStrokeColor(HexColor(text_on(color)))
    pen.setLineWidth(0.5)
    pen.rect(x, y, wide, high, stroke=1, fill=1)


class TickBox(Flowable):
    """An empty square to be ticked with a pen."""

    side = 13.0

    def __init__(self, side: float = side) -> None:
        super().__init__()
        self.side = self.width = self.height = side

    def draw(self) -> None:
        """Draw the square."""
        self.canv.setLineWidth(1)
        self.canv.rect(0, 0, self.side, self.side, stroke=1, fill=0)


class Blank(Flowable):
    """A field to write a reading into: a word before it, a rule to write on, a unit behind it."""

    high = 18.0

    def __init__(self, before: str, wide: float, unit: str = "") -> None:
        super().__init__()
        self.before, self.unit = before, unit
        self.width, self.height = wide, self.high

    def draw(self) -> None:
        """Draw the words and the rule."""
        self.canv.setFillColor(INK)
        start = line_of(self.canv, self.before, 0, 3, 8.5) + 3
        after = line_of(self.canv, self.unit, self.width, 3, 9, bold=True, right=True) if self.unit else 0.0
        self.canv.setLineWidth(HAIR)
        self.canv.line(start, 2, self.width - after - 3, 2)


class Upright(Flowable):
    """A short word turned to read from bottom to top, for the head of a narrow column."""

    def __init__(self, text: str, size: float = 8.5) -> None:
        super().__init__()
        self.text, self.size = text, size
        self.font = _faces(bold=True)[0][0]
        # No height of its own: the cell spans two rows, whose heights the other cells give.
        self.width, self.height = size, 1.0
        self.long = pdfmetrics.stringWidth(text, self.font, size)

    def draw(self) -> None:
        """Draw the word in white: it stands on the dark band."""
        self.canv.rotate(90)
        self.canv.setFillColor(white)
        self.canv.setFont(self.font, self.size)
        self.canv.drawString(0, -self.size * 0.8, self.text)


def picture(image: Picture, most_wide: float, most_high: float, dpi: float = 110.0) -> Flowable:
    """Return a picture at the size it has on the page, made smaller where it would not fit."""
    buffer = BytesIO()
    image.convert("RGB").save(buffer, "PNG")
    buffer.seek(0)
    shrink = min(1.0, most_wide * dpi / 72 / image.width, most_high * dpi / 72 / image.height)
    return Image(buffer, width=image.width * 72 / dpi * shrink, height=image.height * 72 / dpi * shrink)


class _RowsWhole(Table):
    """A table whose rows go to the next page whole; only one higher than a page is cut."""

    def split(self, width: float, height: float) -> list[Flowable]:
        """Return what fits into the height, and the rest."""
        on_a_fresh_page = height > PAGE[1] - ABOVE - BELOW - 1
        # Else reportlab would put the column heads a second time on this page, above half a row.
        self.splitInRow = 1 if on_a_fresh_page else 0
        parts: list[Flowable] = super().split(width, height)
        return parts


def grid(
    rows: Sequence[list[Any]],
    widths: Sequence[float],
    style: Sequence[tuple[Any, ...]],
    *,
    repeat: int = 0,
) -> Table:
    """Return a table whose first `repeat` rows stand again on every page it runs over."""
    kind = _RowsWhole if repeat else Table
    return kind(
        rows,
        colWidths=list(widths),
        style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *style],
        repeatRows=repeat,
        splitByRow=1,
        splitInRow=1,
        hAlign="LEFT",
    )


class _Numbered(Canvas):
    """Keeps the pages back until their number is known, then writes head and foot on each."""

    def __init__(self, *args: Any, margin: Callable[[Canvas, int, int], None], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._margin = margin
        self._kept: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802 - reportlab's name
        """Keep the page."""
        self._kept.append(dict(self.__dict__))
        # The one way reportlab offers to begin a page without writing the last one.
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        """Write all pages."""
        for number, state in enumerate(self._kept, start=1):
            self.__dict__.update(state)
            self._margin(self, number, len(self._kept))
            super().showPage()
        super().save()


def line_of(
    pen: Canvas, text: str, x: float, y: float, size: float, *, bold: bool = False, right: bool = False
) -> float:
    """Write one line at (x, y), or ending at x if `right`, and return its width."""
    runs = in_runs(text, _faces(bold=bold))
    wide = sum(pdfmetrics.stringWidth(run, name, size) for name, run in runs)
    at = x - wide if right else x
    for name, run in runs:
        pen.setFont(name, size)
        pen.drawString(at, y, run)
        at += pdfmetrics.stringWidth(run, name, size)
    return float(wide)


def shortened(text: str, size: float, most_wide: float, *, bold: bool = False) -> str:
    """Return the text, ended by "…" where it is too wide for the line; it stands in full elsewhere."""
    faces = _faces(bold=bold)

    def wide(candidate: str) -> float:
        return sum(pdfmetrics.stringWidth(run, name, size) for name, run in in_runs(candidate, faces))

    if wide(text) <= most_wide:
        return text
    while text and wide(text + "…") > most_wide:
        text = text[:-1]
    return text.rstrip() + "…"


def print_story(
    path: Path, title: str, story: list[Flowable], margin: Callable[[Canvas, int, int], None]
) -> None:
    """Lay the story out on pages; `margin(pen, page, pages)` draws what stands on every page."""
    frame = Frame(SIDE, BELOW, WIDTH, PAGE[1] - ABOVE - BELOW, 0, 0, 0, 0)
    first = _faces(bold=False)[0][0]
    document = BaseDocTemplate(
        str(path), pagesize=PAGE, title=title, invariant=1, author="", creator="xref", initialFontName=first
    )
    document.addPageTemplates([PageTemplate("sheet", [frame])])
    document.build(
        story,
        canvasmaker=lambda *args, **more: _Numbered(*args, margin=margin, **more),
    )


def write_drawing_pdf(drawings: Sequence[Drawing], path: Path) -> None:
    """Write each drawing as one page of its own size; its texts are text."""
    canvas = Canvas(str(path), invariant=1)
    for drawing in drawings:
        canvas.setPageSize((drawing.width, drawing.height))
        box, high = drawing.picture_box, drawing.height
        if drawing.picture is not None and box is not None:
            picture = ImageReader(drawing.picture)
            canvas.drawImage(picture, box.x0, high - box.bottom, width=box.width, height=box.height)
        for shape in drawing.shapes:
            _draw(canvas, high, shape)
        canvas.showPage()
    canvas.save()


def write_pages_pdf(pages: Iterable[Page], path: Path, title: str) -> None:
    """Write pages, each of its own size; their texts are text."""
    canvas = Canvas(str(path), invariant=1)
    canvas.setTitle(title)
    canvas.setCreator("xref")
    for page in pages:
        canvas.setPageSize((page.width, page.height))
        for shape in page.shapes:
            _draw(canvas, page.height, shape)
        canvas.showPage()
    canvas.save()


def _draw(canvas: Canvas, high: float, shape: Shape) -> None:
    """Draw a shape, measured from the top, on a page so high."""
    red, green, blue = (part / 255 for part in shape.color)
    canvas.setFillColorRGB(red, green, blue)
    canvas.setStrokeColorRGB(red, green, blue)
    if isinstance(shape, Stroke | Fill):
        outline = canvas.beginPath()
        outline.moveTo(shape.points[0][0], high - shape.points[0][1])
        for x, y in shape.points[1:]:
            outline.lineTo(x, high - y)
        if isinstance(shape, Fill):
            outline.close()
            canvas.drawPath(outline, stroke=0, fill=1)
            return
        canvas.setLineWidth(shape.width)
        canvas.setDash(list(shape.dash))
        canvas.drawPath(outline)
    elif isinstance(shape, Area):
        area = shape.box
        canvas.rect(area.x0, high - area.bottom, area.width, area.height, stroke=0, fill=1)
    else:
        canvas.saveState()
        canvas.translate(shape.x, high - shape.middle)
        canvas.rotate(90 if shape.turned else 0)
        text = canvas.beginText(0, -shape.size * CAPITAL / 2)
        for name, run in in_runs(shape.text, _faces(bold=shape.bold)):
            text.setFont(name, shape.size)
            text.textOut(run)
        canvas.drawText(text)
        canvas.restoreState()
