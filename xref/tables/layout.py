"""A page layout the person taught, as a record."""

from __future__ import annotations

from dataclasses import dataclass

#: What a page says that was read in taught columns.
TAUGHT = "read in columns the person taught"


@dataclass(frozen=True, slots=True, kw_only=True)
class TaughtLayout:
    """Columns of a table as the person named them. Lengths are points of the page's reading frame."""

    roles: tuple[str, ...]  #: one per column, "" for a column that is left out
    edges: tuple[float, ...]  #: borders, one more than columns
    header: tuple[str, ...]  #: header text per column as printed, all "" where there is none
    line: tuple[
        str, ...
    ] = ()  #: the line over the first row, cut at the borders; finds the table when cells fail
    anew: bool = False  #: cut at the borders, whatever was found there
    earlier: bool = False  #: taught on an earlier edition of the document: its rows are to be confirmed
