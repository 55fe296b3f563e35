"""What the documents of a machine say together: one document's silence is filled from another's words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

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
                pin = replace(pin, notices=tuple(name for name in pin.notices if name != "circuit-once"))
        filled.append(pin)
    return filled


def real_name(connector_name: str, harness: str) -> str:
    """Return a title, "" where it only repeats half and harness: `half A Harness Main harness`."""
    return "" if harness and _HALF_AND_HARNESS.sub("", connector_name) == harness else connector_name


def _with_head(pin: Pin, heads: list[Connector]) -> Pin:
    own = [head for head in heads if head.half == pin.half]
    changes: dict[str, Any] = {}
    if pin.role == "unknown":
        changes["role"] = _only(head.role for head in own if head.role != "unknown") or _only(
            head.role for head in heads if head.role != "unknown"
        )
    if not pin.component:
        changes["component"] = _only(head.component for head in own)
    name = real_name(pin.connector_name, pin.harness)
    if not name:
        changes["connector_name"] = _only(real_name(head.connector_name, head.harness) for head in own)
    changes = {field: value for field, value in changes.items() if value or field == "connector_name"}
    return replace(pin, **changes) if changes else pin


def _only(texts: Iterable[str]) -> str:
    """Return the one text that is given; "" where there is none, or where documents contradict each other."""
    given = {text for text in texts if text}
    return given.pop() if len(given) == 1 else ""


def _in_several_cavities(index: Index, machine: str, circuit: str) -> bool:
    return len({(p.connector, p.half, p.cavity) for p in index.pins_on_circuit(circuit, machine)}) > 1
