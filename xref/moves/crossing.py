"""The least wires that must run between places: every joint gets a place, wires between two places cross.

Exact on trees of any number of places, by working from the leaves inward; a net with a ring is tried out in
full while it is small, and is said to be no more than a bound where it is not.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from xref.moves.wiregraph import WireGraph

#: Ways to give places to the free joints of a ring that are tried out; beyond, a bound must do.
_MOST_TRIED = 50_000

#: What it costs to give a joint a place, where two ways cross equally often.
Leaning = Callable[[int, str], int]


@dataclass(frozen=True, slots=True)
class Placed:
    """A place for every joint that matters, and the wires that cross."""

    where: dict[int, str]
    crossing: tuple[int, ...]
    exact: bool = True


def least_crossings(
    graph: WireGraph,
    wires: Sequence[int],
    fixed: Mapping[int, str],
    places: Sequence[str],
    leaning: Leaning = lambda joint, place: 0,
    allowed: Callable[[int, str], bool] = lambda joint, place: True,
) -> Placed | None:
    """Give every joint of these wires a place so that the fewest wires cross; None where none is allowed.

    `fixed` are joints whose place is given; `allowed` narrows the places of the others.
    """
    joints = sorted({end.joint for n in wires for end in (graph.wires[n].one, graph.wires[n].other)})
    choices = {
        joint: [fixed[joint]] if joint in fixed else [p for p in places if allowed(joint, p)]
        for joint in joints
    }
    if any(not found for found in choices.values()):
        return None
    if graph.is_forest(wires):
        where = _on_forest(graph, wires, joints, choices, leaning)
        return Placed(where, _crossing(graph, wires, where))
    return _on_rings(graph, wires, joints, choices, leaning)


def _crossing(graph: WireGraph, wires: Sequence[int], where: Mapping[int, str]) -> tuple[int, ...]:
    ends = ((n, graph.wires[n].one.joint, graph.wires[n].other.joint) for n in wires)
    return tuple(n for n, one, other in ends if where[one] != where[other])


def _on_forest(
    graph: WireGraph,
    wires: Sequence[int],
    joints: Sequence[int],
    choices: Mapping[int, Sequence[str]],
    leaning: Leaning,
) -> dict[int, str]:
    own = set(wires)
    where: dict[int, str] = {}
    for root in joints:
        if root in where:
            continue
        order, parent = _outward(graph, own, root)
        cost: dict[int, dict[str, tuple[int, int]]] = {}
        children: dict[int, list[int]] = {}
        for child, above in parent.items():
            children.setdefault(above, []).append(child)
        for joint in reversed(order):
            cost[joint] = {}
            for place in choices[joint]:
                crossings, lean = 0, leaning(joint, place)
                for child in children.get(joint, ()):
                    best = _best(cost[child], place)
                    crossings, lean = crossings + best[0], lean + best[1]
                cost[joint][place] = (crossings, lean)
        where[root] = min(choices[root], key=lambda place: cost[root][place])
        for joint in order[1:]:
            next_to = where[parent[joint]]
            where[joint] = min(
                choices[joint], key=lambda place: _with_wire(cost[joint][place], place != next_to)
            )
    return where


def _outward(graph: WireGraph, own: set[int], root: int) -> tuple[list[int], dict[int, int]]:
    """Return the joints from a root outward, and the one each is reached from."""
    order, parent = [root], dict[int, int]()
    for joint in order:
        for number in graph.at[joint]:
            far = graph.wires[number].far(joint).joint
            if number in own and far != root and far not in parent:
                parent[far] = joint
                order.append(far)
    return order, parent


def _best(costs: Mapping[str, tuple[int, int]], above: str) -> tuple[int, int]:
    return min(_with_wire(cost, place != above) for place, cost in costs.items())


def _with_wire(cost: tuple[int, int], crosses: bool) -> tuple[int, int]:
    return (cost[0] + crosses, cost[1])


def _on_rings(
    graph: WireGraph,
    wires: Sequence[int],
    joints: Sequence[int],
    choices: Mapping[int, Sequence[str]],
    leaning: Leaning,
) -> Placed:
    ways = 1
    for joint in joints:
        ways *= len(choices[joint])
    if ways > _MOST_TRIED:
        where = _settled(graph, wires, joints, choices, leaning)
        return Placed(where, _crossing(graph, wires, where), exact=False)
    best: tuple[tuple[int, int], dict[int, str]] | None = None
    for chosen in product(*(choices[joint] for joint in joints)):
        where = dict(zip(joints, chosen, strict=True))
        lean = sum(leaning(joint, place) for joint, place in where.items())
        cost = (len(_crossing(graph, wires, where)), lean)
        if best is None or cost < best[0]:
            best = (cost, where)
    assert best is not None
    return Placed(best[1], _crossing(graph, wires, best[1]))


def _settled(
    graph: WireGraph,
    wires: Sequence[int],
    joints: Sequence[int],
    choices: Mapping[int, Sequence[str]],
    leaning: Leaning,
) -> dict[int, str]:
    """Return places no single joint would gain by leaving: a good way, not proved the best."""
    own = set(wires)
    where = {joint: choices[joint][0] for joint in joints}

    def cost(joint: int, place: str) -> tuple[int, int]:
        fars = [graph.wires[n].far(joint).joint for n in graph.at[joint] if n in own]
        return sum(where[far] != place for far in fars), leaning(joint, place)

    changed = True
    while changed:
        changed = False
        for joint in joints:
            better = min(choices[joint], key=lambda place: cost(joint, place))
            if cost(joint, better) < cost(joint, where[joint]):
                where[joint], changed = better, True
    return where
