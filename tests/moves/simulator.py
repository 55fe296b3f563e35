"""A plan carried out on the true wires of a harness, and what is then joined to what.

Knows the wires, and of the plan nothing but the JSON object a program would get: cuts are made where their
line says, in-lines that go are taken out, stubs are joined and capped, and the rest is left as it was. What
is then electrically one is found by networkx.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Container, Hashable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import networkx

from tests.harness.random_harness import Cavity, End, Harness

GONE = ("dropped", "left behind")
FITTED = "as fitted"
Stub = tuple[str, str]  #: id of the cut, and "plug" or "loom"
Json = Mapping[str, Any]


@dataclass
class Moved:
    """The harness after the plan, before and after its joints are made."""

    harness: Harness
    plan: Json
    where: Callable[[str], str]  #: the true place of a connector
    pieces: networkx.Graph = field(default_factory=networkx.Graph)  #: what hangs together by itself
    joined: networkx.Graph = field(default_factory=networkx.Graph)  #: with joints and extensions
    stubs: dict[Stub, list[Hashable]] = field(default_factory=lambda: defaultdict(list))
    cut_wires: dict[str, list[End]] = field(default_factory=dict)  #: by the id of the cut

    def terminals(self, ends: frozenset[End]) -> dict[Hashable, str]:
        """Return the devices' cavities of a true net, each with where it is after the move."""
        found: dict[Hashable, str] = {}
        for end in ends:
            cavity = self.harness.wires[end.wire].ends[end.side]
            if self.harness.role(cavity) not in ("inline", "splice"):
                found[self.node(end)] = self.where(cavity.connector)
        return found

    def device_cavities(self, ends: frozenset[End]) -> list[Cavity]:
        """Return the same cavities by name, each once."""
        cavities = {self.harness.wires[end.wire].ends[end.side] for end in ends}
        return sorted(cavity for cavity in cavities if self.harness.role(cavity) not in ("inline", "splice"))

    def node(self, end: End) -> Hashable:
        """Return what a wire end is fastened to; at a stud each wire has its own ring."""
        cavity = self.harness.wires[end.wire].ends[end.side]
        return (cavity, end) if self.harness.role(cavity) == "ground" else cavity


def carried_out(harness: Harness, plan: Json, where: Callable[[str], str]) -> Moved:
    """Carry a plan out: cut, take out, join."""
    moved = Moved(harness, plan, where)
    _cut(moved)
    severed = {end for ends in moved.cut_wires.values() for end in ends}
    for end, _ in harness.ends():
        middle = ("wire", end.wire)
        moved.pieces.add_nodes_from([middle, moved.node(end)])
        if end not in severed:
            moved.pieces.add_edge(middle, moved.node(end))
        else:
            moved.pieces.add_edge(("tail", end), moved.node(end))
    taken_out = {
        name for item in plan["inlines"] if item["fate"] == "goes" for name in item["connector"].split(" / ")
    }
    for mate in harness.mates():
        if mate.connector_a not in taken_out:
            here = Cavity(mate.connector_a, mate.half_a, mate.cavity_a)
            moved.pieces.add_edge(here, Cavity(mate.connector_b, mate.half_b, mate.cavity_b))
    for _, cavity in harness.ends():
        if harness.role(cavity) == "splice":
            moved.pieces.add_edge(cavity, ("splice", cavity.connector))
    moved.joined = moved.pieces.copy()
    for join in plan["joins"]:
        for stub in join["stubs"]:
            for node in moved.stubs[stub["cut"], stub["side"]]:
                moved.joined.add_edge(("join", join["id"]), node)
        if join["host"]:
            moved.joined.add_edge(("join", join["id"]), ("host", join["id"]))
    return moved


