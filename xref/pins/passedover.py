"""Tables that look like pinouts and gave no row: whoever asks must hear of them."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from xref.pins.naming import CERTAIN, Naming, name_table
from xref.pins.plain import plain
from xref.pins.running import running_titles, without_running
from xref.pins.titles import is_counted_face, is_face, is_head
from xref.records import Box, Pin
from xref.rows.content import clean_cavity, is_cavity
from xref.rows.evidence import filled_texts, sure_cavities
from xref.tables.page import PageReading
from xref.tables.table import Table
from xref.tables.vocabulary import best_role

#: So many cavities that count on, from the first, are those of a housing.
FEWEST_CAVITIES = 3
#: Headers for these say from this score on that a table is of another kind.
OTHER_KINDS = frozenset({"distractor", "rating", "expected", "fuse", "goes_from"})
KNOWN = 0.6
#: The first cavities of a housing: `1`, `A1`, `A`.
FIRST = re.compile(r"[A-Za-z]?-?0?[01]|[Aa]")
#: What stands beside a cavity and is no longer than this may be a circuit, a colour or both of a wire.
LONGEST_OF_WIRE = 16
#: This share of a column must be such texts, several of them different.
SHARE_OF_WIRES = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class PassedOver:
    """A table that looks like a pinout, of which nothing was read."""

    page: int
    heading: str


def tables_passed_over(readings: Sequence[PageReading], pins: Iterable[Pin]) -> tuple[PassedOver, ...]:
    """Return the tables that gave no row although a connector's name stands over cavities that count on.

    `pins` are what the document gave. Under a name that one of them has a table needs no count of ways and
    no word for connector; on the page of the connector's own rows it says more of them, and is no pinout.
    """
    places = {(p.page, p.table_no, p.connector) for p in pins}
    read = {(page, number) for page, number, _ in places}
    connectors = {name for _, _, name in places}
    beside = {(page, name) for page, _, name in places}
    running = running_titles(readings)
    found = []
    for reading in readings:
        taken = [t.box for t in reading.tables if (t.page, t.number) in read]
        for original in reading.tables:
            if (original.page, original.number) in read or any(_overlap(original.box, b) for b in taken):
                continue
            table = without_running(original, running)
            naming = _named(table, connectors)
            if naming is not None and (reading.page, plain(naming.head.connector)) not in beside:
                found.append(PassedOver(page=reading.page, heading=plain(naming.head.text)))
    return tuple(found)


def _named(table: Table, connectors: Collection[str]) -> Naming | None:
    """Return what names a table that looks like a pinout; None for any other table."""
    if is_face(table) or is_head(table) or is_counted_face(table) or not _counts(table):
        return None
    if any(role in OTHER_KINDS and score >= KNOWN for role, score in map(best_role, table.header)):
        return None
    naming = name_table(table)
    if naming is None or naming.score < CERTAIN or not naming.head.designator:
        return None
    head = naming.head
    counted = head.ways is not None and head.ways >= len(_first_column(table))
    known = plain(head.connector) in connectors or "inline" in head.kinds
    return naming if counted or ((known or head.worded) and _has_wires(table)) else None


def _first_column(table: Table) -> list[str]:
    return [clean_cavity(t) for b in table.bands if (t := b.cells[0].text) and b.cells[0].first]


def _counts(table: Table) -> bool:
    """True where the first column is that of cavities: the first one, and on from it."""
    texts = _first_column(table)
    if len(texts) < FEWEST_CAVITIES or table.columns < 2 or not all(map(is_cavity, texts)):
        return False
    return bool(FIRST.fullmatch(texts[0])) and sure_cavities(texts)


def _has_wires(table: Table) -> bool:
    """True where a column beside the cavities holds short texts with figures or capitals: codes, no words."""
    for j in range(1, table.columns):
        texts = filled_texts([b.cells[j].text for b in table.bands])
        codes = [t for t in texts if len(t) <= LONGEST_OF_WIRE and (t.isupper() or t.isdecimal())]
        if len(codes) >= max(2, SHARE_OF_WIRES * len(texts)) and len(set(codes)) > 1:
            return True
    return False


def _overlap(one: Box, other: Box) -> bool:
    across = min(one.x1, other.x1) - max(one.x0, other.x0)
    down = min(one.bottom, other.bottom) - max(one.top, other.top)
    return across > 0 and down > min(one.height, other.height) / 2
