"""What `xref index` does, the whole way on one page: files to pages to tables to pins to the store."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from xref.colors.key import key_to_pairs
from xref.errors import PageBroken, UnreadableDocument, XrefError
from xref.harness.settle import settle
from xref.pages.circles import seldom_collecting
from xref.pages.pdfium import shown_name
from xref.pages.pool import PagePool
from xref.pages.reader import DocumentReader
from xref.pages.worker import PageOutcome
from xref.pins.corrections_records import Decision
from xref.pins.document import DocumentPins, readings_to_pins
from xref.pins.passedover import PassedOver
from xref.records import Connector, Document, PageNote, Pin, table_unread
from xref.rows.choose import best_reading
from xref.settings import DEFAULT, READER_VERSION, Settings
from xref.store.account import Problem, Progress, Summary, Tally, summary_of
from xref.store.faults import fault_to_problem
from xref.store.filing import (
    Filing,
    FoundFile,
    ToRead,
    file_hash,
    file_stamp,
    find_pdfs,
    look_at,
    plan_filing,
    same_stamp,
)
from xref.store.index import Index
from xref.store.search import rebuild_search
from xref.store.work import Work
from xref.store.work_laying import lay_document
from xref.tables.kept import Kept, keep, kept_to_readings
from xref.tables.layout import TaughtLayout
from xref.tables.page import PageReading, content_to_reading, with_printed
from xref.tables.taught import taught_reading
from xref.workspace import Workspace


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
    stamp: str = ""  #: size and times of the file when its content was hashed
    changed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """What every step of one indexing run needs."""

    index: Index
    pool: PagePool
    workspace: Workspace
    machine: str
    password: str
    tally: Tally
    decisions: Sequence[Decision]  #: what the person decided about rows and connectors
    work: Work


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
    tally = Tally()
    with (
        Index.open(workspace, write=True) as index,
        Work.open(workspace) as work,
        PagePool(settings) as pool,
    ):
        run = _Run(
            index=index,
            pool=pool,
            workspace=workspace,
            machine=machine,
            password=password,
            tally=tally,
            decisions=work.decisions(),
            work=work,
        )
        filing = _file(run, paths)
        jobs = _jobs(run, filing)
        begun = _Begun(run, jobs)
        done, total = 0, sum(job.pages for job in jobs)
        for number, job in enumerate(jobs, start=1):
            report = _reporter(on_progress, job, number, len(jobs), done, total, started)
            _guarded(run, job.path, partial(_read_and_store, run, job, report, begun))
            done += job.pages
        for problem in tally.problems:
            if on_message:
                on_message(problem.message)
        settle(index, work)
        rebuild_search(index, workspace)
        return summary_of(index, machine, filing, tally, time.monotonic() - started)


def _file(run: _Run, paths: Sequence[Path]) -> Filing:
    """Find the files, bring moved and deleted documents in order, and say what must be read."""
    index, tally = run.index, run.tally
    known = index.known_files()
    files: list[FoundFile] = []
    for path in find_pdfs(paths):
        try:
            files.append(look_at(path, known))
        except OSError as error:
            message = f"{shown_name(path)}: cannot be read ({error.strerror}); check that you may open it."
            tally.problems.append(Problem(path=str(path), message=message))
    filing = plan_filing(files, index.documents(run.machine), paths, known, READER_VERSION)
    index.refile(run.machine, filing.moves, filing.gone)
    seen = {str(file.where): (file.stamp, file.sha256) for file in files}
    new = [(path, *looks) for path, looks in seen.items() if known.get(path) != looks]
    lost = [path for path in known if path not in seen and not Path(path).exists()]
    if new or lost:
        index.note_files(new, lost)
    return filing


def _jobs(run: _Run, filing: Filing) -> list[_Job]:
    """Return the documents to read, with their number of pages; what cannot be opened is a problem."""
    jobs: list[_Job] = []
    for item in filing.to_read:
        _guarded(run, item.file.path, partial(_add_job, run, item, jobs))
    return jobs


def _add_job(run: _Run, item: ToRead, jobs: list[_Job]) -> None:
    pages = run.pool.page_count(item.file.path, run.password)
    jobs.append(
        _Job(
            path=item.file.path,
            sha256=item.file.sha256,
            name=item.name,
            pages=pages,
            stamp=item.file.stamp,
            changed=item.changed,
        )
    )


def _guarded(run: _Run, path: Path, step: Callable[[], None]) -> None:
    """Do one step of one file; whatever goes wrong with the file is named, and the others go on.

    Errors about the index itself (a full disk, another writer) concern every file and are passed on.
    """
    try:
        step()
    except UnreadableDocument as error:
        run.tally.problems.append(Problem(path=str(path), message=error.message))
    except XrefError:
        raise
    except Exception as error:  # a document nobody foresaw must not cost the others
        run.tally.problems.append(fault_to_problem(path, error, run.workspace))


class _Begun:
    """The pages of the documents to read: those of the next ones are begun while one is brought to its end.

    So the workers have something to do then, and several at a time where documents have few pages.
    """

    def __init__(self, run: _Run, jobs: Iterable[_Job]) -> None:
        self._run = run
        self._next = iter(jobs)
        self._pages: dict[Path, Iterator[PageOutcome[Kept]]] = {}
        self._tasks: dict[Path, int] = {}

    def pages(self, job: _Job) -> Iterator[PageOutcome[Kept]]:
        """Return the outcomes of a document's pages, begun before or now."""
        while job.path not in self._pages:
            self._begin(next(self._next))
        del self._tasks[job.path]
        return self._pages.pop(job.path)

    def go_on(self) -> None:
        """Begin as many of the next documents as there is room for."""
        while sum(self._tasks.values()) < self._run.pool.ahead and (job := next(self._next, None)):
            self._begin(job)

    def _begin(self, job: _Job) -> None:
        run = self._run
        taught = run.work.layouts(job.sha256, job.name, run.machine)
        self._pages[job.path] = _begin_pages(run.pool, job, run.password, taught)
        self._tasks[job.path] = run.pool.tasks(job.pages)


