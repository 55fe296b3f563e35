"""What a module is wired to: every component, stud and fuse its circuits reach, and by which in-lines."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from xref.harness.agreed import agreed
from xref.harness.answers import Neighbor
from xref.harness.netmap import NetMap, Place, place_of
from xref.harness.nets import ON_THE_PATH
from xref.harness.routes import routes_between
from xref.harness.trace import net_map
from xref.records import Connector, Pin
from xref.store.index import Index

#: (component, or the connector's name where none is known; its role)
_Owner = tuple[str, str]


def neighbors_of(index: Index, records: Iterable[Connector]) -> tuple[Neighbor, ...]:
    """Return what these connectors are wired to, most circuits first, machine by machine.

    Circuits are counted, not cavities: a net that reaches a component in two cavities counts once. A
    neighbour talks *only* to these where no circuit of it reaches a component beyond them and others that
    talk only to these; grounds and fuses, which nearly everything shares, do not count.
    """
    found: list[Neighbor] = []
    for machine, names in _by_machine(records).items():
        found += _in_machine(index, machine, names)
    return tuple(found)


def _by_machine(records: Iterable[Connector]) -> dict[str, set[tuple[str, str]]]:
    machines: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for record in records:
        machines[record.machine].add((record.connector, record.half))
    return dict(sorted(machines.items()))


def _in_machine(index: Index, machine: str, own: set[tuple[str, str]]) -> list[Neighbor]:
    pins = [pin for name, half in sorted(own) for pin in index.pins_of(name, machine, half)]
    numbers = sorted(set(index.nets_of(pins).values()))
    flags = index.net_flags(numbers)
    reached: dict[_Owner, dict[int, _Reach]] = defaultdict(dict)
    for number, rows in index.pins_of_nets(numbers).items():
        net = net_map(index, rows)
        for owner, reach in _reached(net, own).items():
            reached[owner][number] = reach
    only = _only_these(index, machine, own, {of for of in reached if of[1] not in ("ground", "fuse")})
    neighbors = [
        Neighbor(
            machine=machine,
            component=owner[0],
            role=owner[1],
            connectors=tuple(dict.fromkeys(name for reach in nets.values() for name in reach.connectors)),
            circuits=tuple(dict.fromkeys(reach.circuit for reach in nets.values())),
            count=len(nets),
            through=tuple(sorted({name for reach in nets.values() for name in reach.through})),
            only=owner in only,
            doubtful=any("pins-in-doubt" in flags[number] for number in nets),
        )
        for owner, nets in reached.items()
    ]
    return sorted(neighbors, key=lambda n: (n.role in ("ground", "fuse"), -n.count, n.component))


class _Reach:
    """How one net reaches a neighbour."""

    def __init__(self) -> None:
        self.circuit = ""
        self.connectors: dict[str, None] = {}
        self.through: set[str] = set()


def _reached(net: NetMap, own: set[tuple[str, str]]) -> dict[_Owner, _Reach]:
    starts = [place for place in net.stops if place[:2] in own]
    found: dict[_Owner, _Reach] = {}
    for place, stop in net.stops.items():
        if place[:2] in own or stop.role in ON_THE_PATH:
            continue
        reach = found.setdefault(_owner(stop.pins), _Reach())
        reach.connectors[place[0]] = None
        reach.circuit = reach.circuit or _circuit(net, starts)
        reach.through |= _inlines_between(net, starts, place)
    return found


def _inlines_between(net: NetMap, starts: Sequence[Place], end: Place) -> set[str]:
    routes = [route for start in starts[:1] for route in routes_between(net, start, end)[:1]]
    return {pin.connector for route in routes for pin in route.hops[1:-1] if pin.role == "inline"}


def _circuit(net: NetMap, starts: Iterable[Place]) -> str:
    named = [pin.circuit for start in starts for pin in net.stops[start].pins if pin.circuit]
    return named[0] if named else ""


def _owner(pins: Sequence[Pin]) -> _Owner:
    component = next((pin.component for pin in pins if pin.component), "")
    role = next((pin.role for pin in pins if pin.role != "unknown"), "unknown")
    if role in ("ground", "fuse"):
        return (pins[0].connector, role)
    return (component or pins[0].connector, role)


def _only_these(index: Index, machine: str, own: set[tuple[str, str]], owners: set[_Owner]) -> set[_Owner]:
    """Return the components that talk to the own connectors and to each other, but to nothing else."""
    names = {owner: _halves(index, machine, owner[0]) for owner in owners}
    reach = {owner: _reach(index, machine, found) - own - found for owner, found in names.items()}
    inside = set(owners)
    while True:
        known = {half for owner in inside for half in names[owner]}
        left = {owner for owner in inside if reach[owner] <= known}
        if left == inside:
            return inside
        inside = left


def _halves(index: Index, machine: str, name: str) -> set[tuple[str, str]]:
    records = index.connectors(machine, component=name) or index.connectors(machine, name=name)
    return {(record.connector, record.half) for record in records}


def _reach(index: Index, machine: str, halves: set[tuple[str, str]]) -> set[tuple[str, str]]:
    """Return the connectors of components that a component's nets reach."""
    pins = [pin for name, half in sorted(halves) for pin in index.pins_of(name, machine, half)]
    numbers = sorted(set(index.nets_of(pins).values()))
    return {
        place_of(pin)[:2]
        for rows in index.pins_of_nets(numbers).values()
        for pin in agreed(index, rows)
        if pin.role not in (*ON_THE_PATH, "ground", "fuse")
    }
