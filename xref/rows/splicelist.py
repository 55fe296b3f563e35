"""Lists of splices: which rows are wires of a splice, which are about a splice as a whole, and how many wires
it is said to have.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from xref.data.splice_words import counts_wires, stated_wires
from xref.rows.cavities import connectors_listed
from xref.rows.columns import Column, column_texts
from xref.rows.evidence import filled_texts
from xref.rows.row import Row
from xref.tables.table import Table
from xref.tables.vocabulary import DESIGNATOR

#: Fewer wires than this meet in no splice; more than this are no number of wires.
FEWEST, MOST = 2, 60
#: So many splices with one row each show by themselves that the rows are no wires of them.
SHOWING = 2
#: Far ends in one cell are parted by these; blanks part only what is plainly a list of places.
_PARTED = re.compile(r"\s*[,;\n]\s*")
_BLANKS = re.compile(r"\s+")
_CAVITY = re.compile(r"\s*[A-Za-z]{0,2}\d{1,3}[a-z]?\s*")


def with_counts(table: Table, columns: Sequence[Column]) -> list[Column]:
    """Return the columns of a list of splices, that of the numbers of wires with the role `wires`.

    A header such as `Wires` may as well stand over the wires' own numbers: then no other column holds these.
    Numbers that happen to count on are no cavities where their header says that they are numbers of wires.
    """
    roles = [c.role for c in columns]
    sure = any(c.role == "cavity" and c.score > 0.0 for c in columns)
    if "splice" not in roles or sure:
        return list(columns)
    for c in columns:
        if c.role == "splice" or (c.role == "circuit" and roles.count("circuit") < 2):
            continue
        headers = (c.text, *_with_lost(c.text, table.lost))
        if _are_counts(headers, filled_texts(column_texts(table, c.index))):
            return [replace(o, role="wires", score=1.0, order=()) if o is c else o for o in columns]
    return list(columns)


def _with_lost(header: str, lost: Sequence[str]) -> list[str]:
    """Return a header with words that found no column, as they may follow it: `No.` and `of wires`."""
    count = len(lost)
    spans = [lost[a:b] for a in range(count) for b in range(a + 1, count + 1)] if header else []
    return [" ".join((header, *span)) for span in spans]


def _are_counts(headers: Sequence[str], texts: Sequence[str]) -> bool:
    found = [stated_wires(text) for text in texts]
    if not found or not all(FEWEST <= number <= MOST for number, _ in found):
        return False
    return any(map(counts_wires, headers)) or all(named for _, named in found)


def splices_as_listed(rows: Sequence[Row]) -> list[Row]:
    """Return the rows of a list of splices without cavities: wires, or rows about a splice as a whole.

    A splice joins several wires, so a list with one row for each of its splices is about these; the places a
    row lists are the ends of its wires, each of which is a row then. One place in a row may be one wire's.
    """
    opened = [part for row in rows for part in _opened(row)]
    times: dict[str, int] = {}
    for row in opened:
        times[row.connector] = times.get(row.connector, 0) + 1
    single = all(number == 1 for number in times.values())
    whole = single and len(times) >= SHOWING and not any(_is_place(r.values.get("goes_to", "")) for r in rows)
    found = []
    for row in opened:
        stated = stated_wires(row.values.get("wires", ""))[0]
        alone = times[row.connector] == 1 and (whole or bool(stated))
        found.append(replace(row, stated=stated, whole=alone and bool(row.connector)))
    return found


def _opened(row: Row) -> list[Row]:
    """Part a row whose cell lists where the wires of a splice go: each of them is a wire."""
    text = row.values.get("goes_to", "")
    parts = [part for part in _PARTED.split(text.strip(" ,;")) if part]
    if len(parts) < 2:
        parts = _BLANKS.split(text.strip())
    if len(parts) < FEWEST or not all(map(_is_place, parts)):
        return [row]
    return [replace(row, values={**row.values, "goes_to": part}) for part in parts]


def _is_place(text: str) -> bool:
    """True for a connector (half) with its cavity (`X200-B:4`), or a name such as `S103`."""
    name, colon, cavity = text.rpartition(":")
    if colon and not _CAVITY.fullmatch(cavity):
        return False
    name = name if colon else text
    return len(connectors_listed(text)) == 1 or (
        bool(DESIGNATOR.fullmatch(name)) and any(map(str.isdigit, name))
    )
