"""The lines of one net: where it is cut, what is joined, capped, and linked the short way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from xref.harness.netmap import Place
from xref.moves.crossing import Placed, least_crossings
from xref.moves.joined import Joined
from xref.moves.records import AS_FITTED, PlannedNet, Side
from xref.moves.splices import living_wires, wires_at
from xref.moves.wiregraph import GraphWire, WireGraph

#: (wire, joint): the end of a wire where it is cut.
CutAt = tuple[int, int]
Stub = tuple[CutAt, Side]


@dataclass(slots=True)
class NetLines:
    """What is done to one net, before ids and labels are given."""

    cuts: list[CutAt] = field(default_factory=list)
    joins: list[RawJoin] = field(default_factory=list)
    caps: list[Stub] = field(default_factory=list)
    links: list[tuple[Place, Place]] = field(default_factory=list)
    where: dict[int, str] = field(default_factory=dict)  #: place of each joint that lives


@dataclass(frozen=True, slots=True)
class RawJoin:
    """Stubs joined with each other; `between` are the places an extension runs between."""

    stubs: tuple[Stub, ...]
    place: str
    between: tuple[str, str] | None = None
    host: str = ""


def lines_of(
    graph: WireGraph,
    net: PlannedNet,
    going: frozenset[str],
    shortened: bool = False,
    host: str = "",
) -> NetLines:
    """Return the lines of a net by its fate; `going` are the in-lines that go, `host` what the host gives."""
    lines = NetLines()
    if net.fate == "needs host":
        _to_host(graph, net, lines, host)
    elif net.fate == "dies":
        _end_stub(graph, net, lines)
    elif net.fate != "unknown":
        _between_living(graph, net, lines, going, shortened)
    return lines


def _between_living(
    graph: WireGraph, net: PlannedNet, lines: NetLines, going: frozenset[str], shortened: bool
) -> None:
    wires, fixed = living_wires(graph, net)
    placed = least_crossings(
        graph, wires, fixed, net.places, _leaning(graph, going), _allowed(graph, net)
    ) or Placed(dict(fixed), ())
    lines.where = placed.where
    taken = _taken_out(graph, net, wires, going)
    at_inlines = {number for joint in taken for number in wires_at(graph, wires, joint)}
    seams = [seam for joint in taken for seam in _seams_at(graph, wires, joint, placed.where, taken)]
    seams += [
        _seam(graph, graph.wires[number], placed.where)
        for number in placed.crossing
        if number not in at_inlines
    ]
    crossing = []
    for seam in seams:
        here, there = (placed.where[joint] for joint in seam.joints)
        lines.cuts += (at for at in seam.cuts if at not in lines.cuts)
        if here != there:
            crossing.append(seam)
            continue
        lines.joins.append(RawJoin(seam.stubs, here))
        ends = [graph.wires[at[0]].far(at[1]).place for at in seam.cuts]
        if len(ends) == 2 and ends[0] and ends[1]:
            lines.links.append((ends[0], ends[1]))
    if net.splice is not None and net.splice.chosen == "doubled":
        _doubled(graph, lines, wires, seams, crossing)
    else:
        for seam in crossing:
            between = (placed.where[seam.joints[0]], placed.where[seam.joints[1]])
            lines.joins.append(RawJoin(seam.stubs, " – ".join(between), between))
    lines.joins = _merged(lines.joins)
    loom = not (net.fate == "travels" and shortened and not lines.cuts and _shorten(graph, net, lines, wires))
    _cut_off_gone(graph, net, lines, set(wires), loom)


def _merged(joins: Iterable[RawJoin]) -> list[RawJoin]:
    """Make one joint of those that share a stub; two extensions that meet at one stub stay two lines."""
    found: list[RawJoin] = []
    for join in sorted(joins, key=lambda join: join.between is None):
        sharing = [other for other in found if set(other.stubs) & set(join.stubs)]
        if join.between is not None or not sharing:
            found.append(join)
            continue
        first = sharing[0]
        together = (first, *(other for other in sharing[1:] if other.between is None), join)
        stubs = tuple(dict.fromkeys(stub for one in together for stub in one.stubs))
        found = [replace(first, stubs=stubs) if o is first else o for o in found if o not in together[1:]]
    return found


@dataclass(frozen=True, slots=True)
class Seam:
    """Where two parts of a net come apart: the cuts, and of each side its stub and the joint it leads to."""

    cuts: tuple[CutAt, ...]
    stubs: tuple[Stub, Stub]
    joints: tuple[int, int]


def _seam(graph: WireGraph, wire: GraphWire, where: Mapping[int, str]) -> Seam:
    """Return the seam of a crossing wire: one cut, as far from the moved plug as it allows.

    That is before the splice or half that stays; at an unseen splice there is no place to cut, so the tail
    of the plug it is.
    """
    one, other = wire.one, wire.other
    stays = [end.joint for end in (one, other) if where.get(end.joint) == AS_FITTED and end.place]
    between = [end.joint for end in (one, other) if graph.kinds[end.joint] != "end" and end.place]
    if one.place is None or other.place is None:
        joint = other.joint if one.place is None else one.joint
    else:
        joint = (stays or between or [other.joint])[0]
    at = (wire.number, joint)
    return Seam((at,), ((at, "plug"), (at, "loom")), (joint, wire.far(joint).joint))


def _taken_out(graph: WireGraph, net: PlannedNet, wires: Sequence[int], going: frozenset[str]) -> list[int]:
    """Return the joints that go which living wires pass: of in-lines, and of ends with two wires."""
    gone = _gone(graph, net)
    return [
        joint
        for joint, places in enumerate(graph.places)
        if (joint in gone or (graph.kinds[joint] == "inline" and any(place[0] in going for place in places)))
        and len(wires_at(graph, wires, joint)) > 1
    ]


def _gone(graph: WireGraph, net: PlannedNet) -> set[int]:
    """Return the joints of ends that are gone."""
    living = {graph.joint_of[end.place] for end in net.living}
    return {graph.joint_of[end.place] for end in net.ends} - living


def _seams_at(
    graph: WireGraph, wires: Sequence[int], joint: int, where: Mapping[int, str], taken: Sequence[int]
) -> list[Seam]:
    """Return the seams of a cavity that goes: its wires are cut there and go on without it."""

    def leads_to(number: int) -> int:
        far = graph.wires[number].far(joint).joint
        # a wire between two that go is cut at both ends, and the piece left of it is in one place, not two
        between = far in taken and where[far] != where[joint]
        return graph.wires[number].one.joint if between else far

    own = wires_at(graph, wires, joint)
    first, *others = sorted(own, key=lambda n: where[leads_to(n)] != where[joint])
    return [
        Seam(
            ((first, joint), (number, joint)),
            (((first, joint), "loom"), ((number, joint), "loom")),
            (leads_to(first), leads_to(number)),
        )
        for number in others
    ]


def _allowed(graph: WireGraph, net: PlannedNet) -> Callable[[int, str], bool]:
    """Keep splices as fitted where the choice says so; else each may be where the fewest wires cross.

    Where nobody knows where wires meet, they meet as fitted: cut are only the tails of the moved plugs.
    """
    held = {"splice"} if net.splice is not None and net.splice.chosen == "stays" else set()
    if net.at_least:
        held.add("unseen")
    if AS_FITTED not in net.places:
        held = set()
    return lambda joint, place: graph.kinds[joint] not in held or place == AS_FITTED


def _leaning(graph: WireGraph, going: frozenset[str]) -> Callable[[int, str], int]:
    """Prefer: what stays stays as fitted, an in-line that goes lies on the moved side of the crossing."""

    def lean(joint: int, place: str) -> int:
        goes = any(own[0] in going for own in graph.places[joint])
        return int((place == AS_FITTED) == goes)

    return lean


def _doubled(
    graph: WireGraph, lines: NetLines, wires: Sequence[int], seams: Sequence[Seam], crossing: Sequence[Seam]
) -> None:
    """Join what comes to one place there, and let one wire run between two places.

    One seam per pair of places becomes the link; the stubs of the others are joined where they are, or
    capped where nothing more hangs on them.
    """
    fragment = _fragments(graph, wires, seams)
    for seam in seams:
        if seam not in crossing:
            fragment.join(*seam.joints)
    linked = Joined({lines.where[joint] for seam in crossing for joint in seam.joints})
    tree = [s for s in crossing if linked.join(*(lines.where[joint] for joint in s.joints))]
    ordered = [*tree, *(seam for seam in crossing if seam not in tree)]
    at_place: dict[str, dict[int, Stub]] = defaultdict(dict)  #: place -> fragment -> a stub of it
    for seam in ordered:
        for stub, joint in zip(seam.stubs, seam.joints, strict=True):
            at_place[lines.where[joint]].setdefault(fragment.root(joint), stub)
    merged: set[str] = set()  #: places whose stubs are joined by the end of a link
    used: set[Stub] = set()
    for seam in tree:
        group: list[Stub] = []
        for stub, joint in zip(seam.stubs, seam.joints, strict=True):
            place = lines.where[joint]
            group.append(stub)
            if place not in merged and stub in at_place[place].values():
                merged.add(place)
                group += (other for other in at_place[place].values() if other != stub)
        between = (lines.where[seam.joints[0]], lines.where[seam.joints[1]])
        used |= set(group)
        lines.joins.append(RawJoin(tuple(group), " – ".join(between), between))
    for stub in dict.fromkeys(stub for seam in crossing for stub in seam.stubs):
        if stub not in used:
            _close(graph, lines, stub, lines.where[graph.wires[stub[0][0]].far(stub[0][1]).joint])


def _fragments(graph: WireGraph, wires: Sequence[int], seams: Iterable[Seam]) -> Joined[int]:
    """Return what stays in one piece when all seams are open."""
    open_ = {at[0] for seam in seams for at in seam.cuts}
    joined = Joined(range(len(graph.kinds)))
    for number in wires:
        if number not in open_:
            joined.join(graph.wires[number].one.joint, graph.wires[number].other.joint)
    return joined


def _shorten(graph: WireGraph, net: PlannedNet, lines: NetLines, wires: Sequence[int]) -> bool:
    """Cut the loop out of a travelling wire: both plugs keep a tail, and the tails are joined.

    With branches, what is a loop is not the tables' to say: then it is left as it is, and False returned.
    """
    at = []
    for end in net.living:
        own = wires_at(graph, wires, graph.joint_of[end.place])
        at += [(number, graph.joint_of[end.place]) for number in own]
    if len(net.living) != 2 or len(at) != 2:
        return False
    lines.cuts += at
    stubs: tuple[Stub, ...] = tuple((cut, "plug") for cut in at)
    lines.joins.append(RawJoin(stubs, net.places[0]))
    lines.links.append((net.living[0].place, net.living[1].place))
    return True


def _cut_off_gone(
    graph: WireGraph, net: PlannedNet, lines: NetLines, living: set[int], loom: bool = True
) -> None:
    """Cut off what leads to ends that are gone, where it leaves what lives, and cap it there.

    Without `loom`, what lies between the living ends leads to nothing that lives any more.
    """
    alive = {graph.joint_of[end.place] for end in net.living}
    if loom:
        alive |= {end.joint for n in living for end in (graph.wires[n].one, graph.wires[n].other)}
        alive -= _gone(graph, net)
    for wire in graph.wires:
        if wire.number in living:
            continue
        for end in (wire.one, wire.other):
            if end.joint in alive and wire.far(end.joint).joint not in alive:
                _cut_off(graph, lines, wire, end.joint)


def _cut_off(graph: WireGraph, lines: NetLines, wire: GraphWire, joint: int) -> None:
    """Cut a dead wire at a joint that lives; at an unseen splice, at its far end."""
    far = wire.far(joint)
    if wire.at(joint).place is not None and (graph.kinds[joint] != "end" or far.place is None):
        at: CutAt = (wire.number, joint)
        side: Side = "plug"
    else:
        at, side = (wire.number, far.joint), "loom"
    if at not in lines.cuts:
        lines.cuts.append(at)
        _close(graph, lines, (at, side), lines.where.get(joint, AS_FITTED))


def _close(graph: WireGraph, lines: NetLines, stub: Stub, where: str) -> None:
    """Cap a stub; of wires that are cut together, join those on the loom, which may have met in the plug."""
    if graph.wires[stub[0][0]].count > 1 and stub[1] == "loom":
        lines.joins.append(RawJoin((stub,), where))
    else:
        lines.caps.append(stub)


def _to_host(graph: WireGraph, net: PlannedNet, lines: NetLines, host: str) -> None:
    """Cut the moved end's wire as far from its plug as it allows; join it to the new vehicle, or cap it."""
    (end,) = (end for end in net.living if end.moved)
    lines.where[graph.joint_of[end.place]] = end.where
    stubs = _cut_far(graph, lines, graph.joint_of[end.place])
    if host:
        lines.joins.append(RawJoin(stubs, end.where, None, host))
    else:
        lines.caps += stubs


def _cut_far(graph: WireGraph, lines: NetLines, joint: int) -> tuple[Stub, ...]:
    """Cut all wires of an end as far from its plug as they allow; return the stubs that hang on it."""
    stubs: list[Stub] = []
    for number in graph.at[joint]:
        far = graph.wires[number].far(joint)
        at: CutAt = (number, far.joint if far.place is not None else joint)
        lines.cuts.append(at)
        stubs.append((at, "loom" if at[1] != joint else "plug"))
    return tuple(stubs)


def _end_stub(graph: WireGraph, net: PlannedNet, lines: NetLines) -> None:
    """Cut the wire of the one living end where it comes to what is gone, and cap what is left live."""
    if not net.living:
        return
    (end,) = net.living
    if end.where != AS_FITTED:
        return
    lines.caps += _cut_far(graph, lines, graph.joint_of[end.place])
