"""Which cavities touch when an in-line is plugged together."""

from __future__ import annotations

from xref.records import Pin
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.settle import settle_roles
from xref.store.writing import Mate

__all__ = ["mates_of", "settle_roles"]


def mates_of(index: Index, pin: Pin) -> list[Pin]:
    """Return the pins of the other half that touch this in-line cavity, as far as they were read."""
    if pin.role != "inline":
        return []
    found = []
    if pin.half:
        others = index.pins_of(pin.connector, pin.machine)
        found = [
            other
            for other in others
            if other.half not in ("", pin.half) and _same_place(other.cavity, pin.cavity)
        ]
    for mate in index.mates(pin.machine, pin.connector):
        for side, other in _both_ways(mate):
            if side[:2] == (pin.connector, pin.half) and _same_place(side[2], pin.cavity):
                found += index.pins_of(other[0], pin.machine, other[1], other[2])
    return [other for other in found if _fit(pin.option, other.option)]


def _both_ways(mate: Mate) -> tuple[tuple[tuple[str, str, str], tuple[str, str, str]], ...]:
    a = (mate.connector_a, mate.half_a, mate.cavity_a)
    b = (mate.connector_b, mate.half_b, mate.cavity_b)
    return (a, b), (b, a)


def _same_place(one: str, other: str) -> bool:
    """Cavities are the same as printed, or but for zeros before the number; `1` and `A1` are not."""
    return one == other or unpadded_key(one) == unpadded_key(other)


def _fit(one: str, other: str) -> bool:
    return not one or not other or one == other
