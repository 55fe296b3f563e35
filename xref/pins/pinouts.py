"""The tables of a document in order: which of them are pinouts, and how each is read."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref.pins.carriednames import plans_as_before, with_name_before
from xref.pins.designators import DESIGNATOR, SPACED, shape_of
from xref.pins.headernames import names_in_headers
from xref.pins.heading import parse_heading
from xref.pins.listednames import with_names_above
from xref.pins.naming import CERTAIN, ascends, name_table, near_cavities
from xref.pins.plain import plain
from xref.pins.running import running_titles, without_running
from xref.pins.titles import (
    is_counted_face,
    is_face,
    is_head,
    own_last_title,
    table_over,
    title_of_band,
    with_box_over,
    with_head_above,
    with_swallowed_titles,
)
from xref.records import Box
from xref.rows.assemble import table_to_rows
from xref.rows.continued import continue_table
from xref.rows.mirrored import is_mirrored
from xref.rows.plan import Plan, table_to_plans
from xref.rows.row import Row
from xref.rows.taught import taught_plans
from xref.tables.page import PageReading
from xref.tables.table import Around, Table

#: A headerless table is read by its content only when it has this many rows at least.
FEWEST_ROWS = 3
#: A count of ways behind a connector's name.
WAYS_SAID = re.compile(
    r"[(,\s]*\d{1,3}\s*[-–]?\s*(?:way|pin|pol|voie|vía|vie|poli|極|P\b)\w*\.?\)?", re.IGNORECASE
)
#: A form of cavities is one when so many of a table's have it; titles taken for cavities are fewer.
SHARE_OF_FORM = 0.4
#: The box of a table may reach a line under it by so much, points.
REACHED = 6.0

#: A title within a table, with its place.
Titled = tuple[Box, Around]
#: What tells one wire from another, the surest first.
WHAT = ("circuit", "signal", "function")
#: Blocks of columns side by side, each with its rows.
Blocks = tuple[tuple[Plan, tuple[Row, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinout:
    """A table that holds pins, block by block, before its connector is known."""

    page: PageReading
    table: Table
    blocks: Blocks
    cavities: tuple[str, ...]  #: in printed order
    doubts: tuple[str, ...] = ()
    borrowed: bool = False  #: what names it stands over another table, above it
    joined: bool = False  #: without a header of its own; columns as in the table before

    @property
    def listed(self) -> bool:
        """True when each row names its own connector."""
        return all(row.connector for _, rows in self.blocks for row in rows)

    @property
    def content(self) -> dict[str, str]:
        """Each cavity with its circuit, or else with what the wire is for."""
        rows = [row for _, own in self.blocks for row in own]
        return {r.cavity: next((r.values[k] for k in WHAT if r.values.get(k)), "") for r in rows}


def readings_to_pinouts(readings: Sequence[PageReading]) -> list[Pinout]:
    """Go through a document's tables in order and return those that are pinouts."""
    running = running_titles(readings)
    named = names_in_headers(readings)
    found: list[Pinout] = []
    for reading in readings:
        closed: set[int] = set()
        for original in reading.tables:
            above = table_over(original, reading.tables)
            table = with_head_above(without_running(original, running), above)
            over = table_over(above, reading.tables) if above is not None and is_face(above) else above
            table = with_swallowed_titles(table, over, own=bool(over and over.number in closed))
            last = own_last_title(table, _under(original, reading.tables))
            if last is not None:
                closed.add(table.number)
                table = replace(table, around=(last, *table.around))
            table = with_box_over(table, reading.tables)
            header, sure = named.get((table.page, table.number), (None, True))
            if header is not None:
                table = replace(table, around=(header, *table.around))
            own = table
            table = _with_lines_beyond(table, reading.tables, found)
            if is_head(table) or is_counted_face(original):
                continue
            pinout = _pinout(reading, table, found[-1] if found else None)
            if pinout is not None:
                doubts = pinout.doubts if sure else (*pinout.doubts, "heading-uncertain")
                found += _segments(replace(pinout, borrowed=table is not own, doubts=doubts))
    return [_with_lines_between(a, b) for a, b in zip(found, [*found[1:], None], strict=False)]


def _with_lines_between(pinout: Pinout, after: Pinout | None) -> Pinout:
    """A line that the box of a table reaches stands over the next table only: it may be under its own."""
    if after is None or after.page.page != pinout.page.page or after.table.number == pinout.table.number:
        return pinout
    own = pinout.table.box
    known = {a.line.text for a in pinout.table.around}
    lines = [
        replace(a, where="below", gap=0.0)
        for a in after.table.around
        if a.where == "above"
        and own.top < a.line.box.top < own.bottom < a.line.box.bottom + REACHED
        and a.line.text not in known
    ]
    if not lines or min(own.x1, after.table.box.x1) <= max(own.x0, after.table.box.x0):
        return pinout
    return replace(pinout, table=replace(pinout.table, around=(*pinout.table.around, *lines)))


