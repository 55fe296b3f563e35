"""A table whose columns the person named -> how it is read; nothing is guessed, so nothing is doubted."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from xref.data.words import fold
from xref.errors import UsageError
from xref.rows.plan import Kind, Plan
from xref.tables.table import Table
from xref.tables.vocabulary import header_roles

#: What a column can be taught to hold.
ROLES = (
    *("cavity", "color", "circuit", "function", "signal", "size", "goes_to", "goes_from", "connector"),
    *("component", "option", "harness", "half"),
)
#: How a person says that a column is left out.
LEFT_OUT = frozenset({"", "-", "–", "none", "skip", "x"})
#: A header word must be this surely one of these to stand for it.
_SURE = 0.8


def roles_named(text: str) -> tuple[str, ...]:
    """Return the roles a person lists, `cavity,color,-,circuit`; header words of any known language do too.

    Raises UsageError for a word that is neither, and where no cavity (or from/to) is named.
    """
    roles = tuple(_role(word.strip()) for word in text.split(","))
    if "cavity" not in roles and not {"goes_from", "goes_to"} <= set(roles):
        raise UsageError(
            "No column is named cavity, so no row could be told from another.",
            hint=f"Name each column from left to right: {', '.join(ROLES)}, or - for one to leave out.",
        )
    return roles


def _role(word: str) -> str:
    plain = fold(word).replace(" ", "_")
    if word in LEFT_OUT or plain in LEFT_OUT:
        return ""
    if plain in ROLES:
        return plain
    found = [(score, role) for role, score in header_roles(word).items() if role in ROLES and score >= _SURE]
    if not found:
        raise UsageError(
            f"{word!r} is no kind of column.", hint=f"Use {', '.join(ROLES)}, or - for one to leave out."
        )
    return max(found)[1]


def taught_plans(table: Table) -> list[Plan]:
    """Return a plan for each block of columns of a taught table."""
    roles = table.taught.roles if table.taught else ()
    cavities = [j for j, role in enumerate(roles) if role == "cavity"]
    if {"goes_from", "goes_to"} <= set(roles):
        columns, again = _once(roles, 0, len(roles))
        far = {f"far_{role}": j for role, j in again.items() if role == "cavity"}
        return [_plan("ends", columns, {"end": columns["goes_to"], **far}, len(roles))]
    if len(cavities) > 1:
        starts = [0, *(j - cavities[0] for j in cavities[1:]), len(roles)]
        blocks = [_once(roles, a, b)[0] for a, b in pairwise(starts)]
        return [
            Plan(kind="pins", columns=c, other={}, first=a, last=b - 1)
            for c, (a, b) in zip(blocks, pairwise(starts), strict=True)
        ]
    columns, again = _once(roles, 0, len(roles))
    if {"color", "circuit"} & set(again):
        return [_plan("pair", columns, again, len(roles))]
    return [_plan("pins", columns, {}, len(roles))]


def _once(roles: Sequence[str], first: int, stop: int) -> tuple[dict[str, int], dict[str, int]]:
    """Return the first column of each role, and the second of those that come again."""
    columns: dict[str, int] = {}
    again: dict[str, int] = {}
    for j in range(first, stop):
        if roles[j]:
            (again if roles[j] in columns else columns).setdefault(roles[j], j)
    return columns, again


def _plan(kind: Kind, columns: dict[str, int], other: dict[str, int], count: int) -> Plan:
    return Plan(kind=kind, columns=columns, other=other, first=0, last=count - 1)
