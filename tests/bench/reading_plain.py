"""What plain table finders of two libraries give on the same pages: the share of equal cells and rows."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from tests.bench.reading_score import Known, loose

_COUNTS: Counter[tuple[str, str]] = Counter()


def _rows_of(path: Path, finder: str, pages: set[int]) -> dict[int, list[set[str]]]:
    rows: dict[int, list[set[str]]] = {}
    if finder == "pdfplumber":
        import pdfplumber

        with pdfplumber.open(path) as document:
            for number in pages:
                tables = document.pages[number - 1].extract_tables()
                rows[number] = [{loose(c or "") for c in row} for table in tables for row in table]
        return rows
    import pymupdf

    with pymupdf.open(path) as document:
        for number in pages:
            tables = document[number - 1].find_tables().tables
            rows[number] = [{loose(c or "") for c in row} for table in tables for row in table.extract()]
    return rows


def add_plain(path: Path, known: list[Known]) -> None:
    """Count a document's known cells and rows that a plain finder gives as they are."""
    for finder in ("pdfplumber", "PyMuPDF"):
        rows = _rows_of(path, finder, {row.page for row in known})
        for row in known:
            if row.status == "unused":
                continue
            cells = [v.split("|")[0] for v in (row.cavity, row.color_code, row.circuit, row.function)]
            wanted = {loose(v) for v in cells if v not in {"", "*"}}
            here = rows[row.page]
            _COUNTS[finder, "cells"] += len(wanted)
            _COUNTS[finder, "cells equal"] += sum(any(w in r for r in here) for w in wanted)
            _COUNTS[finder, "rows"] += 1
            _COUNTS[finder, "rows equal"] += any(wanted <= r for r in here)


def print_plain() -> None:
    """Print the shares; connectors' names are not asked of a plain finder."""
    print(
        "\nplain table finders on the same pages (cavity, colour, circuit, function; no connector, no roles)"
    )
    for finder in ("pdfplumber", "PyMuPDF"):
        cells = 100 * _COUNTS[finder, "cells equal"] / max(_COUNTS[finder, "cells"], 1)
        rows = 100 * _COUNTS[finder, "rows equal"] / max(_COUNTS[finder, "rows"], 1)
        print(f"  {finder:11} cells equal {cells:5.1f} %, whole rows {rows:5.1f} %")
