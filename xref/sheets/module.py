"""The cross-reference sheet of a module: the file's suffix decides the format, all say the same."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from xref.harness.answers import ModuleSheet
from xref.records import Pin
from xref.sheets.files import suffix_among, written_whole
from xref.sheets.sheet_words import sheet_in_words

if TYPE_CHECKING:
    from PIL.Image import Image

#: Gives the picture of a doubtful row as the page shows it, or None where there is none.
Pictures = Callable[[Pin], "Image | None"]

SHEET_SUFFIXES = (".pdf", ".xlsx", ".html", ".csv")


def write_module_sheet(sheet: ModuleSheet, path: Path, *, pictures: Pictures | None = None) -> None:
    """Write the sheet whole or not at all.

    `pictures` is asked once for every line in doubt. CSV has no pictures.

    Raises:
        UsageError: the suffix is none of the four.
        CannotWrite: the file cannot be written.
    """
    path = Path(path)
    suffix = suffix_among(path, SHEET_SUFFIXES, "a sheet")
    printed = sheet_in_words(sheet)
    ask = pictures or _no_picture
    # The writers bring heavy libraries, so only the one that is needed is loaded.
    with written_whole(path) as beside:
        if suffix == ".pdf":
            from xref.sheets.module_pdf import write_pdf

            write_pdf(printed, beside, ask)
        elif suffix == ".xlsx":
            from xref.sheets.module_xlsx import write_sheet_xlsx

            write_sheet_xlsx(printed, beside, ask)
        elif suffix == ".html":
            from xref.sheets.module_html import write_html

            write_html(printed, beside, ask)
        else:
            from xref.sheets.module_csv import write_sheet_csv

            write_sheet_csv(printed, beside)


def _no_picture(pin: Pin) -> None:
    return None
