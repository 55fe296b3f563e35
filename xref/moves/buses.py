"""Bus pairs of a plan: order, terminators and expected ohms before and after the move."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from xref.data.bus_words import (
    Side,
    family_of,
    is_bus,
    not_high_speed,
    side_of,
    side_of_circuit,
    terminator_ohms,
)
from xref.data.function_words import kinds_of
from xref.moves.kept_records import BusPair, Longer, Part, Terminator, Trunk
from xref.moves.ohms import ohms_between
from xref.moves.plan_file import PlanFile
from xref.moves.records import AS_FITTED, GONE, PlannedNet
from xref.moves.trunks import owner_of, trunk_of
from xref.moves.wiregraph import WireGraph

#: Fates under which all living ends of a net stay joined.
_JOINED = frozenset({"stays", "travels", "crosses"})


@dataclass(frozen=True, slots=True, kw_only=True)
class BusWire:
    """A net that is one wire of a bus."""

    net: PlannedNet
    family: str
    side: Side
    functions: frozenset[str]  #: without the word for the side
    circuits: frozenset[str]  #: likewise, where a circuit says the side
    connectors: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Buses:
    """The pairs a plan touches, and the touched wires that have no other wire."""

    pairs: tuple[BusPair, ...] = ()
    single: tuple[BusWire, ...] = ()
    both: tuple[PlannedNet, ...] = ()  #: called H at one cavity and L at another


def buses_of(nets: Iterable[PlannedNet], graphs: Mapping[int, WireGraph], plan: PlanFile) -> Buses:
    """Return the bus pairs of which the plan touches a wire, in the order of their nets."""
    wires: list[BusWire] = []
    both: list[PlannedNet] = []
    for net in nets:
        texts = _texts(net)
        if is_bus(*texts):
            wire = _wire(net, texts)
            if isinstance(wire, BusWire):
                wires.append(wire)
            elif wire and net.touched:
                both.append(net)
    paired = list(_paired(wires))
    known = {wire.net.number for pair in paired for wire in pair}
    return Buses(
        pairs=tuple(
            _pair(high, low, graphs, plan) for high, low in paired if high.net.touched or low.net.touched
        ),
        single=tuple(wire for wire in wires if wire.net.touched and wire.net.number not in known),
        both=tuple(both),
    )


def _texts(net: PlannedNet) -> tuple[str, ...]:
    pins = net.rows
    return tuple(dict.fromkeys(text for pin in pins for text in (pin.function, pin.circuit) if text))


def _wire(net: PlannedNet, texts: tuple[str, ...]) -> BusWire | bool:
    """Return a bus net as wire of a pair, True where it is called both, False where it is called neither."""
    pins = net.rows
    named = {side_of(pin.function) for pin in pins if is_bus(pin.function)}
    sides = {side for side, _ in named if side}
    circuits = {side_of_circuit(circuit) for circuit in net.circuits}
    if not sides:
        sides = {side for side, _ in circuits if side}
    if len(sides) != 1:
        return bool(sides)
    side = sides.pop()
    return BusWire(
        net=net,
        family=family_of(texts),
        side=side,
        functions=frozenset(stem for said, stem in named if said == side),
        circuits=frozenset(stem for said, stem in circuits if said == side),
        connectors=frozenset(place[0] for place in net.net.stops),
    )


def _paired(wires: Iterable[BusWire]) -> Iterator[tuple[BusWire, BusWire]]:
    """Yield H and L that belong together: each is the other's one best likeness; a draw is no pair."""
    sides: dict[Side, list[BusWire]] = {"H": [], "L": []}
    at: dict[str, list[BusWire]] = defaultdict(list)
    for wire in wires:
        sides[wire.side].append(wire)
        if wire.side == "L":
            for connector in wire.connectors:
                at[connector].append(wire)
    likeness: dict[int, list[tuple[float, BusWire]]] = defaultdict(list)
    for high in sides["H"]:
        near = {low.net.number: low for connector in high.connectors for low in at.get(connector, ())}
        for low in near.values():
            if high.family == low.family or not (high.family and low.family):
                value = _alike(high, low)
                likeness[high.net.number].append((value, low))
                likeness[low.net.number].append((value, high))
    for high in sides["H"]:
        best = _best(likeness[high.net.number])
        if best is not None and _best(likeness[best.net.number]) is high:
            yield high, best


def _alike(one: BusWire, other: BusWire) -> float:
    shared = len(one.connectors & other.connectors) / len(one.connectors | other.connectors)
    return 3 * shared + 2 * bool(one.circuits & other.circuits) + bool(one.functions & other.functions)


def _best(found: list[tuple[float, BusWire]]) -> BusWire | None:
    most = max((value for value, _ in found), default=0.0)
    best = [wire for value, wire in found if value > most - 1e-9]
    return best[0] if len(best) == 1 else None


