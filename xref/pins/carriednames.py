"""Lists that go on overleaf in the middle of a connector: its name stands before the break."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pins.naming import goes_on
from xref.rows.listheading import are_names
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.tables.table import Table

#: Lists whose names stand in a column of their own.
LISTS = ("splice", "ground")
#: A block of columns with its rows.
Block = tuple[Plan, tuple[Row, ...]]


def plans_as_before(
    table: Table, plans: Sequence[Plan], before: Table, known: Sequence[Block]
) -> Sequence[Plan]:
    """Return the plans of a table, with the column of names that it has in its part before.

    What a column of names is, shows where names change, or by the heading over the first part; the rest
    overleaf has neither.
    """
    if len(known) != 1 or not known[0][1] or table.header != before.header:
        return plans
    other, rows = known[0]
    if not plans and other.kind in LISTS and are_names(table, other.columns[other.kind]):
        return [replace(other, name=rows[-1].connector)]
    at = other.columns.get("connector", -1)
    if len(plans) != 1 or at < 0 or "connector" in plans[0].columns:
        return plans
    if plans[0].columns.get("cavity") != other.columns.get("cavity"):
        return plans
    columns = {role: j for role, j in plans[0].columns.items() if j != at}
    return [replace(plans[0], columns=columns | {"connector": at})]


def with_name_before(blocks: Sequence[Block], before: Sequence[Block]) -> tuple[Block, ...]:
    """Give the first rows without a name that of the last row of the table before.

    Where their cavities (in a splice: their circuits) do not go on from there, the name is doubted.
    """
    if len(blocks) != 1 or len(before) != 1 or not before[0][1]:
        return tuple(blocks)
    (plan, rows), (_, last) = blocks[0], before[0]
    role = plan.kind if plan.kind in LISTS else "connector"
    count = next((n for n, row in enumerate(rows) if row.values.get(role)), len(rows))
    name = last[-1].connector
    if role not in plan.columns or not count or not name:
        return tuple(blocks)
    first = rows[:count]
    sure = goes_on([r.cavity for r in last if r.connector == name], [r.cavity for r in first])
    sure = sure or (plan.kind == "splice" and {_circuit(r) for r in first} == {_circuit(last[-1])})
    doubts = () if sure else ("heading-uncertain",)
    carried = (replace(r, connector=name, doubts=(*r.doubts, *doubts)) for r in first)
    return ((plan, (*carried, *rows[count:])),)


def _circuit(row: Row) -> str:
    return row.values.get("circuit", "")
