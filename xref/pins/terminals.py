"""Whether 15, 30 and 31 are the numbers of terminals in a document, or of circuits."""

from __future__ import annotations

from collections.abc import Iterable

from xref.data.potentials import potential
from xref.records import Pin

#: So many other circuits of one or two figures show that circuit numbers run through 15, 30 and 31.
RUNNING = 3
#: Fewer different circuits than this show no habit.
FEWEST = 5


def terminal_numbers(pins: Iterable[Pin]) -> bool | None:
    """Say whether 15, 30 and 31 are terminals in this document; None where nothing tells.

    They are circuits where other circuits are numbers as short, and terminals where none is.
    """
    circuits = {
        pin.circuit
        for pin in pins
        if pin.circuit and "signal-as-circuit" not in pin.notices and potential(pin.circuit) == "no"
    }
    short = [c for c in circuits if c.isdecimal() and len(c) <= 2]
    if len(short) >= RUNNING:
        return False
    if len(circuits) >= FEWEST and not short:
        return True
    return None
