"""What must come of each net and in-line when modules move, worked out from the true wires alone.

Knows the wires of a generated harness and where each connector will be, and tries every placement of the
splices. It shares nothing with the planner: its graphs are networkx's, and of a plan it sees the JSON object.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import Any

import networkx

from tests.harness.random_harness import Cavity, End, Harness
from tests.moves.cases import FUNCTIONS, Case

GONE = ("dropped", "left behind")
FITTED = "as fitted"
NEVER_SHARED = ("Sensor return", "CAN high", "Shield")  #: functions whose wires may not be doubled into one
KEEPING = ("stays", "unknown")  #: fates that keep an in-line where it is

Json = Mapping[str, Any]
Node = Hashable


@dataclass(frozen=True)
class TrueNet:
    """One net of the true wiring, with the words its rows print."""

    harness: Harness
    wire_ends: frozenset[End]
    where: Callable[[str], str]
    words: frozenset[str]

    def node(self, end: End) -> Node:
        """Return what a wire end is fastened to: a splice is one point, a ring at a stud is one wire's."""
        cavity = self.harness.wires[end.wire].ends[end.side]
        role = self.harness.role(cavity)
        if role == "splice":
            return ("splice", cavity.connector)
        return ("stud", cavity, end) if role == "ground" else cavity

    @cached_property
    def graph(self) -> networkx.MultiGraph:
        """The wires and the mated cavities of the net."""
        graph: networkx.MultiGraph = networkx.MultiGraph()
        for wire in sorted({end.wire for end in self.wire_ends}):
            graph.add_edge(self.node(End(wire, 0)), self.node(End(wire, 1)))
        for mate in self.harness.mates():
            one = Cavity(mate.connector_a, mate.half_a, mate.cavity_a)
            other = Cavity(mate.connector_b, mate.half_b, mate.cavity_b)
            if one in graph and other in graph:
                graph.add_edge(one, other)
        return graph

    @cached_property
    def place_of(self) -> dict[Node, str]:
        """The ends of the net, each with where it will be."""
        cavities = {node: _cavity(node) for node in self.graph}
        return {
            node: self.where(cavity.connector)
            for node, cavity in cavities.items()
            if cavity is not None and self.harness.role(cavity) != "inline"
        }

    @property
    def ends(self) -> dict[Cavity, str]:
        """The ends by cavity: two wires in one cavity are one end."""
        found = ((_cavity(node), place) for node, place in self.place_of.items())
        return {cavity: place for cavity, place in found if cavity is not None}

    @cached_property
    def living(self) -> dict[Node, str]:
        """The ends that have a place or stay."""
        return {node: place for node, place in self.place_of.items() if place not in GONE}

    @property
    def gone(self) -> list[Cavity]:
        """The ends that come along nowhere."""
        return [cavity for cavity, place in self.ends.items() if place in GONE]

    @property
    def places(self) -> set[str]:
        """Where living ends are."""
        return set(self.living.values())

    @property
    def fate(self) -> str:
        """The fate of a net all of which is in the documents."""
        places = self.places
        if len(self.living) < 2:
            return "needs host" if places - {FITTED} else "dies"
        if len(places) > 1:
            return "crosses"
        return "stays" if places == {FITTED} else "travels"

    @property
    def forbidden(self) -> bool:
        """Whether some row prints a function no line may be proposed for before a person says so."""
        return not all(FUNCTIONS.get(word, True) for word in self.words)

    @property
    def shared(self) -> bool:
        """Whether one wire may carry what several carried."""
        return not self.words & set(NEVER_SHARED)

    def roles(self, living: bool | None = None) -> set[str]:
        """Return the roles of the ends; of the living or gone ones where that is asked."""
        return {
            self.harness.role(cavity)
            for cavity, place in self.ends.items()
            if living is None or living == (place not in GONE)
        }

    def inline_cavities(self) -> set[tuple[str, str]]:
        """Return the in-line cavities (connector, cavity) the net passes."""
        cavities = [node for node in self.graph if isinstance(node, Cavity)]
        return {(c.connector, c.cavity) for c in cavities if self.harness.role(c) == "inline"}

    def sides(self, connector: str, cavity: str) -> tuple[set[str], set[str]]:
        """Return the places of living ends on each half of an in-line cavity; those of a loop are on both."""
        graph = networkx.Graph(self.graph)
        halves = Cavity(connector, "A", cavity), Cavity(connector, "B", cavity)
        if not graph.has_edge(*halves):
            return set(), set()
        graph.remove_edge(*halves)
        found = [networkx.node_connected_component(graph, half) for half in halves]
        one, other = ({self.living[node] for node in nodes if node in self.living} for nodes in found)
        return one, other

    @cached_property
    def tree(self) -> networkx.MultiGraph:
        """The graph without legs to gone ends, and without points that merely lie on the way."""
        graph = self.graph.copy()
        while True:
            loose = [node for node in graph if node not in self.living and graph.degree(node) <= 1]
            between = [node for node in graph if node not in self.living and graph.degree(node) == 2]
            if loose:
                graph.remove_nodes_from(loose)
            elif between:
                beyond = [other for _, other in graph.edges(between[0])]
                graph.remove_node(between[0])
                if len(beyond) == 2:
                    graph.add_edge(*beyond)
            else:
                return graph

    @cached_property
    def splices(self) -> list[Node]:
        """The points whose place is free to choose."""
        return [node for node in self.tree if node not in self.living]

    def crossed(self, chosen: Mapping[Node, str]) -> int:
        """Return how many wires run between places with the splices where they are chosen to be."""
        at = {**self.living, **chosen}
        return sum(at[one] != at[other] for one, other in self.tree.edges())

    def with_splices_at(self, place: str) -> int:
        """Return the same with every splice at one place."""
        return self.crossed(dict.fromkeys(self.splices, place))

    @cached_property
    def fewest(self) -> int:
        """The fewest crossings without doubling: every placement of every splice is tried."""
        choices = product(sorted(self.places), repeat=len(self.splices))
        return min(self.crossed(dict(zip(self.splices, places, strict=True))) for places in choices)


