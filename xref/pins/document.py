"""A document's page readings to its pins and connectors: the whole room in one function."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref.colors.choose import SchemeChoice
from xref.pins.build import document_ways, parts_to_pins
from xref.pins.checks import check_pins, pins_to_connectors
from xref.pins.farends import named_by_far_ends
from xref.pins.guesses import settle_guesses
from xref.pins.halves import join_halves
from xref.pins.parts import readings_to_parts
from xref.pins.passedover import PassedOver, tables_passed_over
from xref.pins.plain import plain_readings
from xref.records import Connector, Pin
from xref.tables.page import PageReading


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentPins:
    """What a document's pages came to."""

    pins: tuple[Pin, ...]
    connectors: tuple[Connector, ...]
    scheme: SchemeChoice
    passed_over: tuple[PassedOver, ...] = ()  #: tables that look like pinouts and gave no row


def readings_to_pins(machine: str, document: str, readings: Sequence[PageReading]) -> DocumentPins:
    """Turn the pages of a document, in order, into pins with their doubts, and into connectors."""
    parts = settle_guesses(readings_to_parts(readings))
    ways = document_ways(machine, document, parts, readings)
    made = join_halves(named_by_far_ends(parts_to_pins(parts, ways)))
    pins = _occurrences(check_pins(made))
    connectors = pins_to_connectors(made, pins)
    roles = {(c.connector, c.half): c.role for c in connectors}
    pins = [replace(p, role=roles[(p.connector, p.half)]) for p in pins]
    return DocumentPins(
        pins=tuple(pins),
        connectors=tuple(connectors),
        scheme=ways.scheme,
        passed_over=tables_passed_over(plain_readings(readings), pins),
    )


def _occurrences(pins: Sequence[Pin]) -> list[Pin]:
    counts = Counter(p.circuit for p in pins if p.circuit)
    return [
        replace(p, notices=(*p.notices, "circuit-once")) if p.circuit and counts[p.circuit] == 1 else p
        for p in pins
    ]
