"""An index filled with a few pins, as an indexing run leaves it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from tests.store.sample import document
from xref.harness.settle import settle_roles
from xref.records import Connector, PageNote, Pin
from xref.store.index import Index
from xref.workspace import Workspace


def filled(
    folder: Path, *pins: Pin, connectors: Iterable[Connector] = (), pages: Iterable[PageNote] = ()
) -> Workspace:
    """Store the pins under their documents, settle the roles, and return the workspace."""
    workspace = Workspace(folder)
    heads, notes = list(connectors), list(pages)
    with Index.open(workspace, write=True) as index:
        for machine, name in sorted({(p.machine, p.document) for p in pins}):
            index.replace(
                document(name, machine),
                [head for head in heads if (head.machine, head.document) == (machine, name)],
                [p for p in pins if (p.machine, p.document) == (machine, name)],
                [note for note in notes if (note.machine, note.document) == (machine, name)],
            )
        settle_roles(index)
    return workspace
