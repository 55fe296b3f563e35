"""Least crossings against trying out every way, and against networkx's minimum cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product
from pathlib import Path
from random import Random

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.moves.sample import cut_places, net_of, rows, worked
from xref.moves.crossing import least_crossings
from xref.moves.wiregraph import GraphWire, WireEnd, WireGraph

Edges = Sequence[tuple[int, int]]
PLACES = ("as fitted", "bow", "stern locker", "wheelhouse")


def graph_of(joints: int, edges: Edges) -> WireGraph:
    """Return a graph of joints and wires."""
    graph = WireGraph(kinds=["splice"] * joints, places=[[] for _ in range(joints)])
    for number, (one, other) in enumerate(edges):
        graph.wires.append(GraphWire(number, WireEnd(one, None), WireEnd(other, None), ""))
        graph.at[one].append(number)
        graph.at[other].append(number)
    return graph


def least_by_trying(
    joints: int, edges: Sequence[tuple[int, int]], fixed: dict[int, str], places: Sequence[str]
) -> int:
    """Return the fewest crossing wires of all ways to give every joint a place."""
    free = [joint for joint in range(joints) if joint not in fixed]
    best = len(edges)
    for chosen in product(places, repeat=len(free)):
        where = fixed | dict(zip(free, chosen, strict=True))
        best = min(best, sum(where[one] != where[other] for one, other in edges))
    return best


def all_trees(nodes: int) -> Iterator[list[tuple[int, int]]]:
    """Yield every tree of so many nodes up to isomorphism, by networkx."""
    if nodes == 1:
        yield []
        return
    for tree in networkx.nonisomorphic_trees(nodes):
        yield [(int(one), int(other)) for one, other in tree.edges]


def check(
    joints: int, edges: Sequence[tuple[int, int]], fixed: dict[int, str], places: Sequence[str]
) -> None:
    """Hold the least crossings, and the placing that has them, against the count of all ways."""
    placed = least_crossings(graph_of(joints, edges), range(len(edges)), fixed, places)
    assert placed is not None and placed.exact
    assert len(placed.crossing) == least_by_trying(joints, edges, fixed, places)
    crossing = [n for n, (one, other) in enumerate(edges) if placed.where[one] != placed.where[other]]
    assert crossing == sorted(placed.crossing)
    assert all(placed.where[joint] == place for joint, place in fixed.items() if joint in placed.where)


@pytest.mark.parametrize("nodes", range(2, 7))
@pytest.mark.parametrize("number", (2, 3, 4))
def test_least_crossings_on_every_tree(nodes: int, number: int) -> None:
    """On every tree of up to six joints, with the leaves' places given in every way, no way has fewer."""
    places = PLACES[:number]
    for edges in all_trees(nodes):
        degree = [sum(joint in edge for edge in edges) for joint in range(nodes)]
        leaves = [joint for joint in range(nodes) if degree[joint] == 1]
        for chosen in product(places, repeat=len(leaves)):
            check(nodes, edges, dict(zip(leaves, chosen, strict=True)), places)


@pytest.mark.parametrize("number", (2, 3, 4))
def test_least_crossings_on_trees_of_seven(number: int) -> None:
    """On every tree of seven joints, with any of them fixed by chance, no way has fewer."""
    dice = Random(number)
    places = PLACES[:number]
    for edges in all_trees(7):
        for _ in range(60):
            fixed = {joint: dice.choice(places) for joint in range(7) if dice.random() < 0.5}
            check(7, edges, fixed, places)


@settings(max_examples=300, deadline=None)
@given(seed=st.integers(0, 2**32), nodes=st.integers(3, 6))
def test_least_crossings_with_rings(seed: int, nodes: int) -> None:
    """A net with a ring is tried out in full while it is small."""
    dice = Random(seed)
    pairs = list(combinations(range(nodes), 2))
    edges = dice.sample(pairs, dice.randint(nodes - 1, len(pairs)))
    used = sorted({joint for edge in edges for joint in edge})
    places = PLACES[: dice.randint(2, 3)]
    fixed = {joint: dice.choice(places) for joint in used if dice.random() < 0.5}
    placed = least_crossings(graph_of(nodes, edges), range(len(edges)), fixed, places)
    assert placed is not None and placed.exact
    others = dict.fromkeys(set(range(nodes)) - set(used), places[0])
    assert len(placed.crossing) == least_by_trying(nodes, edges, fixed | others, places)


@settings(max_examples=500, deadline=None)
@given(seed=st.integers(0, 2**32), nodes=st.integers(2, 40))
def test_two_places_are_a_minimum_cut(seed: int, nodes: int) -> None:
    """With two places, the least crossings of a large tree are networkx's minimum cut between them."""
    dice = Random(seed)
    edges = [(dice.randrange(joint), joint) for joint in range(1, nodes)]
    fixed = {joint: dice.choice(PLACES[:2]) for joint in range(nodes) if dice.random() < 0.4}
    network: networkx.Graph = networkx.Graph()
    for one, other in edges:
        network.add_edge(one, other, capacity=1)
    network.add_nodes_from(PLACES[:2])
    for joint, place in fixed.items():
        network.add_edge(place, joint, capacity=nodes)
    value, _ = networkx.minimum_cut(network, *PLACES[:2])
    placed = least_crossings(graph_of(nodes, edges), range(len(edges)), fixed, PLACES[:2])
    assert placed is not None and len(placed.crossing) == value


SPLICE = [f"M{n}:1 1440 S1:{leg}" for n, leg in enumerate("abcde", start=1)]


def test_splice_of_three_moved_and_two_staying_legs(tmp_path: Path) -> None:
    """Three moved and two staying legs: 2 wires cross if the splice moves, 3 if it stays, 1 if it is doubled.

    The 2 is networkx's minimum cut between what moves and what stays.
    """
    place = {"M1": "bow", "M2": "bow", "M3": "bow"}
    plan = worked(tmp_path, rows(*SPLICE), place=place)
    net = net_of(plan, "1440")
    assert net["splice"] == {"moves": 2, "stays": 3, "doubled": 1, "chosen": "doubled"}
    assert net["crossings"] == 1 == sum(join["wire"] is not None for join in plan["joins"])
    network: networkx.Graph = networkx.Graph()
    for number in range(1, 6):
        network.add_edge("splice", number, capacity=1)
        network.add_edge(number, "bow" if number <= 3 else "as fitted", capacity=9)
    assert networkx.minimum_cut(network, "bow", "as fitted")[0] == net["splice"]["moves"]


@pytest.mark.parametrize("function", ["Sensor return", "Shield", "CAN high"])
def test_splice_that_is_never_doubled(tmp_path: Path, function: str) -> None:
    """Sensor returns, shields and buses have no doubled splice: it moves, and two wires cross."""
    place = {"M1": "bow", "M2": "bow", "M3": "bow"}
    plan = worked(tmp_path, rows(*SPLICE, but={"M4:1": {"function": function}}), place=place)
    net = net_of(plan, "1440")
    assert net["splice"] == {"moves": 2, "stays": 3, "doubled": None, "chosen": "moves"}
    assert net["crossings"] == 2
    assert cut_places(plan) == ["M4:1", "M5:1"]
