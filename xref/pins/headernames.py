"""Names that stand in a cell of a table's header: in its corner, or in a box beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pages.content import Word
from xref.pins.designators import TOKEN
from xref.pins.heading import WAYS, parse_heading
from xref.pins.plain import plain
from xref.tables.lines import Line
from xref.tables.page import PageReading
from xref.tables.table import Around, Table
from xref.tables.vocabulary import CAVITY_LIKE, header_roles

#: Names in headers are a habit when so many tables have another one.
FEWEST_NAMED = 2
#: Names in headers differ from table to table, in this share of them.
SHARE_ANOTHER = 0.8
#: A column is one of values, or of cavities, when so many of its cells are.
MOSTLY = 0.5
#: A text is a word for a column from this score on.
HEADER_WORD = 0.5
#: Titles in boxes are a habit from so many on; their tables have more columns than this.
FEWEST_CORNERS = 3
FEWEST_COLUMNS = 2


def names_in_headers(readings: Sequence[PageReading]) -> dict[tuple[int, int], tuple[Around, bool]]:
    """Return the names that stand in one cell of a table's header, as in its corner, by page and table.

    One table alone may have a column about another connector: several have it, each another name, or the
    cell says that it names one. It is not sure (False) in the first row, beside words of the header: the
    table was cut too wide.
    """
    found: dict[tuple[int, int], tuple[Around, bool]] = {}
    names: set[str] = set()
    worded: set[tuple[int, int]] = set()
    for table in (t for r in readings for t in r.tables if t.has_header):
        sure = _names_of(table.header)
        cells = sure or _names_of(_second_header(table))
        if len(cells) != 1 or (cells[0][0] > 0 and _has_values(table, cells[0][0])):
            continue
        at, text = cells[0]
        box = replace(table.box, x0=table.edges[at], x1=table.edges[at + 1])
        word = Word(text=text, box=box, size=table.size, bold=True)
        line = Line(words=(word,), box=box, size=table.size)
        key = (table.page, table.number)
        found[key] = Around(line=line, where="title", gap=0.0), bool(sure)
        names.add(text)
        if parse_heading(text).worded:
            worded.add(key)
    usual = len(names) >= max(FEWEST_NAMED, SHARE_ANOTHER * len(found))
    own = found if usual else {k: v for k, v in found.items() if k in worded}
    return _names_in_corners(readings) | own


def _names_in_corners(readings: Sequence[PageReading]) -> dict[tuple[int, int], tuple[Around, bool]]:
    """Return the titles in boxes at the left of their tables that were taken for a column.

    It holds nothing but the title, broken over lines, and a count of ways; each table has another one.
    """
    found: dict[tuple[int, int], tuple[Around, bool]] = {}
    names: set[str] = set()
    for table in (t for r in readings for t in r.tables if t.has_header and t.columns > FEWEST_COLUMNS):
        text = _corner(table)
        if text:
            box = replace(table.box, x1=table.edges[1])
            line = Line(
                words=(Word(text=text, box=box, size=table.size, bold=True),), box=box, size=table.size
            )
            found[table.page, table.number] = Around(line=line, where="title", gap=0.0), True
            names.add(text)
    return found if len(names) >= max(FEWEST_CORNERS, SHARE_ANOTHER * len(found)) else {}


def _corner(table: Table) -> str:
    """Return the title in the first column, "" where it holds values or its header is a known word."""
    header = plain(table.header[0])
    texts = [plain(b.cells[0].text) for b in table.bands]
    filled = [t for t in texts if t]
    if (
        not header
        or not any(map(str.isalpha, header))
        or max(header_roles(header).values(), default=0.0) >= HEADER_WORD
    ):
        return ""
    if texts[: len(filled)] != filled or len(filled) > MOSTLY * len(texts):
        return ""
    ways = next((n for n, t in enumerate(filled) if WAYS.fullmatch(t)), len(filled))
    title = " ".join([header, *filled[:ways]])
    return f"{title} ({filled[ways]})" if ways < len(filled) else title


def _has_values(table: Table, column: int) -> bool:
    """True for a column of texts that are no cavities: its header says what they are."""
    texts = [b.cells[column].text for b in table.bands if b.cells[column].text]
    cavities = sum(bool(CAVITY_LIKE.fullmatch(t)) for t in texts)
    return len(texts) > MOSTLY * len(table.bands) and cavities < MOSTLY * len(texts)


def _names_of(header: Sequence[str]) -> list[tuple[int, str]]:
    return [(n, text) for n, t in enumerate(header) if (text := plain(t)) and _is_name(text)]


def _second_header(table: Table) -> tuple[str, ...]:
    """Return the first row of a table where all but one of its cells are words for columns."""
    texts = tuple(c.text for c in table.bands[0].cells) if table.bands else ()
    words = sum(max(header_roles(t).values(), default=0.0) >= HEADER_WORD for t in texts if t)
    return texts if words >= FEWEST_NAMED and words == sum(map(bool, texts)) - 1 else ()


def _is_name(text: str) -> bool:
    """True for a header text that is a name: a designator, or a number by itself, that heads no column."""
    if max(header_roles(text).values(), default=0.0) >= HEADER_WORD:
        return False
    head = parse_heading(text)
    own = head.designator and (head.worded or head.connector == text)
    return own or bool(TOKEN.fullmatch(text))