def _pinout(reading: PageReading, table: Table, before: Pinout | None) -> Pinout | None:
    original = table
    table, plans, doubts = _plans(table, before)
    follows = (
        before is not None and table.page - before.page.page <= 1 and before.table.header == table.header
    )
    if before is not None and follows:
        plans = plans_as_before(table, plans, before.table, before.blocks)
    blocks: Blocks = tuple((p, with_names_above(p, rows)) for p in plans if (rows := _rows(table, p)))
    if not blocks:
        return None
    if before is not None and follows:
        blocks = with_name_before(blocks, before.blocks)
    return Pinout(
        page=reading,
        table=table,
        blocks=blocks,
        cavities=_cavities(blocks),
        doubts=(*doubts, *_few_rows(table, blocks)),
        joined=table is not original,
    )


def _rows(table: Table, plan: Plan) -> list[Row]:
    """Read a block; a row that was taken for its header names no connector."""
    rows = table_to_rows(table, plan)
    if plan.name in near_cavities([r.cavity for r in rows]):
        rows = table_to_rows(table, replace(plan, name=""))
    return [_named(r) for r in rows]


def _named(row: Row) -> Row:
    """Plain hyphens in a row's own connector; a word in small letters is hardly its name."""
    name = plain(row.connector)
    doubts = ("heading-uncertain",) if name.isalpha() and name.islower() else ()
    values = row.values
    if " " in name:
        head = parse_heading(name)
        spaced = [] if head.designator else SPACED.findall(name)
        if len(spaced) == 1:
            head = replace(head, connector=spaced[0], designator=True, name="")
        if head.designator and len(DESIGNATOR.findall(name)) < 2:
            # Designator, component and ways share the cell: `X51 Fan, 7-way`.
            said = head.name or WAYS_SAID.sub("", name.replace(head.connector, "", 1)).strip(" ,;:/()–-")
            values = values | {"component": values.get("component", "") or said}
            name = head.connector
    return replace(row, connector=name, values=values, doubts=(*row.doubts, *doubts))


def _under(table: Table, tables: Sequence[Table]) -> Table | None:
    """Return the next table below another one, in the same part of the page."""
    below = [
        t
        for t in tables
        if t.box.top >= table.box.bottom - 2 and min(t.box.x1, table.box.x1) > max(t.box.x0, table.box.x0)
    ]
    return min(below, key=lambda t: t.box.top, default=None)


def _with_lines_beyond(table: Table, tables: Sequence[Table], found: Sequence[Pinout]) -> Table:
    """Where nothing names a table, the lines over a table right above that is no pinout may be its head."""
    if table.head or any(a.where in ("above", "title") for a in table.around):
        return table
    nearest = table_over(table, tables)
    if nearest is None or any(p.table.page == table.page and p.table.number == nearest.number for p in found):
        return table
    lines = tuple(
        replace(a, gap=table.box.top - a.line.box.bottom) for a in nearest.around if a.where == "above"
    )
    return replace(table, around=(*lines, *table.around))


def _segments(pinout: Pinout) -> list[Pinout]:
    """Part a table at rows that name the next connector; each part has that row for its title."""
    table = pinout.table
    if pinout.listed or any(plan.kind != "pins" for plan, _ in pinout.blocks):
        return [pinout]
    counts = Counter(shape_of(c) for c in pinout.cavities)
    forms = {form for form, n in counts.items() if n >= SHARE_OF_FORM * len(pinout.cavities)}
    found = ((b.box, title_of_band(table, b, "title", 0.0, forms=forms)) for b in table.bands)
    titles = [(box, title) for box, title in found if title is not None]
    titles = _that_begin_anew(titles, pinout.blocks)
    if not titles:
        return [pinout]
    borders = [box.top for box, _ in titles]
    parts = []
    for n, low in enumerate([-math.inf, *borders]):
        high = [*borders, math.inf][n]
        head = titles[n - 1][0].bottom if n else low
        blocks = _within(pinout.blocks, head - 1, high - 1)
        if any(_runs_into(title, pinout.blocks) for title, _ in titles):
            blocks = _read_anew(table, pinout.blocks, head - 1, high - 1)
        if not blocks:
            continue
        around = (titles[n - 1][1],) if n else table.around
        own = replace(
            table,
            around=around,
            head=() if n else table.head,
            first_on_page=table.first_on_page and n == 0,
            last_on_page=table.last_on_page and n == len(borders),
        )
        parts.append(replace(pinout, table=own, blocks=blocks, cavities=_cavities(blocks)))
    return parts or [pinout]


