"""Which nets no line may ever be proposed for, and which wait until the person has read them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from xref.data.function_words import HIGH_VOLTAGE_MM2, REFUSED, SAFETY, kinds_of
from xref.harness.netmap import NetMap
from xref.moves.plan_file import PlanFile
from xref.records import Pin

#: Above this, a direct voltage is dangerous to touch (ISO 6469-3:2021; UN R100: class B above 60 V DC).
DANGEROUS_VOLTS = 60.0


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

    What is refused spreads over its net, and over every pin of a component so named. Other safety circuits
    are accepted where `[safety]` names a function printed on them.
    """
    named = _components_named(nets.values())
    accepted = {text.casefold() for text in plan.accepted}
    found = {}
    for number, net in nets.items():
        pins = [pin for stop in net.stops.values() for pin in stop.pins]
        review = _review(pins)
        functions = {pin.function.casefold() for pin in pins if pin.function}
        found[number] = Verdict(
            refused=_refused(pins, named, plan.system_volts),
            review=review,
            accepted=not review or bool(functions & accepted),
        )
    return found


def _components_named(nets: Iterable[NetMap]) -> dict[str, str]:
    """Return the components whose own name is a refused kind."""
    found: dict[str, str] = {}
    for net in nets:
        for stop in net.stops.values():
            for pin in stop.pins:
                kinds = [kind for kind in kinds_of(pin.component, pin.connector_name) if kind in REFUSED]
                if kinds and pin.role not in ("inline", "splice"):
                    found.setdefault(pin.component or pin.connector, kinds[0])
    return found


def _refused(pins: Iterable[Pin], named: Mapping[str, str], volts: float | None) -> str:
    kinds: dict[str, set[str]] = defaultdict(set)
    for pin in pins:
        for kind in (*kinds_of(pin.function), *_kinds_of_circuit(pin.circuit)):
            if kind in REFUSED:
                kinds[kind].add(f"the function at {pin.connector}:{pin.cavity} says so")
        component = pin.component or pin.connector
        if component in named and pin.role not in ("inline", "splice"):
            kinds[named[component]].add(f"{component} is one of that kind")
        if pin.base_color == "orange" and (pin.size_mm2 or 0.0) >= HIGH_VOLTAGE_MM2:
            where = f"{pin.connector}:{pin.cavity}"
            kinds["high voltage"].add(f"the wire at {where} is orange and {pin.size_mm2:g} mm²")
        supply = {"feed", "ground"} & set(kinds_of(pin.function)) or pin.role in ("ground", "fuse")
        if volts is not None and volts > DANGEROUS_VOLTS and supply:
            kinds["high voltage"].add(f"supply or ground of a system of {volts:g} V")
    if not kinds:
        return ""
    first = next(kind for kind in REFUSED if kind in kinds)
    return f"{first}: {sorted(kinds[first])[0]}"


def _kinds_of_circuit(circuit: str) -> tuple[str, ...]:
    """Return what a circuit is by its own name; a number, of which there are many, has none."""
    return kinds_of(circuit) if _LETTERS.search(circuit) else ()


def _review(pins: Iterable[Pin]) -> tuple[str, ...]:
    found: set[str] = set()
    for pin in pins:
        found |= set(kinds_of(pin.function, pin.component, pin.connector_name)) & set(SAFETY)
    return tuple(kind for kind in SAFETY if kind in found)
