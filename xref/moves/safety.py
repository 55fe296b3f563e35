"""Which nets no line may ever be proposed for, and which wait until the person has read them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from xref.data.function_words import HIGH_VOLTAGE_MM2, REFUSED, SAFETY, kinds_of
from xref.data.potentials import potential
from xref.harness.netmap import NetMap
from xref.moves.plan_file import PlanFile
from xref.records import Pin

#: Above this, a direct voltage is dangerous to touch (ISO 6469-3:2021; UN R100: class B above 60 V DC).
DANGEROUS_VOLTS = 60.0

_SAFETY_KINDS = frozenset(SAFETY)
#: Every word for what is refused has two letters together.
_LETTERS = re.compile(r"[^\W\d_]{2}")


@dataclass(frozen=True, slots=True)
class Verdict:
    """Why a net is refused ("" if it is not), and the kinds of safety circuit it may be part of."""

    refused: str = ""
    review: tuple[str, ...] = ()
    accepted: bool = True


def verdicts_of(nets: Mapping[int, NetMap], plan: PlanFile) -> dict[int, Verdict]:
    """Return what safety says of each net.

    What is refused spreads over its net, and over every pin of a component so named. Another safety circuit
    is accepted where `[safety]` names a function of each kind that is printed on it.
    """
    named = _components_named(nets.values())
    found = {}
    for number, net in nets.items():
        pins = net.rows
        by_kind = texts_of_kinds(pins)
        found[number] = Verdict(
            refused=_refused(pins, named, plan.system_volts),
            review=tuple(by_kind),
            accepted=not to_accept(by_kind, plan.accepted),
        )
    return found


def texts_of_kinds(pins: Iterable[Pin]) -> dict[str, tuple[str, ...]]:
    """Return the kinds of safety circuit some rows are of, each with the texts that name them, as printed.

    A row is named by its function; where none is printed, by its component or connector.
    """
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for pin in pins:
        kinds = set(kinds_of(pin.function, pin.component, pin.connector_name)) & _SAFETY_KINDS
        text = pin.function or pin.component or pin.connector_name
        for kind in kinds:
            found[kind][text] = None
    return {kind: tuple(found[kind]) for kind in SAFETY if kind in found}


def to_accept(by_kind: Mapping[str, Sequence[str]], accepted: Iterable[str]) -> tuple[str, ...]:
    """Return a text for each kind of which no text is accepted yet.

    That the person has read the brake circuit says nothing of a steering circuit it is joined to.
    """
    read = {text.casefold() for text in accepted}
    open_kinds = [texts for texts in by_kind.values() if not any(text.casefold() in read for text in texts)]
    return tuple(dict.fromkeys(texts[0] for texts in open_kinds))


def _components_named(nets: Iterable[NetMap]) -> dict[str, str]:
    """Return the components whose own name is a refused kind, and their connectors.

    A document that calls the component something else, or nothing, still means the same connector.
    """
    found: dict[str, str] = {}
    for net in nets:
        for stop in net.stops.values():
            for pin in stop.pins:
                kinds = [kind for kind in kinds_of(pin.component, pin.connector_name) if kind in REFUSED]
                if kinds and pin.role not in ("inline", "splice"):
                    found.setdefault(pin.component or pin.connector, kinds[0])
                    found.setdefault(pin.connector, kinds[0])
    return found


def _refused(pins: Sequence[Pin], named: Mapping[str, str], volts: float | None) -> str:
    kinds: dict[str, set[str]] = defaultdict(set)
    for pin in pins:
        for kind in (*kinds_of(pin.function), *_kinds_of_circuit(pin.circuit)):
            if kind in REFUSED:
                kinds[kind].add(f"the function at {pin.connector}:{pin.cavity} says so")
        for name in (pin.component, pin.connector):
            if name in named and pin.role not in ("inline", "splice"):
                kinds[named[name]].add(f"{pin.component or name} is one of that kind")
        if volts is not None and volts > DANGEROUS_VOLTS and _supplies(pin):
            kinds["high voltage"].add(f"supply or ground of a system of {volts:g} V")
    for pin, size in _thick_orange(pins):
        where = f"{pin.connector}:{pin.cavity}"
        kinds["high voltage"].add(f"the wire at {where} is orange and {size:g} mm²")
    if not kinds:
        return ""
    first = next(kind for kind in REFUSED if kind in kinds)
    return f"{first}: {sorted(kinds[first])[0]}"


def _supplies(pin: Pin) -> bool:
    """Say whether a row is of a supply or its ground: by function, by role, or by a voltage's name."""
    if {"feed", "ground"} & set(kinds_of(pin.function)) or pin.role in ("ground", "fuse"):
        return True
    named = potential(pin.circuit)
    # whether a terminal's number or a circuit's is meant may be open: then it may be a supply
    may_be = "potential-name" in pin.notices or "potential-undecided" in pin.flags
    return named == "always" or (named == "terminal numbers" and may_be)


def _thick_orange(pins: Sequence[Pin]) -> Iterable[tuple[Pin, float]]:
    """Yield orange rows as thick as high-voltage cable, with the size.

    A document that prints no size, or no colour, leaves it to the others that print the same net.
    """
    uncolored = max((p.size_mm2 or 0.0 for p in pins if p.base_color in ("", "orange")), default=0.0)
    for pin in pins:
        if pin.base_color == "orange":
            size = uncolored if pin.size_mm2 is None else pin.size_mm2
            if size >= HIGH_VOLTAGE_MM2:
                yield pin, size


def _kinds_of_circuit(circuit: str) -> tuple[str, ...]:
    """Return what a circuit is by its own name; a number, of which there are many, has none."""
    return kinds_of(circuit) if _LETTERS.search(circuit) else ()