def _read_and_store(run: _Run, job: _Job, report: Callable[[int], None], begun: _Begun) -> None:
    kept = _collect(job, begun.pages(job), report)
    begun.go_on()
    with seldom_collecting():
        reading = _finish(job, run.machine, kept_to_readings(kept))
    if not _still(job):
        raise UnreadableDocument(
            f"{shown_name(job.path)}: the file changed while it was read; run xref index again."
        )
    read = reading.document, reading.connectors, reading.pins, reading.page_notes
    laid = lay_document(run.index, run.decisions, *read)
    run.index.replace(reading.document, laid.connectors, laid.pins, laid.page_notes, laid.note)
    run.tally.add(reading.document, laid.connectors, laid.pins, laid.page_notes, changed=job.changed)


def _still(job: _Job) -> bool:
    """Say whether the file is the one that was hashed."""
    try:
        return same_stamp(file_stamp(job.path), job.stamp) or file_hash(job.path) == job.sha256
    except OSError:
        return False


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


def page_task(reader: DocumentReader, number: int, taught: tuple[TaughtLayout, ...] = ()) -> PageReading:
    """Read one page in a worker: look cheaply first, parse only what may hold a pinout or a colour key.

    A document with layouts the person taught is parsed in full: one of them may stand on any page.
    """
    triage = reader.triage(number)
    if triage.unread or not (triage.candidate or taught):
        return PageReading(
            page=number,
            label=triage.label,
            outcome="unread" if triage.unread else "skipped",
            why=triage.why,
            blank_notes=(triage.blank_note,) if triage.blank_note else (),
        )
    content = reader.content(number)
    reading = content_to_reading(content, triage.why, best_reading)
    if triage.blank_note and not reading.tables:
        reading = replace(reading, blank_notes=(triage.blank_note,))
    if reading.tables:
        reading = with_printed(reading, reader.printed(number, content.turned))
    return taught_reading(content, reading, taught, candidate=triage.candidate) if taught else reading


