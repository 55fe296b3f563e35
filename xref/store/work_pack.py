"""A document as read, packed to be kept beside its corrected rows, so that a decision can be taken back."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator, Sequence
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
    kinds = {Connector: reading.connectors, Pin: reading.pins, PageNote: reading.page_notes}
    tables = [_table(kind, records) for kind, records in kinds.items()]
    return zlib.compress(json.dumps(tables, ensure_ascii=False).encode("utf-8"))


def unpack(data: bytes, machine: str, document: str) -> AsRead:
    """Return the reading of packed bytes, under the name the document has now."""
    connectors, pins, notes = json.loads(zlib.decompress(data))
    now = {"machine": machine, "document": document}
    return AsRead(
        connectors=tuple(Connector(**row | now) for row in _rows(Connector, connectors)),
        pins=tuple(Pin(**row | now) for row in _rows(Pin, pins)),
        page_notes=tuple(PageNote(**row | now) for row in _rows(PageNote, notes)),
    )


def _table(kind: type[Any], records: Sequence[Any]) -> list[Any]:
    names = [f.name for f in fields(kind)]
    return [names, [[getattr(record, name) for name in names] for record in records]]


def _rows(kind: type[Any], table: Sequence[Any]) -> Iterator[dict[str, Any]]:
    """Yield the fields of records; one that records no longer have is left out, a new one has its default."""
    names, rows = table
    known = {f.name for f in fields(kind)}
    for row in rows:
        named = zip(names, row, strict=True)
        yield {n: tuple(v) if isinstance(v, list) else v for n, v in named if n in known}
