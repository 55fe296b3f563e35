"""The pinouts of a document as parts: each block of columns with its rows and its connector."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref.pins.attribution import attribute
from xref.pins.blanks import fill_blanks
from xref.pins.heading import Head
from xref.pins.pinouts import readings_to_pinouts
from xref.pins.plain import plain_readings
from xref.pins.sections import without_sections
from xref.pins.values import Wire, row_to_wires
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.tables.page import PageReading
from xref.tables.table import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One block of one table with its rows and the connector they belong to."""

    page: PageReading
    table: Table
    plan: Plan
    rows: tuple[Row, ...]
    head: Head
    doubts: tuple[str, ...] = ()
    block: int = 0
    wires: tuple[tuple[Wire, ...], ...] = ()  #: of each row


def readings_to_parts(readings: Sequence[PageReading]) -> list[Part]:
    """Go through a document's tables in order and return what is a pinout, with its connector."""
    readings = without_sections(plain_readings(readings))
    pinouts = fill_blanks(readings, readings_to_pinouts(readings))
    return [
        Part(
            page=pinout.page,
            table=pinout.table,
            plan=plan,
            rows=rows,
            head=head,
            doubts=(*pinout.doubts, *owner.doubts),
            block=n,
            wires=tuple(tuple(row_to_wires(row)) for row in rows),
        )
        for pinout, owner in zip(pinouts, attribute(readings, pinouts), strict=True)
        if owner is not None
        for heads in (owner.heads, *((head,) * len(pinout.blocks) for head in owner.alike))
        for n, ((plan, rows), head) in enumerate(zip(pinout.blocks, heads, strict=True))
    ]
