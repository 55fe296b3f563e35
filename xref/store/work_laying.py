"""The person's decisions laid over what the index holds: when a document is stored, and when they change."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from xref.pins.corrections import Laid, lay
from xref.pins.corrections_match import decisions_for
from xref.pins.corrections_records import Decision
from xref.records import Connector, Document, PageNote, Pin
from xref.store.index import Index
from xref.store.search import rebuild_search
from xref.store.settle import settle_roles
from xref.store.work import Work
from xref.store.work_pack import AsRead, LaidNote, pack
from xref.workspace import Workspace


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidDocument:
    """A document as it is to be stored: `note` is None where no decision concerns it."""

    connectors: tuple[Connector, ...]
    pins: tuple[Pin, ...]
    page_notes: tuple[PageNote, ...]
    note: LaidNote | None


def lay_document(
    index: Index,
    decisions: Sequence[Decision],
    document: Document,
    connectors: Sequence[Connector],
    pins: Sequence[Pin],
    page_notes: Sequence[PageNote],
) -> LaidDocument:
    """Lay the decisions that concern a document over its reading, which is kept beside them."""
    own = decisions_for(document, decisions, _others(index, document)) if decisions else []
    if not own:
        return LaidDocument(
            connectors=tuple(connectors), pins=tuple(pins), page_notes=tuple(page_notes), note=None
        )
    made = lay(document, connectors, pins, page_notes, own)
    read = AsRead(connectors=tuple(connectors), pins=tuple(pins), page_notes=tuple(page_notes))
    note = LaidNote(decisions=_mark(own), lost=made.lost, as_read=pack(read))
    return LaidDocument(connectors=made.connectors, pins=made.pins, page_notes=made.page_notes, note=note)


def relay(index: Index, work: Work) -> list[Document]:
    """Bring every document to the decisions that hold now, and return those that had others laid over them.

    Roles and search are not brought up to date here; see `bring_up_to_date`.
    """
    decisions = work.decisions()
    notes = index.laid_notes()
    documents = index.documents()
    changed = []
    for document in documents:
        own = decisions_for(document, decisions, (d for d in documents if d != document))
        had, _ = notes.get((document.machine, document.name), ("", ()))
        if (_mark(own) if own else "") == had:
            continue
        read = index.as_read(document.machine, document.name)
        made = lay_document(index, decisions, document, read.connectors, read.pins, read.page_notes)
        index.replace(document, made.connectors, made.pins, made.page_notes, made.note)
        changed.append(document)
    return changed


def bring_up_to_date(index: Index, work: Work, workspace: Workspace) -> list[Document]:
    """Lay the decisions that hold now over the whole index, settle its roles anew, and its search."""
    changed = relay(index, work)
    if not index.is_settled():
        settle_roles(index, work.mates())
        rebuild_search(index, workspace)
    return changed


def laid_rows(index: Index, work: Work, document: Document) -> Laid:
    """Return a document's rows as read, each with what it is now."""
    read = index.as_read(document.machine, document.name)
    own = decisions_for(document, work.decisions(), _others(index, document))
    return lay(document, read.connectors, read.pins, read.page_notes, own)


def _others(index: Index, document: Document) -> Iterable[Document]:
    return [d for d in index.documents() if (d.machine, d.name) != (document.machine, document.name)]


def _mark(decisions: Iterable[Decision]) -> str:
    text = "\n".join(f"{decision.id} {decision.at}" for decision in decisions)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