def _pair(high: BusWire, low: BusWire, graphs: Mapping[int, WireGraph], plan: PlanFile) -> BusPair:
    nets = (high.net, low.net)
    owners = _terminating(nets)
    trunk = _trunk(nets, graphs, owners)
    leaving = tuple(_leaving(nets))
    through = tuple(name for name in leaving if all(len(found) > 1 for found in _ends_of(nets, name)))
    bridged = all(net.number in graphs and graphs[net.number].bridged for net in nets)
    same = high.net.fate == low.net.fate and set(high.net.places) == set(low.net.places)
    # a module that is gone from the middle leaves the trunk in two parts until it is bridged
    gone = not bridged and any(_is_gone(nets, name) for name in through)
    sound = same and not gone and all(net.fate in _JOINED and _may(net) for net in nets)
    terminators = tuple(_terminator(nets, name, trunk, sound) for name in owners)
    rule = _rule(high, low)
    before = _ohms(len(owners)) if owners and not rule else None
    living = sum(item.lives for item in terminators)
    return BusPair(
        name=f"{high.net.name} / {low.net.name}",
        family=high.family or low.family,
        high=high.net.number,
        low=low.net.number,
        rule=rule,
        same=same,
        fates=(high.net.fate, low.net.fate),
        trunk=trunk,
        terminators=terminators,
        gone=tuple(_gone(nets)),
        leaving=leaving,
        through=through,
        circuits=tuple(net.circuits[0] for net in nets if net.circuits),
        bridged=bridged,
        told=all(set(net.circuits) & set(plan.bridge) for net in nets),
        longer=tuple(_longer(nets, trunk, plan)),
        ohms_before=before,
        ohms_after=_ohms(living) if living and sound and not rule else None,
    )


def _may(net: PlannedNet) -> bool:
    return not net.refused and (net.accepted or net.fate == "stays")


def _rule(high: BusWire, low: BusWire) -> str:
    texts = (*_texts(high.net), *_texts(low.net))
    unlike = not_high_speed(texts)
    if unlike:
        return f"it is called {unlike}: no reading between its wires is good or bad by itself"
    family = high.family or low.family
    if family != "CAN":
        return f"it is called {family or 'a bus of no name'}: the rule is one of high-speed CAN"
    return ""


def _terminating(nets: Iterable[PlannedNet]) -> tuple[str, ...]:
    """Return the owners of terminators that words of the documents name."""
    return tuple(
        dict.fromkeys(
            owner_of(net, end.place)
            for net in nets
            for end in net.ends
            for pin in net.net.stops[end.place].pins
            if "terminator" in kinds_of(pin.function, pin.component, pin.connector_name)
        )
    )


def _trunk(
    nets: tuple[PlannedNet, PlannedNet], graphs: Mapping[int, WireGraph], owners: tuple[str, ...]
) -> Trunk:
    first, second = (trunk_of(net, graphs.get(net.number), owners) for net in nets)
    if first.stated and second.stated and second.modules not in (first.modules, first.modules[::-1]):
        modules = tuple(dict.fromkeys((*first.modules, *first.stubs, *second.modules, *second.stubs)))
        return Trunk(modules=modules, why_not="its two wires are drawn in different orders")
    return first if first.stated or not second.stated else second


def _ends_of(nets: Iterable[PlannedNet], name: str) -> list[list[str]]:
    """Return, for each wire, where the cavities of a module will be."""
    return [[end.where for end in net.ends if owner_of(net, end.place) == name] for net in nets]


def _is_gone(nets: Iterable[PlannedNet], name: str) -> bool:
    return any(not end.lives for net in nets for end in net.ends if owner_of(net, end.place) == name)


def _gone(nets: tuple[PlannedNet, PlannedNet]) -> Iterator[str]:
    for name in dict.fromkeys(owner_of(net, end.place) for net in nets for end in net.ends):
        if _is_gone(nets, name):
            yield name


def _terminator(nets: tuple[PlannedNet, PlannedNet], name: str, trunk: Trunk, sound: bool) -> Terminator:
    ends = [end for net in nets for end in net.ends if owner_of(net, end.place) == name]
    before = name in trunk.ends if trunk.ends else None
    lives = all(end.lives for end in ends)
    after = before if sound else None
    if not lives:
        after = False
    places = tuple(dict.fromkeys(end.where for end in ends))
    if len(places) > 1:
        after = False if before is False or not lives else None
    return Terminator(
        name=name,
        places=places,
        moves=any(end.moved or not end.lives for end in ends),
        lives=lives,
        at_end_before=before,
        at_end_after=after,
    )


def _leaving(nets: tuple[PlannedNet, PlannedNet]) -> Iterator[str]:
    """Yield modules that leave the bus where it was; where all of it travels, nothing opens."""
    if all(net.fate == "travels" for net in nets):
        return
    for name in dict.fromkeys(owner_of(net, end.place) for net in nets for end in net.ends):
        if any(where != AS_FITTED for found in _ends_of(nets, name) for where in found):
            yield name


def _longer(nets: tuple[PlannedNet, PlannedNet], trunk: Trunk, plan: PlanFile) -> Iterator[Longer]:
    # where nothing stays as fitted there is no old way that grows: its wires are laid anew
    if not any(net.fate == "crosses" and AS_FITTED in net.places for net in nets):
        return
    for name in dict.fromkeys(owner_of(net, end.place) for net in nets for end in net.living):
        places = dict.fromkeys(where for found in _ends_of(nets, name) for where in found)
        moved = [place for place in places if place not in GONE and place != AS_FITTED]
        if moved:
            route = plan.route_m(moved[0], AS_FITTED) if len(moved) == 1 else None
            part: Part = "not stated" if not trunk.stated else "trunk" if name in trunk.modules else "stub"
            yield Longer(module=name, part=part, metres=route)


def _ohms(terminators: int) -> float | None:
    """Return what known terminators alone let a meter read between H and L."""
    each = terminator_ohms()[1]
    return ohms_between([("H", "L", each)] * terminators, "H", "L")
