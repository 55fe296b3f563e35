"""Rows that several tables print of one pin, put together: one wire end, however often it is printed."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence

from xref.records import Pin

#: Copies of a page place a row equally but for rounding, points.
_SAME_PLACE = 1.0


def same_pins(pins: Iterable[Pin]) -> list[list[Pin]]:
    """Group rows that several tables print of one pin, in order of appearance.

    Rows that differ in place, circuit, colours, option or status stay apart; a table that is silent about
    colour or option does not differ in it. Two rows of one table stay apart: two wires in one cavity.
    """
    groups: dict[tuple[str, ...], list[list[Pin]]] = defaultdict(list)
    order: list[list[Pin]] = []
    for pin in pins:
        kin = groups[_same_key(pin)]
        for group in kin:
            if all(_may_be_one(pin, other) for other in group):
                group.append(pin)
                break
        else:
            kin.append([pin])
            order.append(kin[-1])
    return order


def rows_once(pins: Iterable[Pin]) -> list[tuple[Pin, list[Pin]]]:
    """Fold rows that are one printed row on two copies of a page: each with the further places it stands at.

    Such rows agree in all they print and in their doubts, and stand at the same place of two pages.
    """
    groups: dict[tuple[object, ...], list[tuple[Pin, list[Pin]]]] = defaultdict(list)
    order: list[tuple[Pin, list[Pin]]] = []
    for pin in pins:
        kin = groups[_printed(pin)]
        for first, further in kin:
            elsewhere = (pin.document, pin.page) not in {(p.document, p.page) for p in (first, *further)}
            if elsewhere and _same_place(first, pin):
                further.append(pin)
                break
        else:
            kin.append((pin, []))
            order.append(kin[-1])
    return order


def in_cavity_order(pins: Sequence[Pin]) -> list[Pin]:
    """Sort a connector's rows by cavity, in the order of the document that prints most of its cavities."""
    cavities: dict[str, set[str]] = defaultdict(set)
    for pin in pins:
        cavities[pin.document].add(pin.cavity)
    fullest_first = sorted(pins, key=lambda pin: -len(cavities[pin.document]))
    place = {cavity: n for n, cavity in enumerate(dict.fromkeys(pin.cavity for pin in fullest_first))}
    return sorted(pins, key=lambda pin: place[pin.cavity])


def wires_stated(pins: Iterable[Pin]) -> int:
    """Return how many wires one table puts into the cavity these rows print, at most."""
    return max(Counter(_table(pin) for pin in pins).values(), default=0)


def destinations(pins: Iterable[Pin]) -> list[str]:
    """Return where a pin's rows say it goes, each once, `SP41` not beside `SP41:a`, which says more."""
    said = list(dict.fromkeys(pin.goes_to for pin in pins if pin.goes_to))
    return [text for text in said if not any(other.startswith(f"{text}:") for other in said)]


def _printed(pin: Pin) -> tuple[object, ...]:
    where = (pin.machine, pin.connector, pin.half, pin.cavity, pin.circuit, pin.color_code, pin.size)
    return (*where, pin.function, pin.option, pin.goes_to, pin.status, pin.flags)


def _same_place(one: Pin, other: Pin) -> bool:
    edges = zip(
        (one.x0, one.top, one.x1, one.bottom), (other.x0, other.top, other.x1, other.bottom), strict=True
    )
    return all(abs(a - b) <= _SAME_PLACE for a, b in edges)


def _may_be_one(one: Pin, other: Pin) -> bool:
    if _table(one) == _table(other):
        return False
    return _agree(one.option, other.option) and _agree(_color(one), _color(other))


def _agree(one: object, other: object) -> bool:
    return not one or not other or one == other


def _color(pin: Pin) -> tuple[str, ...]:
    if pin.base_color:
        return (pin.base_color, pin.stripe_color, pin.ring_color)
    return (pin.color_code,) if pin.color_code else ()


def _same_key(pin: Pin) -> tuple[str, ...]:
    return (pin.machine, pin.connector, pin.half, pin.cavity, pin.circuit, pin.status)


def _table(pin: Pin) -> tuple[str, int, int]:
    return (pin.document, pin.page, pin.table_no)
