"""What the documents of a machine say together: one document's silence is filled from another's words."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from xref.records import Connector, Pin
from xref.store.index import Index

#: What a heading line puts before the name of a harness.
_HALF_AND_HARNESS = re.compile(r"^(half\s+\w{1,2}\b)?[\s:,–-]*(harness\b)?[\s:]*", re.IGNORECASE)


def agreed(index: Index, pins: Iterable[Pin]) -> list[Pin]:
    """Return the pins with role and names as the machine's other documents give them, where they agree.

    A wire list prints `G5:1` and does not say that G5 is a ground; another document does. Filled is only
    what is blank or unknown. That a circuit appears once is left standing only where it is so in the
    whole machine, not in one document.
    """
    heads: dict[tuple[str, str], list[Connector]] = {}
    several: dict[tuple[str, str], bool] = {}
    filled = []
    for pin in pins:
        where = (pin.machine, pin.connector)
        if where not in heads:
            heads[where] = index.connectors(pin.machine, name=pin.connector)
        pin = _with_head(pin, heads[where])
        if "circuit-once" in pin.notices:
            circuit = (pin.machine, pin.circuit)
            if circuit not in several:
                several[circuit] = _in_several_cavities(index, *circuit)
            if several[circuit]:
                pin = _not_once(pin)
        filled.append(pin)
    return filled


def agreed_machine(
    index: Index, machine: str, connectors: Iterable[Connector]
) -> list[tuple[int | None, Pin]]:
    """Return every pin of a machine with its net, filled in the same way, in one pass over its rows.

    `connectors` are all connector records of the machine.
    """
    records: dict[str, list[Connector]] = defaultdict(list)
    for record in connectors:
        records[record.connector].append(record)
    heads = {
        number: head._replace(
            **dict(
                zip(
                    ("role", "component", "connector_name"),
                    _filled(head.half, *head[2:], records[head.connector]),
                    strict=True,
                )
            )
        )
        for number, head in index.pin_heads(machine).items()
    }
    rows = list(index.machine_pins(machine, heads))
    once = {pin.circuit for _, pin in rows if "circuit-once" in pin.notices}
    if not once:
        return rows
    places: dict[str, set[tuple[str, str, str]]] = defaultdict(set)
    for _, pin in rows:
        if pin.circuit in once:
            places[pin.circuit].add((pin.connector, pin.half, pin.cavity))
    several = {circuit for circuit, found in places.items() if len(found) > 1}
    return [
        (net, _not_once(pin) if pin.circuit in several and "circuit-once" in pin.notices else pin)
        for net, pin in rows
    ]


def real_name(connector_name: str, harness: str) -> str:
    """Return a title, "" where it only repeats half and harness: `half A Harness Main harness`."""
    return "" if harness and _HALF_AND_HARNESS.sub("", connector_name) == harness else connector_name


def _with_head(pin: Pin, heads: list[Connector]) -> Pin:
    said = (pin.role, pin.component, pin.connector_name)
    filled = _filled(pin.half, *said, pin.harness, heads)
    if filled == said:
        return pin
    return replace(pin, **dict(zip(("role", "component", "connector_name"), filled, strict=True)))  # type: ignore[arg-type]


def _filled(
    half: str, role: str, component: str, connector_name: str, harness: str, heads: Iterable[Connector]
) -> tuple[str, str, str]:
    """Return role, component and name of a connector as its records in all documents agree on them."""
    heads = list(heads)
    own = [head for head in heads if head.half == half]
    if role == "unknown":
        named = _only(head.role for head in own if head.role != "unknown") or _only(
            head.role for head in heads if head.role != "unknown"
        )
        role = named or role
    component = component or _only(head.component for head in own)
    if not real_name(connector_name, harness):
        connector_name = _only(real_name(head.connector_name, head.harness) for head in own)
    return role, component, connector_name


def _not_once(pin: Pin) -> Pin:
    return replace(pin, notices=tuple(name for name in pin.notices if name != "circuit-once"))


def _only(texts: Iterable[str]) -> str:
    """Return the one text that is given; "" where there is none, or where documents contradict each other."""
    given = {text for text in texts if text}
    return given.pop() if len(given) == 1 else ""


def _in_several_cavities(index: Index, machine: str, circuit: str) -> bool:
    return len({(p.connector, p.half, p.cavity) for p in index.pins_on_circuit(circuit, machine)}) > 1
