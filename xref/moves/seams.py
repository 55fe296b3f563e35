"""Where the wires of a net come apart that lives on: at what is taken out, and where it crosses."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from xref.moves.joined import Joined
from xref.moves.records import AS_FITTED, Inlines, PlannedNet, Side
from xref.moves.splices import wires_at
from xref.moves.wiregraph import GraphWire, WireGraph

#: (wire, joint): the end of a wire where it is cut.
CutAt = tuple[int, int]
Stub = tuple[CutAt, Side]


@dataclass(frozen=True, slots=True)
class Seam:
    """Where two parts of a net come apart: the cuts, and of each side its stub and the joint it leads to."""

    cuts: tuple[CutAt, ...]
    stubs: tuple[Stub, Stub]
    joints: tuple[int, int]


def meeting(graph: WireGraph, crossing: Iterable[int], where: Mapping[int, str]) -> dict[int, int]:
    """Return the joint to cut at for wires of which several run from one moved joint to one place.

    A single wire replaces them, so what is left of them is joined: their ends must lie in one spot, where
    that joint sat, and not at plugs that may be metres apart.
    """
    meet: dict[tuple[int, str], list[int]] = defaultdict(list)
    for number in crossing:
        wire = graph.wires[number]
        for end in (wire.one, wire.other):
            if where[end.joint] != AS_FITTED and end.place is not None:
                meet[end.joint, where[wire.far(end.joint).joint]].append(number)
    return {number: joint for (joint, _), own in meet.items() if len(own) > 1 for number in own}


def crossing_seam(
    graph: WireGraph, wire: GraphWire, where: Mapping[int, str], meets: int | None = None
) -> Seam:
    """Return the seam of a crossing wire: one cut, as far from the moved plug as it allows.

    That is before the splice or half that stays, or at the joint where it `meets` others; at an unseen splice
    there is no place to cut, so the tail of the plug it is.
    """
    one, other = wire.one, wire.other
    stays = [end.joint for end in (one, other) if where.get(end.joint) == AS_FITTED and end.place]
    between = [end.joint for end in (one, other) if graph.kinds[end.joint] != "end" and end.place]
    if one.place is None or other.place is None:
        joint = other.joint if one.place is None else one.joint
    else:
        joint = meets if meets is not None else (stays or between or [other.joint])[0]
    at = (wire.number, joint)
    return Seam((at,), ((at, "plug"), (at, "loom")), (joint, wire.far(joint).joint))


def taken_out(
    graph: WireGraph, net: PlannedNet, wires: Sequence[int], where: Mapping[int, str], inlines: Inlines
) -> list[int]:
    """Return the joints living wires pass no more: of in-lines that go, and of ends with two wires that go.

    An in-line that stays as fitted is left by a crossing net where only its moved side would pass it; one
    that travels keeps its loom, and is asked about.
    """
    out = gone_joints(graph, net)
    for joint, places in enumerate(graph.places):
        astray = net.fate == "crosses" and where.get(joint) != AS_FITTED
        left = inlines.going | inlines.fitted if astray else inlines.going
        if graph.kinds[joint] == "inline" and any(place[0] in left for place in places):
            out.add(joint)
    return [joint for joint in sorted(out) if len(wires_at(graph, wires, joint)) > 1]


def gone_joints(graph: WireGraph, net: PlannedNet) -> set[int]:
    """Return the joints of ends that are gone."""
    living = {graph.joint_of[end.place] for end in net.living}
    return {graph.joint_of[end.place] for end in net.ends} - living


def runs_across(
    graph: WireGraph,
    wires: Sequence[int],
    taken: Sequence[int],
    where: Mapping[int, str],
    fitted: Collection[str],
) -> dict[Seam, list[int]]:
    """Return the seams that lead past several joints taken out in a row, each with these joints.

    What lies to either side of the row is in two places, so a new wire runs between them anyway: it
    replaces the pieces between the joints, which are joined to nothing then and come out with them. Of an
    in-line that stays, each contact is cut off.
    """
    inner = {
        joint
        for joint in taken
        if len(graph.at[joint]) == 2 and not any(place[0] in fitted for place in graph.places[joint])
    }
    between = [n for n in wires if {graph.wires[n].one.joint, graph.wires[n].other.joint} <= inner]
    joined = Joined(inner)
    for number in between:
        joined.join(graph.wires[number].one.joint, graph.wires[number].other.joint)
    rows: dict[int, list[int]] = defaultdict(list)
    for joint in sorted(inner):
        rows[joined.root(joint)].append(joint)
    found = {}
    for row in rows.values():
        out = [(n, joint) for joint in row for n in wires_at(graph, wires, joint) if n not in between]
        if len(row) > 1 and len(out) == 2:
            one, other = (graph.wires[number].far(joint).joint for number, joint in out)
            if not {one, other} & set(taken) and where[one] != where[other]:
                found[Seam(tuple(out), ((out[0], "loom"), (out[1], "loom")), (one, other))] = row
    return found


def seams_at(
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
