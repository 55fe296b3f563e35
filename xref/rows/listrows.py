"""Rows of lists, each named by the row itself: splices, grounds, fuses, and wires with both their ends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from xref.rows.cavities import end_of_wire
from xref.rows.content import is_cavity
from xref.rows.draft import Draft, parted
from xref.rows.fusesides import sides_of
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.rows.said import fill_dittos, says_unused

#: Names of splices, grounds and fuses are short; longer texts are something else.
LONGEST_NAME = 24


def list_rows(drafts: Sequence[Draft], plan: Plan, middle: Mapping[int, str] | None) -> list[Row]:
    """Rows of a splice, ground or fuse list: the list's own column names the connector or the cavity.

    `middle` gives the name of each band where names stand in the middle of their rows.
    """
    rows: list[Row] = []
    name = plan.name
    is_fuse = plan.kind == "fuse"
    above: dict[str, str] = {}
    for n, draft in enumerate(drafts, start=1):
        values = parted({role: draft.text(role) for role in plan.texts}, plan)
        if is_fuse and plan.other:
            values, copied = fill_dittos(values, above)
            draft.doubts += ["ditto-assumed"] if copied else []
            above = values
        name = values.get(plan.kind, "") or name
        if middle is not None:
            name = middle.get(draft.band, name)
            draft.doubts += [] if middle else ["row-assembled"]
        says = any(values.get(r) for r in ("circuit", "other_circuit"))
        says = says or (is_fuse and any(values.get(r) for r in ("function", "color")))
        if not name or not says or len(name) > LONGEST_NAME:
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
        rows += (sides_of(row, name) if plan.other else []) or [row]
    return rows


def end_rows(drafts: Sequence[Draft], plan: Plan) -> list[Row]:
    """Rows of a from/to list: each is one wire with two ends, so two rows."""
    rows = []
    for n, draft in enumerate(drafts, start=1):
        values = parted({role: draft.text(role) for role in plan.columns}, plan)
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
