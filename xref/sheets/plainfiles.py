"""CSV and JSON tables, row by row."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable
from pathlib import Path

from xref.sheets.shape import Cell, Shape
from xref.sheets.texts import looks_like_formula


def write_csv(shape: Shape, rows: Iterable[tuple[Cell, ...]], path: Path, *, plain: bool) -> int:
    """Write UTF-8 CSV and return the number of rows.

    Unless `plain`, a text that a spreadsheet would run as a formula gets a leading apostrophe. What is
    judged is the text before control characters became pictures: "␍" stands for a carriage return.
    """
    count = 0
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(shape.columns)
        for row in rows:
            writer.writerow(row if plain else [_guarded(cell) for cell in row])
            count += 1
    return count


def _guarded(cell: Cell) -> Cell:
    if isinstance(cell, str) and (looks_like_formula(cell) or cell.startswith("␍")):
        return f"'{cell}"
    return cell


def write_json(shape: Shape, rows: Iterable[tuple[Cell, ...]], path: Path) -> int:
    """Write one JSON array of objects, an object a line, and return the number of rows."""
    count = 0
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write("[")
        for row in rows:
            file.write(",\n" if count else "\n")
            file.write(json.dumps(dict(zip(shape.columns, row, strict=True)), ensure_ascii=False))
            count += 1
        file.write("\n]\n" if count else "]\n")
    return count
