"""Rows of lists whose rows are wires: those of splices, grounds and fuses, and from/to lists."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from xref.rows.cavities import end_of_wire
from xref.rows.centred import names_above, names_in_the_middle
from xref.rows.content import is_cavity, is_dash
from xref.rows.draft import Draft, holds_less, parted
from xref.rows.fusesides import sides_of
from xref.rows.listheading import names_alone
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.rows.said import fill_dittos, says_unused
from xref.rows.splicelist import splices_as_listed
from xref.tables.table import Table

LISTS = ("splice", "ground", "fuse")
#: Names of splices, grounds and fuses are short; longer texts are something else.
LONGEST_NAME = 24


@dataclass(frozen=True, slots=True)
class Names:
    """Whose wires the bands of a list are."""

    owners: Mapping[int, str] | None = None  #: None where each name stands in its first row; {}: nobody knows
    alone: frozenset[int] = frozenset()  #: bands that hold a name over its rows and nothing else


def names_of_bands(table: Table, plan: Plan, key: str) -> Names:
    """Return the name of each band that holds a wire; `key` is the role of the column all wires fill."""
    at = plan.columns.get(plan.kind)
    if at is None:
        return _sections(table)
    above = names_above(table, at, plan.columns[key])
    if above is not None:
        return Names(above, frozenset(n for n, b in enumerate(table.bands) if b.cells[at].text))
    return Names(names_in_the_middle(table, at, plan.columns[key]))


def _sections(table: Table) -> Names:
    """Return whose the rows under names are that stand alone over them."""
    alone = names_alone(table)
    owners: dict[int, str] = {}
    for n in range(len(table.bands)):
        above = [m for m in alone if m < n]
        if above and n not in alone:
            owners[n] = alone[above[-1]]
    return Names(owners, frozenset(alone)) if alone else Names()


def list_rows(drafts: Sequence[Draft], plan: Plan, names: Names) -> list[Row]:
    """Rows of a splice, ground or fuse list: the list's own column names the connector or the cavity.

    Without such a column the heading names it.
    """
    rows: list[Row] = []
    name = plan.name
    is_fuse = plan.kind == "fuse"
    sided = is_fuse and bool(plan.other)
    above: dict[str, str] = {}
    for n, draft in enumerate(drafts, start=1):
        values = parted({role: draft.text(role) for role in plan.texts}, plan)
        if sided:
            values, copied = fill_dittos(values, above)
            draft.doubts += ["ditto-assumed"] if copied else []
            above = values
        name = values.get(plan.kind, "") or name
        if names.owners is not None:
            name = names.owners.get(draft.band, name)
            draft.doubts += [] if names.owners else ["row-assembled"]
        says = any(values.get(r) for r in ("circuit", "other_circuit") if sided or r == "circuit")
        says = says or (is_fuse and any(values.get(r) for r in ("function", "color")))
        headed = plan.kind not in plan.columns
        if not (name or headed) or not says or len(name) > LONGEST_NAME:
            continue
        row = Row(
            values=values,
            box=draft.box,
            row_no=n,
            cavity=name if is_fuse else values.get("cavity", ""),
            connector=values.get("connector", "") if is_fuse else name,
            unused=says_unused({r: t for r, t in values.items() if r != plan.kind}),
            doubts=tuple(dict.fromkeys([*draft.doubts, *(["column-unread"] if draft.unread else [])])),
        )
        rows += (sides_of(row, name) if sided else []) or [row]
    if plan.kind == "splice" and "end" in plan.other:
        return [end for row in rows for end in _both_ends(row)]
    no_cavities = plan.kind == "splice" and "cavity" not in plan.columns
    return splices_as_listed(rows) if no_cavities else rows


def _both_ends(row: Row) -> list[Row]:
    """Return the row of a splice's wire and that of its far end, which columns of their own name."""
    other, cavity = row.values.get("other_end", ""), row.values.get("other_cavity", "")
    common = {r: t for r, t in row.values.items() if r not in ("other_end", "other_cavity")}
    if is_dash(other):
        return [replace(row, values=common)]
    has_cavity = bool(cavity) and not is_dash(cavity)
    goes_to = f"{other}:{cavity}" if other and has_cavity else other
    near = replace(row, values={**common, "goes_to": goes_to})
    if not other or not has_cavity or not is_cavity(cavity) or not row.connector:
        return [near]
    far = {**common, "goes_to": row.connector}
    return [near, replace(row, values=far, connector=other, cavity=cavity, far=True)]


def end_rows(drafts: Sequence[Draft], plan: Plan) -> list[Row]:
    """Rows of a from/to list: each is one wire with two ends, so two rows."""
    rows = []
    for n, draft in enumerate(drafts, start=1):
        texts = {role: draft.text(role) for role in plan.columns}
        draft.doubts += ["text-overfull"] if holds_less(texts, plan) else []
        values = parted(texts, plan)
        near, far = values.get("goes_from", ""), values.get("goes_to", "")
        ends = [end_of_wire(near, values.get("cavity", "")), end_of_wire(far, draft.text("other_far_cavity"))]
        common = {r: t for r, t in values.items() if r not in ("goes_from", "goes_to", "cavity")}
        for (connector, cavity), (other, other_cavity) in (ends, reversed(ends)):
            if connector and cavity:
                odd = [] if is_cavity(cavity) else ["row-assembled"]
                goes = f"{other}:{other_cavity}" if other and other_cavity else other
                rows.append(
                    Row(
                        values=common | {"goes_to": goes},
                        box=draft.box,
                        row_no=n,
                        cavity=cavity,
                        connector=connector,
                        doubts=tuple(dict.fromkeys([*draft.doubts, *odd])),
                    )
                )
    return rows
