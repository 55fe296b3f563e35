"""What a plan is started from: the modules that are to move, and what the index knows to ask about them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from xref.harness.answers import Neighbor
from xref.harness.connector import connectors_named
from xref.harness.neighbors import neighbors_of
from xref.moves.names import Named, find_name, machine_of, machines_listed
from xref.moves.plan_file import PlanError, PlanFile
from xref.moves.records import HostNeed, InlineFate, Plan, PlannedNet
from xref.moves.work_out import work_out
from xref.records import Connector
from xref.store.index import Index

#: Stands for the place that is not known yet, where all named modules are thought to go together.
_SOMEWHERE = "the new place"


@dataclass(frozen=True, slots=True, kw_only=True)
class Module:
    """A component (or connector) that is to move, as the plan names it."""

    name: str
    connectors: tuple[tuple[str, int], ...]  #: with the cavities that were read
    not_named: tuple[str, ...] = ()  #: connectors of its component the plan's name leaves out


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStart:
    """Everything a new plan file is written from."""

    machine: str
    modules: tuple[Module, ...]
    only: tuple[Neighbor, ...]  #: neighbours that talk to nothing but the modules and each other
    shared: tuple[Neighbor, ...]  #: the other components they talk to
    inlines: tuple[tuple[InlineFate, int], ...]  #: on their way, with the number of their nets through it
    host: tuple[tuple[HostNeed, PlannedNet], ...]  #: what they would need if they left all else behind
    safety: tuple[PlannedNet, ...]  #: circuits of theirs that wait until the person has read them
    refused: tuple[PlannedNet, ...]  #: circuits of theirs nobody may cut by a plan


def start_plan(index: Index, asked: Sequence[str], machine: str | None, said: str) -> PlanStart:
    """Return what a plan that moves these components is started from; `said` begins every message.

    Raises:
        PlanError: a name fits nothing or several things, is an in-line, or two name the same connector.
    """
    known = index.machines()
    if machine is None and len(known) > 1:
        raise PlanError(
            f"{said}: the index holds several machines.",
            hint=f"Say --machine: {machines_listed(known)}.",
        )
    where = machine_of(index, PlanFile(name=said, machine=machine))
    modules = tuple(_module(index, where, name, said) for name in dict.fromkeys(asked))
    places = {module.name: _SOMEWHERE for module in modules}
    if len(places) < len(modules):
        raise PlanError(f"{said}: a component is named twice.", hint="Name each once.")
    stays = work_out(index, PlanFile(name=said, machine=where, place=places))
    alone = work_out(index, PlanFile(name=said, machine=where, place=places, rest="left behind"))
    records = [record for module in modules for record in _records(index, where, module)]
    around = [n for n in neighbors_of(index, records) if n.role not in ("ground", "fuse")]
    touched = [net for net in stays.nets if net.touched]
    nets = {net.number: net for net in alone.nets}
    return PlanStart(
        machine=where,
        modules=modules,
        only=tuple(n for n in around if n.only),
        shared=tuple(n for n in around if not n.only),
        inlines=tuple(_on_their_way(stays, touched)),
        host=tuple((need, nets[need.net]) for need in alone.host),
        safety=tuple(net for net in touched if net.review and not net.refused),
        refused=tuple(net for net in touched if net.refused),
    )


def _module(index: Index, machine: str, name: str, said: str) -> Module:
    named = find_name(index, machine, name, said, "the command")
    if named.inline:
        raise PlanError(
            f"{said}: {name} is an in-line connector or a splice, which lies on the way and has no place.",
            hint="Name the components that move.",
        )
    printed = _as_printed(named)
    counts: dict[str, int] = {}
    for connector in sorted(named.connectors):
        cavities = {(p.half, p.cavity) for p in index.pins_of(connector, machine) if p.status != "unused"}
        counts[connector] = len(cavities)
    components = {r.component for name in counts for r in index.connectors(machine, name=name) if r.component}
    others = {r.connector for component in components for r in index.connectors(machine, component=component)}
    return Module(
        name=printed,
        connectors=tuple(counts.items()),
        not_named=tuple(sorted(others - named.connectors)),
    )


def _as_printed(named: Named) -> str:
    """Return a name as the manual has it, whatever capitals and blanks it was typed with."""
    if named.component:
        return named.component
    return next(iter(named.connectors)) if len(named.connectors) == 1 else named.name


def _records(index: Index, machine: str, module: Module) -> list[Connector]:
    return [r for name, _ in module.connectors for r in connectors_named(index, name, machine)]


def _on_their_way(plan: Plan, touched: Iterable[PlannedNet]) -> Iterable[tuple[InlineFate, int]]:
    passed = [{place[0] for place, stop in net.net.stops.items() if stop.role == "inline"} for net in touched]
    for item in plan.inlines:
        names = set(item.connector.split(" / "))
        number = sum(bool(names & own) for own in passed)
        if number:
            yield item, number
