"""All ways through the map of a net from one cavity to another, with the in-lines every reading requires."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from xref.harness.netmap import Hub, NetMap, Node, Place, place_of
from xref.records import Pin

#: More ways than this are a misreading, or nothing a person follows with a finger.
MOST_ROUTES = 50
#: Steps of the search after which the ways found so far must do; a net of a large bus takes thousands.
_MOST_STEPS = 200_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One way from pin to pin: a row for each cavity it comes through, the asked ones first and last."""

    hops: tuple[Pin, ...]
    order: Literal["stated", "not stated"]
    maybe: tuple[str, ...] = ()  #: in-lines that may lie on it: the documents do not say on which branch
    within: tuple[str, ...] = ()  #: connectors of components it leads through, if they join it inside


@dataclass(frozen=True, slots=True)
class _Leg:
    """What lies between two stops of a way: in-line cavities that must be passed, in order if `stated`."""

    circuit: str
    between: tuple[Place, ...] = ()
    stated: bool = True
    maybe: tuple[str, ...] = ()


def routes_between(net: NetMap, start: Place, end: Place) -> list[Route]:
    """Return the ways between two cavities of a net, shortest first.

    Ways that differ only in how the documents may be read are one route without order. Where wires alone give
    no way, those are returned that lead through a component with several cavities on the net. Where there is
    none either, the two are of one net all the same: one route without order says so.
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
        return [Route(hops=hops, order="not stated")]
    routes = [route for route in found.values() if route.order == "stated"]
    open_ones = [route for route in found.values() if route.order == "not stated"]
    if open_ones:
        routes.append(_in_all(open_ones, complete=len(found) < MOST_ROUTES))
    return sorted(routes, key=lambda route: len(route.hops))


def _in_all(routes: Sequence[Route], complete: bool) -> Route:
    """Return what several readings of one way have in common; the rest may lie on it."""
    first = routes[0]
    if len(routes) == 1:
        return first
    common = set.intersection(*({place_of(pin) for pin in route.hops} for route in routes))
    if not complete:  # a way that was not looked at may do without them
        common = {place_of(first.hops[0]), place_of(first.hops[-1])}
    hops = tuple(pin for pin in first.hops if place_of(pin) in common)
    passed = {pin.connector for pin in hops}
    others = (pin.connector for route in routes for pin in route.hops if pin.role == "inline")
    maybe = dict.fromkeys((*others, *(name for route in routes for name in route.maybe)))
    return Route(hops=hops, order="not stated", maybe=tuple(name for name in maybe if name not in passed))


def _ways(net: NetMap, start: Place, end: Place, inside: bool) -> Iterator[list[Node]]:
    """Yield simple paths over stops, splices (by name) and hubs (by number), nearest neighbours first."""
    steps = 0
    path: list[Node] = [start]
    seen: set[Node] = {start}
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


def _onward(net: NetMap, node: Node, inside: bool) -> Iterator[Node]:
    yield from net.onward(node)
    if inside and isinstance(node, tuple):
        yield from net.devices.get(node, ())


def _route(net: NetMap, way: list[Node]) -> Route:
    places = [node for node in way if isinstance(node, tuple)]
    legs = [_leg(net, way, at) for at in range(len(way) - 1) if isinstance(way[at], tuple)]
    hops: list[Pin] = []
    stated, maybe = True, dict[str, None]()
    circuit = ""
    for place, leg in zip(places, [*legs, _Leg("")], strict=True):
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
        within=tuple(within),
        maybe=tuple(name for name in maybe if name not in passed_by),
    )


def _leg(net: NetMap, way: list[Node], at: int) -> _Leg:
    """Return what lies between the stop at this position and the next stop of the way."""
    here, onward = way[at], way[at + 1]
    assert isinstance(here, tuple)
    if isinstance(onward, tuple):
        circuit = next((circuit for far, circuit in net.wires.get(here, ()) if far == onward), "")
        return _Leg(circuit)
    there = way[at + 2]
    if isinstance(onward, int) and isinstance(there, tuple):
        return _through_hub(net, net.hubs[onward], here, there)
    return _Leg("")


def _in_device(net: NetMap, place: Place, after: Node) -> bool:
    """Say whether this step of a way lies in a component, since no wire or plug leads there."""
    if after not in net.devices.get(place, ()):
        return False
    return all(far != after for far, _ in net.wires.get(place, ())) and after not in net.plugs.get(place, ())


def _through_hub(net: NetMap, hub: Hub, here: Place, there: Place) -> _Leg:
    """Return the in-lines inside a hub that every reading puts between two of its places.

    With two leaves all else lies between them: else its wires would lead nowhere. With more, an in-line may
    lie on the branch of a third; then only harness names tell. Which half faces which way is stated only
    where harness names say so.
    """
    if not hub.open:
        return _Leg(hub.circuit)
    by_harness = _between_harnesses(net, hub, here, there)
    if by_harness is not None:
        return _Leg(hub.circuit, by_harness)
    chains = [link.chain for link in hub.links]
    if not hub.in_line or {here, there} != set(hub.leaves):
        inlines = (place for chain in chains for place in chain if net.stops[place].role == "inline")
        return _Leg(hub.circuit, (), False, tuple(dict.fromkeys(place[0] for place in inlines)))
    if len(chains) == 1:
        (chain,) = chains
        if _faces(net, here, chain[0]) or _faces(net, there, chain[-1]):
            return _Leg(hub.circuit, chain)
        if _faces(net, here, chain[-1]) or _faces(net, there, chain[0]):
            return _Leg(hub.circuit, chain[::-1])
    return _Leg(hub.circuit, tuple(place for chain in chains for place in chain), False)


def _faces(net: NetMap, place: Place, half: Place) -> bool:
    harness = net.stops[place].harness
    return bool(harness) and harness == net.stops[half].harness


def _between_harnesses(net: NetMap, hub: Hub, here: Place, there: Place) -> tuple[Place, ...] | None:
    """Return what lies between two places whose harnesses are named, None where the names do not tell.

    They tell where every link leads from one named harness to another and no two ways lead to one: then a
    wire comes from harness to harness only by that chain.
    """
    start, goal = net.stops[here].harness, net.stops[there].harness
    single = all(count == 1 for count in hub.ends.values())
    if not start or not goal or not single or not all(link.certain for link in hub.links):
        return None
    linked: dict[str, list[tuple[str, tuple[Place, ...]]]] = defaultdict(list)
    same: dict[str, str] = {}  # harness -> the one that stands for all it is linked to
    for link in hub.links:
        near, far = (net.stops[place].harness for place in (link.chain[0], link.chain[-1]))
        if not near or not far or same.setdefault(near, near) == same.setdefault(far, far):
            return None
        same = {name: same[near] if root == same[far] else root for name, root in same.items()}
        linked[near].append((far, link.chain))
        linked[far].append((near, link.chain[::-1]))
    return next(_chains(linked, start, goal, (start,)), None)


def _chains(
    linked: dict[str, list[tuple[str, tuple[Place, ...]]]], at: str, goal: str, seen: tuple[str, ...]
) -> Iterator[tuple[Place, ...]]:
    if at == goal:
        yield ()
    for far, chain in linked.get(at, ()):
        if far not in seen:
            for rest in _chains(linked, far, goal, (*seen, far)):
                yield (*chain, *rest)
