"""What was seen on a page, drawn over it: rules, tables, columns with their roles, headings, rows, doubts.

Texts stand beside the page, and over it only where the page is blank; lines tell things apart by their
kind, so that the drawing can be read in black and white too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from xref.records import Box
from xref.sheets.drawing import LEADING, Area, Drawing, Label, Stroke, hatching, outline, text_width
from xref.sheets.page_gutters import Note, place_notes
from xref.sheets.page_legend import (
    BROKEN,
    CONTENT,
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
from xref.sheets.page_seen import IN_ROWS, ColumnSeen, PageExplained, TableSeen
from xref.sheets.page_turned import upright
from xref.sheets.page_words import doubts_of_all, outcome_in_words, page_in_words, rows_of

if TYPE_CHECKING:
    from PIL.Image import Image

#: Fine enough for letters of 6 points on the page.
DOTS_PER_INCH = 150
#: Size of the smallest letters, points: read at arm's length when the sheet is printed at full size.
SMALL = 7.0
#: Space around everything, points.
MARGIN = 10.0
#: Size of the letters that say what became of the page, points.
TITLE = 9.0
#: A small page gets a sheet of this width, so that the words below it have room, points.
NARROWEST = 420.0

#: Heights above and below a table, points, at which the role of a column may stand, nearest first.
_NEAR, _FAR, _STEP = 12.0, 44.0, 1.5
#: Blank kept around such a role, points.
_AIR = 1.5


def draw_page(page: PageExplained, picture: Image) -> Drawing:
    """Return the drawing of a page over its picture (any number of dots), so that its tables read upright."""
    page, picture = upright(page), picture.rotate(-page.turned, expand=True)
    notes = [*_table_notes(page), *_row_notes(page)]
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
    over = [_moved(shape, frame) for shape in _over_page(page)]
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


def _over_page(page: PageExplained) -> Iterable[Stroke | Area | Label]:
    """Yield what lies over the page itself, in its own points."""
    for box in _once(row.box for row in page.rows if row.flags):
        yield from hatching(_around(box, 0.5), DOUBT, 0.5, 5.0)
    for rule in page.rules:
        yield Stroke(points=((rule.x0, rule.top), (rule.x1, rule.bottom)), color=RULE, width=1.0, dash=DOTTED)
    for table in page.tables:
        yield from _table(table)
    for owner in (owner for table in page.tables for owner in table.owners):
        if owner.heading_box is not None:
            yield outline(_around(owner.heading_box, 1.5), HEADING, 0.8)
            yield outline(_around(owner.heading_box, 3.2), HEADING, 0.8)
    for box in _once(row.box for row in page.rows):
        yield outline(_around(box, 0.3), ROW, 0.7)
    yield from _roles(page)


def _table(table: TableSeen) -> Iterable[Stroke]:
    color = SEEN if table.pinout else NOT_TAKEN
    for band in table.bands:
        yield outline(band, color, 0.3)
    for column in table.columns[1:]:
        x = column.box.x0
        yield Stroke(points=((x, table.box.top), (x, table.box.bottom)), color=color, width=0.8, dash=DASHED)
    yield outline(_around(table.box, 1.0), color, 1.4, () if table.pinout else BROKEN)


def _roles(page: PageExplained) -> Iterable[Stroke | Area | Label]:
    """Yield each column's role in a blank place near its table, with a line to the column."""
    taken = [*page.words, *(table.box for table in page.tables)]
    for table in page.tables:
        color = SEEN if table.pinout else NOT_TAKEN
        for column, label in _placed_roles(table, page, taken):
            box = _room(label)
            taken.append(box)
            above = box.bottom <= table.box.top
            edge = (box.bottom, table.box.top) if above else (box.top, table.box.bottom)
            middle = (column.box.x0 + column.box.x1) / 2
            yield Stroke(points=tuple((middle, y) for y in edge), color=color, width=0.6)
            yield Area(box=box, color=(255, 255, 255))
            yield outline(box, color, 0.6, CONTENT if column.by == "content" else ())
            yield label


def role_words(column: ColumnSeen) -> str:
    """Return the role as it stands at the column: with a question mark where only the content told it."""
    return f"{column.number} {column.role or '–'}{'?' if column.by == 'content' else ''}"


def _placed_roles(
    table: TableSeen, page: PageExplained, taken: Sequence[Box]
) -> list[tuple[ColumnSeen, Label]]:
    """Find blank places for the roles of a table, all on one side where that can be.

    Where there is no room for a role, its number stands there, and the panel below the page says the rest.
    """
    for heights in (_heights(table, above=True, far=_NEAR), _heights(table, above=False, far=_FAR)):
        found = _in_turn(table, page, taken, heights)
        if len(found) == len(table.columns):
            return found
    every = [*_heights(table, above=True, far=_FAR), *_heights(table, above=False, far=_FAR)]
    best = _in_turn(table, page, taken, every)
    return best if len(best) == len(table.columns) else _in_turn(table, page, taken, every, numbers=True)


def _in_turn(
    table: TableSeen,
    page: PageExplained,
    taken: Sequence[Box],
    heights: Sequence[float],
    *,
    numbers: bool = False,
) -> list[tuple[ColumnSeen, Label]]:
    """Place the roles from left to right, each at the first of these heights that is blank there."""
    filled, found = list(taken), []
    for column in table.columns:
        texts = [role_words(column), *([str(column.number)] if numbers else [])]
        label = _first_free(texts, column, page, filled, heights)
        if label is not None:
            found.append((column, label))
            filled.append(_room(label))
    return found


def _first_free(
    texts: Sequence[str],
    column: ColumnSeen,
    page: PageExplained,
    filled: Sequence[Box],
    heights: Sequence[float],
) -> Label | None:
    middle = (column.box.x0 + column.box.x1) / 2
    for text in texts:
        wide = text_width(text, SMALL, bold=True)
        x = min(max(middle - wide / 2, _AIR), page.width - wide - _AIR)
        for y in heights:
            label = Label(x=x, middle=y, text=text, size=SMALL, bold=True)
            if _free(_around(_room(label), 0.4), page, filled):
                return label
    return None


def _heights(table: TableSeen, *, above: bool, far: float) -> list[float]:
    half = SMALL * LEADING / 2 + _AIR
    steps = [half + _STEP * n for n in range(1, int(far / _STEP))]
    return [table.box.top - step if above else table.box.bottom + step for step in steps]


def _room(label: Label) -> Box:
    return _around(label.box, _AIR)


def _free(box: Box, page: PageExplained, taken: Sequence[Box]) -> bool:
    inside = box.x0 >= 0 and box.top >= 0 and box.x1 <= page.width and box.bottom <= page.height
    return inside and not any(
        box.x0 < other.x1 and other.x0 < box.x1 and box.top < other.bottom and other.top < box.bottom
        for other in taken
    )


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
            right = _on_the_right(table, page)
            yield Note(
                text=f"{' / '.join(names)}{mark}{words}", at=_side(box, right), right=right, bold=bool(mark)
            )


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


def _around(box: Box, by: float) -> Box:
    return Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by)


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
