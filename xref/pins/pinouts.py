"""The tables of a document in order: which of them are pinouts, and how each is read."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from xref.pages.content import Word
from xref.pins.heading import DESIGNATOR, SPACED, parse_heading, parse_pairs, shape_of, without_number
from xref.pins.naming import CERTAIN, ascends, name_table, near_cavities
from xref.pins.plain import plain
from xref.records import Box
from xref.rows.assemble import table_to_rows
from xref.rows.continued import continue_table
from xref.rows.plan import Plan, table_to_plans
from xref.rows.row import Row
from xref.rows.taught import taught_plans
from xref.tables.lines import Line
from xref.tables.page import PageReading
from xref.tables.surroundings import pairs_of_grid
from xref.tables.table import Around, Band, Cell, Table
from xref.tables.vocabulary import CAVITY_LIKE

#: A line of the page's head that comes back on this many pages is a running title, no heading; one with a
#: designator only when it stands over this share of the pages with tables, for a long table has pages too.
RUNNING = 3
RUNNING_SHARE = 0.7
#: A headerless table is read by its content only when it has this many rows at least.
FEWEST_ROWS = 3
#: A count of ways behind a connector's name.
WAYS_SAID = re.compile(
    r"[(,\s]*\d{1,3}\s*[-–]?\s*(?:way|pin|pol|voie|vía|vie|poli|極|P\b)\w*\.?\)?", re.IGNORECASE
)
#: A title in a cell of its own has so many words at least; a lone designator may be a cell's content.
FEWEST_WORDS = 2
#: A form of cavities is one when so many of a table's have it; titles taken for cavities are fewer.
SHARE_OF_FORM = 0.4
#: A cell over this share of the columns is a title, whatever it says.
SPANNING = 0.6
#: A block of keys and values has no more lines than this.
MOST_HEAD = 6
#: A box with the name of a connector has no more lines than this.
MOST_BOXED = 2
#: A block of keys and values stands this close over its table, points.
RIGHT_OVER = 40.0


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
    running = _running_titles(readings)
    found: list[Pinout] = []
    for reading in readings:
        above: Table | None = None
        for original in reading.tables:
            table = _with_head_above(_without_running(original, running), above)
            table = _with_own_last_title(_with_swallowed_titles(table, above))
            own = table
            table = _with_lines_beyond(table, reading.tables, found)
            above = original
            if len(table.bands) <= MOST_HEAD and parse_pairs(pairs_of_grid(table.bands)) is not None:
                continue
            pinout = _pinout(reading, table, found[-1] if found else None)
            if pinout is not None:
                found += _segments(replace(pinout, borrowed=table is not own))
    return found


def _pinout(reading: PageReading, table: Table, before: Pinout | None) -> Pinout | None:
    original = table
    table, plans, doubts = _plans(table, before)
    blocks = tuple((plan, tuple(rows)) for plan in plans if (rows := _rows(table, plan)))
    if not blocks:
        return None
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


def _running_titles(readings: Sequence[PageReading]) -> set[str]:
    counts: Counter[str] = Counter()
    pages = 0
    for reading in readings:
        texts = {_shape(a.line.text) for t in reading.tables for a in t.around if a.where == "page"}
        pages += bool(reading.tables)
        counts.update(texts)
    return {
        text
        for text, n in counts.items()
        if n >= RUNNING and (n >= RUNNING_SHARE * pages or not DESIGNATOR.search(text))
    }


def _shape(text: str) -> str:
    """A text without its page number."""
    return re.sub(r"^\W*\d{1,4}\W+|\W+\d{1,4}\W*$", "", text).strip()


def _without_running(table: Table, running: set[str]) -> Table:
    around = tuple(a for a in table.around if a.where != "page" or _shape(a.line.text) not in running)
    return replace(table, around=around)


def _with_head_above(table: Table, above: Table | None) -> Table:
    """A block of keys and values that was taken for a table of its own is the head of the one below."""
    if table.head or above is None:
        return table
    gap = table.box.top - above.box.bottom
    beside = min(above.box.x1, table.box.x1) > max(above.box.x0, table.box.x0)
    pairs = pairs_of_grid(above.bands) if beside and -2 <= gap <= RIGHT_OVER else ()
    if above.has_header and (parse_pairs(pairs) is None or len(above.bands) > MOST_HEAD):
        return table  # a table of its own; a head cut with the columns of another table names a connector
    return replace(table, head=pairs) if pairs else table


def _with_swallowed_titles(table: Table, above: Table | None) -> Table:
    """A heading that was taken for the last row of the table above stands over this one all the same."""
    if above is None or not above.bands or _own_last_title(above) is not None:
        return table
    band = above.bands[-1]
    boxed = not above.has_header and len(above.bands) <= MOST_BOXED
    if boxed:
        band = _joined(above)
    gap = table.box.top - band.box.bottom
    beside = min(above.box.x1, table.box.x1) > max(above.box.x0, table.box.x0)
    title = _title(above, band, "above", gap) if beside and -2 <= gap <= RIGHT_OVER else None
    return replace(table, around=(title, *table.around)) if title else table


def _own_last_title(table: Table) -> Around | None:
    """Return the name in the last row of a table that nothing over it names: it stands under its table."""
    if not table.bands or not table.has_header or table.head:
        return None
    if any(a.where in ("above", "title", "beside") for a in table.around):
        return None
    return _title(table, table.bands[-1], "title", 0.0, forms=())


def _with_own_last_title(table: Table) -> Table:
    title = _own_last_title(table)
    return replace(table, around=(title, *table.around)) if title else table


def _with_lines_beyond(table: Table, tables: Sequence[Table], found: Sequence[Pinout]) -> Table:
    """Where nothing names a table, the lines over a table right above that is no pinout may be its head."""
    if table.head or any(a.where in ("above", "title") for a in table.around):
        return table
    over = [
        t
        for t in tables
        if t.box.bottom <= table.box.top + 2 and min(t.box.x1, table.box.x1) > max(t.box.x0, table.box.x0)
    ]
    nearest = max(over, key=lambda t: t.box.bottom, default=None)
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
    titles = [
        (band.box, title) for band in table.bands if (title := _title(table, band, "title", 0.0, forms=forms))
    ]
    titles = _that_begin_anew(titles, pinout.blocks)
    if not titles:
        return [pinout]
    borders = [box.top for box, _ in titles]
    parts = []
    for n, low in enumerate([-math.inf, *borders]):
        high = [*borders, math.inf][n]
        head = titles[n - 1][0].bottom if n else low
        blocks = _within(pinout.blocks, head - 1, high - 1)
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


def _joined(table: Table) -> Band:
    """Return a small box of texts as one cell."""
    cells = [c for band in table.bands for c in band.cells if c.text and c.first]
    text = " ".join(c.text for c in cells)
    return Band(cells=(Cell(text=text, box=table.box, col_span=table.columns),), box=table.box)


def _title(
    table: Table,
    band: Band,
    where: Literal["title", "above"],
    gap: float,
    *,
    forms: Container[str] | None = None,
) -> Around | None:
    """Return a band with one text that says more than a cell would and names a connector, as a line.

    A lone designator will do where the forms of the cavities are given and it has none of these.
    """
    cells = [c for c in band.cells if c.text and c.first]
    if any(CAVITY_LIKE.fullmatch(c.text) and not DESIGNATOR.fullmatch(c.text) for c in cells):
        return None
    wide = bool(cells) and cells[0].col_span >= SPANNING * table.columns
    if len(cells) == 2 and forms is not None and _names_and_says(cells, forms):
        cells = [replace(cells[0], text=f"{cells[0].text} – {cells[1].text}")]
    if len(cells) != 1:
        return None
    alone = forms is not None and shape_of(cells[0].text) not in forms
    if len(cells[0].text.split()) < FEWEST_WORDS and not wide and not alone:
        return None
    head = parse_heading(plain(cells[0].text))
    begins = without_number(plain(cells[0].text)).startswith(head.connector)
    if not head.designator or not (head.worded or begins):
        return None
    word = Word(text=plain(cells[0].text), box=cells[0].box, size=table.size)
    return Around(line=Line(words=(word,), box=word.box, size=table.size), where=where, gap=gap)


def _names_and_says(cells: Sequence[Cell], forms: Container[str]) -> bool:
    """True for a name row in two pieces: the connector at the left, what it plugs into at the right."""
    head = parse_heading(plain(cells[0].text))
    own = plain(cells[0].text).strip() == head.connector and shape_of(head.connector) not in forms
    alone = head.worded or own
    words = cells[1].text.split()
    return head.designator and alone and any(len(w) > 3 and w.isalpha() for w in words)


def _plans(table: Table, before: Pinout | None) -> tuple[Table, list[Plan], tuple[str, ...]]:
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
