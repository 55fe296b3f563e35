"""What is metered with the power off, before the first cut and after the last joint."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from xref.moves.records import End, Plan, PlannedNet
from xref.moves.wiregraph import graph_of, has_second_way, wired_together
from xref.records import Pin

Continuity = Literal["continuity", "open", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One line of the meter: between two ends of a net, what it shows before the move and after it."""

    net: int
    circuit: str
    start: Pin
    end: Pin
    before: Continuity
    after: Continuity
    ring: bool = False  #: there is a second way, so that continuity proves nothing


def readings_of(plan: Plan) -> tuple[Reading, ...]:
    """Return the lines that prove every touched net, all its legs: of n ends that wires join n − 1 lines
    from one of them. What is joined only inside a module has none: with its plug off it reads open.

    Nets nobody may touch have none; nor has an airbag circuit ever, since a meter's current may fire it.
    """
    return tuple(reading for net in plan.nets if is_metered(net) for reading in _of_net(net))


def is_metered(net: PlannedNet) -> bool:
    """Say whether a net is touched, may be, and is of use afterwards at one end at least."""
    may = not net.refused and net.accepted and net.fate not in ("unknown", "stays")
    return may and net.touched and bool(net.living)


def _of_net(net: PlannedNet) -> list[Reading]:
    if len(net.ends) < 2:
        return []
    graph = graph_of(net.net)
    ring = has_second_way(net.net, graph)
    parts = ([end for end in net.ends if graph.joint_of[end.place] in part] for part in wired_together(graph))
    return [reading for ends in parts if ends for reading in _of_part(net, ends, ring)]


def _of_part(net: PlannedNet, ends: list[End], ring: bool) -> list[Reading]:
    start = next((end for end in ends if end.lives), ends[0])
    return [
        Reading(
            net=net.number,
            circuit=net.name,
            start=start.pin,
            end=end.pin,
            before="continuity",
            after="continuity" if _joined(net, start, end) else "open",
            ring=ring,
        )
        for end in ends
        if end.place != start.place
    ]


def _joined(net: PlannedNet, start: End, end: End) -> bool:
    return start.lives and end.lives and net.fate in ("travels", "crosses")
