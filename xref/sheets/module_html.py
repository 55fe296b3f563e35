"""The module sheet as one HTML file that needs nothing else, for a phone or a printer."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from xref.colors.words import text_on
from xref.records import Pin
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
    environment = Environment(
        loader=PackageLoader("xref.sheets", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    doubtful = [line.pin for part in sheet.parts for line in part.lines if line.doubts and line.pin]
    html = environment.get_template("sheet.html").render(
        sheet=sheet,
        ticks=TICKS,
        loud=LOUD,
        free_lines=FREE_LINES,
        free_title=FREE_TITLE,
        neighbors_title=NEIGHBORS_TITLE,
        neighbor_heads=NEIGHBOR_HEADS,
        neighbors_note=NEIGHBORS_NOTE,
        crops={None: "", **{pin: _data_address(ask(pin)) for pin in doubtful}},
        # A CSS string is written as a JSON string is; this text is the program's own.
        foot=Markup(json.dumps(sheet.caution_short)),
        edge=text_on,
    )
    path.write_text(html, encoding="utf-8", newline="\n")


def _data_address(image: Image | None) -> str:
    """Return a picture as an address that holds it, "" for none."""
    if image is None:
        return ""
    buffer = BytesIO()
    image.convert("RGB").save(buffer, "PNG", optimize=True)
    return f"data:image/png;base64,{base64.b64encode(buffer.getvalue()).decode('ascii')}"