def _cut(moved: Moved) -> None:
    """Find the wires each cut severs: those of its circuit in its cavity, to the cavity it says, if any."""
    for cut in moved.plan["cuts"]:
        here = Cavity(cut["connector"], cut["half"], cut["cavity"])
        found = [
            end
            for end, cavity in moved.harness.ends()
            if cavity == here and moved.harness.wires[end.wire].circuit == cut["circuit"]
        ]
        if len(found) > cut["wires"]:
            alike = [end for end in found if _far(moved, end) == _said(cut["to"])]
            found = alike or found[: cut["wires"]]
        assert len(found) == cut["wires"], f"cut {cut['id']} may mean {len(found)} wires"
        moved.cut_wires[cut["id"]] = found
        for end in found:
            moved.stubs[cut["id"], "plug"].append(("tail", end))
            moved.stubs[cut["id"], "loom"].append(("wire", end.wire))
    severed = Counter(end for ends in moved.cut_wires.values() for end in ends)
    assert not severed or max(severed.values()) == 1, "one wire end is cut twice"


def _said(pin: Json | None) -> Cavity | None:
    return None if pin is None else Cavity(pin["connector"], pin["half"], pin["cavity"])


def _far(moved: Moved, end: End) -> Cavity:
    return moved.harness.wires[end.wire].ends[1 - end.side]


def faults(
    moved: Moved,
    planless: Callable[[frozenset[End]], bool],
    rows: set[tuple[str, int, Cavity]],
    complete: bool = True,
    named: Container[str] = (),
) -> list[str]:
    """Return all that is wrong with a plan, in words; nothing where it is right.

    `planless` says of a true net that no line may be proposed for it; `rows` are document, page and cavity
    of every row printed; `complete` that the manual prints every wire; `named` what rows call far ends: an
    end that is neither printed nor named left no trace, so no plan can know of it.
    """
    return [
        *(_led(moved) if complete else ()),
        *_forbidden(moved.plan),
        *_nets(moved, planless, {cavity for *_, cavity in rows}, complete),
        *_mixed(moved, {cavity for *_, cavity in rows}, named),
        *(_stubs(moved) if complete else ()),
        *(_joins(moved) if complete else ()),
        *_labels(moved.plan),
        *_traced(moved.plan, rows),
    ]


def _led(moved: Moved) -> Iterator[str]:
    """Where a cut says where its wire leads, it leads there."""
    for cut in moved.plan["cuts"]:
        if cut["to"] and any(_far(moved, end) != _said(cut["to"]) for end in moved.cut_wires[cut["id"]]):
            yield f"the wire of cut {cut['id']} does not lead to {_said(cut['to'])}"


def _forbidden(plan: Json) -> Iterator[str]:
    """No line is of a net that is unknown, refused, or waits to be accepted."""
    nets = {net["net"]: net for net in plan["nets"]}
    refused = {item["net"] for item in plan["refused"]}
    for line in (*plan["cuts"], *plan["joins"], *plan["caps"], *plan["links"]):
        net = nets[line["net"]]
        if net["fate"] == "unknown" or net["net"] in refused or net["refused"] or not net["accepted"]:
            yield f"a line is proposed for {net}"


