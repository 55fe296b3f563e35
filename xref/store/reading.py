"""Rows of the index back into records, and the statements that fetch them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from xref.records import COLUMNS, Connector, PageNote, Pin
from xref.store.settled import Mate

TextField = Literal["function", "goes_to", "circuit", "connector", "component", "connector_name"]

#: Where each searched text lives: the tables that hold it once, and the condition that finds its pins.
TEXT_SQL: dict[TextField, tuple[str, str]] = {
    "function": ("SELECT text FROM texts WHERE id IN (SELECT function_id FROM pins)", "f.text = ?"),
    "goes_to": ("SELECT text FROM texts WHERE id IN (SELECT goes_to_id FROM pins)", "g.text = ?"),
    "circuit": (
        "SELECT DISTINCT circuit FROM circuits c WHERE EXISTS (SELECT 1 FROM pins WHERE circuit_id = c.id)",
        "c.circuit = ?",
    ),
    "connector": ("SELECT DISTINCT connector FROM heads", "h.connector = ?"),
    "component": ("SELECT DISTINCT component FROM heads", "h.component = ?"),
    "connector_name": ("SELECT DISTINCT connector_name FROM heads", "h.connector_name = ?"),
}

PIN_SQL = """
SELECT d.machine, h.connector, h.half, p.cavity, k.code, c.circuit, f.text, p.size, k.base, k.stripe, k.ring,
    p.size_mm2, p.status, o.text, g.text, h.role, h.component, h.connector_name, h.harness, d.name, p.page,
    p.page_label, p.table_no, p.row_no, p.x0, p.top, p.x1, p.bottom, w.text, n.text
FROM pins p JOIN heads h ON h.id = p.head_id JOIN documents d ON d.id = p.document_id
    JOIN colors k ON k.id = p.color_id JOIN circuits c ON c.id = p.circuit_id
    JOIN texts f ON f.id = p.function_id JOIN texts o ON o.id = p.option_id
    JOIN texts g ON g.id = p.goes_to_id JOIN texts w ON w.id = p.flags_id JOIN texts n ON n.id = p.notices_id
"""
PIN_ORDER = " ORDER BY d.machine, d.name, p.seq"

#: All rows of a machine with their nets; texts, colours, circuits and heads by number.
MACHINE_PINS_SQL = """
SELECT x.net_id, p.head_id, p.color_id, p.circuit_id, p.function_id, p.option_id, p.goes_to_id, p.flags_id,
    p.notices_id, d.name, p.cavity, p.size, p.size_mm2, p.status, p.page, p.page_label, p.table_no, p.row_no,
    p.x0, p.top, p.x1, p.bottom
FROM documents d JOIN pins p ON p.document_id = d.id
    LEFT JOIN net_pins x ON x.document_id = p.document_id AND x.seq = p.seq
WHERE d.machine = ? ORDER BY d.name, p.seq
"""

CONNECTOR_SQL = """
SELECT c.machine, c.connector, c.half, c.role, c.component, c.connector_name, c.harness, c.color, c.location,
    c.gender, c.cavities_stated, c.cavities_read, c.view, d.name, c.pages, c.flags, c.role_why
FROM connectors c JOIN documents d ON d.id = c.document_id
"""
_CONNECTOR_FIELDS = (
    *("machine", "connector", "half", "role", "component", "connector_name", "harness", "color", "location"),
    *("gender", "cavities_stated", "cavities_read", "view", "document", "pages", "flags", "role_why"),
)

#: The same with the roles each document gives by itself.
PIN_READ_SQL = PIN_SQL.replace("h.role,", "h.role_read,")
CONNECTOR_READ_SQL = CONNECTOR_SQL.replace("c.role,", "c.role_read,").replace("c.role_why", "c.role_why_read")

#: Holds for the pins of a page on which some row has a doubt; takes machine and name of the document.
DOUBTFUL_PAGE = (
    "p.page IN (SELECT page FROM pins WHERE document_id = (SELECT id FROM documents WHERE machine = ?"
    " AND name = ?) AND flags_id NOT IN (SELECT id FROM texts WHERE text = ''))"
)

PAGE_SQL = """
SELECT d.name, o.page, o.page_label, o.outcome, o.why, d.machine
FROM pages o JOIN documents d ON d.id = o.document_id
"""

MATE_SQL = """
SELECT machine, connector_a, half_a, cavity_a, connector_b, half_b, cavity_b, how, differences
FROM mates
"""


#: What puts a value into each field of a pin, in the order of COLUMNS.
_PUT = tuple(getattr(Pin, name).__set__ for name in COLUMNS)


def pin_of_values(values: Sequence[Any]) -> Pin:
    """Make a pin of its values in the order of COLUMNS.

    Past its constructor, which takes most of the time where all pins of a machine are read.
    """
    pin = Pin.__new__(Pin)
    for put, value in zip(_PUT, values, strict=True):
        put(pin, value)
    return pin


def row_to_pin(row: Sequence[Any]) -> Pin:
    """Make a pin of a row of PIN_SQL."""
    *plain, flags, notices = row
    fields = dict(zip(COLUMNS, plain, strict=False))
    return Pin(**fields, flags=tuple(flags.split()), notices=tuple(notices.split()))


def row_to_connector(row: Sequence[Any]) -> Connector:
    """Make a connector of a row of CONNECTOR_SQL."""
    fields = dict(zip(_CONNECTOR_FIELDS, row, strict=True))
    fields["pages"] = tuple(int(page) for page in fields["pages"].split())
    fields["flags"] = tuple(fields["flags"].split())
    return Connector(**fields)


def row_to_page_note(row: Sequence[Any]) -> PageNote:
    """Make a page note of a row of PAGE_SQL."""
    names = ("document", "page", "page_label", "outcome", "why", "machine")
    return PageNote(**dict(zip(names, row, strict=True)))


def row_to_mate(row: Sequence[Any]) -> Mate:
    """Make a mate of a row of MATE_SQL."""
    machine, connector_a, half_a, cavity_a, connector_b, half_b, cavity_b, how, differences = row
    return Mate(
        machine=machine,
        connector_a=connector_a,
        half_a=half_a,
        cavity_a=cavity_a,
        connector_b=connector_b,
        half_b=half_b,
        cavity_b=cavity_b,
        how=how,
        differences=tuple(differences.split()),
    )
