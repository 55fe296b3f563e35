"""The account of an indexing run: how far it is, and what it came to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from xref.records import Connector, Document, PageNote, Pin, notice_name
from xref.store.documents import SamePages
from xref.store.filing import Copy, Filing, Move
from xref.store.index import Index


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far indexing has come."""

    document: str
    document_no: int
    documents: int
    page: int
    pages: int
    pages_done: int
    pages_total: int
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A file that could not be read, with one sentence why."""

    path: str
    message: str
    fault: bool = False  #: the fault is the program's own; its traceback stands in the log of errors


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What indexing came to. `unread` names the pages of every document found, read now or before."""

    documents_read: int
    documents_unchanged: int
    documents_forgotten: tuple[str, ...]
    problems: tuple[Problem, ...]
    pages_read: int
    pages_skipped: Mapping[str, int]
    unread: tuple[PageNote, ...]
    connectors: int
    pins: int
    unused: int
    doubts: Mapping[str, int]
    notices: Mapping[str, int]
    schemes: Mapping[str, str]
    seconds: float
    documents_changed: tuple[str, ...] = ()  #: read anew, because their file has other content now
    moves: tuple[Move, ...] = ()
    copies: tuple[Copy, ...] = ()
    away: tuple[str, ...] = ()  #: kept, although their whole folder is not there now
    same_pages: tuple[SamePages, ...] = ()
    partly_read: tuple[PageNote, ...] = ()  #: pages with text and a picture: the picture was not read


@dataclass(slots=True)
class Tally:
    """Counts that grow while documents are read."""

    read: int = 0
    unchanged: int = 0
    pages_read: int = 0
    pins: int = 0
    connectors: int = 0
    unused: int = 0
    skipped: Counter[str] = field(default_factory=Counter)
    doubts: Counter[str] = field(default_factory=Counter)
    notices: Counter[str] = field(default_factory=Counter)
    schemes: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)

    def add(
        self,
        document: Document,
        connectors: Sequence[Connector],
        pins: Sequence[Pin],
        notes: Sequence[PageNote],
        *,
        changed: bool,
    ) -> None:
        """Count a document that was stored; `changed`: its file held other content before."""
        self.read += 1
        self.names.append(document.name)
        if changed:
            self.changed.append(document.name)
        self.connectors += len(connectors)
        self.pins += len(pins)
        self.unused += sum(p.status == "unused" for p in pins)
        self.schemes[document.name] = document.scheme
        for note in notes:
            if note.outcome == "read":
                self.pages_read += 1
            elif note.outcome == "skipped":
                self.skipped[note.why.partition(";")[0]] += 1
        for pin in pins:
            self.doubts.update(pin.flags)
            self.notices.update(notice_name(notice) for notice in pin.notices)


def summary_of(index: Index, machine: str, filing: Filing, tally: Tally, seconds: float) -> Summary:
    """Put together what a run came to, with all documents in view."""
    here = {*tally.names, *filing.unchanged}
    beside = index.partly_read_pages(machine)
    notices = +tally.notices
    notices["circuit-once"] = index.count_of_notice("circuit-once", machine, tally.names)
    return Summary(
        documents_read=tally.read,
        documents_unchanged=len(filing.unchanged),
        documents_forgotten=filing.gone,
        problems=tuple(tally.problems),
        pages_read=tally.pages_read,
        pages_skipped=dict(tally.skipped),
        unread=tuple(note for note in index.unread_pages(machine) if note.document in here),
        connectors=tally.connectors,
        pins=tally.pins,
        unused=tally.unused,
        doubts=dict(tally.doubts),
        notices=dict(+notices),
        schemes=tally.schemes,
        seconds=seconds,
        documents_changed=tuple(tally.changed),
        moves=filing.moves,
        copies=filing.copies,
        away=filing.away,
        partly_read=tuple(note for note in beside if note.document in here),
        same_pages=tuple(index.same_pages(machine)) if here else (),
    )
