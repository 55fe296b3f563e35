"""Two columns of cavities that meet in the middle, the names of their signals outside."""

from __future__ import annotations

from collections.abc import Sequence

from xref.rows.columns import column_texts
from xref.rows.evidence import filled_texts, names_of_signals
from xref.rows.plan import Plan
from xref.tables.table import Table

#: What stands outside of the cavities.
OUTSIDE = ("signal", "function", "circuit")


def is_mirrored(table: Table, plans: Sequence[Plan]) -> bool:
    """True for `signal, cavity | cavity, signal` with names of signals on both sides (`GND 1 2 CAN_H`)."""
    if len(plans) != 2 or not all({"cavity"} < set(p.columns) for p in plans):
        return False
    left, right = plans
    at = left.columns["cavity"], right.columns["cavity"]
    if at[1] - at[0] != 1:
        return False
    sides = [[j for r, j in p.columns.items() if r in OUTSIDE] for p in plans]
    texts = [filled_texts([t for j in side for t in column_texts(table, j)]) for side in sides]
    return all(texts) and names_of_signals([t for side in texts for t in side])
