"""Which cavities touch when an in-line is plugged together, as settled at the end of indexing."""

from __future__ import annotations

from collections.abc import Iterator

from xref.records import Pin
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.settled import Mate

#: (connector, half, cavity)
Cavity = tuple[str, str, str]


def mates_of(index: Index, pin: Pin) -> list[Pin]:
    """Return the pins of the other half that touch this in-line cavity, as far as they were read."""
    if pin.role != "inline":
        return []
    found: dict[Pin, None] = {}
    for mate in index.mates(pin.machine, pin.connector):
        for side, other in both_ways(mate):
            if side[:2] == (pin.connector, pin.half) and same_cavity(side[2], pin.cavity):
                for there in index.pins_of(other[0], pin.machine, other[1]):
                    if same_cavity(there.cavity, other[2]) and _fit(pin.option, there.option):
                        found[there] = None
    return list(found)


def both_ways(mate: Mate) -> Iterator[tuple[Cavity, Cavity]]:
    """Yield the two cavities of a mate, each with the other one."""
    a = (mate.connector_a, mate.half_a, mate.cavity_a)
    b = (mate.connector_b, mate.half_b, mate.cavity_b)
    yield a, b
    yield b, a


def same_cavity(one: str, other: str) -> bool:
    """Cavities are the same as printed, or but for zeros before the number; `1` and `A1` are not."""
    return one == other or unpadded_key(one) == unpadded_key(other)


def _fit(one: str, other: str) -> bool:
    return not one or not other or one == other
