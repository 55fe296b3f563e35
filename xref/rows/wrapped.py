"""Circuits that are broken over two lines of their cell without a hyphen: `P18` over `2` is P182."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from xref.rows.content import CIRCUIT
from xref.tables.table import Table


def circuit_form(table: Table, column: int | None) -> str:
    """Return the usual form (`A999`) of a column's circuits, the longest of several; "" without any."""
    cells = [b.cells[column] for b in table.bands] if column is not None else []
    counts = Counter(_form(c.text) for c in cells if len(c.lines) == 1 and CIRCUIT.fullmatch(c.text))
    return max(counts, key=lambda form: (counts[form], len(form)), default="")


def unwrapped(parts: Sequence[str], form: str) -> str:
    """Join the lines of a cell where only the whole has the form of the column's other circuits; else ""."""
    whole = "".join(parts)
    return whole if len(parts) > 1 and _form(whole) == form and all(parts) else ""


def _form(circuit: str) -> str:
    return re.sub(r"[^\W\d_]", "A", re.sub(r"\d", "9", circuit))
