"""What `xref index` does, the whole way on one page: files to pages to tables to pins to the store."""

from __future__ import annotations

import hashlib
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from xref.errors import PageBroken, UsageError, XrefError
from xref.harness.mates import settle_roles
from xref.pages.pool import PagePool
from xref.pages.reader import DocumentReader
from xref.pins.document import DocumentPins, readings_to_pins
from xref.records import Connector, Document, PageNote, Pin
from xref.settings import DEFAULT, READER_VERSION, Settings
from xref.store.index import Index
from xref.store.search import rebuild_search
from xref.tables.page import PageReading, content_to_reading
from xref.workspace import Workspace


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What indexing came to."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentReading:
    """A document as read, before it is stored."""

    document: Document
    pins: tuple[Pin, ...]
    connectors: tuple[Connector, ...]
    page_notes: tuple[PageNote, ...]


@dataclass(slots=True)
class _Tally:
    """Counts that grow while documents are read."""

    read: int = 0
    unchanged: int = 0
    pages_read: int = 0
    pins: int = 0
    connectors: int = 0
    unused: int = 0


def index_paths(
    paths: Sequence[Path],
    workspace: Workspace,
    *,
    machine: str = "",
    password: str = "",
    settings: Settings = DEFAULT,
    on_progress: Callable[[Progress], None] | None = None,
    on_message: Callable[[str], None] | None = None,
) -> Summary:
    """Read every PDF under the paths into the workspace's index; unchanged ones are left as they are.

    Each document is stored whole or not at all, so that an interruption loses only the one under way.
    """
    started = time.monotonic()
    files = list(find_pdfs(paths))
    tally, skipped = _Tally(), Counter[str]()
    doubts, notices = Counter[str](), Counter[str]()
    problems: list[Problem] = []
    unread: list[PageNote] = []
    schemes: dict[str, str] = {}
    with Index.open(workspace, write=True) as index, PagePool(settings) as pool:
        forgotten = _forget_missing(index, machine)
        names = _names(files, index, machine)
        wanted = []
        for path in files:
            try:
                sha = file_hash(path)
            except OSError as error:
                problems.append(
                    Problem(path=str(path), message=f"{path.name}: cannot be read ({error.strerror}).")
                )
                continue
            if index.has(sha, machine, READER_VERSION):
                index.rename(sha, machine, names[path], str(path))
                tally.unchanged += 1
            else:
                wanted.append((path, sha))
        totals = _page_counts(wanted, password)
        done = 0
        for number, (path, sha) in enumerate(wanted, start=1):

            def report(
                page: int, pages: int, name: str = path.name, no: int = number, before: int = done
            ) -> None:
                if on_progress:
                    on_progress(
                        Progress(
                            document=name,
                            document_no=no,
                            documents=len(wanted),
                            page=page,
                            pages=pages,
                            pages_done=before + page,
                            pages_total=sum(totals.values()),
                            seconds=time.monotonic() - started,
                        )
                    )

            try:
                reading = _read(pool, path, sha, names[path], machine, password, settings, report)
            except XrefError as error:
                problems.append(Problem(path=str(path), message=error.message))
                if on_message:
                    on_message(error.message)
                continue
            finally:
                done += totals.get(path, 0)
            index.replace(reading.document, reading.connectors, reading.pins, reading.page_notes)
            _count(reading, tally, skipped, doubts, notices, unread)
            schemes[reading.document.name] = reading.document.scheme
        if tally.read or forgotten:
            settle_roles(index)
        rebuild_search(index, workspace)
    return Summary(
        documents_read=tally.read,
        documents_unchanged=tally.unchanged,
        documents_forgotten=tuple(forgotten),
        problems=tuple(problems),
        pages_read=tally.pages_read,
        pages_skipped=dict(skipped),
        unread=tuple(unread),
        connectors=tally.connectors,
        pins=tally.pins,
        unused=tally.unused,
        doubts=dict(doubts),
        notices=dict(notices),
        schemes=schemes,
        seconds=time.monotonic() - started,
    )


def find_pdfs(paths: Iterable[Path]) -> Iterator[Path]:
    """Yield the PDFs named or lying in the folders named, each once, in a stable order."""
    seen: set[Path] = set()
    for path in paths:
        if not path.exists():
            raise UsageError(f"{path} does not exist.", hint="Give a PDF file or a folder that holds PDFs.")
        found = sorted(p for p in path.rglob("*") if p.suffix.lower() == ".pdf") if path.is_dir() else [path]
        for file in found:
            real = file.resolve()
            if real not in seen and file.is_file():
                seen.add(real)
                yield file