def _cavity(node: Node) -> Cavity | None:
    if isinstance(node, Cavity):
        return node
    if isinstance(node, tuple) and node[0] == "stud" and isinstance(node[1], Cavity):
        return node[1]
    return None


def true_nets(case: Case) -> list[TrueNet]:
    """Return the nets of a case."""
    words: dict[End, set[str]] = {}
    for pin, end in case.rows:
        words.setdefault(end, set()).add(pin.function)
    return [
        TrueNet(
            case.harness, ends, case.where, frozenset().union(*(words.get(end, set[str]()) for end in ends))
        )
        for ends in case.harness.true_nets()
    ]


def cavity_of(pin: Json) -> Cavity:
    """Return the cavity a pin of a plan names."""
    return Cavity(pin["connector"], pin["half"], pin["cavity"])


def matched(nets: list[TrueNet], plan: Json) -> Iterator[tuple[TrueNet, Json | None]]:
    """Yield each true net with the plan's net that has exactly its ends, if there is one."""
    told = {frozenset(cavity_of(end) for end in net["ends"]): net for net in plan["nets"]}
    for net in nets:
        yield net, told.get(frozenset(net.ends))


def net_differences(nets: list[TrueNet], plan: Json, stated: bool) -> Iterator[str]:
    """Yield what a plan says otherwise of its nets, all rows being printed.

    `stated` says that the rows print which two ends are one wire; else the paths may be unknown.
    """
    if len(plan["nets"]) != len(nets):
        yield f"{len(plan['nets'])} nets are listed, there are {len(nets)}"
    for net, told in matched(nets, plan):
        if told is None:
            yield f"no net has the ends {sorted(net.ends)}"
            continue
        name = f"net {told['net']}"
        if told["fate"] != net.fate:
            yield f"{name} {told['fate']}, but it {net.fate}"
        if set(told["places"]) != net.places or len(told["places"]) != len(net.places):
            yield f"{name} is at {told['places']}, but its living ends are at {net.places}"
        if {cavity_of(end): end["place"] for end in told["ends"]} != net.ends:
            yield f"{name} has the ends {told['ends']}"
        if bool(told["refused"]) != ("Airbag squib" in net.words):
            yield f"{name} is refused: {told['refused']!r}, its rows say {set(net.words)}"
        if (bool(told["refused"]) or not told["accepted"]) != net.forbidden:
            yield f"{name} may be cut: {told['accepted']}, its rows say {set(net.words)}"
        yield from (f"{name} {fault}" for fault in _crossing_faults(net, told, stated))


