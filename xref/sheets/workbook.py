"""The only door to openpyxl: flat tables here, and what the module sheet needs of a workbook."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from xref.errors import CannotWrite
from xref.sheets.shape import Cell, Shape
from xref.sheets.texts import fit_for_files, looks_like_formula

#: Limits of the file format as spreadsheet programs keep them: rows of a sheet, characters of a cell.
MOST_ROWS = 1_048_576
MOST_CHARACTERS = 32_767
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
