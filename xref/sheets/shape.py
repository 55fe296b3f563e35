"""The shape of a table that leaves the program: its columns, which of them are numbers, its cells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from xref.sheets.texts import fit_for_files

Cell = str | int | float | None

#: Columns that hold whole numbers, in whichever table they stand.
WHOLE = frozenset({"page", "table_no", "row_no", "cavities_stated", "cavities_read", "order"})
#: Columns that hold measures: mm², mm, and points on the page.
MEASURED = frozenset({"size_mm2", "od_mm", "length_mm", "x0", "top", "x1", "bottom"})

#: Decimals kept of a measure: 0.0001 pt is far below what a PDF draws; what lies beyond is noise of
#: floating point, which the file formats would round differently.
DECIMALS = 4
#: Rows held in memory at a time: some ten megabytes of a table of thirty columns.
ROWS_AT_A_TIME = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Name and columns of a table. The name stands on the spreadsheet's tab and in messages."""

    name: str
    columns: tuple[str, ...]

    def cells(self, row: Mapping[str, object] | Sequence[object]) -> tuple[Cell, ...]:
        """Return the cells of a row (a mapping by column, or the values in order).

        Blanks are "" in a text column and None in a number column.
        """
        if isinstance(row, Mapping):
            values: Sequence[object] = [row.get(name) for name in self.columns]
        else:
            values = row
        return tuple(
            _number(value) if name in WHOLE or name in MEASURED else _text(value)
            for name, value in zip(self.columns, values, strict=True)
        )


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return fit_for_files(value)
    if isinstance(value, tuple | list):
        return fit_for_files(" ".join(str(part) for part in value))
    return fit_for_files(str(value))


def _number(value: object) -> int | float | None:
    if value is None or value == "":
        return None
    if isinstance(value, int):
        return int(value)
    number = round(float(str(value)), DECIMALS)
    # A whole measure is written without ".0", as spreadsheets do, so that all formats read alike.
    return int(number) if number.is_integer() else number


def in_batches(rows: Iterable[tuple[Cell, ...]]) -> Iterator[list[tuple[Cell, ...]]]:
    """Yield the rows in lists of at most `ROWS_AT_A_TIME`."""
    source = iter(rows)
    while batch := list(islice(source, ROWS_AT_A_TIME)):
        yield batch
