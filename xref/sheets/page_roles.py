"""What each column of a table was taken for, in a blank place of the page near it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from xref.records import Box
from xref.sheets.drawing import Area, Label, Stroke, around, outline, text_width
from xref.sheets.page_legend import CONTENT, NOT_TAKEN, SEEN
from xref.sheets.page_seen import ColumnSeen, PageExplained, TableSeen

#: Size of the letters, points: read at arm's length when the sheet is printed at full size.
SMALL = 7.0
#: Heights above and below a table, points, at which the role of a column may stand, nearest first.
_NEAR, _FAR, _STEP = 12.0, 44.0, 1.5
#: Blank kept around such a role, points.
_AIR = 1.0


#: The roles that found a blank place near their table, table by table.
RolePlaces = list[list[tuple[ColumnSeen, Label]]]


def places_of_roles(page: PageExplained) -> RolePlaces:
    """Find the places, table by table; a role without one is to be said beside the page."""
    taken = [*page.words, *(table.box for table in page.tables)]
    places: RolePlaces = []
    for table in page.tables:
        places.append(_placed_roles(table, page, taken))
        taken += [_room(label) for _, label in places[-1]]
    return places


def draw_roles(page: PageExplained, places: RolePlaces) -> Iterable[Stroke | Area | Label]:
    """Yield each column's role in its place, with a line to the column."""
    for table, placed in zip(page.tables, places, strict=True):
        color = SEEN if table.pinout else NOT_TAKEN
        for column, label in placed:
            box = _room(label)
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
    """Find blank places for the roles of a table, all on one side where that can be."""
    above, below = _heights(table, above=True, far=_NEAR), _heights(table, above=False, far=_FAR)
    for heights in (above, below):
        found = _in_turn(table, page, taken, heights)
        if len(found) == len(table.columns):
            return found
    return _in_turn(table, page, taken, [*above, *below, *_heights(table, above=True, far=_FAR)])


def _in_turn(
    table: TableSeen, page: PageExplained, taken: Sequence[Box], heights: Sequence[float]
) -> list[tuple[ColumnSeen, Label]]:
    """Place the roles from left to right, each at the first of these heights that is blank there."""
    filled, found = list(taken), []
    for column in table.columns:
        label = _first_free(column, page, filled, heights)
        if label is not None:
            found.append((column, label))
            filled.append(_room(label))
    return found


def _first_free(
    column: ColumnSeen, page: PageExplained, filled: Sequence[Box], heights: Sequence[float]
) -> Label | None:
    """Return the role at the first blank height from which its line to the column crosses no text."""
    middle = (column.box.x0 + column.box.x1) / 2
    wide = text_width(role_words(column), SMALL, bold=True)
    x = min(max(middle - wide / 2, _AIR), page.width - wide - _AIR)
    for y in heights:
        label = Label(x=x, middle=y, text=role_words(column), size=SMALL, bold=True)
        way = Box(x0=middle, top=min(y, column.box.top), x1=middle, bottom=max(y, column.box.bottom))
        crossed = any(_meet(way, word) and not _meet(word, column.box) for word in filled)
        if not crossed and _free(around(_room(label), 0.4), page, filled):
            return label
    return None


def _heights(table: TableSeen, *, above: bool, far: float) -> list[float]:
    half = SMALL / 2 + _AIR
    steps = [half + _STEP * n for n in range(1, int(far / _STEP))]
    return [table.box.top - step if above else table.box.bottom + step for step in steps]


def _room(label: Label) -> Box:
    """Return the box around a role: its capitals and what hangs below the line, with little air."""
    box, half = label.box, SMALL / 2 + _AIR
    return Box(x0=box.x0 - _AIR, top=label.middle - half, x1=box.x1 + _AIR, bottom=label.middle + half)


def _free(box: Box, page: PageExplained, taken: Sequence[Box]) -> bool:
    inside = box.x0 >= 0 and box.top >= 0 and box.x1 <= page.width and box.bottom <= page.height
    return inside and not any(_meet(box, other) for other in taken)


def _meet(box: Box, other: Box) -> bool:
    across = box.x0 < other.x1 and other.x0 < box.x1
    return across and box.top < other.bottom and other.top < box.bottom
