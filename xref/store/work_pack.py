"""A document as read, packed to be kept beside its corrected rows, so that a decision can be taken back."""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

from xref.records import Connector, PageNote, Pin


@dataclass(frozen=True, slots=True, kw_only=True)
class AsRead:
    """What the reading of a document came to, before any decision of the person."""

    connectors: tuple[Connector, ...]
    pins: tuple[Pin, ...]
    page_notes: tuple[PageNote, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidNote:
    """What the index keeps beside a document that decisions were laid over."""

    decisions: str  #: which decisions they were, to see when they are others
    lost: tuple[int, ...]  #: decisions that fit no row of it
    as_read: bytes


def pack(reading: AsRead) -> bytes:
    """Return a reading as bytes."""
    kinds = (reading.connectors, reading.pins, reading.page_notes)
    tables = [[[getattr(r, f.name) for f in fields(r)] for r in records] for records in kinds]
    return zlib.compress(json.dumps(tables, ensure_ascii=False).encode("utf-8"))


def unpack(data: bytes, machine: str, document: str) -> AsRead:
    """Return the reading of packed bytes, under the name the document has now."""
    connectors, pins, notes = json.loads(zlib.decompress(data))
    now = {"machine": machine, "document": document}
    return AsRead(
        connectors=tuple(Connector(**_fields(Connector, row) | now) for row in connectors),
        pins=tuple(Pin(**_fields(Pin, row) | now) for row in pins),
        page_notes=tuple(PageNote(**_fields(PageNote, row) | now) for row in notes),
    )


def _fields(kind: type[Any], values: Sequence[Any]) -> dict[str, Any]:
    named = zip((f.name for f in fields(kind)), values, strict=True)
    return {name: tuple(value) if isinstance(value, list) else value for name, value in named}
