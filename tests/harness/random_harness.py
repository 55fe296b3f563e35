"""Invented harnesses whose true wiring is known, and the rows a manual would print of them.

`random_harness` makes wires first and prints rows from them, so that whatever is worked out from the rows can
be held against the wires. Made from a `random.Random`, so that one seed gives one harness.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from random import Random
from typing import Literal, NamedTuple

import networkx

from xref.records import Pin, Role
from xref.store.settled import Mate

COLORS = ("black", "red", "blue", "green", "yellow", "white", "brown", "violet")


class Cavity(NamedTuple):
    """Where a wire ends."""

    connector: str
    half: str
    cavity: str

    @property
    def text(self) -> str:
        """As a from/to column prints it."""
        return f"{self.connector}{self.half}:{self.cavity}"


class End(NamedTuple):
    """One end of a wire: the wire's number and the side, 0 or 1."""

    wire: int
    side: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One conductor."""

    ends: tuple[Cavity, Cavity]
    circuit: str
    base: str = ""
    stripe: str = ""
    size: float | None = None
    harness: str = ""
    net: int = 0  #: wires of one net have one number


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How large and how tangled a harness is to be; the shares are chances from 0 to 1."""

    nets: int = 8
    harnesses: int = 3
    components: int = 5
    most_ends: int = 5  #: of a net
    number_changes: float = 0.2  #: at an in-line
    color_changes: float = 0.2  #: at an in-line or splice
    suffixes: float = 0.2  #: the legs of a splice are 1440A, 1440B
    chained: float = 0.25  #: three ends meet in a cavity with two wires instead of a splice
    fused: float = 0.15  #: an end is a fuse's; the other side of the fuse is another net's end
    grounded: float = 0.2  #: an end is a stud
    potential: float = 0.3  #: a wire to a stud is printed GND instead of a number
    rings: float = 0.0  #: a second wire between two splices of one net
    parallel: float = 0.0  #: two in-lines between the same two harnesses


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """How a manual prints a harness."""

    documents: int = 2
    doubled: float = 0.15  #: a connector's table stands in a second document too
    copied: float = 0.1  #: a connector's page stands twice in its document
    goes_to: Literal["next", "far", "none"] = "next"  #: the next stop, the far device, nothing
    harness_names: bool = True
    blank_colors: float = 0.05  #: a row is silent about the colour
    unused: float = 0.3  #: a connector has a cavity more, said to be unused


@dataclass(slots=True)
class Harness:
    """The true wiring."""

    wires: list[Wire] = field(default_factory=list)
    roles: dict[tuple[str, str], Role] = field(default_factory=dict)  #: by connector and half
    components: dict[str, str] = field(default_factory=dict)  #: by connector
    harness_of: dict[tuple[str, str], str] = field(default_factory=dict)
    inlines: dict[str, tuple[str, str]] = field(default_factory=dict)  #: the harnesses of halves A and B

    def ends(self) -> Iterator[tuple[End, Cavity]]:
        """Yield every wire end with its cavity."""
        for number, wire in enumerate(self.wires):
            for side, cavity in enumerate(wire.ends):
                yield End(number, side), cavity

    def role(self, cavity: Cavity) -> Role:
        """Return the role of a cavity's connector."""
        return self.roles[cavity.connector, cavity.half]

    def mates(self) -> list[Mate]:
        """Return the cavities that touch: those of an in-line with a wire on both sides."""
        used = {cavity for _, cavity in self.ends()}
        return [
            Mate(
                machine="lift",
                connector_a=name,
                half_a="A",
                cavity_a=cavity,
                connector_b=name,
                half_b="B",
                cavity_b=cavity,
                how="designator",
            )
            for name, half, cavity in sorted(used)
            if half == "A" and Cavity(name, "B", cavity) in used
        ]

    def graph(self) -> networkx.Graph:
        """Return cavities, and a node named for each splice, joined by wires, plugs and splices."""
        graph = networkx.Graph()
        for wire in self.wires:
            graph.add_edge(*wire.ends)
        for mate in self.mates():
            graph.add_edge(
                Cavity(mate.connector_a, mate.half_a, mate.cavity_a),
                Cavity(mate.connector_b, mate.half_b, mate.cavity_b),
            )
        for _, cavity in self.ends():
            if self.role(cavity) == "splice":
                graph.add_edge(cavity, cavity.connector)
        return graph

    def true_nets(self, unplugged: Container[tuple[str, str]] = ()) -> set[frozenset[End]]:
        """Return the wire ends of each net, by networkx: a stud is an end, so what meets there stays apart.

        `unplugged` are in-line cavities (connector, cavity) whose halves do not touch.
        """
        graph = networkx.Graph()
        for end, cavity in self.ends():
            graph.add_edge(End(end.wire, 0), end)
            if self.role(cavity) != "ground":
                graph.add_edge(end, cavity)
            if self.role(cavity) == "splice":
                graph.add_edge(cavity, cavity.connector)
        for mate in self.mates():
            here = Cavity(mate.connector_a, mate.half_a, mate.cavity_a)
            if (here.connector, here.cavity) not in unplugged:
                graph.add_edge(here, Cavity(mate.connector_b, mate.half_b, mate.cavity_b))
        parts = networkx.connected_components(graph)
        return {frozenset(node for node in part if isinstance(node, End)) for part in parts}


