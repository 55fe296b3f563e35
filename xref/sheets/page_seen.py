"""What was seen on one page, put so that a person can follow it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from xref.colors.key import read_key
from xref.pages.content import PageContent
from xref.pins.parts import Part
from xref.records import Box, PageNote, Pin
from xref.rows.columns import Column
from xref.rows.plan import Plan, table_to_plans
from xref.rows.roles import table_to_columns
from xref.sheets.page_read import PageSeen
from xref.tables.table import Table
from xref.tables.vocabulary import best_role

#: A header text names a role from this likelihood on; below it is a guess at a word.
_KNOWN_WORD = 0.5
#: Fewer rows without a header are no table to go by.
_FEW_BANDS = 3

#: Roles of which a pinout has at least one beside its cavities.
_WIRE_ROLES = {"color", "circuit", "size", "function", "signal", "goes_to", "goes_from", "connector"}

#: Roles whose names say nothing to a person.
_ROLE_WORDS = {"distractor": "other kind of table", "ways": "number of cavities"}

#: Stands for a heading where each row names its own connector.
IN_ROWS = "in its rows"

#: Brings a box of the reading frame to the page as displayed.
ToPage = Callable[[Box], Box]

_KINDS = {
    "pins": "the cavities of a connector",
    "pair": "both halves of an in-line connector in one row",
    "ends": "wires from one end to the other",
    "splice": "splices",
    "ground": "grounds",
    "fuse": "fuses or relays",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnSeen:
    """One column of a table and what it was taken for. `by`: by its header, its content … ("": no role)."""

    number: int  #: from 1, left to right
    header: str
    role: str
    by: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerSeen:
    """A connector that a table (or a block of its columns) was given to, and by which words."""

    connector: str
    half: str
    heading: str
    heading_box: Box | None  #: None where the heading stands on another page or beside no table
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSeen:
    """One table of the page. Boxes are on the page as displayed."""

    number: int
    kind: str  #: ruled (by its lines) or aligned (by the white between its columns)
    box: Box
    bands: tuple[Box, ...]
    columns: tuple[ColumnSeen, ...]
    pinout: bool
    reason: str
    owners: tuple[OwnerSeen, ...] = ()
    lost: tuple[str, ...] = ()  #: header texts that found no column


@dataclass(frozen=True, slots=True, kw_only=True)
class PageExplained:
    """A page with everything that was seen on it. Boxes are in points of the page as displayed."""

    document: str
    pages: int
    note: PageNote
    width: float
    height: float
    turned: int  #: degrees the page was turned for reading
    rules: tuple[Box, ...] = ()
    words: tuple[Box, ...] = ()
    tables: tuple[TableSeen, ...] = ()
    rows: tuple[Pin, ...] = ()
    color_key: tuple[tuple[str, str], ...] = ()  #: colour codes that the page itself explains
    looked_at: bool = True  #: False where the text alone said that no pinout stands here


def explain_page(seen: PageSeen, document: str, size: tuple[float, float]) -> PageExplained:
    """Put together what was seen; `size` is the page's as displayed, points."""
    content = seen.content
    key = read_key(seen.reading.key_pairs) if seen.reading.key_pairs else None
    tables = (seen.unasked or seen.reading).tables
    return PageExplained(
        document=document,
        pages=seen.pages,
        note=seen.note,
        width=size[0],
        height=size[1],
        turned=content.turned if content else 0,
        rules=tuple(_rules(content)) if content else (),
        words=tuple(content.to_page(word.box) for word in content.words) if content else (),
        tables=tuple(_table(table, seen) for table in tables),
        rows=seen.pins,
        color_key=tuple(key.codes.items()) if key else (),
        looked_at=seen.unasked is None,
    )


def _rules(content: PageContent) -> Iterable[Box]:
    for rule in content.rules:
        yield content.to_page(Box(x0=rule.x0, top=rule.top, x1=rule.x1, bottom=rule.bottom))


def _table(table: Table, seen: PageSeen) -> TableSeen:
    parts = [part for part in seen.parts if part.table.number == table.number]
    to_page = (seen.unasked or seen.reading).to_page
    plans = [part.plan for part in parts] if parts else table_to_plans(table)
    columns = [] if parts else table_to_columns(table)
    read = parts[0].table if parts else table
    rows = sum(len(part.rows) for part in parts)
    return TableSeen(
        number=table.number,
        kind=table.kind,
        box=to_page(table.box),
        bands=tuple(to_page(band.box) for band in table.bands),
        columns=tuple(_columns(table, read, plans, columns, to_page)),
        pinout=bool(parts),
        reason=_why_pinout(parts, rows) if parts else why_no_pinout(table, columns, plans),
        lost=tuple(read.lost),
        owners=tuple(_owners(parts, seen.content, to_page)),
    )


