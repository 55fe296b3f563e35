"""The trunk of a bus: its modules in the order the map of a net states, or why none is stated."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping

from xref.harness.netmap import Place
from xref.moves.kept_records import Trunk
from xref.moves.records import PlannedNet
from xref.moves.wiregraph import WireGraph

_Near = Mapping[int, set[int]]


def owner_of(net: PlannedNet, place: Place) -> str:
    """Return what a cavity belongs to: its component, or its connector where none is named."""
    pins = net.net.stops[place].pins
    return next((pin.component for pin in pins if pin.component), place[0])


def trunk_of(net: PlannedNet, graph: WireGraph | None, terminators: Collection[str]) -> Trunk:
    """Return the trunk of one wire of a bus; `terminators` are owners of known ones, its likely ends."""
    modules = tuple(dict.fromkeys(owner_of(net, end.place) for end in net.ends))
    if graph is None or not graph.wires:
        return Trunk(modules=modules, why_not="the plan names none of its modules")
    near, rings = _joints(net, graph)
    unseen = [j for j, kind in enumerate(graph.kinds) if kind == "unseen" and len(near.get(j, ())) > 2]
    if unseen or rings:
        ends = tuple(owner_of(net, place) for place in net.net.ends_of_line())
        why = "where its wires meet is in no document" if unseen else "its wires close a ring"
        return Trunk(modules=modules, ends=ends, why_not=why)
    if not near or len(_away(near, next(iter(near)))) < len(set(graph.joint_of.values()) | set(near)):
        return Trunk(modules=modules, why_not="how its parts are joined is in no document")
    return _stated(net, graph, near, modules, terminators)


def _stated(
    net: PlannedNet,
    graph: WireGraph,
    near: _Near,
    modules: tuple[str, ...],
    terminators: Collection[str],
) -> Trunk:
    leaves = [joint for joint, others in near.items() if len(others) == 1]
    if len(leaves) > 2:
        leaves = [j for j in leaves if set(_owners(net, graph, j)) & set(terminators)]
        if len(leaves) != 2:
            why = "it branches, and which of its arms are the trunk is not stated"
            return Trunk(modules=modules, why_not=why)
    way = _way(near, leaves[0], leaves[1])
    order = tuple(dict.fromkeys(owner for joint in way for owner in _owners(net, graph, joint)))
    stubs = tuple(name for name in modules if name not in order)
    if len(order) < 2:
        return Trunk(modules=modules, why_not="both of its ends are at one module")
    ends = tuple((_owners(net, graph, joint) or ("",))[0] for joint in (way[0], way[-1]))
    return Trunk(modules=order, stubs=stubs, ends=ends if all(ends) else (), stated=True)


def _joints(net: PlannedNet, graph: WireGraph) -> tuple[dict[int, set[int]], bool]:
    """Return which joints (the cavities of a module too) are next to which, and whether some close a ring."""
    near: dict[int, set[int]] = defaultdict(set)
    pairs = {frozenset((wire.one.joint, wire.other.joint)) for wire in graph.wires}
    rings = len(pairs) < len(graph.wires)
    # a bus may go in at one cavity of a module and out at another: it lies between its neighbours then
    for place, others in net.net.devices.items():
        pairs |= {frozenset((graph.joint_of[place], graph.joint_of[other])) for other in others}
    pairs = {pair for pair in pairs if len(pair) == 2}
    for pair in sorted(pairs, key=sorted):
        one, other = sorted(pair)
        near[one].add(other)
        near[other].add(one)
    start = next(iter(near), None)
    parts, left = 0, set(near)
    while left and start is not None:
        left -= set(_away(near, next(iter(left))))
        parts += 1
    return dict(near), rings or len(pairs) > len(near) - parts


def _away(near: _Near, start: int) -> dict[int, int]:
    """Return every joint reached from one, each with the joint before it."""
    before = {start: start}
    todo = [start]
    while todo:
        joint = todo.pop()
        for far in sorted(near.get(joint, ())):
            if far not in before:
                before[far] = joint
                todo.append(far)
    return before


def _way(near: _Near, start: int, end: int) -> list[int]:
    before = _away(near, start)
    way = [end]
    while way[-1] != start:
        way.append(before[way[-1]])
    return way[::-1]


def _owners(net: PlannedNet, graph: WireGraph, joint: int) -> tuple[str, ...]:
    if graph.kinds[joint] != "end":
        return ()
    return tuple(dict.fromkeys(owner_of(net, place) for place in graph.places[joint]))
