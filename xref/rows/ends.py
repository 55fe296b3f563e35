"""The two ends of a wire that a row tells of once: which columns name them, by headers or by their cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.rows.columns import Column, column_texts
from xref.rows.evidence import column_evidence
from xref.rows.gluedends import glued_ends
from xref.tables.table import Table
from xref.tables.vocabulary import best_role, header_roles

#: The two ends of a wire.
ENDS = ("goes_from", "goes_to")
#: From this score on the words alone say what a column is.
SURE = 0.9
#: Cells speak for colours or circuits from this evidence on.
TOLD = {"color": 0.4, "circuit": 0.45}


def with_ends(table: Table, columns: list[Column]) -> list[Column]:
    """Return the columns, those of the two ends of each row's wire with their roles."""
    return _glued_ends(table, _ends(table, columns))


def _ends(table: Table, columns: list[Column]) -> list[Column]:
    """Two connectors, each beside a column of cavities, are the ends of the wire that a row tells of once.

    Their headers say from and to, or the headers over them do, or `Plug` and `Pin` stand there twice.
    """
    beside = [c for c, following in pairwise(columns) if best_role(following.text)[0] == "cavity"]
    said = {role: c for c in beside if (role := _end_said(c))}
    twice = [c for c in beside if best_role(c.text)[0] == "connector"]
    if len(said) < len(ENDS):
        wires = [c for c in columns if c.role in ("circuit", "color")]
        told = bool(wires) or (bool(twice) and _tells_wires(table, columns[: twice[0].index]))
        if len(twice) != len(ENDS) or len(wires) > len({c.role for c in wires}) or not told:
            return columns
        said = dict(zip(ENDS, twice, strict=True))
    own = {c.index: replace(c, role=role, score=1.0) for role, c in said.items()}
    return [own.get(c.index, c) for c in columns]


def _glued_ends(table: Table, columns: list[Column]) -> list[Column]:
    """Two columns of connectors with their cavities are the ends of the wire that a row tells of."""
    every = [[b.cells[j].text for b in table.bands] for j in range(table.columns)]
    ends = glued_ends(every, [c.role for c in columns]) if table.has_header else None
    roles = dict(zip(ends, ENDS, strict=True)) if ends else {}
    return [replace(c, role=roles[c.index], score=1.0) if c.index in roles else c for c in columns]


def _tells_wires(table: Table, columns: Sequence[Column]) -> bool:
    """True where one of the columns holds colours or circuits, though its header does not say so."""
    evidence = [column_evidence(column_texts(table, c.index)) for c in columns if not c.role]
    return any(e.get(role, -1.0) >= least for e in evidence for role, least in TOLD.items())


def _end_said(column: Column) -> str:
    """Return the end that a column's header, or the one over it, says it is."""
    for text in (column.text, column.group):
        roles = header_roles(text)
        role = max(ENDS, key=lambda r: roles.get(r, 0.0))
        both = roles.get("connector", 0.0) + roles.get(role, 0.0) if role in roles else 0.0
        if max(roles.get(role, 0.0), both) >= SURE:
            return role  # `To`, or `To plug`
    return ""
