"""What moved modules no longer get from the donor, so that the new vehicle must give it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from xref.data.function_words import kinds_of
from xref.data.potentials import potential_side
from xref.harness.oddities import is_potential
from xref.moves.plan_file import PlanFile
from xref.moves.records import End, HostNeed, PlannedNet
from xref.moves.said import pin_named
from xref.records import Pin
from xref.store.fold import unpadded_key

Kind = Literal["feed", "ground", "signal", "unknown"]


def host_needs(nets: Iterable[PlannedNet], plan: PlanFile) -> tuple[HostNeed, ...]:
    """Return every moved end that loses what it was wired to, with the person's answer where there is one.

    A net whose ends all live on but whose only feed or ground is gone needs one from the host as well.
    """
    found: list[HostNeed] = []
    for net in nets:
        if net.refused:
            continue
        if net.fate == "needs host":
            found += [_need(net, end, plan) for end in net.living if end.moved]
        elif net.fate in ("travels", "crosses", "stays"):
            lost = net.lost_source
            if not lost and not may_have_fed(net):
                continue
            answered = [end for end in net.living if answer_for(end.pin, plan)]
            moved = [end for end in net.living if end.moved]
            if lost or answered:
                found.append(_need(net, (answered or moved or list(net.living))[0], plan))
    return tuple(found)


def may_have_fed(net: PlannedNet) -> tuple[End, ...]:
    """Return ends that do not come along and may have fed a supply of which no fuse is in the documents.

    Which of its ends gives a supply, as a key switch does, no table says.
    """
    moved = [end for end in net.living if end.moved]
    if net.fate not in ("travels", "crosses") or net.lost_source or not moved:
        return ()
    if any(stop.fuses for stop in net.net.stops.values()) or kind_of(net, moved[0]) != "feed":
        return ()
    return tuple(end for end in net.ends if not end.lives and end.pin.role in ("component", "unknown"))


def kind_of(net: PlannedNet, end: End) -> Kind:
    """Return what an end gets over a net, by its far ends and the words of its functions."""
    roles = {net.net.stops[other.place].role for other in net.ends if other.place != end.place}
    if "ground" in roles or end.pin.role == "ground":
        return "ground"
    if "fuse" in roles or end.pin.role == "fuse":
        return "feed"
    pins = net.rows
    for circuit in dict.fromkeys(pin.circuit for pin in pins):
        side = potential_side(circuit) if is_potential(circuit, pins) else "nothing"
        if side != "nothing":
            return side
    kinds = kinds_of(*(pin.function for pin in pins))
    if not any(pin.function for pin in pins):
        return "unknown"
    if "sensor return" in kinds or "sensor supply" in kinds or "bus" in kinds:
        return "signal"
    if "ground" in kinds:
        return "ground"
    return "feed" if "feed" in kinds else "signal"


def _need(net: PlannedNet, end: End, plan: PlanFile) -> HostNeed:
    return HostNeed(net=net.number, pin=end.pin, kind=kind_of(net, end), answer=answer_for(end.pin, plan))


def answer_for(pin: Pin, plan: PlanFile) -> str:
    """Return what `[host]` says of a pin, "" where it says nothing."""
    own = (pin.connector, unpadded_key(pin.cavity))
    return next((answer for name, answer in plan.host.items() if pin_named(name) == own), "")