def _nets(
    moved: Moved, planless: Callable[[frozenset[End]], bool], known: set[Cavity], complete: bool
) -> Iterator[str]:
    """Each net by itself: living ends joined, gone ones apart, no wire between places, no needless cut."""
    part = _parts(moved.joined)
    piece = _parts(moved.pieces)
    listed = Counter(
        (end["connector"], end["half"], end["cavity"]) for net in moved.plan["nets"] for end in net["ends"]
    )
    yield from (f"{end} is listed {number} times" for end, number in listed.items() if number > 1)
    net_of = {
        (end["connector"], end["half"], end["cavity"]): net
        for net in moved.plan["nets"]
        for end in net["ends"]
    }
    cut_ends = {end for ends in moved.cut_wires.values() for end in ends}
    extensions = Counter(join["net"] for join in moved.plan["joins"] if join["wire"] is not None)
    for ends in moved.harness.true_nets():
        terminals = moved.terminals(ends)
        cavities = moved.device_cavities(ends)
        found = {net_of[cavity]["net"] for cavity in cavities if cavity in net_of}
        # of a net the manual prints in pieces, or not all of, the plan cannot know all
        lost = any(moved.harness.wires[end.wire].ends[end.side] not in known for end in ends)
        if lost and not complete:
            continue
        if len(found) != 1 or any(cavity not in net_of for cavity in cavities):
            if complete:
                yield f"{cavities} are in nets {found}"
            continue
        net = net_of[cavities[0]]
        name = f"net {net['net']} ({net['fate']}: {', '.join(net['circuits'])})"
        living = {node: where for node, where in terminals.items() if where not in GONE}
        gone = terminals.keys() - living.keys()
        places = set(living.values())
        if net["fate"] == "unknown" or planless(ends) or (not gone and places <= {FITTED}):
            if cut_ends & ends:
                yield f"{name} is cut although it must not be touched"
            if len({part[node] for node in terminals}) > 1:
                yield f"{name} is not touched and yet parted"
            continue
        if len({part[node] for node in living}) > 1:
            yield f"{name}: {living} are not joined"
        if {part[node] for node in living} & {part[node] for node in gone}:
            yield f"{name}: what is gone hangs on what lives"
        held: dict[int, set[str]] = defaultdict(set)
        for node, where in living.items():
            held[piece[node]].add(where)
        if any(len(found) > 1 for found in held.values()):
            yield f"{name}: a wire runs between two places, {held}"
        if net["at_least"]:
            if extensions[net["net"]] < net["crossings"]:
                yield f"{name} has fewer extensions than its least crossings"
        elif extensions[net["net"]] != net["crossings"]:
            yield f"{name} has {extensions[net['net']]} extensions and {net['crossings']} crossings"


def _mixed(moved: Moved, known: set[Cavity], named: Container[str]) -> Iterator[str]:
    """No two nets are joined, and the new vehicle's supply is on nothing but a moved end."""
    part = _parts(moved.joined)
    of_part: dict[int, int] = {}
    gone, placed = set[int](), set[int]()
    for number, ends in enumerate(moved.harness.true_nets()):
        traces = {
            moved.node(end): cavity in known or cavity.text in named
            for end in ends
            for cavity in (moved.harness.wires[end.wire].ends[end.side],)
        }
        for node, where in moved.terminals(ends).items():
            if of_part.setdefault(part[node], number) != number:
                yield f"{node} is joined with another net"
            if where not in GONE:
                placed.add(part[node])
            elif traces[node]:
                gone.add(part[node])
    for node, number in part.items():
        if isinstance(node, tuple) and node[0] == "host" and (number in gone or number not in placed):
            yield f"{node} supplies what is not there"


def _stubs(moved: Moved) -> Iterator[str]:
    """Every stub is joined, capped, or on something that is thrown away; none is two of these.

    Only where two extensions meet is one stub in two joins.
    """
    joined = Counter((stub["cut"], stub["side"]) for join in moved.plan["joins"] for stub in join["stubs"])
    extended = Counter(
        (stub["cut"], stub["side"])
        for join in moved.plan["joins"]
        if join["wire"] is not None
        for stub in join["stubs"]
    )
    capped = Counter((cap["cut"], cap["side"]) for cap in moved.plan["caps"])
    part = _parts(moved.joined)
    alive = {
        part[node]
        for ends in moved.harness.true_nets()
        for node, where in moved.terminals(ends).items()
        if where not in GONE
    }
    for stub, number in (joined + capped).items():
        if stub not in moved.stubs:
            yield f"{stub} is a stub of no cut"
        elif number > 1 and (capped[stub] or number != extended[stub]):
            yield f"{stub} is joined or capped {number} times"
    for stub, nodes in moved.stubs.items():
        if not joined[stub] and not capped[stub] and any(part[node] in alive for node in nodes):
            yield f"{stub} is left open on something that lives"
    for cut in moved.plan["cuts"]:
        sides = [(cut["id"], side) for side in ("plug", "loom")]
        if (cut["then"] == "join") != any(joined[side] for side in sides):
            yield f"cut {cut['id']} says {cut['then']}"


