"""One net as a map of where its wires run, as far as the documents say so.

Stops are cavities. Between them lie wires a document states (a from/to row, or nothing else being possible),
plugs that are pushed together, splices, and hubs: wire ends of one circuit (and harness, where it is named)
of which nobody says which is wired to which. A hub that holds both halves of an in-line is *open*: on which
side of the in-line each of its other cavities lies is not stated.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from xref.harness.mates import both_ways
from xref.records import Pin
from xref.store.fold import plain_key, unpadded_key
from xref.store.settled import Mate

#: (connector, half, cavity as `unpadded_key` folds it)
Place = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Stop:
    """A cavity the net comes to, with every row that prints it."""

    place: Place
    pins: tuple[Pin, ...]

    @property
    def role(self) -> str:
        """What kind of connector it is in."""
        return next((pin.role for pin in self.pins if pin.role != "unknown"), "unknown")

    @property
    def harness(self) -> str:
        """Its harness, folded; "" where no document names one, or two name different ones."""
        named = {plain_key(pin.harness) for pin in self.pins if pin.harness}
        return named.pop() if len(named) == 1 else ""

    def wires(self) -> dict[str, int]:
        """Return how many wires of each circuit one table puts into it, at most."""
        most: dict[str, int] = {}
        tables = Counter((p.document, p.page, p.table_no, p.option, p.circuit) for p in self.pins)
        for (*_, circuit), number in tables.items():
            most[circuit] = max(most.get(circuit, 0), number)
        named = {circuit: number for circuit, number in most.items() if circuit}
        return named or most

    def pin_of(self, circuit: str) -> Pin:
        """Return the row that prints this circuit, one that names the colour before one that does not."""
        rows = [pin for pin in self.pins if pin.circuit == circuit] or list(self.pins)
        return next((pin for pin in rows if pin.base_color), rows[0])


@dataclass(slots=True)
class Hub:
    """Wire ends of one circuit that meet somewhere; `inside` are in-lines both of whose halves are in it."""

    circuit: str
    places: tuple[Place, ...]
    inside: tuple[tuple[Place, Place], ...] = ()
    single: bool = True  #: each place has one wire end in it

    @property
    def terminals(self) -> tuple[Place, ...]:
        """Its places but for the halves of the in-lines inside."""
        halves = {place for pair in self.inside for place in pair}
        return tuple(place for place in self.places if place not in halves)


@dataclass(slots=True)
class NetMap:
    """Stops and what lies between them; every list of neighbours is in the order of the documents."""

    stops: dict[Place, Stop] = field(default_factory=dict)
    wires: dict[Place, list[tuple[Place, str]]] = field(default_factory=lambda: defaultdict(list))
    plugs: dict[Place, list[Place]] = field(default_factory=lambda: defaultdict(list))
    splices: dict[str, list[Place]] = field(default_factory=lambda: defaultdict(list))
    hubs: list[Hub] = field(default_factory=list)
    hubs_at: dict[Place, list[int]] = field(default_factory=lambda: defaultdict(list))
    devices: dict[Place, list[Place]] = field(default_factory=dict)  #: its component's other cavities on it
    unmated: list[Place] = field(default_factory=list)  #: in-line cavities without the other half


def place_of(pin: Pin) -> Place:
    """Return the cavity a row prints, folded so that every document's rows of it meet."""
    return (pin.connector, pin.half, unpadded_key(pin.cavity))


def map_of(pins: Iterable[Pin], mates: Iterable[Mate]) -> NetMap:
    """Return the map of one net's pins (roles as the documents agree on them) and its connectors' mates."""
    net = NetMap()
    rows: dict[Place, list[Pin]] = defaultdict(list)
    for pin in pins:
        rows[place_of(pin)].append(pin)
    net.stops = {place: Stop(place, tuple(found)) for place, found in rows.items()}
    _plug(net, mates)
    for place, stop in net.stops.items():
        if stop.role == "splice":
            net.splices[place[0]].append(place)
    net.devices = _devices(net)
    left = _lay_stated_wires(net)
    for circuit, places in left.items():
        for group in _loose_ends(net, places):
            _lay_rest(net, circuit, group)
    return net


def _plug(net: NetMap, mates: Iterable[Mate]) -> None:
    for mate in mates:
        if mate.doubtful:
            continue
        for (*side, cavity), (*far, far_cavity) in both_ways(mate):
            here = (side[0], side[1], unpadded_key(cavity))
            there = (far[0], far[1], unpadded_key(far_cavity))
            if here in net.stops and there in net.stops and there not in net.plugs[here]:
                net.plugs[here].append(there)
    net.unmated = [p for p, stop in net.stops.items() if stop.role == "inline" and not net.plugs.get(p)]


