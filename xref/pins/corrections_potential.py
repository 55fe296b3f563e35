"""Whether a circuit such as 31 is a number or the name of a voltage: what the person says, put into the pin.

That a row is read right does not tell which of the two its circuit is; until it is told, nothing joins by it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from xref.data.potentials import potential
from xref.pins.corrections_records import CircuitIs
from xref.pins.terminals import terminal_numbers
from xref.records import DECIDED_AT, Pin, notice_name

UNDECIDED, NAMED = "potential-undecided", "potential-name"
#: The notice of each answer, with the time behind it.
SAID: dict[CircuitIs, str] = {"number": "number-by-person", "potential": "potential-by-person"}


def may_be_either(circuit: str) -> bool:
    """Say whether a circuit text is a number in some documents and the name of a voltage in others."""
    return bool(circuit) and potential(circuit) == "terminal numbers"


def said_of(pin: Pin) -> CircuitIs:
    """Return what the person said that the circuit of a row is; "" for nothing."""
    names = {notice_name(notice) for notice in pin.notices}
    return next((kind for kind, name in SAID.items() if name in names), "")


def with_circuit_as(pin: Pin, kind: CircuitIs, at: str) -> Pin:
    """Return the pin with its circuit as the person says it is; as it stands where it can be one only."""
    if not kind or not may_be_either(pin.circuit):
        return pin
    pin = _forgotten(pin)
    named = (NAMED,) if kind == "potential" else ()
    return replace(pin, notices=(*named, *pin.notices, f"{SAID[kind]}{DECIDED_AT}{at}"))


def judged_anew(pin: Pin, pins: Iterable[Pin]) -> Pin:
    """Return a pin with another circuit than was read, judged as the other rows of its document."""
    pin = _forgotten(pin)
    kind = potential(pin.circuit) if pin.circuit else "no"
    numbers = terminal_numbers(pins) if kind == "terminal numbers" else False
    if kind == "always" or numbers is True:
        return replace(pin, notices=(*pin.notices, NAMED))
    return replace(pin, flags=(*pin.flags, UNDECIDED)) if numbers is None else pin


def _forgotten(pin: Pin) -> Pin:
    gone = {NAMED, *SAID.values()}
    notices = tuple(notice for notice in pin.notices if notice_name(notice) not in gone)
    return replace(pin, flags=tuple(flag for flag in pin.flags if flag != UNDECIDED), notices=notices)
