"""All ways through the map of a net from one cavity to another, with the in-lines every reading requires."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from xref.harness.netmap import Hub, NetMap, Node, Place, place_of
from xref.records import Pin

#: More ways than this are a misreading, or nothing a person follows with a finger.
MOST_ROUTES = 50
#: Steps of the search after which the ways found so far must do; a net of a large bus takes thousands.
_MOST_STEPS = 200_000


#: Places of a hub that has two leaves and one chain between them.
_LEAVES_AND_CHAIN = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One way from pin to pin: a row for each cavity it comes through, the asked ones first and last."""

    hops: tuple[Pin, ...]
    order: Literal["stated", "not stated"]
    maybe: tuple[str, ...] = ()  #: in-lines that may lie on it: the documents do not say on which branch


@dataclass(frozen=True, slots=True)
class _Leg:
    """What lies between two stops of a way: in-line cavities that must be passed, in order if `stated`."""

    circuit: str
    between: tuple[Place, ...] = ()
    stated: bool = True
    maybe: tuple[str, ...] = ()


def routes_between(net: NetMap, start: Place, end: Place) -> list[Route]:
    """Return the ways between two cavities of a net, shortest first.

    Ways that differ only in how the documents may be read are one route without order. Where the map has no
    way, the two are of one net all the same: one route without order says so.
    """
    found: dict[tuple[Pin, ...], Route] = {}
    for way in _ways(net, start, end):
        route = _route(net, way)
        if len({place_of(pin) for pin in route.hops}) < len(route.hops):
            continue  # by the looms' names it would have to come back the way it went
        found.setdefault(route.hops, route)
        if len(found) >= MOST_ROUTES:
            break
    if not found and start != end:
        hops = (net.stops[start].pins[0], net.stops[end].pins[0])
        return [Route(hops=hops, order="not stated")]
    routes = [route for route in found.values() if route.order == "stated"]
    open_ones = [route for route in found.values() if route.order == "not stated"]
    if open_ones and {start, end} == set(net.ends_of_line()):
        routes.append(_through_all(net, start, end))
    elif open_ones:
        routes.append(_in_all(open_ones, complete=len(found) < MOST_ROUTES))
    return sorted(routes, key=lambda route: len(route.hops))


def _through_all(net: NetMap, start: Place, end: Place) -> Route:
    """Return the way through a net that is one line: it passes all that is on it."""
    between = [place for place in net.stops if place not in (start, end)]
    inlines = [place for place in between if net.stops[place].role == "inline"]
    near_first = dict.fromkeys(far for place in inlines for far in (place, *net.plugs[place]))
    hops = tuple(net.stops[place].pins[0] for place in (start, *near_first, end))
    return Route(hops=hops, order="not stated")


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


def _ways(net: NetMap, start: Place, end: Place) -> Iterator[list[Node]]:
    """Yield simple paths over stops, splices (by name) and hubs (by number), nearest neighbours first."""
    steps = 0
    path: list[Node] = [start]
    seen: set[Node] = {start}
    stack = [net.onward(start)]
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
        stack.append(net.onward(node))


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
    return Route(
        hops=tuple(hops),
        order="stated" if stated else "not stated",
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
    if len(chains) == 1 and len(hub.places) == _LEAVES_AND_CHAIN:  # nothing but one chain between the two
        (chain,) = chains
        if _away(net, here, chain[::-1]) or _away(net, there, chain):
            return _Leg(hub.circuit, chain)
        if _away(net, here, chain) or _away(net, there, chain[::-1]):
            return _Leg(hub.circuit, chain[::-1])
    return _Leg(hub.circuit, tuple(place for chain in chains for place in chain), False)


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
