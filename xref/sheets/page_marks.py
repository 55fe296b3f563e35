"""What was seen on a page, drawn over it: rules, tables, columns with their roles, headings, rows, doubts.

Texts stand beside the page, and over it only where the page is blank; lines tell things apart by their
kind, so that the drawing can be read in black and white too.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from xref.records import Box
from xref.sheets.drawing import LEADING, Area, Drawing, Label, Stroke, around, hatching, outline
from xref.sheets.page_gutters import Note, place_notes
from xref.sheets.page_legend import (
    BROKEN,
    DASHED,
    DOTTED,
    DOUBT,
    HEADING,
    NOT_TAKEN,
    ROW,
    RULE,
    SEEN,
    panel,
    wrapped,
)
from xref.sheets.page_legend import (
    SIZE as PANEL,
)
from xref.sheets.page_roles import RolePlaces, draw_roles, places_of_roles, role_words
from xref.sheets.page_seen import IN_ROWS, PageExplained, TableSeen
from xref.sheets.page_turned import upright
from xref.sheets.page_words import doubts_of_all, outcome_in_words, page_in_words, rows_of

if TYPE_CHECKING:
    from PIL.Image import Image

#: Fine enough for letters of 6 points on the page.
DOTS_PER_INCH = 150
#: Space around everything, points.
MARGIN = 10.0
#: Size of the letters that say what became of the page, points.
TITLE = 9.0
#: A small page gets a sheet of this width, so that the words below it have room, points.
NARROWEST = 420.0
#: A row narrower than this share of its table belongs to one of several blocks side by side.
_BLOCK = 0.7


def draw_page(page: PageExplained, picture: Image) -> Drawing:
    """Return the drawing of a page over its picture (any number of dots), so that its tables read upright."""
    page, picture = upright(page), picture.rotate(-page.turned, expand=True)
    places = places_of_roles(page)
    notes = [*_table_notes(page), *_role_notes(page, places), *_row_notes(page)]
    left = [note for note in notes if not note.right]
    right = [note for note in notes if note.right]
    wide_left, wide_right = (max((n.width for n in side), default=0.0) + MARGIN for side in (left, right))
    width = max(wide_left + page.width + wide_right + MARGIN, NARROWEST)
    title, top = _title(page, width)
    frame = Box(x0=wide_left, top=top, x1=wide_left + page.width, bottom=top + page.height)
    placed_left, low_left = place_notes(left, frame)
    placed_right, low_right = place_notes(right, frame)
    below = max(frame.bottom, low_left, low_right) + MARGIN
    words, end = panel(page, MARGIN, below, width - 2 * MARGIN)
    over = [_moved(shape, frame) for shape in _over_page(page, places)]
    shapes = [*title, *over, *placed_left, *placed_right, outline(frame, NOT_TAKEN, 0.6), *words]
    return Drawing(
        width=width,
        height=end + MARGIN,
        picture=_faded(picture),
        picture_box=frame,
        shapes=tuple(shapes),
    )


def _title(page: PageExplained, width: float) -> tuple[list[Label], float]:
    """Return which page this is and what became of it, and the height at which the page may begin."""
    y = MARGIN + TITLE / 2
    labels = []
    for text, bold in ((page_in_words(page), True), (outcome_in_words(page), False)):
        for line in wrapped(text, (width - 2 * MARGIN) * PANEL / TITLE, bold):
            labels.append(Label(x=MARGIN, middle=y, text=line, size=TITLE, bold=bold))
            y += TITLE * LEADING
    return labels, y + MARGIN / 2


def _faded(picture: Image) -> Image:
    """Return the page paler, so that what is drawn over it stands out."""
    from PIL import Image as Pictures

    base = picture.convert("RGB")
    return Pictures.blend(base, Pictures.new("RGB", base.size, (255, 255, 255)), 0.25)


def _over_page(page: PageExplained, places: RolePlaces) -> Iterable[Stroke | Area | Label]:
    """Yield what lies over the page itself, in its own points."""
    for box in _once(row.box for row in page.rows if row.flags):
        yield from hatching(around(box, 0.5), DOUBT, 0.4, 7.0)
    for rule in page.rules:
        yield Stroke(points=((rule.x0, rule.top), (rule.x1, rule.bottom)), color=RULE, width=1.0, dash=DOTTED)
    for table in page.tables:
        yield from _table(table)
    for owner in (owner for table in page.tables for owner in table.owners):
        if owner.heading_box is not None:
            yield outline(around(owner.heading_box, 1.5), HEADING, 0.8)
            yield outline(around(owner.heading_box, 3.2), HEADING, 0.8)
    for box in _once(row.box for row in page.rows):
        yield outline(around(box, 0.3), ROW, 0.7)
    yield from draw_roles(page, places)


def _table(table: TableSeen) -> Iterable[Stroke]:
    color = SEEN if table.pinout else NOT_TAKEN
    for band in table.bands:
        yield outline(band, color, 0.3)
    for column in table.columns[1:]:
        x = column.box.x0
        yield Stroke(points=((x, table.box.top), (x, table.box.bottom)), color=color, width=0.8, dash=DASHED)
    yield outline(around(table.box, 1.0), color, 1.4, () if table.pinout else BROKEN)


def _table_notes(page: PageExplained) -> Iterable[Note]:
    """Yield beside each table what it is, at the heading that named it."""
    for table in page.tables:
        right = _on_the_right(table, page)
        named = [owner for owner in table.owners if owner.heading != IN_ROWS]
        if not named:
            words = "named by its rows" if table.owners else "pinout" if table.pinout else "no pinout"
            yield Note(text=f"T{table.number} {words}", at=_corner(table.box, right), right=right, bold=True)
        for owner in named:
            name = " ".join(filter(None, (owner.connector, owner.half)))
            box = owner.heading_box
            doubtful = "?" if owner.doubts else ""
            said = "heading" if box is not None else "no heading here"
            yield Note(
                text=f"T{table.number} {name}{doubtful} ({said})",
                at=_side(box, right) if box is not None else _corner(table.box, right),
                right=right,
                bold=True,
            )


def _role_notes(page: PageExplained, places: RolePlaces) -> Iterable[Note]:
    """Yield the roles that found no place near their table as one note beside the page."""
    for table, placed in zip(page.tables, places, strict=True):
        shown = {column.number for column, _ in placed}
        left = [column for column in table.columns if column.number not in shown]
        if left and any(column.role for column in left):
            right = _on_the_right(table, page)
            for column in left:
                at = ((column.box.x0 + column.box.x1) / 2, table.box.top)
                yield Note(text=f"column {role_words(column)}", at=at, right=right)


def _row_notes(page: PageExplained) -> Iterable[Note]:
    """Yield beside each row its cavity, and its own doubts; those of every row of a table are said once."""
    for table in page.tables:
        rows = rows_of(page, table)
        shared = doubts_of_all(rows)
        several = len({row.connector for row in rows}) > 1
        for box in _once(row.box for row in rows):
            here = [row for row in rows if row.box == box]
            names = dict.fromkeys(f"{row.connector}:{row.cavity}" if several else row.cavity for row in here)
            own = dict.fromkeys(flag for row in here for flag in row.flags if flag not in shared)
            mark = " ?" if any(row.flags for row in here) else ""
            words = f"  {' '.join(own)}" if own else ""
            right = _on_the_right(table, page) or _right_block(box, table.box)
            yield Note(
                text=f"{' / '.join(names)}{mark}{words}", at=_side(box, right), right=right, bold=bool(mark)
            )


def _right_block(row: Box, table: Box) -> bool:
    """Say whether a row is one of the right of two blocks that share a table."""
    return row.width < _BLOCK * table.width and row.x0 + row.x1 > table.x0 + table.x1


def _on_the_right(table: TableSeen, page: PageExplained) -> bool:
    """Say whether another table stands left of it, so that its notes belong to the right side."""
    return any(
        other.box.x1 <= table.box.x0 + 2
        and other.box.top < table.box.bottom
        and table.box.top < other.box.bottom
        for other in page.tables
    )


def _side(box: Box, right: bool) -> tuple[float, float]:
    return (box.x1 if right else box.x0, (box.top + box.bottom) / 2)


def _corner(box: Box, right: bool) -> tuple[float, float]:
    return (box.x1 if right else box.x0, box.top)


def _once(boxes: Iterable[Box]) -> list[Box]:
    return list(dict.fromkeys(boxes))


def _moved(shape: Stroke | Area | Label, frame: Box) -> Stroke | Area | Label:
    """Bring a shape of the page to the page's place on the sheet."""
    dx, dy = frame.x0, frame.top
    if isinstance(shape, Stroke):
        points = tuple((x + dx, y + dy) for x, y in shape.points)
        return Stroke(points=points, color=shape.color, width=shape.width, dash=shape.dash)
    if isinstance(shape, Area):
        b = shape.box
        moved = Box(x0=b.x0 + dx, top=b.top + dy, x1=b.x1 + dx, bottom=b.bottom + dy)
        return Area(box=moved, color=shape.color)
    return Label(
        x=shape.x + dx,
        middle=shape.middle + dy,
        text=shape.text,
        size=shape.size,
        color=shape.color,
        bold=shape.bold,
    )
