"""The only door to openpyxl: flat tables, and the laid-out sheet that `module_xlsx.py` fills."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from xref.colors.words import text_on
from xref.errors import CannotWrite
from xref.sheets.shape import Cell, Shape
from xref.sheets.texts import fit_for_files, looks_like_formula

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

#: Limits of the file format as spreadsheet programs keep them: rows of a sheet, characters of a cell.
MOST_ROWS = 1_048_576
MOST_CHARACTERS = 32_767
#: On nearly every computer; others put their like in its place.
_FONT = "Arial"
_LINE = 12.8  #: height of a line of 10 points
_HIGHEST = 409.0  #: points of the format's highest row
_CUT = " … [cut here: too long for a spreadsheet cell]"
#: The file format reads `_x0041_` as the letter A (ECMA-376 part 1, 22.9.2.19, ST_Xstring).
_ESCAPE_LIKE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")


def cell_text(text: str) -> str:
    """Return the text as a spreadsheet file may hold it; what is too long is cut where one sees it."""
    text = _ESCAPE_LIKE.sub("_x005F_", fit_for_files(text))
    return text if len(text) <= MOST_CHARACTERS else text[: MOST_CHARACTERS - len(_CUT)] + _CUT


def write_xlsx(shape: Shape, rows: Iterable[tuple[Cell, ...]], path: Path) -> int:
    """Write a workbook of one sheet row by row and return the number of rows.

    Every text is a text cell, also one that looks like a formula or a number.

    Raises:
        CannotWrite: more rows than a sheet can hold.
    """
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Font

    book = Workbook(write_only=True)
    sheet = book.create_sheet(shape.name[:31])
    sheet.freeze_panes = "A2"

    def as_cell(value: Cell) -> Any:
        # A blank text is left out: a spreadsheet's empty cell reads back as "".
        if not isinstance(value, str) or not value:
            return value if value != "" else None
        cell: Any = WriteOnlyCell(sheet)
        as_text_cell(cell, value)
        return cell

    head = [as_cell(name) for name in shape.columns]
    for cell in head:
        cell.font = Font(bold=True)
    sheet.append(head)
    count = 0
    for row in rows:
        count += 1
        if count >= MOST_ROWS:
            raise CannotWrite(
                f"{path.name}: a spreadsheet holds at most {MOST_ROWS:,} rows and this table has more.",
                hint="Export to .csv or .parquet instead.",
            )
        sheet.append([as_cell(value) for value in row])
    book.save(path)
    return count


def as_text_cell(cell: Any, text: str) -> None:
    """Put a text into a cell as text, whatever it looks like."""
    cell.value = cell_text(text)
    cell.data_type = "s"
    if looks_like_formula(text) or text.startswith("␍"):
        cell.quotePrefix = True


Tone = Literal["", "pale", "dark"]


def row_height(texts: Sequence[str], widths: Sequence[float]) -> float:
    """Return the height a row needs, in points: a spreadsheet does not work it out when it opens a file."""
    # A unit of width is a digit's; letters of a text are narrower, some 23 to 20 units.
    most = max(
        sum(max(1, -(-len(piece) * 20 // int(width * 23))) for piece in text.split("\n"))
        for text, width in zip(texts, widths, strict=True)
    )
    return min(_HIGHEST, max(18.0, most * _LINE + 3))


class LaidOut:
    """A worksheet filled from top to bottom, made to be printed: its first two rows stand on every page."""

    def __init__(
        self, name: str, widths: Sequence[float], *, printed: int, after: LaidOut | None = None
    ) -> None:
        from openpyxl import Workbook
        from openpyxl.utils import get_column_letter

        self._book: Any = after._book if after else Workbook()
        sheet: Any = self._book.create_sheet() if after else self._book.active
        self._sheet = sheet
        self._columns = len(widths)
        self._widths = tuple(widths)
        self._printed = printed  #: so many columns, from the first, are printed
        sheet.title = name
        sheet.freeze_panes = "A3"
        sheet.print_title_rows = "1:2"
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
        margins = sheet.page_margins  # inches
        margins.left = margins.right = 0.5
        margins.top, margins.bottom = 0.4, 0.6
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        for number, width in enumerate(widths, start=1):
            sheet.column_dimensions[get_column_letter(number)].width = width
        self.row = 0

    def further(self, name: str, widths: Sequence[float]) -> LaidOut:
        """Return a further worksheet of the same workbook, all columns printed."""
        self._end()
        return LaidOut(name, widths, printed=len(widths), after=self)

    def foot(self, left: str, right: str) -> None:
        """Set what stands at the foot of every printed page (`&P` is the page, `&N` their number)."""
        footer = self._sheet.oddFooter
        footer.left.text, footer.right.text = left, right
        footer.left.size = footer.right.size = 8

    def line(
        self,
        texts: Sequence[str],
        *,
        height: float,
        bold: Sequence[int] = (),
        tone: Tone = "",
        size: float = 10,
    ) -> int:
        """Add a row of text cells and return its number. `bold` names columns from 0."""
        from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

        self.row += 1
        thin = Side(style="thin", color="000000")
        dark = tone == "dark"
        fill = PatternFill("solid", fgColor="000000" if dark else "E8E8E8") if tone else None
        for number in range(self._columns):
            cell: Any = self._sheet.cell(self.row, number + 1)
            text = texts[number] if number < len(texts) else ""
            if text:
                as_text_cell(cell, text)
            cell.font = Font(
                name=_FONT, bold=dark or number in bold, size=size, color="FFFFFF" if dark else "000000"
            )
            cell.alignment = Alignment(wrap_text=True, vertical="bottom" if dark else "top")
            cell.border = Border(top=thin, bottom=thin, left=thin, right=thin)
            if fill:
                cell.fill = fill
        self._sheet.row_dimensions[self.row].height = height
        return self.row

    def across(self, text: str, *, size: float = 10, bold: bool = False, tone: Tone = "") -> int:
        """Add a row whose one text runs over the printed columns and return its number."""
        # About one character to a unit of column width at 10 points; bold runs wider.
        lines = max(1, -(-len(text) * size / 10 * 1.15 // sum(self._widths[: self._printed])))
        heavy = (0,) if bold else ()
        row = self.line([text], height=lines * size * 1.4 + 3, bold=heavy, tone=tone, size=size)
        self._sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=self._printed)
        return row

    def paint(self, column: int, color: str, text: str = "") -> None:
        """Fill a cell of the last row with a colour "#rrggbb", with a text that can be read on it."""
        from openpyxl.styles import Font, PatternFill

        cell: Any = self._sheet.cell(self.row, column + 1)
        cell.fill = PatternFill("solid", fgColor=color.lstrip("#").upper())
        if text:
            as_text_cell(cell, text)
        cell.font = Font(name=_FONT, size=8, bold=True, color=text_on(color).lstrip("#"))

    def picture(self, image: Picture, *, column: int, most_wide: float, dpi: float) -> None:
        """Lay a picture over the last row and make the row as high; `most_wide` in points."""
        from openpyxl.drawing.image import Image
        from openpyxl.utils import get_column_letter

        shrink = min(1.0, most_wide * dpi / 72 / image.width)
        buffer = BytesIO()
        image.convert("RGB").save(buffer, "PNG")
        drawing: Any = Image(buffer)
        # The file format counts pictures in pixels of 1/96 inch.
        drawing.width, drawing.height = image.width * shrink * 96 / dpi, image.height * shrink * 96 / dpi
        self._sheet.add_image(drawing, f"{get_column_letter(column + 1)}{self.row}")
        self._sheet.row_dimensions[self.row].height = min(400.0, drawing.height * 0.75 + 4)

    def save(self, path: Path) -> None:
        """Write the workbook, this worksheet being its last."""
        self._end()
        self._book.save(path)

    def _end(self) -> None:
        from openpyxl.utils import get_column_letter

        self._sheet.print_area = f"A1:{get_column_letter(self._printed)}{self.row}"