def random_harness(dice: Random, size: Size | None = None) -> Harness:
    """Make a harness: looms joined by in-lines, and nets of two ends or more laid through them."""
    return _Builder(dice, size or Size()).build()


def printed(harness: Harness, dice: Random, how: Printing | None = None) -> list[tuple[Pin, End]]:
    """Return the rows a manual prints of the wires, each with its wire end; also rows of unused cavities.

    A row of an unused cavity comes with `End(-1, 0)`.
    """
    how = how or Printing()
    tables: dict[tuple[str, str], list[tuple[Pin, End]]] = defaultdict(list)
    for end, cavity in harness.ends():
        tables[cavity.connector, cavity.half].append((_row(harness, dice, how, end), end))
    pages: dict[str, int] = defaultdict(int)
    rows: list[tuple[Pin, End]] = []
    for _, found in sorted(tables.items()):
        if dice.random() < how.unused:
            spare = replace(found[0][0], cavity="99", circuit="", color_code="", base_color="", goes_to="")
            found.append((replace(spare, stripe_color="", size_mm2=None, status="unused"), End(-1, 0)))
        first = dice.randrange(how.documents)
        places = [first]
        if dice.random() < how.copied:
            places.append(first)
        if how.documents > 1 and dice.random() < how.doubled:
            places.append((first + 1) % how.documents)
        for number in places:
            document = f"manual-{number}.pdf"
            pages[document] += 1
            for row_no, (pin, end) in enumerate(found, start=1):
                at = {"document": document, "page": pages[document], "row_no": row_no, "top": 20.0 * row_no}
                rows.append((replace(pin, **at), end))  # type: ignore[arg-type]
    return rows


def _row(harness: Harness, dice: Random, how: Printing, end: End) -> Pin:
    wire = harness.wires[end.wire]
    here, there = wire.ends[end.side], wire.ends[1 - end.side]
    goes_to = ""
    if how.goes_to == "next" or wire.circuit == "GND":  # a name of a voltage joins nothing by itself
        goes_to = there.text
    elif how.goes_to == "far":
        goes_to = _far(harness, end).text
    blank = dice.random() < how.blank_colors
    return Pin(
        machine="lift",
        connector=here.connector,
        half=here.half,
        cavity=here.cavity,
        circuit=wire.circuit,
        color_code="" if blank else f"{wire.base}/{wire.stripe}",
        base_color="" if blank else wire.base,
        stripe_color="" if blank else wire.stripe,
        size_mm2=wire.size,
        size=f"{wire.size}",
        goes_to=goes_to,
        role=harness.role(here),
        component=harness.components.get(here.connector, ""),
        harness=wire.harness if how.harness_names else "",
        document="",
        page=1,
    )


def _far(harness: Harness, end: End) -> Cavity:
    """Return a device at the far end: the nearest beyond the wire that is no in-line and no splice."""
    here, there = harness.wires[end.wire].ends[end.side], harness.wires[end.wire].ends[1 - end.side]
    graph = harness.graph()
    graph.remove_node(here)
    for node in networkx.bfs_tree(graph, there):
        if isinstance(node, Cavity) and harness.role(node) not in ("inline", "splice"):
            return node
    return there


