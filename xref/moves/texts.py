"""Lines with their ids, labels and checks, in the order of work."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from importlib.resources import files

from xref.data.function_words import kinds_of
from xref.harness.netmap import Place, Stop
from xref.moves.ids import cavity_words, extension_labels, ids_of, label, spoken
from xref.moves.lines import NetLines, RawJoin
from xref.moves.plan_file import PlanFile
from xref.moves.records import AS_FITTED, Cap, Cut, HostNeed, Join, Link, PlannedNet, Wire
from xref.moves.seams import CutAt, Stub
from xref.moves.splices import NEVER_DOUBLED
from xref.moves.wiregraph import WireGraph, far_cavities, has_second_way
from xref.records import Pin
from xref.store.fold import counting_key

#: A cut is named by machine, cavity and circuit, which a person can find again on the wire; where a cavity
#: has two wires of one circuit, or several nets come to it, also by where its wire leads.
Key = tuple[str, Place, str]


@dataclass(frozen=True, slots=True)
class Written:
    """All lines of a plan."""

    cuts: tuple[Cut, ...]
    joins: tuple[Join, ...]
    caps: tuple[Cap, ...]
    links: tuple[Link, ...]


def _cautions() -> tuple[str, ...]:
    text = files("xref.data").joinpath("cautions.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["plan"]["text"])


#: What every plan that leaves the program says before anything else.
CAUTIONS = _cautions()


def written(
    machine: str,
    plan: PlanFile,
    nets: Mapping[int, PlannedNet],
    graphs: Mapping[int, WireGraph],
    lines: Mapping[int, NetLines],
    host: Iterable[HostNeed],
) -> Written:
    """Return the lines with ids and texts: all of one plug together, plugs in the order of the plan."""
    shared = _shared(nets.values())
    keys = {
        (number, at): _key(machine, nets[number], graphs[number], at, shared)
        for number, found in lines.items()
        for at in found.cuts
    }
    ids = ids_of(keys.values())
    order = _order(plan, nets)
    cuts: list[Cut] = []
    joins: list[Join] = []
    caps: list[Cap] = []
    links: list[Link] = []
    for number, found in lines.items():
        net, graph = nets[number], graphs[number]
        own = {at: ids[keys[number, at]] for at in found.cuts}
        wires = {at: keys[number, at][2] for at in found.cuts}
        writer = _Writer(plan, net, graph, found, own, wires)
        cuts += (writer.cut(at) for at in found.cuts)
        joins += (writer.join(n, join) for n, join in enumerate(found.joins, start=1))
        caps += (writer.cap(stub) for stub in found.caps)
        links += (writer.link(*ends) for ends in found.links)
    cuts.sort(key=lambda cut: order(cut.pin.connector, cut.pin.half, cut.pin.cavity))
    rank = {cut.id: n for n, cut in enumerate(cuts)}
    joins.sort(key=lambda join: (min(rank[id_] for id_ in join.cuts), join.id))
    caps.sort(key=lambda cap: (rank[cap.cut], cap.side))
    return Written(tuple(cuts), tuple(joins), tuple(caps), tuple(links))


def _shared(nets: Iterable[PlannedNet]) -> set[Place]:
    """Return cavities that several nets come to: a stud, or what holds another wire by option."""
    times = Counter(place for net in nets for place in net.net.stops)
    return {place for place, number in times.items() if number > 1}


def _key(machine: str, net: PlannedNet, graph: WireGraph, at: CutAt, shared: set[Place]) -> Key:
    wire = graph.wires[at[0]]
    place = wire.at(at[1]).place
    assert place is not None, "a wire is never cut where nobody knows its place"
    alike = [
        other
        for other in graph.at[at[1]]
        if graph.wires[other].at(at[1]).place == place and graph.wires[other].circuit == wire.circuit
    ]
    if len(alike) == 1 and place not in shared:
        return (machine, place, wire.circuit)
    far = wire.far(at[1]).place
    if place not in shared:
        return (machine, place, f"{wire.circuit} to {spoken(far) if far else '?'}")
    # whether the other net has the same number or not, the key is the same in every plan
    ends = [far] if far else sorted(end.place for end in net.ends if end.place != place)
    options = sorted({pin.option for pin in net.net.stops[place].pins if pin.option})
    told = " ".join([*map(spoken, ends), *options]) or "?"
    return (machine, place, f"{wire.circuit} to {told}")


def _order(
    plan: PlanFile, nets: Mapping[int, PlannedNet]
) -> Callable[[str, str, str], tuple[int, tuple[str, int, str], str, tuple[str, int, str]]]:
    """Return a sorting key: plugs of what the plan names first, in its order; the others as they count."""
    named: dict[str, int] = {}
    places = list(dict.fromkeys(plan.place.values()))
    for net in nets.values():
        for end in net.ends:
            if end.moved:
                named.setdefault(end.place[0], places.index(end.where))

    def key(
        connector: str, half: str, cavity: str
    ) -> tuple[int, tuple[str, int, str], str, tuple[str, int, str]]:
        return (named.get(connector, len(places)), counting_key(connector), half, counting_key(cavity))

    return key


def _looking_as(pin: Pin, far: Pin) -> Pin:
    """Return the row of a splice that is only listed, with the look of a wire as its far end prints it."""
    looks = ("color_code", "base_color", "stripe_color", "ring_color", "size", "size_mm2")
    return replace(pin, **{name: getattr(far, name) for name in looks})


class _Writer:
    """Puts the lines of one net into words."""

    def __init__(
        self,
        plan: PlanFile,
        net: PlannedNet,
        graph: WireGraph,
        lines: NetLines,
        ids: Mapping[CutAt, str],
        wires: Mapping[CutAt, str],
    ) -> None:
        self._plan = plan
        self._net = net
        self._graph = graph
        self._lines = lines
        self._ids = ids
        self._wires = wires
        self._joined = {stub for join in lines.joins for stub in join.stubs}
        self._ring = has_second_way(net.net, graph)
        self._named = any(pin.function for pin in net.rows)

    def cut(self, at: CutAt) -> Cut:
        """Return the line of a cut."""
        wire = self._graph.wires[at[0]]
        stop = self._stop(at)
        pin, to = stop.pin_of(wire.circuit), self._to(at)
        if stop.listed and to is not None:
            pin = _looking_as(pin, to)
        joined = any((at, side) in self._joined for side in ("plug", "loom"))
        return Cut(
            id=self._ids[at],
            net=self._net.number,
            circuit=wire.circuit,
            wire=self._wires[at],
            pin=pin,
            to=to,
            wires=wire.count,
            where=self._where(at, stop),
            labels=self._labels(at),
            then="join" if joined else "cap",
            checks_before=self._checks(at, stop, joined),
        )

    def join(self, number: int, join: RawJoin) -> Join:
        """Return a joint; its id is that of its first cut with a J."""
        cuts = tuple(dict.fromkeys(self._ids[at] for at, _ in join.stubs))
        labels: tuple[str, ...] = ()
        wire = None
        if join.between is not None:
            wire = self._wire(join)
            labels = self._extension_labels(join, join.between)
        return Join(
            id=f"{cuts[0]}J{number}",
            net=self._net.number,
            cuts=cuts,
            stubs=tuple((self._ids[at], side) for at, side in join.stubs),
            at=tuple(self._at(stub, join) for stub in join.stubs),
            place=join.place,
            wire=wire,
            labels=labels,
            host=join.host,
        )

    def cap(self, stub: Stub) -> Cap:
        """Return a capped stub."""
        at, side = stub
        return Cap(
            id=f"{self._ids[at]}{'P' if side == 'plug' else 'K'}",
            net=self._net.number,
            cut=self._ids[at],
            side=side,
            live=self._live(),
        )

    def link(self, one: Place, other: Place) -> Link:
        """Return the short way between two ends."""
        stops = self._net.net.stops
        return Link(net=self._net.number, start=stops[one].pins[0], end=stops[other].pins[0])

    def _stop(self, at: CutAt) -> Stop:
        place = self._graph.wires[at[0]].at(at[1]).place
        assert place is not None
        return self._net.net.stops[place]

    def _extension_labels(self, join: RawJoin, between: tuple[str, str]) -> tuple[str, str]:
        """Return the texts on both ends: each bears the id of the stub it is joined to."""
        stubs: dict[str, list[str]] = {place: [] for place in between}
        for stub in join.stubs:
            ids = stubs.setdefault(self._at(stub, join), [])
            ids += [self._ids[stub[0]]] if self._ids[stub[0]] not in ids else []
        one, other = (stubs[place] or [self._ids[join.stubs[0][0]]] for place in between)
        return extension_labels(self._circuit(join), (one, between[0]), (other, between[1]))

    def _to(self, at: CutAt) -> Pin | None:
        wire = self._graph.wires[at[0]]
        place = wire.far(at[1]).place
        return None if place is None else self._net.net.stops[place].pin_of(wire.circuit)

    def _where(self, at: CutAt, stop: Stop) -> str:
        pin = stop.pins[0]
        tail = f"{self._plan.tail_m * 1000:.0f} mm"
        if stop.role == "splice":
            return f"just before splice {pin.connector}, {tail} left on it"
        if stop.role == "inline":
            half = f" half {pin.half}" if pin.half else ""
            return f"at in-line {pin.connector}{half}, {tail} left on it"
        kind = "ground" if stop.role == "ground" else "plug"
        return f"at the tail of {kind} {pin.connector}, {tail} left on it"

    def _labels(self, at: CutAt) -> tuple[str, str]:
        wire = self._graph.wires[at[0]]
        near = spoken(wire.at(at[1]).place or ("?", "", ""), self._stop(at).pins[0].cavity)
        far = self._far_words(at)
        id_ = self._ids[at]
        if near == far:  # two names that are spoken alike: the sides are told apart all the same
            near, far = f"{near}(plug)", f"{far}(loom)"
        return label(id_, wire.circuit, near, far), label(id_, wire.circuit, far, near)

    def _far_words(self, at: CutAt) -> str:
        end = self._graph.wires[at[0]].far(at[1])
        if end.place is not None:
            return spoken(end.place, self._net.net.stops[end.place].pins[0].cavity)
        others = self._beyond(at)
        first = spoken(others[0], self._net.net.stops[others[0]].pins[0].cavity) if others else "?"
        return f"{first}+{len(others) - 1}" if len(others) > 1 else first

    def _beyond(self, at: CutAt) -> list[Place]:
        """Return the cavities on the loom's side of a cut; the plug's own wires go the other way."""
        own = self._graph.wires[at[0]].at(at[1]).place
        return [place for place in far_cavities(self._graph, *at) if place != own]

    def _checks(self, at: CutAt, stop: Stop, joined: bool) -> tuple[str, ...]:
        said = ["power off, battery disconnected, plugs at both ends pulled"]
        ends = [cavity_words(self._net.net.stops[place].pins[0]) for place in self._beyond(at)] or [
            self._far_words(at)
        ]
        more = " …" if len(ends) > 3 else ""
        said.append(f"continuity from {cavity_words(stop.pins[0])} to {', '.join(ends[:3])}{more}")
        if stop.role == "splice":
            said.append("every leg of a splice reads alike: tell this one by colour and by following it")
        elif stop.role == "ground" and sum(stop.wires().values()) > 1:
            said.append("every wire of a stud reads alike: take it off the stud, then meter it")
        if self._ring:
            said.append("there is a second way: continuity proves nothing here, follow the wire by hand")
        if self._net.at_least:
            said.append("where this net branches is not in the documents: look before you cut")
        count = self._graph.wires[at[0]].count
        forbidden = bool({kind for pin in self._net.rows for kind in kinds_of(pin.function)} & NEVER_DOUBLED)
        if joined and count > 1 and forbidden:
            said.append(f"{count} wires, and which leads where is not stated: extend each by itself")
        if joined and self._graph.bridged:
            through = " and ".join(sorted(self._graph.bridged.values()))
            said.append(f"joined past {through}: only if this is passed on inside, and it is no gateway")
        if self._net.review:
            kinds = ", ".join(self._net.review)
            said.append(f"may be a safety circuit ({kinds}): the maker's instructions first")
        if not self._named:
            said.append("what it does is printed nowhere: find out first")
        return tuple(said)

    def _at(self, stub: Stub, join: RawJoin) -> str:
        """Return the place of a stub: that of the joint it still hangs on."""
        (wire, joint), side = stub
        hangs_on = joint if side == "plug" else self._graph.wires[wire].far(joint).joint
        return self._lines.where.get(hangs_on, join.place)

    def _circuit(self, join: RawJoin) -> str:
        return self._graph.wires[join.stubs[0][0][0]].circuit

    def _wire(self, join: RawJoin) -> Wire:
        assert join.between is not None
        pins = [pin for at, _ in join.stubs for pin in self._stop(at).pins]
        far = [place for at, _ in join.stubs if (place := self._graph.wires[at[0]].far(at[1]).place)]
        # a page may print the size at one end of the wire only
        beyond = [pin for place in far for pin in self._net.net.stops[place].pins]
        sizes = [p.size_mm2 for p in pins if p.size_mm2] or [p.size_mm2 for p in beyond if p.size_mm2]
        route = self._plan.route_m(*join.between)
        colored = [pin for pin in pins if pin.color_code]
        like = next((pin for pin in colored if pin.base_color), colored[0] if colored else pins[0])
        return Wire(
            size_mm2=max(sizes) if sizes else None,
            color=like.color_code,
            length_m=None if route is None else round(route + 2 * self._plan.tail_m, 3),
            base_color=like.base_color,
            stripe_color=like.stripe_color,
            ring_color=like.ring_color,
        )

    def _live(self) -> bool | None:
        """Say whether a stub may be fed: True where a fuse is on the net, False where nothing lives on it."""
        living = [end for end in self._net.living if end.where == AS_FITTED]
        if any(self._net.net.stops[end.place].role == "fuse" for end in living):
            return True
        return None if self._net.living else False
