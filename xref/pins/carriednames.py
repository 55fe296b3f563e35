"""Lists that go on overleaf in the middle of a connector: its name stands before the break."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pins.naming import goes_on
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.tables.table import Table

#: A block of columns with its rows.
Block = tuple[Plan, tuple[Row, ...]]


def plans_as_before(
    table: Table, plans: Sequence[Plan], before: Table, known: Sequence[Plan]
) -> Sequence[Plan]:
    """Return the plans of a table, with the column of connectors that it has in its part before.

    What a column of names is, shows where names change; a short rest of a list may not have such a place.
    """
    if len(plans) != 1 or len(known) != 1 or table.header != before.header:
        return plans
    own, other = plans[0], known[0]
    at = other.columns.get("connector", -1)
    if at < 0 or "connector" in own.columns or own.columns.get("cavity") != other.columns.get("cavity"):
        return plans
    columns = {role: j for role, j in own.columns.items() if j != at}
    return [replace(own, columns=columns | {"connector": at})]


def with_name_before(blocks: Sequence[Block], before: Sequence[Block]) -> tuple[Block, ...]:
    """Give the first rows without a connector that of the last row of the table before.

    Where their cavities do not count on from there, the name is doubted.
    """
    if len(blocks) != 1 or len(before) != 1 or not before[0][1]:
        return tuple(blocks)
    (plan, rows), (_, last) = blocks[0], before[0]
    count = next((n for n, row in enumerate(rows) if row.connector), len(rows))
    name = last[-1].connector
    if "connector" not in plan.columns or not count or not name:
        return tuple(blocks)
    sure = goes_on([r.cavity for r in last if r.connector == name], [r.cavity for r in rows[:count]])
    doubts = () if sure else ("heading-uncertain",)
    carried = (replace(r, connector=name, doubts=(*r.doubts, *doubts)) for r in rows[:count])
    return ((plan, (*carried, *rows[count:])),)