class _Builder:
    """What is laid so far, and which names are taken."""

    def __init__(self, dice: Random, size: Size) -> None:
        self.dice = dice
        self.size = size
        self.made = Harness()
        self.looms: networkx.MultiGraph = networkx.MultiGraph()
        self.cavities: dict[str, int] = defaultdict(int)  #: taken so far, by connector
        self.numbers = 1000
        self.devices: list[tuple[str, str]] = []  #: connector and harness
        self.open_fuses: list[Cavity] = []  #: the free side of fuses one side of which an earlier net has
        self.new_fuses: list[Cavity] = []

    def build(self) -> Harness:
        looms = [f"loom {number}" for number in range(self.size.harnesses)]
        self.looms.add_nodes_from(looms)
        for number, loom in enumerate(looms[1:], start=1):
            self._inline(loom, looms[self.dice.randrange(number)])
            if self.dice.random() < self.size.parallel:
                self._inline(loom, looms[self.dice.randrange(number)])
        for number in range(self.size.components):
            for plug in range(1, self.dice.choice((2, 2, 3))):
                self._device(f"M{number}X{plug}", "component", self.dice.choice(looms), f"Module {number}")
        for net in range(self.size.nets):
            self._net(net)
        return self.made

    def _inline(self, one: str, other: str) -> None:
        name = f"C{len(self.made.inlines) + 1}0"
        self.made.inlines[name] = (one, other)
        for half, loom in (("A", one), ("B", other)):
            self.made.roles[name, half] = "inline"
            self.made.harness_of[name, half] = loom
        self.looms.add_edge(one, other, key=name)

    def _device(self, name: str, role: Role, loom: str, component: str = "") -> str:
        self.made.roles[name, ""] = role
        self.made.harness_of[name, ""] = loom
        if component:
            self.made.components[name] = component
        if role == "component":
            self.devices.append((name, loom))
        return name

    def _next_cavity(self, connector: str, half: str = "") -> Cavity:
        self.cavities[connector] += 1
        return Cavity(connector, half, str(self.cavities[connector]))

    def _end(self) -> Cavity:
        """Return a new end: a module's cavity, a stud, or one side of a fuse."""
        if self.dice.random() < self.size.fused:
            if self.open_fuses:
                return self.open_fuses.pop()
            name = self._device(f"F{len(self.made.roles)}", "fuse", self._any_loom())
            self.new_fuses.append(Cavity(name, "", "2"))
            return Cavity(name, "", "1")
        name, _ = self.dice.choice(self.devices)
        return self._next_cavity(name)

    def _any_loom(self) -> str:
        return str(self.dice.choice(sorted(self.looms)))

    def _net(self, net: int) -> None:
        number = self.dice.choice((2, 2, 2, 3, 3, self.size.most_ends))
        ends = [self._end() for _ in range(max(2, min(number, self.size.most_ends)))]
        self.open_fuses += self.new_fuses
        self.new_fuses = []
        ground = self.dice.random() < self.size.grounded
        if ground:
            name = self._device(f"G{len(self.made.roles)}", "ground", self._any_loom())
            ends[-1] = self._next_cavity(name)
        meeting: dict[str, list[Cavity]] = defaultdict(list)
        for end in ends:
            meeting[self.made.harness_of[end.connector, end.half]].append(end)
        for one, other, name in self._plugs_between(sorted(meeting)):
            self.cavities[name] += 1
            at = str(self.cavities[name])
            for loom in (one, other):
                half = "AB"[self.made.inlines[name].index(loom)]
                meeting[loom].append(Cavity(name, half, at))
        before = len(self.made.wires)
        circuit, base = self._number(), self.dice.choice(COLORS)
        for loom, places in sorted(meeting.items()):
            if self.dice.random() < self.size.number_changes:
                circuit = self._number()
            if self.dice.random() < self.size.color_changes:
                base = self.dice.choice(COLORS)
            self._join(net, loom, (circuit, base), places)
        self._name_grounds(before, ground)

    def _name_grounds(self, first: int, ground: bool) -> None:
        laid = self.made.wires[first:]
        named = ground and self.dice.random() < self.size.potential
        if named and len({cavity for wire in laid for cavity in wire.ends}) == 2 * len(laid):
            self.made.wires[first:] = [replace(wire, circuit="GND") for wire in laid]

    def _plugs_between(self, looms: list[str]) -> list[tuple[str, str, str]]:
        """Return the in-lines that join these looms, without one that is not needed."""
        chosen: networkx.MultiGraph = networkx.MultiGraph()
        chosen.add_node(looms[0])
        for loom in looms[1:]:
            path = networkx.shortest_path(self.looms, looms[0], loom)
            for one, other in pairwise(path):
                if not chosen.has_edge(one, other):
                    chosen.add_edge(one, other, key=self.dice.choice(sorted(self.looms[one][other])))
        tree = networkx.minimum_spanning_edges(chosen, data=False)
        return [(one, other, name) for one, other, name in tree]

    def _number(self) -> str:
        self.numbers += 1
        return str(self.numbers)

    def _join(self, net: int, loom: str, looks: tuple[str, str], places: list[Cavity]) -> None:
        """Lay wires between places of one loom: one wire, a chain of two-wire cavities, or a splice."""
        circuit, base = looks
        stripe = self.dice.choice(COLORS)
        size = self.dice.choice((0.35, 0.5, 1.0, 2.5))

        def lay(one: Cavity, other: Cavity, suffix: str = "", of_base: str = base) -> None:
            self.made.wires.append(
                Wire(
                    ends=(one, other),
                    circuit=circuit + suffix,
                    base=of_base,
                    stripe=stripe,
                    size=size,
                    harness=loom,
                    net=net,
                )
            )

        if len(places) == 2:
            lay(*places)
            return
        inner = [p for p in places if self.made.roles[p.connector, p.half] == "component"]
        if len(places) == 3 and inner and self.dice.random() < self.size.chained:
            middle = inner[0]
            for place in places:
                if place != middle:
                    lay(middle, place)
            return
        splice = self._device(f"S{len(self.made.roles)}", "splice", loom)
        suffixed = self.dice.random() < self.size.suffixes
        ring = self.dice.random() < self.size.rings
        second = self._device(f"S{len(self.made.roles)}", "splice", loom) if ring else splice
        for number, place in enumerate(places):
            other = self.dice.random() < self.size.color_changes
            leg = self._next_cavity(second if ring and number % 2 else splice)
            lay(leg, place, chr(65 + number) if suffixed else "", self.dice.choice(COLORS) if other else base)
        if ring:
            for _ in range(2):
                lay(self._next_cavity(splice), self._next_cavity(second))
