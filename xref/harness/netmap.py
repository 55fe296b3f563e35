"""One net as a map of where its wires run, as far as the documents say so.

Stops are cavities. Between them lie wires a document states (a from/to row, or nothing else being possible),
plugs that are pushed together, splices, and hubs: wire ends of one circuit (and harness, where it is named)
of which nobody says which is wired to which.
"""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from xref.data.fuse_sides import is_fed_side
from xref.harness.far_end import far_end
from xref.harness.mates import both_ways
from xref.records import Pin
from xref.store.fold import plain_key, unpadded_key
from xref.store.settled import Mate

#: (connector, half, cavity as `unpadded_key` folds it)
Place = tuple[str, str, str]

#: A stop, a splice by its name, or a hub by its number.
Node = Place | str | int

#: So many wire ends cannot be two wires: they meet in one place.
_MOST_CERTAIN = 3


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
    def fuses(self) -> bool:
        """Whether it is a fuse that protects this net: one whose other side it feeds does not."""
        return self.role == "fuse" and not any(is_fed_side("fuse", pin.cavity) for pin in self.pins)

    @property
    def harness(self) -> str:
        """Its harness, folded; "" where no document names one, or two name different ones."""
        named = {plain_key(pin.harness) for pin in self.pins if pin.harness}
        return named.pop() if len(named) == 1 else ""

    def wires(self) -> dict[str, int]:
        """Return how many wires of each circuit one table puts into it, at most."""
        if len(self.pins) == 1:
            return {self.pins[0].circuit: 1}
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


@dataclass(frozen=True, slots=True)
class Link:
    """Two places of a hub that are joined outside it: by a plug, or by a longer chain of stops."""

    chain: tuple[Place, ...]
    certain: bool = True  #: there is no other chain, and nothing open on it


@dataclass(slots=True)
class Hub:
    """Wire ends of one circuit that meet somewhere, by wires and splices nobody states.

    Where some of its places are joined outside it by in-lines, the hub is *open*: which of the others lies
    on which side of these is not stated.
    """

    circuit: str
    places: tuple[Place, ...]
    ends: dict[Place, int]  #: how many wire ends each place has in it
    links: tuple[Link, ...] = ()
    leaves: tuple[Place, ...] = ()  #: places with one wire end that are joined to no other outside
    open: bool = False
    in_line: bool = False  #: all else can only lie between its two leaves, in whatever order

    @property
    def single(self) -> bool:
        """Whether each of its places has one wire end in it."""
        return all(count == 1 for count in self.ends.values())

    def _chains(self) -> Iterator[tuple[Place, ...]]:
        return (link.chain for link in self.links)

    @property
    def inside(self) -> tuple[tuple[Place, Place], ...]:
        """The in-lines both of whose halves are in it."""
        return tuple((one, other) for one, *between, other in self._chains() if not between)

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

    @property
    def rows(self) -> tuple[Pin, ...]:
        """Every row that prints a cavity of it."""
        return tuple(pin for stop in self.stops.values() for pin in stop.pins)

    def ends_of_line(self) -> tuple[Place, ...]:
        """Return the two ends of a net that has no branch, so that all of it lies between them, else nothing.

        Each stop has two wires or plugs at most: however they are wired, it is one line.
        """
        joints = {
            place: sum(stop.wires().values())
            + len(self.plugs.get(place, ()))
            + len(self.splices.get(place[0], (place,))[1:])
            for place, stop in self.stops.items()
        }
        ends = tuple(place for place, number in joints.items() if number < 2)
        return ends if len(ends) == 2 and all(number <= 2 for number in joints.values()) else ()

    def onward(self, node: Node) -> Iterator[Node]:
        """Yield what a node is joined to: plugs and wires before splices and hubs."""
        if isinstance(node, int):
            yield from self.hubs[node].places
        elif isinstance(node, str):
            yield from self.splices[node]
        else:
            yield from self.plugs.get(node, ())
            yield from (far for far, _ in self.wires.get(node, ()))
            if node in self.splices.get(node[0], ()):
                yield node[0]
            yield from self.hubs_at.get(node, ())


def place_of(pin: Pin) -> Place:
    """Return the cavity a row prints, folded so that every document's rows of it meet."""
    return (pin.connector, pin.half, unpadded_key(pin.cavity))


def map_of(pins: Iterable[Pin], mates: Iterable[Mate]) -> NetMap:
    """Return the map of one net's pins (roles as the documents agree on them) and its connectors' mates."""
    net = stops_of(pins)
    _plug(net, mates)
    for place, stop in net.stops.items():
        if stop.role == "splice":
            net.splices[place[0]].append(place)
    net.devices = _devices(net)
    left = _lay_stated_wires(net)
    for circuit, ends in left.items():
        for group in _loose_ends(net, list(ends)):
            _lay_rest(net, circuit, {place: ends[place] for place in group})
    for number in range(len(net.hubs)):
        _link(net, number)
    return net


def stops_of(pins: Iterable[Pin]) -> NetMap:
    """Return a map that knows the net's cavities, and nothing of what lies between them."""
    rows: dict[Place, list[Pin]] = defaultdict(list)
    for pin in pins:
        rows[place_of(pin)].append(pin)
    return NetMap(stops={place: Stop(place, tuple(found)) for place, found in rows.items()})


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


