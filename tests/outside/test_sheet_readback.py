"""Exported tables read back with pandas (an independent reader) as text.

Source of the formats: RFC 4180 (CSV), RFC 8259 (JSON), ECMA-376 (XLSX), Apache Parquet, all as read by
pandas with openpyxl and pyarrow.
"""

from __future__ import annotations

import math
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from xref.records import COLUMNS, Pin
from xref.sheets.table import export_pins

#: Texts that readers like to turn into something else.
TRAPS = (
    "0087", "1E5", "TRUE", "NA", "-", "—", "", "null", "None", "nan", "N/A", "1.50", "007.0", "=1+1",
    "+12V", "@SUM(A1)", "\tlead", "two\nlines", 'say "so"', "a,b;c", "  spaces  ", "制御器", "Größe ½",
    "2026-01-02", "1/2", "3-4", "inf", "0x10", "'quoted", "line\u2028end", "\u0085", "#REF!", "\x7f", "😀",
)  # fmt: skip


def read_back(path: Path) -> list[tuple[str, ...]]:
    """Read a table with pandas as text, numbers in their shortest form."""
    if path.suffix == ".csv":
        frame = pd.read_csv(path, dtype=str, keep_default_na=False, encoding="utf-8")
    elif path.suffix == ".xlsx":
        frame = pd.read_excel(path, dtype=str, keep_default_na=False)
    elif path.suffix == ".json":
        frame = pd.read_json(path, dtype=False)
    else:
        frame = pd.read_parquet(path)
    assert tuple(frame.columns) == COLUMNS
    return [tuple(as_text(cell) for cell in row) for row in frame.itertuples(index=False)]


def as_text(cell: object) -> str:
    """Return a cell as text; a missing number is blank."""
    if isinstance(cell, str):
        return cell
    if cell is None or cell is pd.NA or (isinstance(cell, float) and math.isnan(cell)):
        return ""
    return f"{float(cell):.10g}"  # type: ignore[arg-type]


def all_formats(pins: list[Pin], folder: Path) -> dict[str, list[tuple[str, ...]]]:
    """Export the pins in the four formats and read each back."""
    tables = {}
    for suffix in (".csv", ".xlsx", ".parquet", ".json"):
        path = folder / f"pins{suffix}"
        assert export_pins(pins, path, plain=True) == len(pins)
        tables[suffix] = read_back(path)
    return tables


@pytest.mark.parametrize("trap", TRAPS)
def test_every_format_reads_back_as_the_text_that_was_printed(trap: str, tmp_path: Path) -> None:
    """A text that a reader might turn into a number, date or blank comes back as printed from all."""
    pins = [
        Pin(connector="M1", cavity="1", document="d.pdf", page=7, circuit=trap, function=trap, size_mm2=1.5),
        Pin(
            connector="M1", cavity="2", document="d.pdf", page=7, x0=72.0, bottom=0.1 + 0.2, flags=("a", "b")
        ),
    ]
    tables = all_formats(pins, tmp_path)
    for rows in tables.values():
        assert rows == tables[".csv"]
        assert [rows[0][COLUMNS.index(name)] for name in ("circuit", "function")] == [trap, trap]
        assert rows[0][COLUMNS.index("size_mm2")] == "1.5"
        assert rows[1][COLUMNS.index("size_mm2")] == ""
        assert rows[1][COLUMNS.index("flags")] == "a b"
        assert rows[1][COLUMNS.index("x0")] == "72"


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(texts=st.lists(st.text(max_size=12), min_size=1, max_size=6))
@example(texts=["\x00", "\x0b", "\r", "a\r\nb", "\ud800", "\uffff", "\ufeff"])
@example(texts=["_x000D_ x"[1:], "\r=1", "'"])
def test_any_text_reads_back_alike_from_all_formats(texts: list[str], tmp_path: Path) -> None:
    """Whatever characters a page holds, the four formats give one and the same table."""
    pins = [
        Pin(connector="M1", cavity=str(n), document="d.pdf", page=1, function=text)
        for n, text in enumerate(texts, start=1)
    ]
    tables = all_formats(pins, tmp_path)
    assert tables[".csv"] == tables[".xlsx"] == tables[".json"] == tables[".parquet"]
    column = COLUMNS.index("function")
    for text, row in zip(texts, tables[".csv"], strict=True):
        assert bool(row[column]) == bool(text), "a character must not vanish"