def _crossing_faults(net: TrueNet, told: Json, stated: bool) -> Iterator[str]:
    splice = told["splice"]
    if net.fate != "crosses":
        if told["crossings"] or splice:
            yield f"{net.fate} and yet has {told['crossings']} crossings, splice {splice}"
        return
    least = len(net.places) - 1
    if net.shared and told["crossings"] != least:
        yield f"has {told['crossings']} crossings, doubling allows {least}"
    if told["at_least"] and stated and net.splices:
        yield "is said to have unseen splices"
    if not net.shared and stated and not told["at_least"] and told["crossings"] != net.fewest:
        yield f"has {told['crossings']} crossings, the fewest are {net.fewest}"
    if told["crossings"] < least:
        yield f"has {told['crossings']} crossings, there are at least {least}"
    if splice is None:
        if stated and net.splices:
            yield "has a splice, and its choices are not shown"
        return
    if splice["doubled"] != (least if net.shared else None):
        yield f"doubled takes {splice['doubled']}, but {least}, allowed: {net.shared}"
    if stated and FITTED in net.places and splice["stays"] != net.with_splices_at(FITTED):
        yield f"takes {splice['stays']} where splices stay, but {net.with_splices_at(FITTED)}"
    choices = [number for number in (splice["moves"], splice["stays"]) if number is not None]
    if stated and net.splices and min(choices) != net.fewest:
        yield f"takes {choices} where splices move or stay, the fewest are {net.fewest}"


def line_differences(nets: list[TrueNet], plan: Json, shorten: tuple[str, ...]) -> Iterator[str]:
    """Yield nets that are cut and should not be, or are not and should be."""
    cut = {line["net"] for line in plan["cuts"]}
    going = {item["connector"] for item in plan["inlines"] if item["fate"] == "goes"}
    for net, told in matched(nets, plan):
        if told is None:
            continue
        out = {name for name, _ in net.inline_cavities()} & going
        uncut = net.fate in ("stays", "travels") and not net.gone
        if net.fate == "travels" and (out or set(shorten) & set(told["circuits"])):
            uncut = False
        if told["net"] in cut and (uncut or net.forbidden or not net.living):
            yield f"net {told['net']} {net.fate} and is cut"
        needed = net.fate == "crosses" or (net.gone and net.living) or (net.fate == "travels" and out)
        if told["net"] not in cut and needed and not net.forbidden:
            yield f"net {told['net']} {net.fate} and is not cut"
    for name in ("nets", "cuts", "joins", "caps", "links", "inlines", "refused", "host"):
        if plan["counts"][name] != len(plan[name]):
            yield f"{plan['counts'][name]} {name} are counted, there are {len(plan[name])}"
    for fate in ("unknown", "needs host", "dies", "stays", "travels", "crosses"):
        number = sum(net["fate"] == fate for net in plan["nets"])
        if plan["counts"][fate] != number:
            yield f"{plan['counts'][fate]} nets are counted as {fate}, there are {number}"


def inline_differences(case: Case, nets: list[TrueNet], plan: Json, stated: bool) -> Iterator[str]:
    """Yield what a plan says otherwise of the in-lines, all rows being printed."""
    printed = {Cavity(pin.connector, pin.half, pin.cavity) for pin, _ in case.rows}
    for told in plan["inlines"]:
        name = told["connector"]
        cavities = {cavity.cavity for cavity in printed if cavity.connector == name}
        through = [(net, at) for net in nets for of, at in net.inline_cavities() if of == name]
        halves = all(Cavity(name, half, at) in printed for at in cavities for half in "AB")
        keeping = {at for net, at in through if _keeps(net, name, at)}
        goes = bool(cavities) and halves and not keeping and name not in case.keep
        if told["fate"] == "goes" and not goes:
            yield f"{name} goes, but cavities {keeping} keep it, halves whole: {halves}"
        if told["fate"] == "stays" and goes and stated:
            yield f"{name} stays ({told['because']}), but nothing keeps it"
        untouched = {at for net, at in through if net.fate == "stays" or net.forbidden}
        if told["fate"] == "goes" and told["cavities_used_after"]:
            yield f"{name} goes and has used cavities"
        if told["fate"] == "stays" and told["cavities_used_after"] < len(untouched):
            yield f"{name} has {told['cavities_used_after']} used cavities, {untouched} are not touched"
        yield from _border_faults(told, through, stated)


