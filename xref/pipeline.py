"""What `xref index` does, the whole way on one page: files to pages to tables to pins to the store."""

from __future__ import annotations

import hashlib
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from xref.colors.key import read_key
from xref.errors import PageBroken, UnreadableDocument, UsageError
from xref.pages.pool import PagePool
from xref.pages.reader import DocumentReader
from xref.pins.document import DocumentPins, readings_to_pins
from xref.records import Connector, Document, PageNote, Pin
from xref.settings import DEFAULT, READER_VERSION, Settings
from xref.store.index import Index
from xref.store.search import rebuild_search
from xref.store.settle import settle_roles
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """One file to read, under the name answers will use."""

    path: Path
    sha256: str
    name: str
    pages: int


@dataclass(slots=True)
class _Tally:
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
    unread: list[PageNote] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def add(self, reading: DocumentReading) -> None:
        """Count a document that was stored."""
        self.read += 1
        self.connectors += len(reading.connectors)
        self.pins += len(reading.pins)
        self.unused += sum(p.status == "unused" for p in reading.pins)
        self.schemes[reading.document.name] = reading.document.scheme
        for note in reading.page_notes:
            if note.outcome == "read":
                self.pages_read += 1
            elif note.outcome == "skipped":
                self.skipped[note.why] += 1
            else:
                self.unread.append(note)
        for pin in reading.pins:
            self.doubts.update(pin.flags)
            self.notices.update(pin.notices)


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
    tally = _Tally()
    with Index.open(workspace, write=True) as index, PagePool(settings) as pool:
        jobs = _jobs(files, index, pool, machine, password, tally)
        forgotten = _forget_missing(index, machine)
        done, total = 0, sum(job.pages for job in jobs)
        for number, job in enumerate(jobs, start=1):
            report = _reporter(on_progress, job, number, len(jobs), done, total, started)
            try:
                reading = _read(pool, job, machine, password, report)
                index.replace(reading.document, reading.connectors, reading.pins, reading.page_notes)
                tally.add(reading)
            except UnreadableDocument as error:
                tally.problems.append(Problem(path=str(job.path), message=error.message))
            done += job.pages
        for problem in tally.problems:
            if on_message:
                on_message(problem.message)
        if tally.read or forgotten:
            settle_roles(index)
        rebuild_search(index, workspace)
    return _summary(tally, forgotten, time.monotonic() - started)


def _summary(tally: _Tally, forgotten: Sequence[str], seconds: float) -> Summary:
    return Summary(
        documents_read=tally.read,
        documents_unchanged=tally.unchanged,
        documents_forgotten=tuple(forgotten),
        problems=tuple(tally.problems),
        pages_read=tally.pages_read,
        pages_skipped=dict(tally.skipped),
        unread=tuple(tally.unread),
        connectors=tally.connectors,
        pins=tally.pins,
        unused=tally.unused,
        doubts=dict(tally.doubts),
        notices=dict(tally.notices),
        schemes=tally.schemes,
        seconds=seconds,
    )


def _jobs(
    files: Sequence[Path], index: Index, pool: PagePool, machine: str, password: str, tally: _Tally
) -> list[_Job]:
    """Return the files that must be read: new or changed content, or read by another reader version."""
    names = _names(files, index, machine)
    jobs = []
    for path in files:
        try:
            sha = file_hash(path)
            if index.has(sha, machine, READER_VERSION):
                index.rename(sha, machine, names[path], str(path.resolve()))
                tally.unchanged += 1
            else:
                jobs.append(
                    _Job(path=path, sha256=sha, name=names[path], pages=pool.page_count(path, password))
                )
        except OSError as error:
            message = f"{path.name}: cannot be read ({error.strerror}); check that you may open it."
            tally.problems.append(Problem(path=str(path), message=message))
        except UnreadableDocument as error:
            tally.problems.append(Problem(path=str(path), message=error.message))
    return jobs


def _reporter(
    on_progress: Callable[[Progress], None] | None,
    job: _Job,
    number: int,
    documents: int,
    before: int,
    total: int,
    started: float,
) -> Callable[[int], None]:
    """Return the function that is told each page of a job as it is done."""

    def report(page: int) -> None:
        if on_progress:
            on_progress(
                Progress(
                    document=job.name,
                    document_no=number,
                    documents=documents,
                    page=page,
                    pages=job.pages,
                    pages_done=before + page,
                    pages_total=total,
                    seconds=time.monotonic() - started,
                )
            )

    return report


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
    sha = file_hash(path)
    if not in_process:
        with PagePool(settings) as pool:
            job = _Job(path=path, sha256=sha, name=path.name, pages=pool.page_count(path, password))
            return _read(pool, job, machine, password, lambda _: None)
    readings = []
    with DocumentReader(path, password, settings) as reader:
        for number in range(1, reader.page_count + 1):
            try:
                readings.append(page_task(reader, number))
            except PageBroken as error:
                readings.append(_broken(number, error.message))
    return _finish(_Job(path=path, sha256=sha, name=path.name, pages=len(readings)), machine, readings)


def _read(
    pool: PagePool, job: _Job, machine: str, password: str, report: Callable[[int], None]
) -> DocumentReading:
    readings = []
    for outcome in pool.run(job.path, password, page_task, range(1, job.pages + 1)):
        readings.append(outcome.result or _broken(outcome.page, outcome.problem))
        report(outcome.page)
    return _finish(job, machine, readings)


def _broken(page: int, why: str) -> PageReading:
    return PageReading(page=page, label="", outcome="unread", why=why)


def _finish(job: _Job, machine: str, readings: Sequence[PageReading]) -> DocumentReading:
    made: DocumentPins = readings_to_pins(machine, job.name, readings)
    with_rows = {p.page for p in made.pins}
    notes = tuple(_note(r, job.name, machine, r.page in with_rows) for r in readings)
    document = Document(
        machine=machine,
        name=job.name,
        path=str(job.path.resolve()),
        sha256=job.sha256,
        pages=len(readings),
        reader=READER_VERSION,
        scheme=made.scheme.scheme,
        scheme_why=made.scheme.why,
    )
    return DocumentReading(document=document, pins=made.pins, connectors=made.connectors, page_notes=notes)


def _note(reading: PageReading, name: str, machine: str, rows: bool) -> PageNote:
    outcome, why = reading.outcome, reading.why
    if outcome == "read" and not rows and read_key(reading.key_pairs) is None:
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