def _joins(moved: Moved) -> Iterator[str]:
    """A joint is made in one place; an extension runs between the two places it names."""
    part = _parts(moved.pieces)
    place: dict[int, set[str]] = defaultdict(set)
    for ends in moved.harness.true_nets():
        for node, where in moved.terminals(ends).items():
            if where not in GONE:
                place[part[node]].add(where)
    net_of = {cut["id"]: cut["net"] for cut in moved.plan["cuts"]}
    for join in moved.plan["joins"]:
        stubs = [(stub["cut"], stub["side"]) for stub in join["stubs"]]
        if sorted(join["cuts"]) != sorted({cut for cut, _ in stubs}):
            yield f"join {join['id']} names other cuts than its stubs"
        if {net_of[cut] for cut, _ in stubs} != {join["net"]}:
            yield f"join {join['id']} is of another net than its cuts"
        met = {where for stub in stubs for node in moved.stubs[stub] for where in place[part[node]]}
        named = set(join["place"].split(" – ")) if join["wire"] is not None else {join["place"]}
        if not met <= named:
            yield f"join {join['id']} at {join['place']} meets {met}"
        if (join["wire"] is not None) != (len(named) == 2):
            yield f"join {join['id']} at {join['place']}: wire {join['wire']}"


def _labels(plan: Json) -> Iterator[str]:
    """Two labels a cut, mirrored, bearing its id; no text and no id twice."""
    texts = Counter(text for line in (*plan["cuts"], *plan["joins"]) for text in line["labels"])
    for text, number in texts.items():
        if number > 1:
            yield f"the label {text} stands {number} times"
    bearing = Counter(text.split()[0] for cut in plan["cuts"] for text in cut["labels"])
    for cut in plan["cuts"]:
        if bearing[cut["id"]] != 2 or len(cut["labels"]) != 2:
            yield f"the id {cut['id']} stands on {bearing[cut['id']]} labels"
        one, other = cut["labels"]
        head, _, way = one.rpartition(" ")
        near, _, far = way.partition(">")
        if other != f"{head} {far}>{near}":
            yield f"the labels {one} and {other} do not mirror each other"
    for name in ("cuts", "joins", "caps"):
        ids = Counter(line["id"] for line in plan[name])
        yield from (f"the id {id_} stands on several {name}" for id_, number in ids.items() if number > 1)
    counts = plan["counts"]
    extensions = sum(join["wire"] is not None for join in plan["joins"])
    for name in ("nets", "cuts", "joins", "caps", "links", "inlines", "refused"):
        if counts[name] != len(plan[name]):
            yield f"{counts[name]} {name} are counted, there are {len(plan[name])}"
    if counts["labels"] != 2 * len(plan["cuts"]) + 2 * extensions or counts["labels"] != texts.total():
        yield f"{counts['labels']} labels are counted, there are {texts.total()}"


def _traced(plan: Json, rows: set[tuple[str, int, Cavity]]) -> Iterator[str]:
    """Every cut names the document and page that print its cavity, and every other line a cut or a row."""
    cuts = {cut["id"] for cut in plan["cuts"]}
    printed = {cavity for *_, cavity in rows}
    for cut in plan["cuts"]:
        if (cut["document"], cut["page"], Cavity(cut["connector"], cut["half"], cut["cavity"])) not in rows:
            yield f"cut {cut['id']} is on no page"
    for line in (*plan["joins"], *({"id": cap["id"], "cuts": [cap["cut"]]} for cap in plan["caps"])):
        if not line["cuts"] or not set(line["cuts"]) <= cuts:
            yield f"{line['id']} hangs on no cut"
    pins = [pin for link in plan["links"] for pin in (link["from"], link["to"])]
    pins += [need["pin"] for need in plan["host"]] + [pin for item in plan["refused"] for pin in item["pins"]]
    pins += [end for net in plan["nets"] for end in net["ends"]]
    for pin in pins:
        if Cavity(pin["connector"], pin["half"], pin["cavity"]) not in printed:
            yield f"{pin} is on no page"


def _parts(graph: networkx.Graph) -> dict[Hashable, int]:
    return {
        node: number for number, nodes in enumerate(networkx.connected_components(graph)) for node in nodes
    }