def _keeps(net: TrueNet, name: str, cavity: str) -> bool:
    one, other = net.sides(name, cavity)
    split = net.fate == "crosses" and FITTED in one and FITTED in other
    return net.fate in KEEPING or net.forbidden or "Shield" in net.words or split


def _border_faults(told: Json, through: list[tuple[TrueNet, str]], stated: bool) -> Iterator[str]:
    name = told["connector"]
    sides = [net.sides(name, at) for net, at in through]
    one = set().union(*(side for side, _ in sides))
    other = set().union(*(side for _, side in sides))
    may = not one & other and not any(net.fate == "stays" for net, _ in through)
    if told["border"] and not may:
        yield f"{name} is a border, but {one & other} lie on both sides or a net stays"
    crosses = any(net.fate == "crosses" and all(net.sides(name, at)) for net, at in through)
    if not told["border"] and may and crosses and stated and not any(net.forbidden for net, _ in through):
        yield f"{name} is no border, but no place lies on both sides"


def host_differences(nets: list[TrueNet], plan: Json) -> Iterator[str]:
    """Yield what a plan says otherwise of what the new vehicle must supply."""
    asked = {need["net"]: need for need in plan["host"]}
    for net, told in matched(nets, plan):
        if told is None or net.forbidden:
            continue
        sources = net.roles() & {"fuse", "ground"}
        lost = bool(sources & net.roles(living=False) - net.roles(living=True))
        needs = net.fate == "needs host" or (len(net.living) > 1 and lost)
        need = asked.get(told["net"])
        if (need is not None) != needs:
            yield f"net {told['net']} {net.fate}: asked of the host {need}, needed {needs}"
        if need is None:
            continue
        if net.ends.get(cavity_of(need["pin"]), GONE[0]) in GONE:
            yield f"net {told['net']} asks a supply for {need['pin']}"
        if sources == {"fuse"} and need["kind"] != "feed":
            yield f"net {told['net']} is fed by a fuse and asks for a {need['kind']}"
        if sources == {"ground"} and need["kind"] != "ground":
            yield f"net {told['net']} has a stud and asks for a {need['kind']}"
    fused = {told["net"] for net, told in matched(nets, plan) if told and "fuse" in net.roles(living=True)}
    for cap in plan["caps"]:
        if cap["live"] and cap["net"] not in fused:
            yield f"cap {cap['id']} is live, and no fuse feeds it"


def whole(case: Case, net: TrueNet) -> bool:
    """Whether every row of a net is printed."""
    return net.wire_ends <= {end for _, end in case.rows}


def shows_it_is_torn(case: Case, net: TrueNet) -> bool:
    """Whether what is printed of a net has one end, a half without its mate, or a splice with one leg.

    A half that prints another number than every end that is left shows nothing: only the lost one told them
    to be of one net.
    """
    printed = {
        (Cavity(pin.connector, pin.half, pin.cavity), pin.circuit)
        for pin, end in case.rows
        if end in net.wire_ends
    }
    at = {cavity for cavity, _ in printed}
    numbers = {circuit for cavity, circuit in printed if cavity in net.ends}
    legs = [cavity.connector for cavity in at if case.harness.role(cavity) == "splice"]
    lone = any(
        case.harness.role(cavity) == "inline"
        and circuit in numbers
        and cavity._replace(half="BA"["AB".index(cavity.half)]) not in at
        for cavity, circuit in printed
    )
    return len(at & set(net.ends)) == 1 or lone or any(legs.count(splice) == 1 for splice in legs)
