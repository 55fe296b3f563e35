"""Matrices: cavities down the side under connectors, or wires down the side and cavities in the cells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from xref.rows.cavities import expand
from xref.rows.columns import Column, column_texts
from xref.rows.combined import Order, combined_order
from xref.rows.evidence import column_evidence, filled_texts, names_of_signals
from xref.rows.roles import FACTS, GUESS
from xref.tables.table import Table
from xref.tables.vocabulary import DESIGNATOR

#: The second half of a name such as `M20 X1`.
SUB = re.compile(r"X\d{1,3}")
#: What stands at the side where the cells name cavities, and what of it tells one wire from another.
AT_THE_SIDE = frozenset({"circuit", "signal", "function", "color", "size"})
TELLING = frozenset({"circuit", "signal", "function"})
#: So many connectors stand side by side at least.
FEWEST = 2
#: Share of filled cells that must name cavities.
CAVITIES = 0.85


#: A connector's name, the columns it shares with the others, its own.
Part = tuple[str, list[Column], list[Column]]


def matrix_columns(table: Table, columns: Sequence[Column]) -> list[Part]:
    """Return each connector of a matrix by name, with its columns: what stands down the side, its own.

    A connector's column has the role its cells show; its header is the connector's name. A name that was cut
    in two (`M20 | X1`) stands over two columns. [] for other tables.
    """
    named = [c for c in columns if DESIGNATOR.fullmatch(c.text.strip()) and _filled(table, c)]
    if len(named) < FEWEST or len({c.text for c in named}) < len(named):
        return []
    rest = [c for c in columns if c not in named]
    cavity = next((c for c in rest if c.role == "cavity"), None)
    if cavity is not None and _are_cut_names(named):
        return _of_cut_names(table, cavity, named)
    if cavity is not None:
        kind = _cells_hold(table, named)
        if kind is None:
            return []
        role, order = kind
        own = [replace(c, role=role, order=order, score=1.0, guessed=False) for c in named]
        return [(c.text.strip(), [cavity], [c]) for c in own]
    side = list({c.role: c for c in reversed(_told(table, rest)) if c.role in AT_THE_SIDE}.values())
    if not TELLING & {c.role for c in side} or not all(_holds_cavities(table, c) for c in named):
        return []
    own = [replace(c, role="cavity", score=1.0, guessed=False) for c in named]
    return [(c.text.strip(), side, [c]) for c in own]


def _told(table: Table, rest: Sequence[Column]) -> list[Column]:
    """Where no header says which column tells the wires apart, the one that holds circuits does."""
    if TELLING & {c.role for c in rest}:
        return list(rest)
    open_ones = [c for c in rest if not c.role]
    likely = [
        c
        for c in open_ones
        if column_evidence(column_texts(table, c.index)).get("circuit", -1.0) >= GUESS["circuit"]
    ]
    if len(likely) != 1:
        return list(rest)
    return [replace(c, role="circuit", guessed=True) if c is likely[0] else c for c in rest]


def _are_cut_names(named: Sequence[Column]) -> bool:
    """True where every second header is a sub-connector (`M20 | X1 | M37 | X2`)."""
    halves = [bool(SUB.fullmatch(c.text.strip())) for c in named]
    return len(named) % 2 == 0 and halves == [False, True] * (len(named) // 2)


def _of_cut_names(table: Table, cavity: Column, named: Sequence[Column]) -> list[Part]:
    found = []
    for a, b in zip(named[::2], named[1::2], strict=True):
        kinds = [_cells_hold(table, [c]) for c in (a, b)]
        roles = [kind[0] if kind else "" for kind in kinds]
        if "" in roles or roles[0] == roles[1]:
            return []
        own = [replace(c, role=r, score=1.0, guessed=True) for c, r in zip((a, b), roles, strict=True)]
        found.append((f"{a.text.strip()} {b.text.strip()}", [cavity], own))
    return found


def _filled(table: Table, column: Column) -> bool:
    return bool(filled_texts(column_texts(table, column.index)))


def _cells_hold(table: Table, named: Sequence[Column]) -> tuple[str, Order] | None:
    """Return the role that the cells of all connectors together show, and their order; None when none."""
    texts = tuple(t for c in named for t in column_texts(table, c.index))
    order = combined_order(texts, FACTS - {"cavity"})
    if order:
        return order[-1], order
    evidence = column_evidence(texts)
    role = max(("color", "circuit", "function"), key=lambda r: evidence.get(r, -1.0))
    if evidence.get(role, -1.0) > 0:
        return role, ()
    said = filled_texts(texts)
    return ("signal", ()) if said and names_of_signals(said) else None


def _holds_cavities(table: Table, column: Column) -> bool:
    texts = filled_texts(column_texts(table, column.index))
    return sum(bool(expand(t)) for t in texts) >= CAVITIES * len(texts)
