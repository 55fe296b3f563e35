"""Names a plan uses, found in the index: each is one component, one connector or one in-line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from xref.harness.connector import connectors_named
from xref.harness.likeness import near_connectors
from xref.harness.nets import ON_THE_PATH
from xref.moves.plan_file import PlanError, PlanFile
from xref.records import Connector
from xref.store.fold import plain_key
from xref.store.index import Index

#: Near names in one message; xref find shows more.
_MOST_NAMED = 10


@dataclass(frozen=True, slots=True)
class Named:
    """What a name of the plan stands for."""

    name: str
    connectors: frozenset[str]
    component: str = ""  #: "" where it names a connector
    inline: bool = False  #: an in-line or a splice: it lies on the way and has no place


def machine_of(index: Index, plan: PlanFile) -> str:
    """Return the machine a plan is about.

    Raises:
        PlanError: it names one that is not in the index, or none where there are several.
    """
    known = index.machines()
    if plan.machine is not None:
        if plan.machine not in known:
            raise PlanError(
                f"{plan.name}: there is no machine {plan.machine!r} in the index.",
                hint=f"Machines indexed: {machines_listed(known) or 'none'}.",
            )
        return plan.machine
    if len(known) > 1:
        raise PlanError(
            f"{plan.name}: the index holds several machines, and the plan names none.",
            hint=f'Write machine = "…" at its top: {machines_listed(known)}.',
        )
    return known[0] if known else ""


def find_name(index: Index, machine: str, name: str, plan: str, key: str) -> Named:
    """Return what a name of the plan stands for; `plan` and `key` say in messages where it is written.

    Raises:
        PlanError: it matches nothing, or several things; the message lists what it may mean.
    """
    records = connectors_named(index, name, machine)
    if not records:
        near = [item.name for item in near_connectors(index, name, machine, set())]
        near += [r.component or r.connector for r in index.connectors_holding(name, machine)]
        near = list(dict.fromkeys(near))[:_MOST_NAMED]
        raise PlanError(
            f"{plan}: {key} names {name}, which stands nowhere in the pages that were read.",
            hint=f"Near names: {_listed(near)}." if near else "See xref find.",
        )
    exact = [record for record in records if record.connector == name]
    if exact:
        return Named(name, frozenset({name}), inline=_inline(exact))
    key_of = plain_key(name)
    of_component = [r for r in records if plain_key(r.component) == key_of]
    connectors = {r.connector for r in records}
    if of_component and {r.connector for r in of_component} == connectors:
        return Named(name, frozenset(connectors), component=of_component[0].component)
    if len(connectors) == 1:
        return Named(name, frozenset(connectors), inline=_inline(records))
    raise PlanError(
        f"{plan}: {key} names {name}, which may mean several things.",
        hint=f"Write one of them as printed: {_listed(sorted(connectors))}.",
    )


def _inline(records: Iterable[Connector]) -> bool:
    return any(record.role in ON_THE_PATH for record in records)


def machines_listed(names: Iterable[str]) -> str:
    """Return the names of machines as a hint lists them, with how one without a name is given one."""
    return ", ".join(
        name or "(without a name: xref index FOLDER --machine NAME gives it one)" for name in names
    )


def _listed(names: Iterable[str]) -> str:
    return ", ".join(names)
