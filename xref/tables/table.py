"""Tables as they leave this room: columns, bands of cells, and what stands around them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from xref.pages.content import Word
from xref.records import Box
from xref.tables.layout import TaughtLayout
from xref.tables.lines import Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What stands in one column of one band. A blank cell has text ""."""

    text: str
    box: Box
    words: tuple[Word, ...] = ()
    lines: tuple[str, ...] = ()
    row_span: int = 1  #: bands a ruled cell covers; the covered bands hold the same cell
    col_span: int = 1  #: columns a ruled cell covers; it stands in the first, the others are blank
    first: bool = True  #: False in the lower bands of a cell that covers several
    cut: bool = False  #: a word ran over the column border and was cut


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One horizontal stripe of a table: a row, or a line of a wrapped row."""

    cells: tuple[Cell, ...]
    box: Box
    ruled: bool = False  #: a rule or a change of fill parts it from the band above


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """A line of text near a table that may name its connector."""

    line: Line
    where: Literal["title", "above", "below", "page", "beside"]  #: title: in the table, over its header
    gap: float  #: points between the line and the table


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Cells of one table of one page. Boxes are in the page's reading frame."""

    page: int
    number: int
    kind: Literal["ruled", "aligned", "list"]
    box: Box
    edges: tuple[float, ...]  #: column borders, one more than columns
    header: tuple[str, ...]  #: header text of each column, "" where none; all "" = no header found
    header_score: float  #: how much of the header is header vocabulary, 0–1
    bands: tuple[Band, ...]
    groups: tuple[str, ...] = ()  #: text of a header cell that spans several columns, per column
    around: tuple[Around, ...] = ()
    head: tuple[tuple[str, str], ...] = ()  #: key/value pairs printed just above (connector head)
    first_on_page: bool = False  #: no other text but page header stands above it
    last_on_page: bool = False
    size: float = 9.0  #: usual font size of its cells, points
    taught: TaughtLayout | None = None  #: the person named its columns; nothing about them is guessed
    lost: tuple[str, ...] = ()  #: header texts that found no column
    split: tuple[float, ...] = ()  #: for each inner border, share of lines where only a blank is parted
    contested: tuple[float, ...] = ()  #: tops of bands that another good way to cut the table reads otherwise

    @property
    def columns(self) -> int:
        """Number of columns."""
        return len(self.edges) - 1

    @property
    def has_header(self) -> bool:
        """True when header words were recognised."""
        return any(self.header)
