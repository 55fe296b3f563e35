"""The person's decisions laid over what the index holds: when a document is stored, and when they change."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from xref.pins.corrections import Laid, lay
from xref.pins.corrections_match import decisions_for
from xref.pins.corrections_records import Decision, MateDecision
from xref.records import Connector, Document, PageNote, Pin
from xref.store.index import Index
from xref.store.work import Work
from xref.store.work_pack import AsRead, LaidNote, pack

#: Under this name the index keeps which mates the person had named when it was settled.
MATES_SETTLED = "mates of the person"


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
    note = LaidNote(decisions=decisions_mark(own), lost=made.lost, as_read=pack(read))
    return LaidDocument(connectors=made.connectors, pins=made.pins, page_notes=made.page_notes, note=note)


def relay(index: Index, work: Work) -> list[Document]:
    """Bring every document to the decisions that hold now; return those over which others were laid."""
    decisions = work.decisions()
    changed = list(_outdated(index, decisions))
    for document in changed:
        read = index.as_read(document.machine, document.name)
        made = lay_document(index, decisions, document, read.connectors, read.pins, read.page_notes)
        index.replace(document, made.connectors, made.pins, made.page_notes, made.note)
    return changed


def _outdated(index: Index, decisions: Sequence[Decision]) -> Iterator[Document]:
    """Yield the documents over which other decisions are laid than concern them now."""
    notes = index.laid_notes()
    documents = index.documents()
    for document in documents if decisions or notes else ():
        own = decisions_for(document, decisions, (d for d in documents if d != document))
        had, _ = notes.get((document.machine, document.name), ("", ()))
        if decisions_mark(own) != had:
            yield document


def is_current(index: Index, work: Work) -> bool:
    """Say whether the decisions that hold now are those that were laid over the index."""
    return index.meta(MATES_SETTLED) == decisions_mark(work.mates()) and not any(
        _outdated(index, work.decisions())
    )


def laid_rows(index: Index, work: Work, document: Document, *, doubtful: bool = False) -> Laid:
    """Return a document's rows as read, each with what it is now; `doubtful` as for `Index.as_read`."""
    read = index.as_read(document.machine, document.name, doubtful=doubtful)
    own = decisions_for(document, work.decisions(), _others(index, document))
    return lay(document, read.connectors, read.pins, read.page_notes, own)


def _others(index: Index, document: Document) -> Iterable[Document]:
    return [d for d in index.documents() if (d.machine, d.name) != (document.machine, document.name)]


def decisions_mark(decisions: Iterable[Decision | MateDecision]) -> str:
    """Return a mark that changes with the decisions; "" where there are none."""
    text = "\n".join(f"{decision.id} {decision.at}" for decision in decisions)
    if not text:
        return ""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
