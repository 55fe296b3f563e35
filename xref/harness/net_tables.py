"""Connectors, mates and nets as flat tables for export, their columns in a fixed order."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from xref.harness.agreed import agreed
from xref.records import Pin
from xref.store.fold import unpadded_key
from xref.store.index import Index

#: A line of a table, values in the order of its columns.
Line = tuple[object, ...]

CONNECTOR_COLUMNS = (
    *("machine", "connector", "half", "role", "component", "connector_name", "harness", "color", "location"),
    *("gender", "cavities_stated", "cavities_read", "view", "document", "pages", "flags"),
)
MATE_COLUMNS = (
    *("machine", "connector_a", "half_a", "cavity_a", "connector_b", "half_b", "cavity_b"),
    *("circuit_a", "circuit_b", "color_a", "color_b", "differences", "how"),
)
NET_COLUMNS = (
    *("net", "machine", "connector", "half", "cavity", "circuit", "role", "document", "page", "flags"),
)


def connector_lines(index: Index, machine: str | None = None) -> Iterator[Line]:
    """Yield a line per connector (half) and document that prints it."""
    for record in index.connectors(machine):
        yield tuple(
            " ".join(map(str, value)) if isinstance(value := getattr(record, name), tuple) else value
            for name in CONNECTOR_COLUMNS
        )


def mate_lines(index: Index, machine: str | None = None) -> Iterator[Line]:
    """Yield a line per two cavities that touch, with what is printed on both sides."""
    for mate in index.mates(machine):
        here = _there(index, mate.machine, mate.connector_a, mate.half_a, mate.cavity_a)
        beyond = _there(index, mate.machine, mate.connector_b, mate.half_b, mate.cavity_b)
        yield (
            *(mate.machine, mate.connector_a, mate.half_a, mate.cavity_a),
            *(mate.connector_b, mate.half_b, mate.cavity_b),
            *(_said(here, "circuit"), _said(beyond, "circuit")),
            *(_said(here, "color_code"), _said(beyond, "color_code")),
            *(" ".join(mate.differences), mate.how),
        )


def net_lines(index: Index, machine: str | None = None) -> Iterator[Line]:
    """Yield a line per pin that carries a wire; pins of one net have one number, nets one after the other.

    `flags` holds what is odd about the net, then the doubts of the row.
    """
    for number, flags, pins in index.all_nets(machine):
        for pin in agreed(index, pins):
            yield (
                *(number, pin.machine, pin.connector, pin.half, pin.cavity, pin.circuit, pin.role),
                *(pin.document, pin.page, " ".join((*flags, *pin.flags))),
            )


#: By the name `--table` gives them: columns, and what yields the lines.
TABLES: dict[str, tuple[tuple[str, ...], Callable[[Index, str | None], Iterator[Line]]]] = {
    "connectors": (CONNECTOR_COLUMNS, connector_lines),
    "mates": (MATE_COLUMNS, mate_lines),
    "nets": (NET_COLUMNS, net_lines),
}


def _there(index: Index, machine: str, connector: str, half: str, cavity: str) -> list[Pin]:
    pins = index.pins_of(connector, machine, half)
    return [pin for pin in pins if unpadded_key(pin.cavity) == unpadded_key(cavity)]


def _said(pins: list[Pin], field: str) -> str:
    """Return what the documents print there, each text once."""
    return ", ".join(dict.fromkeys(text for pin in pins if (text := getattr(pin, field))))
