"""A row while it is put together, and cells that hold several facts parted into them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from xref.records import Box
from xref.rows.combined import split_cell
from xref.rows.content import is_unused
from xref.rows.plan import Plan
from xref.tables.lines import goes_on_in


@dataclass(slots=True)
class Draft:
    """A row while it is put together: texts by role, its box, its doubts."""

    parts: dict[str, list[str]]
    box: Box
    band: int
    merged: bool = False
    beside: bool = False  #: text stands in columns that have no role
    unread: bool = False  #: one of them may say what the wire is
    doubts: list[str] = field(default_factory=list)

    def text(self, role: str) -> str:
        """Return what it says in this role."""
        return joined(self.parts.get(role, []))


def joined(parts: Sequence[str]) -> str:
    """Return the parts of a wrapped text as one; a word broken by a hyphen or the like is put together."""
    out = ""
    for part in (p for p in parts if p):
        glued = bool(out) and goes_on_in(out, part)
        out = part if not out else out + part if glued else f"{out} {part}"
    return out


def holds_less(values: Mapping[str, str], plan: Plan) -> bool:
    """Say whether a cell does not hold the facts the person said."""
    cells = [(values.get(role, ""), order) for role, order in plan.orders] if plan.told else []
    return any(text and not is_unused(text) and not split_cell(text, order) for text, order in cells)


def parted(values: Mapping[str, str], plan: Plan) -> dict[str, str]:
    """Part the cells that hold several facts; what one does not part stays in its own column."""
    out = dict(values)
    for role, order in plan.orders:
        text = values.get(role, "")
        found = {} if is_unused(text) else split_cell(text, order)
        if found:
            out[role] = ""
            out |= {fact: text for fact, text in found.items() if not out.get(fact)}
    return out
