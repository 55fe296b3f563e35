"""The only door to pandas and to the Parquet writer behind it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from xref.sheets.shape import MEASURED, WHOLE, Cell, Shape, in_batches


def write_parquet(shape: Shape, rows: Iterable[tuple[Cell, ...]], path: Path) -> int:
    """Write the rows batch by batch and return how many there were.

    Text columns are strings without nulls; whole numbers are 64-bit, blank where None.
    """
    import pandas as pd
    import pyarrow as pa
    import pyarrow.parquet as pq

    schema = pa.schema([(name, _arrow_type(name, pa)) for name in shape.columns])
    count = 0
    with pq.ParquetWriter(path, schema) as writer:
        for batch in in_batches(rows):
            frame = pd.DataFrame.from_records(batch, columns=list(shape.columns), coerce_float=False)
            frame = frame.astype({name: _pandas_type(name) for name in shape.columns})
            writer.write_table(pa.Table.from_pandas(frame, schema=schema, preserve_index=False))
            count += len(batch)
    return count


def _pandas_type(name: str) -> str:
    if name in WHOLE:
        return "Int64"
    return "float64" if name in MEASURED else "string"


def _arrow_type(name: str, pa: object) -> object:
    kind = "int64" if name in WHOLE else "float64" if name in MEASURED else "string"
    return getattr(pa, kind)()