def _lay_stated_wires(net: NetMap) -> dict[str, dict[Place, int]]:
    """Lay the wires from/to rows state, and return by circuit the wire ends that are left at each place.

    Where a column names the far device instead of the next stop, what it says of this circuit is no wire:
    cavities get more wires than they have, wires change loom or colour, or lead past what else is on it.
    """
    has = {place: stop.wires() for place, stop in net.stops.items()}
    stated: dict[str, set[frozenset[Place]]] = defaultdict(set)
    for circuit, pair in _statements(net):
        stated[circuit].add(pair)
    of_circuit: dict[str, dict[Place, int]] = defaultdict(dict)
    for place, wires in has.items():
        for circuit, count in wires.items():
            of_circuit[circuit][place] = count
    left: dict[str, dict[Place, int]] = {}
    for circuit, number in of_circuit.items():
        pairs = stated.get(circuit, set())
        used = Counter(place for pair in pairs for place in pair)
        rest = {place: number[place] - used[place] for place in number if number[place] != used[place]}
        if pairs and (
            any(count < 0 for count in rest.values())
            or any(_differ(net, pair) for pair in pairs)
            or (rest and not _hang_together(net, of_circuit, circuit, pairs, rest))
        ):
            pairs, rest = set(), number
        for one, other in sorted(tuple(sorted(pair)) for pair in pairs):
            net.wires[one].append((other, circuit))
            net.wires[other].append((one, circuit))
        if rest:
            left[circuit] = rest
    return left


def _differ(net: NetMap, pair: Iterable[Place]) -> bool:
    """Say whether two ends cannot be one wire's: it lies in one loom and has one colour."""
    stops = [net.stops[place] for place in pair]
    return any(len(found - {""}) > 1 for found in ({s.harness for s in stops}, {_base(s) for s in stops}))


def _hang_together(
    net: NetMap,
    of_circuit: Mapping[str, Iterable[Place]],
    circuit: str,
    pairs: Iterable[Iterable[Place]],
    rest: Iterable[Place],
) -> bool:
    """Say whether the wires stated of a circuit leave its other ends joined to them, by whatever else."""
    groups: list[Iterable[Place]] = [*pairs, rest, *net.splices.values()]
    groups += [places for other, places in of_circuit.items() if other != circuit]
    groups += [(place, *far) for place, far in net.plugs.items()]
    groups_at: dict[Place, list[int]] = defaultdict(list)
    for number, group in enumerate(groups):
        for place in group:
            groups_at[place].append(number)
    wanted = set(of_circuit[circuit])
    reached, waiting = set[Place](), [next(iter(wanted))]
    done = set[int]()
    while waiting:
        place = waiting.pop()
        reached.add(place)
        for number in groups_at[place]:
            if number not in done:
                done.add(number)
                waiting += groups[number]
    return wanted <= reached


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
    name, cavity = far_end(pin.goes_to)
    if ":" not in pin.goes_to and (not name or plain_key(pin.goes_to) in by_name):
        name, cavity = pin.goes_to, ""  # a splice or a stud is named without a cavity
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


def _lay_rest(net: NetMap, circuit: str, ends: dict[Place, int]) -> None:
    """Join wire ends that are left: two are one wire, since nothing else is possible; more are a hub."""
    if len(ends) < 2:
        return
    one, other = list(ends)[:2]
    if len(ends) == 2 and other not in net.plugs.get(one, ()):
        net.wires[one].append((other, circuit))
        net.wires[other].append((one, circuit))
        return
    for place in ends:
        net.hubs_at[place].append(len(net.hubs))
    net.hubs.append(Hub(circuit, tuple(ends), ends))


def _link(net: NetMap, number: int) -> None:
    """Find which places of a hub are joined outside it, and what that says about the others."""
    hub = net.hubs[number]
    parts: list[list[Place]] = []
    for place in hub.places:
        if not any(place in part for part in parts):
            reached = _reached(net, place, number)
            parts.append([other for other in hub.places if other in reached])
    degrees = [sum(hub.ends[place] for place in part) for part in parts]
    hub.leaves = tuple(part[0] for part, degree in zip(parts, degrees, strict=True) if degree == 1)
    hub.links = tuple(
        _chain(net, number, one, other) for part in parts for one, other in pairwise(part) if len(part) > 1
    )
    plugged = any(other in net.plugs.get(place, ()) for part in parts for place in part for other in part)
    by_inline = any(net.stops[place].role == "inline" for link in hub.links for place in link.chain)
    hub.open = plugged or (by_inline and sum(degrees) > _MOST_CERTAIN)
    hub.in_line = (
        len(hub.leaves) == 2
        and all(degree <= 2 for degree in degrees)
        and all(link.certain for link in hub.links)
    )


def _reached(net: NetMap, start: Place, hub: int, without: frozenset[Node] = frozenset()) -> dict[Node, Node]:
    """Return what is joined to a place outside a hub, each with the node it was reached from.

    `without` are two nodes whose joint is left out.
    """
    came: dict[Node, Node] = {start: start}
    waiting: deque[Node] = deque([start])
    while waiting:
        node = waiting.popleft()
        for far in net.onward(node):
            if far != hub and far not in came and frozenset((node, far)) != without:
                came[far] = node
                waiting.append(far)
    return came


def _chain(net: NetMap, hub: int, one: Place, other: Place) -> Link:
    came = _reached(net, one, hub)
    nodes: list[Node] = [other]
    while nodes[-1] != one:
        nodes.append(came[nodes[-1]])
    nodes.reverse()
    certain = all(
        sum(net.hubs[node].ends.values()) <= _MOST_CERTAIN for node in nodes if isinstance(node, int)
    ) and all(other not in _reached(net, one, hub, frozenset(joint)) for joint in pairwise(nodes))
    return Link(tuple(node for node in nodes if isinstance(node, tuple)), certain)
