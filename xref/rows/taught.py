"""A table whose columns the person named -> how it is read; nothing is guessed, so nothing is doubted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
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
#: Stands between the facts of a column whose cells hold several.
SIGN = "/"
LEAST_FACTS = 2
#: Facts that may share a cell; a cavity has a column of its own, by which rows are told apart.
SHARING = frozenset({"circuit", "size", "color", "function"})


def roles_named(text: str) -> tuple[str, ...]:
    """Return the roles a person lists, `cavity,color,-,circuit`; header words of any known language do too.

    Raises UsageError for a word that is neither, and where no cavity (or from/to) is named.
    """
    roles = tuple(_several(word.strip()) or _role(word.strip()) for word in text.split(","))
    if "cavity" not in roles and not {"goes_from", "goes_to"} <= set(roles):
        raise UsageError(
            "No column is named cavity, so no row could be told from another.",
            hint=f"Name each column from left to right: {', '.join(ROLES)}, or - for one to leave out.",
        )
    for a, b in _blocks(roles):
        facts = [fact for role in roles[a:b] for fact in role.split(SIGN)]
        for role in roles[a:b]:
            twice = [fact for fact in role.split(SIGN) if SIGN in role and facts.count(fact) > 1]
            if twice:
                raise UsageError(
                    f"{role!r}: {twice[0]} is named twice.", hint="Name each fact of a row once."
                )
    return roles


def _several(word: str) -> str:
    """Return the facts of a column whose cells hold several, `circuit/color` in the order printed, or "".

    One word in two languages (`Farbe/Colour`) is one fact. Raises UsageError for facts that share no cell.
    """
    parts = [part.strip() for part in word.split(SIGN)]
    known = [part for part in parts if _is_role(part)]
    if not known or word in LEFT_OUT:
        return ""  # no list of facts: a header word with a slash in it, perhaps
    facts = tuple(dict.fromkeys(_role(part) for part in parts))
    if len(facts) < LEAST_FACTS or not all(facts):
        return ""
    if not set(facts) <= SHARING or "function" in facts[1:-1]:
        raise UsageError(
            f"{word!r}: a column that holds these together cannot be parted.",
            hint=f"Together may stand {', '.join(sorted(SHARING))}, a function first or last: circuit/color.",
        )
    return SIGN.join(facts)


def _is_role(word: str) -> bool:
    try:
        return bool(_role(word))
    except UsageError:
        return False


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
    named = table.taught.roles if table.taught else ()
    roles = tuple(_kept_under(role) for role in named)
    orders = tuple(
        (_kept_under(role), tuple(role.split(SIGN))) for role in dict.fromkeys(named) if SIGN in role
    )
    return [replace(plan, orders=orders, told=bool(orders)) for plan in _plans(roles)]


def _plans(roles: Sequence[str]) -> list[Plan]:
    cavities = [j for j, role in enumerate(roles) if role == "cavity"]
    if {"goes_from", "goes_to"} <= set(roles):
        columns, again = _once(roles, 0, len(roles))
        far = {f"far_{role}": j for role, j in again.items() if role == "cavity"}
        return [_plan("ends", columns, {"end": columns["goes_to"], **far}, len(roles))]
    if len(cavities) > 1:
        return [
            Plan(kind="pins", columns=_once(roles, a, b)[0], other={}, first=a, last=b - 1)
            for a, b in _blocks(roles)
        ]
    columns, again = _once(roles, 0, len(roles))
    if {"color", "circuit"} & set(again):
        return [_plan("pair", columns, again, len(roles))]
    return [_plan("pins", columns, {}, len(roles))]


def _blocks(roles: Sequence[str]) -> list[tuple[int, int]]:
    """Return first column and the one after the last of each block: tables side by side, cavity by cavity."""
    cavities = [j for j, role in enumerate(roles) if role == "cavity"]
    if len(cavities) < LEAST_FACTS or {"goes_from", "goes_to"} <= set(roles):
        return [(0, len(roles))]
    return list(pairwise([0, *(j - cavities[0] for j in cavities[1:]), len(roles)]))


def _kept_under(role: str) -> str:
    """Return the role under which a column stands in a plan: of several facts the colour, or the last."""
    facts = role.split(SIGN)
    return "color" if len(facts) > 1 and "color" in facts else facts[-1]


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
