"""A net as a graph of joints and wires, for working out where it must cross and be cut.

A joint is what stays electrically and mechanically one when a wire is cut: a cavity, two mated halves, a
splice, or the unseen splice of wire ends of which nobody says where they meet. The cavities of a module that
goes are one too where the person says that it passes a circuit on inside: its wires are joined where it sat.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from xref.harness.netmap import NetMap, Place
from xref.moves.joined import Joined


@dataclass(frozen=True, slots=True)
class WireEnd:
    """One end of a wire: the joint, and the cavity there, None at an unseen splice."""

    joint: int
    place: Place | None


@dataclass(frozen=True, slots=True)
class GraphWire:
    """A wire between two joints."""

    number: int
    one: WireEnd
    other: WireEnd
    circuit: str
    count: int = 1  #: wires that are cut together, since nobody says which of them leads where

    def at(self, joint: int) -> WireEnd:
        """Return its end at a joint."""
        return self.one if self.one.joint == joint else self.other

    def far(self, joint: int) -> WireEnd:
        """Return the end that is not at a joint."""
        return self.other if self.one.joint == joint else self.one


@dataclass(slots=True)
class WireGraph:
    """Joints by number, what each is, and the wires between them."""

    kinds: list[str] = field(default_factory=list)  #: "end", "inline", "splice" or "unseen"
    places: list[list[Place]] = field(default_factory=list)  #: cavities of each joint
    wires: list[GraphWire] = field(default_factory=list)
    at: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))  #: joint -> its wires
    joint_of: dict[Place, int] = field(default_factory=dict)
    bridged: dict[int, str] = field(default_factory=dict)  #: joints that are one through this module

    def is_forest(self, wires: Iterable[int]) -> bool:
        """Say whether these wires close no ring."""
        joined = Joined(range(len(self.kinds)))
        ends = ((self.wires[number].one.joint, self.wires[number].other.joint) for number in wires)
        return all(joined.join(one, other) for one, other in ends)


def has_second_way(net: NetMap, graph: WireGraph) -> bool:
    """Say whether some two cavities of a net are joined by two ways, so that one cut opens nothing.

    An in-line both of whose halves hang on one unseen splice only looks like a ring: it lies somewhere on
    the way, and no document says where.
    """
    parts = wired_together(graph)
    rings = len(graph.wires) - sum(map(len, parts)) + len(parts)
    return rings > sum(len(hub.inside) for hub in net.hubs)


def graph_of(net: NetMap, bridges: Mapping[str, Sequence[Place]] | None = None) -> WireGraph:
    """Return the joints and wires of a net, in an order that does not hang on that of the pages.

    `bridges` are the cavities of each module that pass the net on inside.
    """
    graph = WireGraph()
    bridges = bridges or {}
    for group in _joined(net, bridges.values()):
        number = len(graph.kinds)
        roles = {net.stops[place].role for place in group}
        graph.kinds.append("splice" if "splice" in roles else "inline" if "inline" in roles else "end")
        graph.places.append(group)
        graph.joint_of |= dict.fromkeys(group, number)
    graph.bridged = {graph.joint_of[places[0]]: name for name, places in bridges.items()}
    seen: dict[tuple[frozenset[Place], str], int] = {}
    for place, wires in sorted(net.wires.items()):
        for far, circuit in sorted(wires):
            if seen.setdefault((frozenset((place, far)), circuit), len(graph.wires)) == len(graph.wires):
                _add(graph, (graph.joint_of[place], place), (graph.joint_of[far], far), circuit)
    for hub in sorted(net.hubs, key=lambda hub: (hub.circuit, sorted(hub.places))):
        unseen = len(graph.kinds)
        graph.kinds.append("unseen")
        graph.places.append([])
        for place in sorted(hub.places):
            ends = (graph.joint_of[place], place), (unseen, None)
            _add(graph, *ends, hub.circuit, hub.ends.get(place, 1))
    return graph


def _add(
    graph: WireGraph,
    one: tuple[int, Place | None],
    other: tuple[int, Place | None],
    circuit: str,
    count: int = 1,
) -> None:
    number = len(graph.wires)
    graph.wires.append(GraphWire(number, WireEnd(*one), WireEnd(*other), circuit, count))
    for joint in dict.fromkeys((one[0], other[0])):
        graph.at[joint].append(number)


def _joined(net: NetMap, bridges: Iterable[Sequence[Place]]) -> list[list[Place]]:
    """Return the groups of cavities that are one without a wire: mated, bridged, or legs of one splice."""
    joined = Joined(net.stops)
    for place, mates in net.plugs.items():
        for mate in mates:
            joined.join(place, mate)
    for first, *others in (*net.splices.values(), *bridges):
        for other in others:
            joined.join(first, other)
    groups: dict[Place, list[Place]] = defaultdict(list)
    for place in sorted(net.stops):
        groups[joined.root(place)].append(place)
    return list(groups.values())


def reachable(graph: WireGraph, start: int, without: Mapping[int, object] | set[int]) -> set[int]:
    """Return the joints reached from one over wires that are not left out."""
    seen, todo = {start}, [start]
    while todo:
        joint = todo.pop()
        for number in graph.at[joint]:
            if number not in without:
                far = graph.wires[number].far(joint).joint
                if far not in seen:
                    seen.add(far)
                    todo.append(far)
    return seen


def wired_together(graph: WireGraph) -> list[set[int]]:
    """Return the joints in groups: what wires, in-lines and splices join, nothing through a component."""
    groups = []
    left = set(range(len(graph.kinds)))
    while left:
        groups.append(reachable(graph, min(left), set()))
        left -= groups[-1]
    return groups


def far_cavities(graph: WireGraph, wire: int, joint: int) -> list[Place]:
    """Return the cavities a wire leads to from one of its joints, as a meter finds them with all plugs off.

    It leads on through splices, seen or not, and ends at the first cavity of a plug or of an in-line.
    """
    found: list[Place] = []
    seen, todo = {wire}, [(wire, joint)]
    while todo:
        number, start = todo.pop(0)
        far = graph.wires[number].far(start)
        if graph.kinds[far.joint] not in ("splice", "unseen"):
            found += [far.place] if far.place is not None else []
            continue
        onward = [other for other in graph.at[far.joint] if other not in seen]
        seen.update(onward)
        todo += [(other, far.joint) for other in onward]
    return list(dict.fromkeys(found))
