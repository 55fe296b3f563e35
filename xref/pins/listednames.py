"""Names in a column of connectors that take several rows: the designator, under it what it belongs to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from xref.rows.plan import Plan
from xref.rows.row import Row


def with_names_above(plan: Plan, rows: Sequence[Row]) -> tuple[Row, ...]:
    """Give rows named by words alone the designator above, where all such words stand under one.

    The cavities go on under it; where they begin anew, the words are a name of their own.
    """
    runs = [(name, list(members)) for name, members in groupby(rows, key=lambda r: r.connector)]
    under = [
        n for n in range(1, len(runs)) if _is_designator(runs[n - 1][0]) and _goes_on(*runs[n - 1 : n + 1])
    ]
    words = [n for n, (name, _) in enumerate(runs) if name and not _is_designator(name)]
    if plan.kind != "pins" or "connector" not in plan.columns or not words or words != under:
        return tuple(rows)
    out: list[Row] = []
    for n, (name, members) in enumerate(runs):
        if n in under:
            whole = runs[n - 1][0]
            start = len(out) - len(runs[n - 1][1])
            out[start:] = [_of(row, whole, name) for row in out[start:]]
            out += [_of(row, whole, name) for row in members]
        else:
            out += members
    return tuple(out)


def _goes_on(before: tuple[str, list[Row]], after: tuple[str, list[Row]]) -> bool:
    """True for words under a designator, in rows with other cavities than its own."""
    seen = {r.cavity for r in before[1]}
    return bool(after[0]) and not _is_designator(after[0]) and not seen & {r.cavity for r in after[1]}


def _is_designator(name: str) -> bool:
    return any(c.isdigit() for c in name)


def _of(row: Row, connector: str, component: str) -> Row:
    values = row.values | {"component": row.values.get("component", "") or component}
    return replace(row, connector=connector, values=values)
