"""All ways through the map of a net from one cavity to another, with the in-lines every reading requires."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from xref.harness.netmap import Hub, NetMap, Place
from xref.records import Pin

#: More ways than this are a misreading, or nothing a person follows with a finger.
MOST_ROUTES = 50
#: Steps of the search after which the ways found so far must do; a net of a large bus takes thousands.
_MOST_STEPS = 200_000

#: What lies between two hops: one wire; halves plugged together; legs of one splice; a component, if it joins
#: them inside; or the same circuit, but which end is wired to which (or in which order) is not stated.
Between = Literal["wire", "plug", "splice", "component", "not stated"]

#: A stop, a splice or a hub on the way.
_Node = Place | str | int


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One way from pin to pin: a row for each cavity it comes through, the asked ones first and last."""

    hops: tuple[Pin, ...]
    order: Literal["stated", "not stated"]
    between: tuple[Between, ...] = ()  #: what lies between each hop and the next
    maybe: tuple[str, ...] = ()  #: in-lines that may lie on it: the documents do not say on which branch
    within: tuple[str, ...] = ()  #: connectors of components it leads through, if they join it inside


@dataclass(frozen=True, slots=True)
class Leg:
    """What lies between two stops of a way: in-line cavities that must be passed, in order if `stated`."""

    circuit: str
    between: tuple[Place, ...] = ()
    stated: bool = True
    maybe: tuple[str, ...] = ()
    kind: Between = "wire"

    def kinds(self) -> Iterator[Between]:
        """Yield what lies between its stops: wire and plug in turn where it leads through in-lines."""
        yield self.kind
        for _ in range(len(self.between) // 2):
            yield from ("plug", self.kind)


def routes_between(net: NetMap, start: Place, end: Place) -> list[Route]:
    """Return the ways between two cavities of a net, shortest first.

    Where wires alone give no way, those are returned that lead through a component with several cavities on
    the net. Where there is none either, the two are of one net all the same: one route without order says so.
    """
    found: dict[tuple[Pin, ...], Route] = {}
    for inside in (False, True):
        for way in _ways(net, start, end, inside):
            route = _route(net, way)
            found.setdefault(route.hops, route)
            if len(found) >= MOST_ROUTES:
                break
        if found:
            break
    if not found and start != end:
        hops = (net.stops[start].pins[0], net.stops[end].pins[0])
        return [Route(hops=hops, order="not stated", between=("not stated",))]
    return sorted(found.values(), key=lambda route: len(route.hops))


def _ways(net: NetMap, start: Place, end: Place, inside: bool) -> Iterator[list[_Node]]:
    """Yield simple paths over stops, splices (by name) and hubs (by number), nearest neighbours first."""
    steps = 0
    path: list[_Node] = [start]
    seen: set[_Node] = {start}
    stack = [_onward(net, start, inside)]
    while stack and steps < _MOST_STEPS:
        node = next(stack[-1], None)
        if node is None:
            stack.pop()
            seen.discard(path.pop())
            continue
        steps += 1
        if node in seen:
            continue
        if node == end:
            yield [*path, node]
            continue
        path.append(node)
        seen.add(node)
        stack.append(_onward(net, node, inside))


def _onward(net: NetMap, node: _Node, inside: bool) -> Iterator[_Node]:
    if isinstance(node, int):
        yield from net.hubs[node].places
        return
    if isinstance(node, str):
        yield from net.splices[node]
        return
    hidden = {pair for number in net.hubs_at.get(node, ()) for pair in net.hubs[number].inside}
    for far in net.plugs.get(node, ()):
        if (min(node, far), max(node, far)) not in hidden:
            yield far
    for far, _ in net.wires.get(node, ()):
        yield far
    if node in net.splices.get(node[0], ()):
        yield node[0]
    yield from net.hubs_at.get(node, ())
    if inside:
        yield from net.devices.get(node, ())


def _route(net: NetMap, way: list[_Node]) -> Route:
    places = [node for node in way if isinstance(node, tuple)]
    legs = [_leg(net, way, at) for at in range(len(way) - 1) if isinstance(way[at], tuple)]
    hops: list[Pin] = []
    stated, maybe = True, dict[str, None]()
    circuit = ""
    for place, leg in zip(places, [*legs, Leg("")], strict=True):
        hops.append(net.stops[place].pin_of(leg.circuit or circuit))
        hops += (net.stops[passed].pin_of(leg.circuit) for passed in leg.between)
        stated = stated and leg.stated
        maybe |= dict.fromkeys(leg.maybe)
        circuit = leg.circuit
    passed_by = {pin.connector for pin in hops}
    within = dict.fromkeys(
        place[0]
        for place, after in pairwise(way)
        if isinstance(place, tuple) and _in_device(net, place, after)
    )
    return Route(
        hops=tuple(hops),
        order="stated" if stated and not within else "not stated",
        between=tuple(kind for leg in legs for kind in leg.kinds()),
        within=tuple(within),
        maybe=tuple(name for name in maybe if name not in passed_by),
    )


def _leg(net: NetMap, way: list[_Node], at: int) -> Leg:
    """Return what lies between the stop at this position and the next stop of the way."""
    here, onward = way[at], way[at + 1]
    assert isinstance(here, tuple)
    if isinstance(onward, tuple):
        if onward in net.plugs.get(here, ()):
            return Leg("", kind="plug")
        if _in_device(net, here, onward):
            return Leg("", kind="component")
        return Leg(next((circuit for far, circuit in net.wires.get(here, ()) if far == onward), ""))
    there = way[at + 2]
    if isinstance(onward, int) and isinstance(there, tuple):
        return through_hub(net, net.hubs[onward], here, there)
    return Leg("", kind="splice")


def _in_device(net: NetMap, place: Place, after: _Node) -> bool:
    """Say whether this step of a way lies in a component, since no wire or plug leads there."""
    if after not in net.devices.get(place, ()):
        return False
    return all(far != after for far, _ in net.wires.get(place, ())) and after not in net.plugs.get(place, ())


def through_hub(net: NetMap, hub: Hub, here: Place, there: Place) -> Leg:
    """Return the in-lines inside a hub that every reading puts between two of its places.

    With two terminals every in-line inside lies between them: else its wires would lead nowhere. With more,
    an in-line may lie on the branch of a third; then only harness names tell. Which half faces which way is
    stated only where harness names say so.
    """
    open_: Between = "not stated"
    if not hub.inside:
        return Leg(hub.circuit, kind=open_)
    names = tuple(dict.fromkeys(place[0] for pair in hub.inside for place in pair))
    alone = hub.single and {here, there} == set(hub.terminals)
    by_harness = _between_harnesses(net, hub, here, there)
    if by_harness is not None:
        every = alone and len(by_harness) == 2 * len(hub.inside)
        return Leg(hub.circuit, by_harness, kind="wire" if every else open_)
    if not alone:
        return Leg(hub.circuit, (), False, names, open_)
    if len(hub.inside) > 1:
        return Leg(hub.circuit, tuple(place for pair in hub.inside for place in pair), False, kind=open_)
    one, other = hub.inside[0]
    if _faces(net, here, one) or _faces(net, there, other):
        return Leg(hub.circuit, (one, other))
    if _faces(net, here, other) or _faces(net, there, one):
        return Leg(hub.circuit, (other, one))
    return Leg(hub.circuit, (one, other), False, kind=open_)


def _faces(net: NetMap, place: Place, half: Place) -> bool:
    harness = net.stops[place].harness
    return bool(harness) and harness == net.stops[half].harness


def _between_harnesses(net: NetMap, hub: Hub, here: Place, there: Place) -> tuple[Place, ...] | None:
    """Return the in-lines between two places whose harnesses are named, None where the names do not tell."""
    start, goal = net.stops[here].harness, net.stops[there].harness
    if not start or not goal or any(_faces(net, one, other) for one, other in hub.inside):
        return None
    if start == goal:
        return ()
    linked: dict[str, list[tuple[str, Place, Place]]] = defaultdict(list)
    for one, other in hub.inside:
        near, far = net.stops[one].harness, net.stops[other].harness
        if near and far:
            linked[near].append((far, one, other))
            linked[far].append((near, other, one))
    ways = _chains(linked, start, goal, (start,))
    first, second = next(ways, None), next(ways, None)
    return first if second is None else None


def _chains(
    linked: dict[str, list[tuple[str, Place, Place]]], at: str, goal: str, seen: tuple[str, ...]
) -> Iterator[tuple[Place, ...]]:
    for far, one, other in linked.get(at, ()):
        if far == goal:
            yield (one, other)
        elif far not in seen:
            for rest in _chains(linked, far, goal, (*seen, far)):
                yield (one, other, *rest)
