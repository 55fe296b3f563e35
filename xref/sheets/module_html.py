"""The module sheet as one HTML file that needs nothing else, for a phone or a printer."""

from __future__ import annotations

import base64
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from xref.records import Pin
from xref.sheets.html import write_html_file
from xref.sheets.printed import (
    FREE_LINES,
    FREE_TITLE,
    LOUD,
    NEIGHBOR_HEADS,
    NEIGHBORS_NOTE,
    NEIGHBORS_TITLE,
    TICKS,
    PrintedSheet,
)

if TYPE_CHECKING:
    from PIL.Image import Image


def write_html(sheet: PrintedSheet, path: Path, ask: Callable[[Pin], Image | None]) -> None:
    """Write the sheet. Every text is escaped; crops are inside the file; no script, no outside address."""
    doubtful = [line.pin for part in sheet.parts for line in part.lines if line.doubts and line.pin]
    crops: dict[Pin | None, str] = {None: ""}
    crops |= {pin: _data_address(ask(pin)) for pin in doubtful}
    write_html_file(
        "sheet.html",
        path,
        foot=sheet.caution_short,
        sheet=sheet,
        ticks=TICKS,
        loud=LOUD,
        free_lines=FREE_LINES,
        free_title=FREE_TITLE,
        neighbors_title=NEIGHBORS_TITLE,
        neighbor_heads=NEIGHBOR_HEADS,
        neighbors_note=NEIGHBORS_NOTE,
        crops=crops,
    )


def _data_address(image: Image | None) -> str:
    """Return a picture as an address that holds it, "" for none."""
    if image is None:
        return ""
    buffer = BytesIO()
    image.convert("RGB").save(buffer, "PNG", optimize=True)
    return f"data:image/png;base64,{base64.b64encode(buffer.getvalue()).decode('ascii')}"