def _runs_into(title: Box, blocks: Blocks) -> bool:
    """True where a row was read that holds a title's text."""
    return any(
        r.box.top < title.bottom - 1 and r.box.bottom > title.top + 1 for _, rows in blocks for r in rows
    )


def _read_anew(table: Table, blocks: Blocks, low: float, high: float) -> Blocks:
    """Read a part of a table again without the titles beside it."""
    bands = tuple(b for b in table.bands if low <= b.box.top < high)
    part = replace(table, bands=bands)
    return tuple((plan, tuple(rows)) for plan, _ in blocks if (rows := _rows(part, plan)))


def _that_begin_anew(titles: Sequence[Titled], blocks: Blocks) -> list[Titled]:
    """Keep the titles under which cavities begin anew, or none stand: a wrapped text may name one too."""
    kept: list[Titled] = []
    for box, title in titles:
        low = kept[-1][0].bottom if kept else -math.inf
        before = _cavities(_within(blocks, low - 1, box.top - 1))
        after = _cavities(_within(blocks, box.bottom - 1, math.inf))
        if not after or not before or after[0] in before or ascends(after[:1], before[-1:]):
            kept.append((box, title))
    return kept


def _within(blocks: Blocks, low: float, high: float) -> Blocks:
    """Return the rows of each block that stand between two heights of the page."""
    cut = ((plan, tuple(r for r in rows if low <= r.box.top < high)) for plan, rows in blocks)
    return tuple((plan, rows) for plan, rows in cut if rows)


def _cavities(blocks: Blocks) -> tuple[str, ...]:
    return tuple(r.cavity for _, rows in blocks for r in rows)


def _plans(table: Table, before: Pinout | None) -> tuple[Table, Sequence[Plan], tuple[str, ...]]:
    """Return the table (continued, if it is), its plans, and doubts about its columns."""
    if table.taught:
        return table, taught_plans(table), ("correction-unconfirmed",) if table.taught.earlier else ()
    if table.has_header:
        plans = table_to_plans(table)
        guessed = any(r in ("cavity", "color", "circuit") for p in plans for r in p.guessed)
        if guessed and not any({"color", "circuit"} & set(p.columns) for p in plans):
            return table, [], ()  # a numbered list of texts, as in a table of contents
        return table, plans, ("column-guessed",) if guessed else ()
    if before is not None and table.page - before.page.page <= 1:
        plans = [plan for plan, _ in before.blocks]
        joined = continue_table(table, before.table, plans)
        if joined is not None:
            return joined, plans, ()
    if len(table.bands) < FEWEST_ROWS:
        return table, [], ()
    plans = table_to_plans(table)
    naming = name_table(table)
    if naming is not None and naming.score >= CERTAIN and _all_counted(table, plans):
        return table, plans, ()
    if table.kind == "list" and plans and all(r.connector for p in plans for r in table_to_rows(table, p)):
        return table, plans, ()  # signals, each with the connectors and cavities where it is
    if is_mirrored(table, plans) and _all_counted(table, plans):
        return table, plans, ("column-guessed",)
    plans = [p for p in plans if "color" in p.facts or "circuit" in p.facts]
    if (naming is None or naming.score < CERTAIN) and not all("color" in p.columns for p in plans):
        return table, [], ()
    return table, plans, ("column-guessed",)


def _all_counted(table: Table, plans: Sequence[Plan]) -> bool:
    """True when the cavities of several blocks side by side, or of a list, are 1 to the last, each once."""
    names = [r.cavity for plan in plans for r in table_to_rows(table, plan)]
    if (
        (len(plans) < 2 and table.kind != "list")
        or len(names) < 2 * FEWEST_ROWS
        or not all(n.isdecimal() for n in names)
    ):
        return False
    return sorted(int(n) for n in names) == list(range(1, len(names) + 1))


def _few_rows(table: Table, blocks: Sequence[tuple[Plan, Sequence[Row]]]) -> tuple[str, ...]:
    """A good header with hardly a row under it, though there are lines, is a table half read."""
    bands = sum(1 for b in table.bands if any(c.text for c in b.cells))
    rows = sum(len(rows) for _, rows in blocks)
    return ("table-half-read",) if bands >= 6 and rows < 0.3 * bands else ()
