"""Export of a flat table: the file's suffix decides the format, and every format holds the same table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from operator import attrgetter
from pathlib import Path

from xref.records import COLUMNS, Pin
from xref.sheets.files import suffix_among, written_whole
from xref.sheets.frames import write_parquet
from xref.sheets.plainfiles import write_csv, write_json
from xref.sheets.shape import Shape
from xref.sheets.workbook import write_xlsx

SUFFIXES = (".csv", ".xlsx", ".parquet", ".json")


def export_pins(pins: Iterable[Pin], path: Path, *, plain: bool = False) -> int:
    """Write the normalised table, one row per pin, and return the number of rows.

    Flags and notices are separated by spaces; blanks are "", unknown numbers empty. Rows are taken one
    by one, so that a million need no more memory than a thousand.

    Raises:
        UsageError: the suffix is none of the four.
        CannotWrite: the file cannot be written.
    """
    values = attrgetter(*COLUMNS)
    return export_table("pins", COLUMNS, (values(pin) for pin in pins), path, plain=plain)


def export_table(
    kind: str,
    columns: Sequence[str],
    rows: Iterable[Mapping[str, object] | Sequence[object]],
    path: Path,
    *,
    plain: bool = False,
) -> int:
    """Write any table (`kind` is its name) and return the number of rows.

    A row is a mapping by column, or the values in the columns' order. Columns named in `shape.WHOLE`
    and `shape.MEASURED` are numbers, all others text. `plain` leaves formula-like texts of a CSV as
    they are; the other formats hold them as text anyway.

    Raises:
        UsageError: the suffix is none of the four.
        CannotWrite: the file cannot be written.
    """
    path = Path(path)
    suffix = suffix_among(path, SUFFIXES, "a table")
    shape = Shape(name=kind, columns=tuple(columns))
    cells = map(shape.cells, rows)
    with written_whole(path) as beside:
        if suffix == ".csv":
            return write_csv(shape, cells, beside, plain=plain)
        if suffix == ".json":
            return write_json(shape, cells, beside)
        if suffix == ".xlsx":
            return write_xlsx(shape, cells, beside)
        return write_parquet(shape, cells, beside)
