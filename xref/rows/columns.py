"""A column of a table with the role it has."""

from __future__ import annotations

from dataclasses import dataclass

from xref.rows.combined import Order
from xref.tables.table import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column with its role; `score` is the header's (0–1), `guessed`: content decided, in doubt."""

    index: int
    role: str
    score: float
    text: str
    group: str
    guessed: bool = False
    order: Order = ()  #: the facts its cells hold, where they hold several
    side: str = ""  #: the side of a fuse whose wire it tells of, `in` or `out`


def column_texts(table: Table, j: int) -> tuple[str, ...]:
    """Return the texts of a column, cells merged over rows once."""
    return tuple(b.cells[j].text for b in table.bands if b.cells[j].first)
