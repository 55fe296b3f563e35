"""A net, or a way through it, as a tree of steps: what a person follows from one end to the others.

Shared by what is printed and what is drawn, so that both say the same. Nothing is put into an order the
documents do not state: ends of which nobody says which is wired to which hang side by side on a step of
the kind `hub`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from xref.harness.netmap import NetMap, Place, place_of
from xref.harness.routes import Between, Leg, Route, through_hub
from xref.records import Pin

#: `hub`: wires meet, where is not stated; `joint`: several wires in one cavity; `again`: a ring comes back to
#: a step shown before.
Kind = Literal["end", "half", "splice", "ground", "fuse", "unknown", "hub", "joint", "again"]

_KINDS: dict[str, Kind] = {
    "component": "end",
    "inline": "half",
    "splice": "splice",
    "ground": "ground",
    "fuse": "fuse",
}
#: Links of which the documents do not say that they are wires.
_OPEN = ("not stated", "component")
_Node = Place | str | int


@dataclass(frozen=True, slots=True)
class Link:
    """What joins a step to the one before it; the rows of its two ends, None where that is a hub."""

    kind: Between
    near: Pin | None = None
    far: Pin | None = None

    @property
    def wire(self) -> Pin | None:
        """The row that says most of the wire."""
        rows = [pin for pin in (self.far, self.near) if pin is not None]
        return next((pin for pin in rows if pin.base_color), rows[0] if rows else None)

    def turned(self) -> Link:
        """Return it seen from the other end."""
        return Link(self.kind, self.far, self.near)


@dataclass(slots=True)
class Step:
    """One cavity, splice or hub, how it is reached, and what comes after it."""

    kind: Kind
    pins: tuple[Pin, ...]  #: rows that print it; of a splice those of its legs, of a hub none
    link: Link | None = None  #: None at the first step and between a joint and its own half
    onward: list[Step] = field(default_factory=list)
    alone: bool = False  #: an in-line half whose other half is not known

    @property
    def pin(self) -> Pin | None:
        """The row that stands for it."""
        return next((pin for pin in self.pins if pin.component), self.pins[0] if self.pins else None)

    @property
    def several_wires(self) -> bool:
        """Whether more than one wire lies in its cavity; wherever else wires meet is a splice or a hub."""
        if self.kind in ("splice", "hub", "half", "again"):
            return False
        links = [self.link, *(further.link for further in self.onward)]
        return sum(link is not None and link.kind in ("wire", "not stated") for link in links) > 1

    def all(self) -> Iterator[Step]:
        """Yield the step and every one after it, in the order they are shown."""
        todo = [self]
        while todo:
            step = todo.pop()
            yield step
            todo += reversed(step.onward)


def steps_of_net(net: NetMap, first: Iterable[Place] = ()) -> list[Step]:
    """Return the net's trees; more than one where the documents do not say how its parts are joined.

    A tree begins at the first of `first` that is an end, else at its first end. Of branches the longest
    comes last, so that a screen stays narrow.
    """
    graph = _graph(net)
    seen: set[_Node] = set()
    tops = []
    for place in _beginnings(net, first):
        node = _node(net, place)
        if node not in seen:
            tops.append(_grown(net, graph, node, seen))
    rank = {place: number for number, place in enumerate(net.stops)}
    for top in tops:
        _put_in_order(top, rank)
    return tops


def steps_of_route(route: Route, net: NetMap | None = None) -> Step:
    """Return a way as steps one after the other; the two legs of a splice are one step."""
    top = last = _step_of_pin(route.hops[0])
    for before, pin, kind in zip(route.hops, route.hops[1:], route.between, strict=False):
        if kind == "splice":
            last.pins = (*last.pins, pin)
            continue
        step = _step_of_pin(pin)
        step.link = Link(kind, before, pin)
        last.onward.append(step)
        last = step
    return top


def is_stated(tops: Sequence[Step]) -> bool:
    """Say whether the documents state how all of a net is wired."""
    steps = [step for top in tops for step in top.all()]
    return len(tops) == 1 and not any(
        step.kind == "hub" or (step.link is not None and step.link.kind in _OPEN) for step in steps
    )


def _node(net: NetMap, place: Place) -> _Node:
    return place[0] if place in net.splices.get(place[0], ()) else place


def _graph(net: NetMap) -> dict[_Node, list[tuple[_Node, Link, int]]]:
    """Return for each node its neighbours, what lies between, and a number by which a link is known again."""
    graph: dict[_Node, list[tuple[_Node, Link, int]]] = defaultdict(list)
    count = 0

    def lay(one: _Node, other: _Node, link: Link) -> None:
        nonlocal count
        count += 1
        graph[one].append((other, link, count))
        graph[other].append((one, link.turned(), count))

    for place, wires in net.wires.items():
        for far, circuit in wires:
            if place < far:
                ends = (net.stops[place].pin_of(circuit), net.stops[far].pin_of(circuit))
                lay(_node(net, place), _node(net, far), Link("wire", *ends))
    for number, hub in enumerate(net.hubs):
        chain = _chain(net, number)
        if chain is not None:
            way = (hub.terminals[0], *chain.between, hub.terminals[1])
            for one, other in zip(way[::2], way[1::2], strict=True):
                ends = (net.stops[one].pin_of(hub.circuit), net.stops[other].pin_of(hub.circuit))
                lay(_node(net, one), _node(net, other), Link(chain.kind, *ends))
            continue
        for place in hub.places:
            lay(number, _node(net, place), Link("not stated", None, net.stops[place].pin_of(hub.circuit)))
    for place, fars in net.plugs.items():
        for far in fars:
            if place < far:
                lay(place, far, Link("plug", net.stops[place].pins[0], net.stops[far].pins[0]))
    return graph


def _chain(net: NetMap, number: int) -> Leg | None:
    """Return what lies between the two ends of a hub that has but two, None where that is not known."""
    hub = net.hubs[number]
    if len(hub.terminals) != 2 or not hub.single:
        return None
    leg = through_hub(net, hub, *hub.terminals)
    known = leg.stated or len(hub.inside) == 1
    return leg if known and len(leg.between) == 2 * len(hub.inside) else None


def _beginnings(net: NetMap, first: Iterable[Place]) -> Iterator[Place]:
    asked = [place for place in first if place in net.stops]
    every = [*asked, *net.stops]
    # a ground's place is at the foot of a drawing
    for passed in (("inline", "splice", "ground"), ("inline", "splice")):
        yield from (place for place in every if net.stops[place].role not in passed)
    yield from every


def _grown(
    net: NetMap, graph: dict[_Node, list[tuple[_Node, Link, int]]], start: _Node, seen: set[_Node]
) -> Step:
    """Return the tree from this node; a link that comes back to a step shown before ends as `again`."""
    top = _step(net, start)
    seen.add(start)
    used: set[int] = set()
    stack = [(top, iter(graph[start]))]
    while stack:
        step, links = stack[-1]
        far, link, number = next(links, (None, None, 0))
        if far is None or link is None:
            stack.pop()
            continue
        if number in used:
            continue
        used.add(number)
        onward = _step(net, far, link)
        step.onward.append(onward)
        if far in seen:
            onward.kind = "again"
            continue
        seen.add(far)
        stack.append((onward, iter(graph[far])))
    return top


def _step(net: NetMap, node: _Node, link: Link | None = None) -> Step:
    if isinstance(node, int):
        return Step("hub", (), link)
    if isinstance(node, str):
        return Step("splice", tuple(pin for leg in net.splices[node] for pin in net.stops[leg].pins), link)
    stop = net.stops[node]
    return Step(_KINDS.get(stop.role, "unknown"), stop.pins, link, alone=node in net.unmated)


def _step_of_pin(pin: Pin) -> Step:
    return Step(_KINDS.get(pin.role, "unknown"), (pin,))


def _put_in_order(top: Step, rank: Mapping[Place, int]) -> None:
    """Put the longest branch last, and several wires of an in-line's cavity before its half as a joint.

    Branches of one length keep the order of the documents.
    """
    size: dict[int, int] = {}
    for step in reversed(list(top.all())):
        plugs = [further for further in step.onward if further.link and further.link.kind == "plug"]
        size[id(step)] = 1 + sum(size[id(further)] for further in step.onward)
        step.onward.sort(
            key=lambda further: (
                size[id(further)],
                any(further is plug for plug in plugs),
                _rank(further, rank),
            )
        )
        if (len(plugs) == 1 and len(step.onward) > 1) or (step.alone and step.onward):
            own = Step(step.kind, step.pins, None, plugs, step.alone)
            size[id(own)] = 1 + sum(size[id(plug)] for plug in plugs)
            wires = [further for further in step.onward if all(further is not plug for plug in plugs)]
            step.kind, step.alone = "joint", False
            step.onward = [*wires, own] if plugs else [own, *wires]


def _rank(step: Step, rank: Mapping[Place, int]) -> int:
    """Return where the documents print how it is reached: the leg of a splice, else its own cavity."""
    near = step.link.near if step.link is not None else None
    pin = near if near is not None and near.role == "splice" else step.pin
    return rank[place_of(pin)] if pin is not None else len(rank)