def _why_pinout(parts: Sequence[Part], rows: int) -> str:
    kinds = dict.fromkeys(_KINDS.get(part.plan.kind, part.plan.kind) for part in parts)
    return f"read as {' and '.join(kinds)}: {rows} row{'' if rows == 1 else 's'}"


def why_no_pinout(table: Table, columns: Sequence[Column], plans: Sequence[Plan]) -> str:
    """Return the likeliest reason why a table gave no rows, in words of what is printed."""
    named = {text: best_role(text) for text in table.header if text}
    odd = [text for text, (role, score) in named.items() if role == "distractor" and score >= _KNOWN_WORD]
    if odd:
        return f"not a pinout: “{odd[0]}” heads tables of another kind"
    if not table.has_header and len(table.bands) < _FEW_BANDS:
        return f"not a pinout: no header, and only {len(table.bands)} lines"
    if plans and not table.has_header:
        return "not read: no header, and no heading near it names a connector"
    if plans:
        return "not a pinout: under its header no row has a cavity, or nothing names a connector"
    roles = {column.role for column in columns}
    if "cavity" not in roles:
        header = "its header names no cavities" if table.has_header else "no header"
        return f"not a pinout: {header}, and no column looks like a run of cavities"
    if not roles & _WIRE_ROLES:
        return "not a pinout: beside the cavities no column was found for a colour, circuit, size or function"
    return "not a pinout: cavities and texts, but nothing that belongs to a wire"


def _columns(
    table: Table, read: Table, plans: Sequence[Plan], open_columns: Sequence[Column], to_page: ToPage
) -> Iterable[ColumnSeen]:
    """Say of each column which roles it got and by what; `open_columns` where no plan came of them."""
    header = read.header if read.columns == table.columns else table.header
    for index in range(table.columns):
        roles = [
            (role, "content" if role in plan.guessed else _by(table, read, index))
            for plan in plans
            for role, at in plan.columns.items()
            if at == index
        ]
        roles += [
            (f"other {role.removeprefix('far_')}", _by(table, read, index))
            for plan in plans
            for role, at in plan.other.items()
            if at == index
        ]
        if not plans:
            roles = [
                (column.role, "content" if column.guessed else _by(table, read, index))
                for column in open_columns
                if column.index == index and column.role
            ]
        yield ColumnSeen(
            number=index + 1,
            header=header[index],
            role=" + ".join(
                dict.fromkeys(_ROLE_WORDS.get(role, role.replace("_", " ")) for role, _ in roles)
            ),
            by=" and ".join(dict.fromkeys(way for _, way in roles)),
            box=to_page(
                Box(
                    x0=table.edges[index],
                    top=table.box.top,
                    x1=table.edges[index + 1],
                    bottom=table.box.bottom,
                )
            ),
        )


def _by(table: Table, read: Table, index: int) -> str:
    if read.taught is not None:
        return "what the person taught"
    if not any(table.header) and any(read.header):
        return "the table it continues"
    return "header" if read.header[index] or (read.groups and read.groups[index]) else "content"


def _owners(parts: Sequence[Part], content: PageContent | None, to_page: ToPage) -> Iterable[OwnerSeen]:
    said = set()
    for part in parts:
        head = part.head
        in_rows = {(row.connector, row.half) for row in part.rows if row.connector}
        listed = bool(in_rows) and not head.connector
        halves = " / ".join(half for half in part.plan.halves if half)
        half = halves if part.plan.kind == "pair" else head.half if "inline" in head.kinds else ""
        heading, box = ("", None) if listed else _heading(part, content)
        for name, of in sorted(in_rows) if listed else [(head.connector, half)]:
            if (name, of, heading) not in said:
                said.add((name, of, heading))
                yield OwnerSeen(
                    connector=name,
                    half=of,
                    heading=IN_ROWS if listed else heading,
                    heading_box=to_page(box) if box else None,
                    doubts=tuple(dict.fromkeys(part.doubts)),
                )


def _heading(part: Part, content: PageContent | None) -> tuple[str, Box | None]:
    """Return the line by the table that prints the name it was given, the nearest above it first.

    A name in a list of keys and values over the table stands in no such line: then its word is looked for.
    """
    head, table = part.head, part.table
    for text in (head.text, head.connector, head.name):
        lines = [around for around in table.around if text and text in around.line.text]
        if lines:
            nearest = min(lines, key=lambda around: (around.where == "below", around.gap))
            return nearest.line.text, nearest.line.box
    over = [
        word
        for word in (content.words if content else ())
        if word.text == head.connector and word.box.bottom <= table.box.top + 1
    ]
    if not over:
        return "", None
    word = max(over, key=lambda word: word.box.bottom)
    key = next((key for key, value in table.head if head.connector in value), "")
    return f"{key} {word.text}".strip(), word.box