def file_hash(path: Path) -> str:
    """Return the SHA-256 of a file's content."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def page_task(reader: DocumentReader, number: int) -> PageReading:
    """Read one page in a worker: look cheaply first, parse only what may hold a pinout or a colour key."""
    triage = reader.triage(number)
    if triage.unread or not triage.candidate:
        return PageReading(
            page=number,
            label=triage.label,
            outcome="unread" if triage.unread else "skipped",
            why=triage.why,
        )
    return content_to_reading(reader.content(number), triage.why)


def read_document(
    path: Path,
    *,
    machine: str = "",
    password: str = "",
    settings: Settings = DEFAULT,
    in_process: bool = True,
) -> DocumentReading:
    """Read one document without storing it: in this process, or in bounded workers."""
    if not in_process:
        with PagePool(settings) as pool:
            return _read(pool, path, file_hash(path), path.name, machine, password, settings, lambda *_: None)
    readings = []
    with DocumentReader(path, password, settings) as reader:
        for number in range(1, reader.page_count + 1):
            try:
                readings.append(page_task(reader, number))
            except PageBroken as error:
                readings.append(_broken(number, error.message))
    return _finish(path, file_hash(path), path.name, machine, readings)


def _read(
    pool: PagePool,
    path: Path,
    sha: str,
    name: str,
    machine: str,
    password: str,
    settings: Settings,
    report: Callable[[int, int], None],
) -> DocumentReading:
    with DocumentReader(path, password, settings) as reader:
        pages = reader.page_count
    readings = []
    for outcome in pool.run(path, password, page_task, range(1, pages + 1)):
        readings.append(outcome.result or _broken(outcome.page, outcome.problem))
        report(outcome.page, pages)
    return _finish(path, sha, name, machine, readings)


def _broken(page: int, why: str) -> PageReading:
    return PageReading(page=page, label="", outcome="unread", why=why)


def _finish(
    path: Path, sha: str, name: str, machine: str, readings: Sequence[PageReading]
) -> DocumentReading:
    made: DocumentPins = readings_to_pins(machine, name, readings)
    with_rows = {p.page for p in made.pins}
    notes = tuple(_note(r, name, machine, r.page in with_rows) for r in readings)
    document = Document(
        machine=machine,
        name=name,
        path=str(path.resolve()),
        sha256=sha,
        pages=len(readings),
        reader=READER_VERSION,
        scheme=made.scheme.scheme,
        scheme_why=made.scheme.why,
    )
    return DocumentReading(document=document, pins=made.pins, connectors=made.connectors, page_notes=notes)


def _note(reading: PageReading, name: str, machine: str, rows: bool) -> PageNote:
    outcome, why = reading.outcome, reading.why
    if outcome == "read" and not rows and not reading.key_pairs:
        outcome, why = "skipped", "no table on it is a pinout"
    elif outcome == "read" and not rows:
        outcome, why = "skipped", "no pinout; looked at for a colour key"
    return PageNote(
        document=name, page=reading.page, page_label=reading.label, outcome=outcome, why=why, machine=machine
    )


def _names(files: Sequence[Path], index: Index, machine: str) -> dict[Path, str]:
    """Give each file the name answers use: its own, with its folder where two files share it."""
    counts = Counter(p.name for p in files)
    taken = {d.name: d.path for d in index.documents(machine)}
    out = {}
    for path in files:
        other = taken.get(path.name)
        clash = other is not None and other != str(path.resolve()) and Path(other).exists()
        out[path] = f"{path.parent.name}/{path.name}" if counts[path.name] > 1 or clash else path.name
    return out


def _forget_missing(index: Index, machine: str) -> list[str]:
    """Forget documents of this machine whose file is gone from where it was read."""
    gone = [d.name for d in index.documents(machine) if not Path(d.path).exists()]
    for name in gone:
        index.forget(name, machine)
    return gone


def _page_counts(wanted: Sequence[tuple[Path, str]], password: str) -> dict[Path, int]:
    counts = {}
    for path, _ in wanted:
        try:
            with DocumentReader(path, password) as reader:
                counts[path] = reader.page_count
        except XrefError:
            counts[path] = 0
    return counts


def _count(
    reading: DocumentReading,
    tally: _Tally,
    skipped: Counter[str],
    doubts: Counter[str],
    notices: Counter[str],
    unread: list[PageNote],
) -> None:
    tally.read += 1
    tally.connectors += len(reading.connectors)
    tally.pins += len(reading.pins)
    tally.unused += sum(p.status == "unused" for p in reading.pins)
    for note in reading.page_notes:
        if note.outcome == "read":
            tally.pages_read += 1
        elif note.outcome == "skipped":
            skipped[note.why] += 1
        else:
            unread.append(note)
    for pin in reading.pins:
        doubts.update(pin.flags)
        notices.update(pin.notices)
