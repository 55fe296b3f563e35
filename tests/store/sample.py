"""Small documents for the tests of the index."""

from __future__ import annotations

from typing import Any

from xref.records import Connector, Document, PageNote, Pin


def document(name: str = "loom.pdf", machine: str = "lift", **fields: Any) -> Document:
    """Make a document."""
    given: dict[str, Any] = {"path": f"/manuals/{name}", "sha256": f"sha-{name}", "pages": 9, "reader": "1"}
    return Document(name=name, machine=machine, **{**given, **fields})


def pin(connector: str, cavity: str, circuit: str = "", **fields: Any) -> Pin:
    """Make a pin of the default document."""
    given: dict[str, Any] = {"machine": "lift", "document": "loom.pdf", "page": 1}
    return Pin(connector=connector, cavity=cavity, circuit=circuit, **{**given, **fields})


def connector(name: str, **fields: Any) -> Connector:
    """Make a connector of the default document."""
    given: dict[str, Any] = {"machine": "lift", "document": "loom.pdf"}
    return Connector(connector=name, **{**given, **fields})


def unread(page: int = 3, document: str = "loom.pdf", machine: str = "lift") -> PageNote:
    """Make the note of a page that is only a picture."""
    return PageNote(
        document=document,
        machine=machine,
        page=page,
        page_label=str(page),
        outcome="unread",
        why="picture only",
    )
