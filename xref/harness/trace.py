"""From one cavity, connector or circuit to another: every way the documents give, and what is left open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from xref.harness.agreed import agreed
from xref.harness.answers import Near, TraceAnswer
from xref.harness.connector import connectors_named, pins_in
from xref.harness.likeness import near_circuits, near_connectors
from xref.harness.netmap import NetMap, Place, place_of
from xref.harness.netview import likely_in, missing_of, net_map, notices_of
from xref.harness.oddities import is_potential, place, potential_words
from xref.harness.outdated import outdated_documents
from xref.harness.routes import MOST_ROUTES, Route, routes_between
from xref.records import Pin
from xref.settings import DEFAULT, Settings
from xref.store.index import Index

__all__ = ["answer_trace", "missing_of", "net_map", "notices_of"]

#: Pairs of cavities looked at for one question; a question about more is put more closely.
_MOST_PAIRS = 400


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one side of the question stands for."""

    text: str
    pins: tuple[Pin, ...]
    is_circuit: bool = False
    near: tuple[Near, ...] = ()


def answer_trace(
    index: Index, start: str, end: str, machine: str | None = None, settings: Settings = DEFAULT
) -> TraceAnswer:
    """Answer by which ways two cavities, connectors or circuits are joined; machines are never mixed."""
    one, other = (_asked(index, text, machine, settings) for text in (start, end))
    answer = TraceAnswer(
        start=start,
        end=end,
        paths=(),
        near=(*one.near, *other.near),
        unread_pages=tuple(index.unread_pages(machine)),
    )
    if not (one.pins and other.pins):
        unknown = [side.text for side in (one, other) if not side.pins]
        said = tuple(f"{text} is neither a connector nor a circuit in these pages." for text in unknown)
        return replace(answer, notices=said, outdated=outdated_documents(index, machine))
    found = _Found()
    for of in sorted({pin.machine for pin in one.pins} & {pin.machine for pin in other.pins}):
        _trace_in(index, found, of, _of_machine(one, of), _of_machine(other, of))
    if not found.routes:
        found.notices += _why_not(index, one, other)
    pins = [pin for route in found.routes for pin in route.hops] or [*one.pins, *other.pins]
    return replace(
        answer,
        paths=tuple(found.routes),
        missing=tuple(dict.fromkeys(found.missing)),
        notices=tuple(dict.fromkeys(found.notices)),
        outdated=outdated_documents(index, machine, pins),
    )


class _Found:
    """What was found so far."""

    def __init__(self) -> None:
        self.routes: list[Route] = []
        self.missing: list[str] = []
        self.notices: list[str] = []


def _asked(index: Index, text: str, machine: str | None, settings: Settings) -> _Asked:
    """Take a text as `CONNECTOR:CAVITY`, as a connector, else as a circuit."""
    text = text.strip()
    name, colon, cavity = text.rpartition(":")
    whole = connectors_named(index, text, machine)
    if whole:
        return _Asked(text, tuple(_pins_of(index, {(r.machine, r.connector, r.half) for r in whole})))
    if colon:
        records = connectors_named(index, name, machine)
        pins = _pins_of(index, {(r.machine, r.connector, r.half) for r in records})
        held = tuple(pins_in(pins, cavity.strip()))
        if held:
            return _Asked(text, held)
    pins = index.pins_on_circuit(text, machine) if text else []
    if pins:
        return _Asked(text, tuple(pins), is_circuit=True)
    near = near_connectors(index, name if colon else text, machine, set(), settings)
    near += near_circuits(index, text, machine, found=False, settings=settings)
    return _Asked(text, (), near=near)


def _pins_of(index: Index, halves: Iterable[tuple[str, str, str]]) -> list[Pin]:
    return [pin for machine, name, half in sorted(halves) for pin in index.pins_of(name, machine, half)]


def _of_machine(asked: _Asked, machine: str) -> _Asked:
    return replace(asked, pins=tuple(pin for pin in asked.pins if pin.machine == machine))


