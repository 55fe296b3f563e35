"""The lines of one net: where it is cut, what is joined, capped, and linked the short way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from xref.harness.netmap import Place
from xref.moves.crossing import Placed, least_crossings
from xref.moves.host import may_have_fed
from xref.moves.joined import Joined
from xref.moves.links import links_of
from xref.moves.records import AS_FITTED, Inlines, PlannedNet, Side
from xref.moves.seams import (
    CutAt,
    Seam,
    Stub,
    crossing_seam,
    gone_joints,
    meeting,
    runs_across,
    seams_at,
    taken_out,
)
from xref.moves.splices import living_wires, wires_at
from xref.moves.wiregraph import GraphWire, WireGraph, reachable


@dataclass(slots=True)
class NetLines:
    """What is done to one net, before ids and labels are given."""

    cuts: list[CutAt] = field(default_factory=list)
    joins: list[RawJoin] = field(default_factory=list)
    caps: list[Stub] = field(default_factory=list)
    links: list[tuple[Place, Place]] = field(default_factory=list)
    where: dict[int, str] = field(default_factory=dict)  #: place of each joint that lives
    loop: bool = False  #: its loop is cut out
    passed: set[int] = field(default_factory=set)  #: in-lines a crossing net still passes when all is done
    rejoined: set[int] = field(default_factory=set)  #: in-lines cut out of what stays in one place


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
    inlines: Inlines,
    shortened: bool = False,
    host: str = "",
) -> NetLines:
    """Return the lines of a net by its fate; `host` is what the new vehicle gives it, "" for nothing."""
    lines = NetLines()
    if net.fate == "needs host":
        _to_host(graph, net, lines, host)
    elif net.fate == "dies":
        _end_stub(graph, net, lines)
    elif net.fate != "unknown":
        _between_living(graph, net, lines, inlines, shortened)
        if host:
            _fed_by_host(graph, net, lines, host)
    return lines


def _between_living(
    graph: WireGraph, net: PlannedNet, lines: NetLines, inlines: Inlines, shortened: bool
) -> None:
    wires, fixed = living_wires(graph, net)
    placed = least_crossings(
        graph, wires, fixed, net.places, _leaning(graph, inlines), _allowed(graph, net)
    ) or Placed(dict(fixed), ())
    lines.where = placed.where
    lines.loop = net.fate == "travels" and shortened and _shorten(graph, net, lines, wires)
    if not lines.loop:
        _at_seams(graph, net, lines, wires, placed, inlines)
    _cut_off_gone(graph, net, lines, set(wires), loom=not lines.loop)


def _at_seams(
    graph: WireGraph,
    net: PlannedNet,
    lines: NetLines,
    wires: Sequence[int],
    placed: Placed,
    inlines: Inlines,
) -> None:
    """Cut where the net comes apart, and join what belongs together."""
    taken = taken_out(graph, net, wires, placed.where, inlines)
    if net.fate == "crosses":
        living = {end.joint for n in wires for end in (graph.wires[n].one, graph.wires[n].other)}
        lines.passed = {joint for joint in living.difference(taken) if graph.kinds[joint] == "inline"}
    at_inlines = {number for joint in taken for number in wires_at(graph, wires, joint)}
    runs = runs_across(graph, wires, taken, placed.where, inlines.fitted)
    single = set(taken).difference(*runs.values())
    seams = [*runs]
    seams += (seam for joint in sorted(single) for seam in seams_at(graph, wires, joint, placed.where, taken))
    apart = [number for number in placed.crossing if number not in at_inlines]
    doubled = net.splice is not None and net.splice.chosen == "doubled"
    meet = meeting(graph, apart, placed.where) if doubled else {}
    seams += [crossing_seam(graph, graph.wires[number], placed.where, meet.get(number)) for number in apart]
    crossing = []
    for seam in seams:
        here, there = (placed.where[joint] for joint in seam.joints)
        lines.cuts += (at for at in seam.cuts if at not in lines.cuts)
        if here != there:
            crossing.append(seam)
        else:
            lines.joins.append(RawJoin(seam.stubs, here))
            lines.rejoined |= {joint for _, joint in seam.cuts if graph.kinds[joint] == "inline"}
    lines.links = links_of(graph, net, wires, lines.cuts, lines.joins)
    if doubled:
        _doubled(graph, lines, wires, seams, crossing)
    else:
        for seam in crossing:
            between = (placed.where[seam.joints[0]], placed.where[seam.joints[1]])
            lines.joins.append(RawJoin(seam.stubs, " – ".join(between), between))
    lines.joins = _merged(lines.joins)


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


def _leaning(graph: WireGraph, inlines: Inlines) -> Callable[[int, str], int]:
    """Prefer: what stays stays as fitted, an in-line that goes lies on the moved side of the crossing.

    An in-line that stays draws more than all that go: the wire is cut at its moved side.
    """
    most = len(graph.kinds)

    def lean(joint: int, place: str) -> int:
        if any(own[0] in inlines.fitted for own in graph.places[joint]):
            return most * (place != AS_FITTED)
        goes = any(own[0] in inlines.going for own in graph.places[joint])
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
    lines.links = links_of(graph, net, wires, lines.cuts, lines.joins)
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
        alive -= gone_joints(graph, net)
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


def _fed_by_host(graph: WireGraph, net: PlannedNet, lines: NetLines, host: str) -> None:
    """Join to the new vehicle a moved stub that led to what fed the net and is gone, not a cap.

    Where the wires of several ends met there and are joined past it, their joint is fed.
    """
    lost = [e for e in net.ends if not e.lives and net.is_source(e)] if net.lost_source else may_have_fed(net)
    sources = {graph.joint_of[end.place] for end in lost}
    if not sources:
        return
    for cap in lines.caps:
        (number, joint), side = cap
        far = graph.wires[number].far(joint).joint
        hangs_on, dead = (joint, far) if side == "plug" else (far, joint)
        where = lines.where.get(hangs_on, AS_FITTED)
        if where != AS_FITTED and sources & reachable(graph, dead, {number}):
            lines.caps.remove(cap)
            lines.joins.append(RawJoin((cap,), where, None, host))
            return
    past = [join for join in lines.joins if any(at[1] in sources for at, _ in join.stubs)]
    fed = next(iter(past or lines.joins), None)
    lines.joins = [replace(join, host=host) if join is fed else join for join in lines.joins]


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