def _devices(net: NetMap) -> dict[Place, list[Place]]:
    """Return, for cavities of components, the component's other cavities with the same circuit.

    Whether they are joined in the component, as a bus that goes in and out, is not stated.
    """
    groups: dict[tuple[str, str], list[Place]] = defaultdict(list)
    for place, stop in net.stops.items():
        if stop.role in ("component", "unknown"):
            owner = next((pin.component for pin in stop.pins if pin.component), place[0])
            for circuit in stop.wires():
                groups[owner, circuit].append(place)
    found: dict[Place, list[Place]] = defaultdict(list)
    for group in groups.values():
        for place in group:
            found[place] += [other for other in group if other != place]
    return {place: others for place, others in found.items() if others}


def _lay_stated_wires(net: NetMap) -> dict[str, list[Place]]:
    """Lay the wires from/to rows state, and return by circuit the places that have wire ends left.

    Where a column names the far device instead of the next stop, cavities get more wires than they have:
    then what it says of this circuit is no wire, and all ends of the circuit are left.
    """
    has = {place: stop.wires() for place, stop in net.stops.items()}
    stated: dict[str, set[frozenset[Place]]] = defaultdict(set)
    for circuit, pair in _statements(net):
        stated[circuit].add(pair)
    left: dict[str, list[Place]] = {}
    for circuit in dict.fromkeys(circuit for wires in has.values() for circuit in wires):
        number = {place: wires[circuit] for place, wires in has.items() if circuit in wires}
        pairs = stated.get(circuit, set())
        used = Counter(place for pair in pairs for place in pair)
        if any(count > number.get(place, 0) for place, count in used.items()):
            pairs, used = set(), Counter()
        for one, other in sorted(tuple(sorted(pair)) for pair in pairs):
            net.wires[one].append((other, circuit))
            net.wires[other].append((one, circuit))
        rest = [place for place in number if number[place] > used[place]]
        if rest:
            left[circuit] = rest
    return left


def _statements(net: NetMap) -> Iterator[tuple[str, frozenset[Place]]]:
    """Yield the two ends each from/to row names, where both are in this net and carry its circuit."""
    by_name: dict[str, list[Place]] = defaultdict(list)
    for place in net.stops:
        by_name[plain_key(place[0] + place[1])].append(place)
    for place, stop in net.stops.items():
        for pin in stop.pins:
            far = _destination(net, by_name, pin) if pin.goes_to else None
            if far is not None and far != place:
                yield pin.circuit, frozenset((place, far))


def _destination(net: NetMap, by_name: Mapping[str, Sequence[Place]], pin: Pin) -> Place | None:
    name, colon, cavity = pin.goes_to.rpartition(":")
    if not colon:
        name, cavity = pin.goes_to, ""
    fitting = [
        place
        for place in by_name.get(plain_key(name), ())
        if (not cavity or place[2] == unpadded_key(cavity)) and pin.circuit in net.stops[place].wires()
    ]
    return fitting[0] if len(fitting) == 1 else None


def _loose_ends(net: NetMap, places: Sequence[Place]) -> Iterator[list[Place]]:
    """Yield groups of wire ends that meet.

    A wire has one colour from end to end and lies in one harness: ends are parted by both, as long as no
    end is left alone by it; then the names do not mean the same harness, or a colour was misprinted.
    """
    for group in _parted(places, lambda place: _base(net.stops[place])):
        yield from _parted(group, lambda place: net.stops[place].harness)


def _base(stop: Stop) -> str:
    named = {pin.base_color for pin in stop.pins if pin.base_color}
    return named.pop() if len(named) == 1 else ""


def _parted(places: Sequence[Place], key: Callable[[Place], str]) -> list[list[Place]]:
    groups: dict[str, list[Place]] = defaultdict(list)
    for place in places:
        groups[key(place)].append(place)
    whole = "" in groups or any(len(group) < 2 for group in groups.values())
    return [list(places)] if whole else list(groups.values())


def _lay_rest(net: NetMap, circuit: str, group: Sequence[Place]) -> None:
    """Join wire ends that are left: two are one wire, since nothing else is possible; more are a hub."""
    if len(group) < 2:
        return
    members = set(group)
    inside = [
        (place, far) for place in group for far in net.plugs.get(place, ()) if far in members and place < far
    ]
    if len(group) == 2 and not inside:
        one, other = group
        net.wires[one].append((other, circuit))
        net.wires[other].append((one, circuit))
        return
    for place in group:
        net.hubs_at[place].append(len(net.hubs))
    single = all(net.stops[place].wires().get(circuit, 1) == 1 for place in group)
    net.hubs.append(Hub(circuit, tuple(group), tuple(inside), single))
