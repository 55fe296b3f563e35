"""The words below a drawn page: what the lines mean, and for each table why it was or was not read."""

from __future__ import annotations

from collections.abc import Iterator

from xref.records import Box
from xref.sheets.drawing import (
    LEADING,
    Area,
    Color,
    Label,
    Stroke,
    broken,
    hatching,
    outline,
    text_width,
)
from xref.sheets.page_seen import PageExplained
from xref.sheets.page_words import (
    color_key_in_words,
    column_in_words,
    doubts_in_words,
    owner_in_words,
    rows_of,
    table_in_words,
)

#: Size of the letters, points.
SIZE = 8.0
_STEP = SIZE * LEADING
_SAMPLE, _GAP = 24.0, 12.0  #: a sample's length, and the room after its name

RULE: Color = (200, 0, 140)
SEEN: Color = (0, 70, 190)
NOT_TAKEN: Color = (100, 100, 100)
HEADING: Color = (0, 120, 60)
ROW: Color = (0, 0, 0)
DOUBT: Color = (200, 80, 0)

#: Kinds of lines, which are told apart without colours too.
DOTTED, DASHED, BROKEN = (1.2, 1.6), (4.0, 2.0), (8.0, 3.0, 2.0, 3.0)
#: The outline of a role that only the content of the column told.
CONTENT = (1.5, 1.0)

Shapes = list[Stroke | Area | Label]


def panel(page: PageExplained, x: float, top: float, width: float) -> tuple[Shapes, float]:
    """Return the panel with its upper left corner at (x, top), and the height at which it ends."""
    shapes, y = _key(x, top, width)
    for text, bold in _lines(page):
        for n, line in enumerate(wrapped(text, width - 10.0, bold)):
            y += _STEP
            indent = 0.0 if bold else 10.0
            shapes.append(
                Label(x=x + indent + (6.0 if n else 0.0), middle=y, text=line, size=SIZE, bold=bold)
            )
    return shapes, y + _STEP


def _lines(page: PageExplained) -> Iterator[tuple[str, bool]]:
    if page.color_key:
        yield color_key_in_words(page), True
    for table in page.tables:
        yield table_in_words(table), True
        for owner in table.owners:
            yield owner_in_words(owner), False
        yield "columns: " + " · ".join(map(column_in_words, table.columns)), False
        for doubt in doubts_in_words(rows_of(page, table)):
            yield doubt, False


def _key(x: float, top: float, width: float) -> tuple[Shapes, float]:
    """Return samples of every kind of line with their meaning, wrapped to the width."""
    shapes: Shapes = []
    at, y = x, top + _STEP / 2
    for name in ("rule", "pinout", "other", "columns", "heading", "row", "doubt", "header", "content"):
        text = _MEANINGS[name]
        wide = _SAMPLE + 4.0 + text_width(text, SIZE) + _GAP
        if at > x and at + wide > x + width:
            at, y = x, y + _STEP * 1.2
        shapes += _sample(name, Box(x0=at, top=y - 3.4, x1=at + _SAMPLE, bottom=y + 3.4))
        shapes.append(Label(x=at + _SAMPLE + 4.0, middle=y, text=text, size=SIZE))
        at += wide
    return shapes, y + _STEP / 2


_MEANINGS = {
    "rule": "rule seen",
    "pinout": "table read as a pinout",
    "other": "table that is no pinout",
    "columns": "border of columns",
    "heading": "heading that names a connector",
    "row": "row of pins, its cavity beside the page",
    "doubt": "row in doubt (?)",
    "header": "column's role by its header",
    "content": "role told by content only (?)",
}


def _sample(name: str, box: Box) -> Shapes:
    middle = (box.top + box.bottom) / 2
    if name == "rule":
        return [Stroke(points=((box.x0, middle), (box.x1, middle)), color=RULE, width=1.0, dash=DOTTED)]
    if name == "columns":
        return [Stroke(points=((box.x0, middle), (box.x1, middle)), color=SEEN, width=0.8, dash=DASHED)]
    if name == "heading":
        inner = Box(x0=box.x0 + 1.7, top=box.top + 1.7, x1=box.x1 - 1.7, bottom=box.bottom - 1.7)
        return [outline(box, HEADING, 0.8), outline(inner, HEADING, 0.8)]
    if name == "doubt":
        return [*hatching(box, DOUBT, 0.5, 5.0), outline(box, ROW, 0.7)]
    color, wide, dash = {
        "pinout": (SEEN, 1.4, ()),
        "other": (NOT_TAKEN, 1.4, BROKEN),
        "row": (ROW, 0.7, ()),
        "header": (SEEN, 0.6, ()),
        "content": (SEEN, 0.6, CONTENT),
    }[name]
    label = {"header": "2 color", "content": "2 color?"}.get(name, "")
    words = [Label(x=box.x0 + 1.0, middle=middle, text=label, size=6.0, bold=True)] if label else []
    return [outline(box, color, wide, dash), *words]


def wrapped(text: str, width: float, bold: bool = False) -> list[str]:
    """Break a text at blanks into lines of a width in points; a longer word is cut, never dropped."""
    return broken(text, width, SIZE, bold=bold)
