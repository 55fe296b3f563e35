"""All ways through the map of a net from one cavity to another, with the in-lines every reading requires."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain as chained
from itertools import pairwise
from typing import Literal

from xref.harness.netmap import Hub, NetMap, Node, Place, place_of
from xref.records import Pin

#: More ways than this are a misreading, or nothing a person follows with a finger.
MOST_ROUTES = 50
#: Steps of the search after which the ways found so far must do; a net of a large bus takes thousands.
_MOST_STEPS = 200_000

#: What lies between two hops: one wire; halves plugged together; legs of one splice; a component, if it joins
#: them inside; or the same circuit, but which end is wired to which (or in which order) is not stated.
Between = Literal["wire", "plug", "splice", "component", "not stated"]

#: Places of a hub that has two leaves and one chain between them.
_LEAVES_AND_CHAIN = 4


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


def routes_between(net: NetMap, start: Place, end: Place) -> list[Route]:
    """Return the ways between two cavities of a net, shortest first.

    Ways that differ only in how the documents may be read are one route without order. Where wires alone
    give no way, those are returned that lead through a component with several cavities on the net. Where
    there is none either, the two are of one net all the same: one route without order says so.
    """
    found: dict[tuple[Pin, ...], Route] = {}
    for inside in (False, True):
        for way in _ways(net, start, end, inside):
            route = _route(net, way)
            if len({place_of(pin) for pin in route.hops}) < len(route.hops):
                continue  # by the looms' names it would have to come back the way it went
            found.setdefault(route.hops, route)
            if len(found) >= MOST_ROUTES:
                break
        if found:
            break
    if not found and start != end:
        return [_open_route(net, (start, end))]
    open_ones = [r for r in found.values() if r.order == "not stated" and not r.within]
    routes = [r for r in found.values() if r.order == "stated" or r.within]
    if open_ones and {start, end} == set(net.ends_of_line()):
        routes.append(_through_all(net, start, end))
    elif open_ones:
        routes.append(_in_all(net, open_ones, complete=len(found) < MOST_ROUTES))
    return sorted(routes, key=lambda route: len(route.hops))


def _through_all(net: NetMap, start: Place, end: Place) -> Route:
    """Return the way through a net that is one line: it passes all that is on it."""
    between = [place for place in net.stops if place not in (start, end)]
    inlines = [place for place in between if net.stops[place].role == "inline"]
    halves = dict.fromkeys(far for place in inlines for far in (place, *net.plugs[place]))
    return _open_route(net, (start, *halves, end))


def _in_all(net: NetMap, routes: Sequence[Route], complete: bool) -> Route:
    """Return what several readings of one way have in common; the rest may lie on it."""
    first = routes[0]
    if len(routes) == 1:
        return first
    common = set.intersection(*({place_of(pin) for pin in route.hops} for route in routes))
    places = [place_of(pin) for pin in first.hops]
    if not complete:  # a way that was not looked at may do without what these have in common
        common = {places[0], places[-1]}
    places = [place for place in places if place in common]
    passed = {place[0] for place in places}
    others = (pin.connector for route in routes for pin in route.hops if pin.role == "inline")
    maybe = dict.fromkeys((*others, *(name for route in routes for name in route.maybe)))
    return _open_route(net, places, tuple(name for name in maybe if name not in passed))


def _open_route(net: NetMap, places: Sequence[Place], maybe: tuple[str, ...] = ()) -> Route:
    return Route(
        hops=tuple(net.stops[place].pin_of("") for place in places),
        order="not stated",
        between=tuple(_joined(net, *pair) or "not stated" for pair in pairwise(places)),
        maybe=maybe,
    )


def _joined(net: NetMap, one: Place, other: Place) -> Between | None:
    """Return what the map lays between two stops, None where that is nothing or a hub."""
    if other in net.plugs.get(one, ()):
        return "plug"
    if any(far == other for far, _ in net.wires.get(one, ())):
        return "wire"
    return "splice" if {one, other} <= set(net.splices.get(one[0], ())) else None


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
    devices = net.devices.get(node, ()) if inside and isinstance(node, tuple) else ()
    return chained(net.onward(node), devices)


def _route(net: NetMap, way: list[Node]) -> Route:
    places = [node for node in way if isinstance(node, tuple)]
    legs = [_leg(net, way, at) for at in range(len(way) - 1) if isinstance(way[at], tuple)]
    hops: list[Pin] = []
    stated, maybe = True, dict[str, None]()
    between: list[Between] = []
    circuit = ""
    for place, leg in zip(places, [*legs, Leg("")], strict=True):
        hops.append(net.stops[place].pin_of(leg.circuit or circuit))
        hops += (net.stops[passed].pin_of(leg.circuit) for passed in leg.between)
        stated = stated and leg.stated
        maybe |= dict.fromkeys(leg.maybe)
        circuit = leg.circuit
    for leg in legs:
        inner = [_joined(net, *pair) or leg.kind for pair in pairwise(leg.between)]
        between += [leg.kind, *inner, leg.kind] if inner else [leg.kind]
    passed_by = {pin.connector for pin in hops}
    within = dict.fromkeys(
        place[0]
        for place, after in pairwise(way)
        if isinstance(place, tuple) and _in_device(net, place, after)
    )
    return Route(
        hops=tuple(hops),
        order="stated" if stated and not within else "not stated",
        between=tuple(between),
        within=tuple(within),
        maybe=tuple(name for name in maybe if name not in passed_by),
    )


def _leg(net: NetMap, way: list[Node], at: int) -> Leg:
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


def _in_device(net: NetMap, place: Place, after: Node) -> bool:
    """Say whether this step of a way lies in a component, since no wire or plug leads there."""
    if after not in net.devices.get(place, ()):
        return False
    return all(far != after for far, _ in net.wires.get(place, ())) and after not in net.plugs.get(place, ())


def through_hub(net: NetMap, hub: Hub, here: Place, there: Place) -> Leg:
    """Return the in-lines inside a hub that every reading puts between two of its places.

    With two leaves all else lies between them: else its wires would lead nowhere. With more, an in-line may
    lie on the branch of a third; then only harness names tell. Which half faces which way is stated only
    where harness names say so.
    """
    open_: Between = "not stated"
    if not hub.open:
        return Leg(hub.circuit, kind=open_)
    chains = [link.chain for link in hub.links]
    alone = hub.in_line and {here, there} == set(hub.leaves)
    by_harness = _between_harnesses(net, hub, here, there)
    if by_harness is not None:
        every = alone and len(by_harness) == sum(map(len, chains))
        return Leg(hub.circuit, by_harness, kind="wire" if every else open_)
    if not alone:
        inlines = (place for chain in chains for place in chain if net.stops[place].role == "inline")
        return Leg(hub.circuit, (), False, tuple(dict.fromkeys(place[0] for place in inlines)), open_)
    if len(chains) == 1 and len(hub.places) == _LEAVES_AND_CHAIN:  # nothing but one chain between the two
        (chain,) = chains
        if _away(net, here, chain[::-1]) or _away(net, there, chain):
            return Leg(hub.circuit, chain)
        if _away(net, here, chain) or _away(net, there, chain[::-1]):
            return Leg(hub.circuit, chain[::-1])
    return Leg(hub.circuit, tuple(place for chain in chains for place in chain), False, kind=open_)


def _away(net: NetMap, place: Place, chain: Sequence[Place]) -> bool:
    """Say whether a place lies in another loom than the first of a chain, so that no wire joins the two."""
    own, near, far = (net.stops[stop].harness for stop in (place, chain[0], chain[-1]))
    plug = len(chain) == len({chain[0], chain[-1]})  # its halves lie in two looms
    return bool(own) and ((bool(near) and own != near) or (plug and own == far != near))


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