def kept_page_task(reader: DocumentReader, number: int, taught: tuple[TaughtLayout, ...] = ()) -> Kept:
    """Read one page in a worker and hand it over in little room."""
    return keep(page_task(reader, number, taught))


def read_document(
    path: Path,
    *,
    machine: str = "",
    password: str = "",
    settings: Settings = DEFAULT,
    in_process: bool = True,
    taught: tuple[TaughtLayout, ...] = (),
) -> DocumentReading:
    """Read one document without storing it: in this process, or in bounded workers."""
    sha = file_hash(path)
    if not in_process:
        with PagePool(settings) as pool:
            job = _Job(path=path, sha256=sha, name=path.name, pages=pool.page_count(path, password))
            kept = _collect(job, _begin_pages(pool, job, password, taught), lambda _: None)
            return _finish(job, machine, kept_to_readings(kept))
    readings = []
    with DocumentReader(path, password, settings) as reader:
        for number in range(1, reader.page_count + 1):
            try:
                readings.append(page_task(reader, number, taught))
            except PageBroken as error:
                readings.append(broken_page(path, number, error.message))
    return _finish(_Job(path=path, sha256=sha, name=path.name, pages=len(readings)), machine, readings)


def _begin_pages(
    pool: PagePool, job: _Job, password: str, taught: tuple[TaughtLayout, ...]
) -> Iterator[PageOutcome[Kept]]:
    task = partial(kept_page_task, taught=taught)
    return pool.run(job.path, password, task, range(1, job.pages + 1))


def _collect(job: _Job, pages: Iterator[PageOutcome[Kept]], report: Callable[[int], None]) -> list[Kept]:
    kept: list[Kept] = []
    for outcome in pages:
        kept.append(outcome.result or broken_page(job.path, outcome.page, outcome.problem))
        report(outcome.page)
    return kept


def broken_page(path: Path, page: int, problem: str) -> PageReading:
    """Return a page that nobody read; document and page stand beside its reason wherever it is shown."""
    why = problem.removeprefix(f"{shown_name(path)}: ").removeprefix(f"page {page} ").rstrip(".")
    return PageReading(page=page, label="", outcome="unread", why=why)


def _finish(job: _Job, machine: str, readings: Sequence[PageReading]) -> DocumentReading:
    made: DocumentPins = readings_to_pins(machine, job.name, readings)
    with_rows = {p.page for p in made.pins}
    notes = tuple(note_of_page(r, job.name, machine, r.page in with_rows, made.passed_over) for r in readings)
    document = Document(
        machine=machine,
        name=job.name,
        path=str(job.path.resolve()),
        sha256=job.sha256,
        pages=len(readings),
        reader=READER_VERSION,
        scheme=made.scheme.scheme,
        scheme_why=made.scheme.why,
        color_key=key_to_pairs(made.scheme.key),
    )
    return DocumentReading(document=document, pins=made.pins, connectors=made.connectors, page_notes=notes)


def note_of_page(
    reading: PageReading, name: str, machine: str, rows: bool, passed_over: Sequence[PassedOver]
) -> PageNote:
    """Say what became of a page; `rows` tells whether its tables gave any, `passed_over` which did not."""
    outcome, why = reading.outcome, reading.why
    _, picture, beside = why.partition(";")  # what triage said of a picture on the page stays said
    if outcome == "read" and not rows and not reading.key_pairs:
        outcome, why = "skipped", f"no table on it is a pinout{picture}{beside}"
    elif outcome == "read" and not rows:
        outcome, why = "skipped", f"no pinout, only looked at for a colour key{picture}{beside}"
    headings = [table.heading for table in passed_over if table.page == reading.page]
    why += "".join(map(table_unread, headings))
    return PageNote(
        document=name, page=reading.page, page_label=reading.label, outcome=outcome, why=why, machine=machine
    )