def _trace_in(index: Index, found: _Found, machine: str, one: _Asked, other: _Asked) -> None:
    here, there = index.nets_of(one.pins), index.nets_of(other.pins)
    shared = sorted(set(here.values()) & set(there.values()))
    if not shared:
        return
    flags = index.net_flags(shared)
    pins_of = index.pins_of_nets(shared)
    for number in shared:
        net = net_map(index, pins_of[number])
        starts = _cavities(net, [pin for pin, of in here.items() if of == number], one.is_circuit)
        ends = _cavities(net, [pin for pin, of in there.items() if of == number], other.is_circuit)
        pairs = _pairs(starts, ends)
        if len(pairs) > _MOST_PAIRS:
            pairs = pairs[:_MOST_PAIRS]
            found.notices.append(f"Only the first {_MOST_PAIRS} pairs of cavities are shown: ask by cavity.")
        for start, end in pairs:
            asked = {*starts, *ends} - {start, end}
            routes = [r for r in routes_between(net, start, end) if not asked & _on_the_way(r)]
            found.routes += routes
            found.notices += _of_routes(routes)
        found.missing += missing_of(net, flags[number], likely_in(index, net))
        found.notices += notices_of(net, flags[number])


def _cavities(net: NetMap, pins: Iterable[Pin], is_circuit: bool) -> list[Place]:
    """Return the cavities asked for; of a circuit its ends, where it has any."""
    places = list(dict.fromkeys(place_of(pin) for pin in pins))
    if not is_circuit:
        return places
    ends = [place for place in places if net.stops[place].role not in ("inline", "splice")]
    return ends or places


def _pairs(starts: Sequence[Place], ends: Sequence[Place]) -> list[tuple[Place, Place]]:
    """Return each two different cavities once, whichever side they were asked on."""
    seen: set[frozenset[Place]] = set()
    pairs = []
    for start, end in product(starts, ends):
        pair = frozenset((start, end))
        if start != end and pair not in seen:
            seen.add(pair)
            pairs.append((start, end))
    return pairs


def _on_the_way(route: Route) -> set[Place]:
    """Return the cavities between its ends: a way that passes one asked for is only longer than its own."""
    return {place_of(pin) for pin in route.hops[1:-1]}


def _of_routes(routes: Sequence[Route]) -> list[str]:
    said = []
    if len(routes) > 1:
        more = "at least " if len(routes) >= MOST_ROUTES else ""
        said.append(
            f"There are {more}{len(routes)} ways between {place(routes[0].hops[0])} and "
            f"{place(routes[0].hops[-1])}: cutting one leaves the other, and a meter cannot see the cut."
        )
    within = dict.fromkeys(name for route in routes for name in route.within)
    if within:
        said.append(f"The way leads through {', '.join(within)}: whether it is joined inside is not stated.")
    if any(route.order == "not stated" and not route.within for route in routes):
        said.append("The order along the way is not stated by the manual.")
    maybe = dict.fromkeys(name for route in routes for name in route.maybe)
    if maybe:
        said.append(
            f"Whether the way leads through {', '.join(maybe)} is not stated: "
            "it may lie on the branch to another end."
        )
    return said


def _why_not(index: Index, one: _Asked, other: _Asked) -> list[str]:
    """Return why there is no way: two machines, a voltage's name, or a component that both come to."""
    machines = {pin.machine for pin in one.pins} & {pin.machine for pin in other.pins}
    if not machines:
        return [f"{one.text} and {other.text} are in two machines: nothing joins them."]
    said = [f"No wire joins {one.text} and {other.text} in these documents."]
    for side in (one, other):
        named = sorted({pin.circuit for pin in side.pins if pin.circuit and is_potential(pin.circuit, [pin])})
        if named:
            what = " and ".join(f"{circuit} {potential_words(circuit)}" for circuit in named)
            said.append(f"At {side.text}, {what}: that joins nothing by itself.")
    nets = [set(index.nets_of(side.pins).values()) for side in (one, other)]
    for number, rows in index.pins_of_nets(sorted(set().union(*nets))[:_MOST_PAIRS]).items():
        likely = likely_in(index, net_map(index, rows))
        said += [f"On net {number}, {item.sentence()}." for item in likely]
    owners = [_devices(index, sorted(numbers)[:_MOST_PAIRS]) for numbers in nets]
    both = sorted(owners[0].keys() & owners[1].keys())
    for name in both[:_MOST_SHARED]:
        said.append(
            f"Both come to {name} ({owners[0][name]} and {owners[1][name]}): what lies in it is no wire."
        )
    return said


#: Devices named between two nets that are not joined.
_MOST_SHARED = 3


def _devices(index: Index, nets: Sequence[int]) -> dict[str, str]:
    found: dict[str, str] = {}
    for pins in index.pins_of_nets(nets).values():
        for pin in agreed(index, pins):
            if pin.role in ("component", "fuse", "unknown"):
                found.setdefault(pin.component or pin.connector, place(pin))
    return found
