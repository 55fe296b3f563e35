"""The inside of a page worker: one open document, and a watch that ends the process when a page overruns."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

import psutil

from xref.errors import PageBroken, UnreadableDocument, XrefError
from xref.pages.pdfium import shown_name
from xref.pages.reader import DocumentReader
from xref.settings import COLLECT_AFTER, Settings

T = TypeVar("T")

#: Exit codes of a worker that ended itself; any other one is a crash.
OVER_MEMORY, OVER_TIME, OVER_MEMORY_OPENING, OVER_TIME_OPENING, ORPHANED = 81, 82, 83, 84, 85
#: Seconds between two looks at memory and clock: a page cannot take much more in between.
LOOK = 0.05
#: Looks between two checks that the parent still lives.
LOOKS_PER_PARENT_CHECK = 20
MEGABYTE = 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class PageOutcome(Generic[T]):
    """What became of one page: the task's result, or the problem in one sentence."""

    page: int
    result: T | None = None
    problem: str = ""


class _Watch:
    """Ends the process when what it is doing takes too long or too much memory, or the parent is gone.

    Only busy time is watched, so a worker never dies while it holds a channel to the parent.
    """

    def __init__(self, settings: Settings) -> None:
        self._seconds = settings.page_seconds
        self._bytes = settings.worker_megabytes * MEGABYTE
        self._since: float | None = None
        self._opening = False
        threading.Thread(target=self._look_on, name="page watch", daemon=True).start()

    def begin(self, *, opening: bool = False) -> None:
        """Start the clock for one page, or for opening a document."""
        self._opening = opening
        self._since = time.monotonic()

    def end(self) -> None:
        """Stop the clock."""
        self._since = None

    def _look_on(self) -> None:
        process = psutil.Process()
        parent = multiprocessing.parent_process()
        looks = 0
        while True:
            time.sleep(LOOK)
            looks += 1
            if parent is not None and looks % LOOKS_PER_PARENT_CHECK == 0 and not parent.is_alive():
                os._exit(ORPHANED)
            since, opening = self._since, self._opening
            if since is None:
                continue
            if process.memory_info().rss > self._bytes:
                os._exit(OVER_MEMORY_OPENING if opening else OVER_MEMORY)
            if time.monotonic() - since > self._seconds:
                os._exit(OVER_TIME_OPENING if opening else OVER_TIME)


class _Desk:
    """What a worker keeps between tasks: its watch and the last document, while that stays the same file."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.watch = _Watch(settings)
        self._key: tuple[str, str, int, int] | None = None
        self._reader: DocumentReader | None = None
        self._pages = 0  #: read since it was opened

    def reader(self, path: Path, password: str, pages: int = 0) -> DocumentReader:
        """Return the document opened, to read so many pages of it.

        The last one stays open until another is asked for, or until so much of it was read that what the
        engine keeps of every page would add up.
        """
        key = (str(path), password, *_stamp(path))
        self._pages += pages
        if self._reader is None or key != self._key or self._pages > self.settings.pages_per_opening:
            if self._reader is not None:
                self._reader.close()
                self._reader = None
            self.watch.begin(opening=True)
            try:
                self._reader = DocumentReader(path, password, self.settings)
            finally:
                self.watch.end()
            self._key, self._pages = key, pages
        return self._reader


#: The worker's own desk; a process has one, set once when it starts.
_desks: list[_Desk] = []


def start_worker(settings: Settings) -> None:
    """Set the worker up. Ctrl-C is the parent's business."""
    if hasattr(signal, "SIGINT"):
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(COLLECT_AFTER)
    _desks[:] = [_Desk(settings)]


def open_only(path: Path, password: str) -> int:
    """Open the document and return its number of pages."""
    return _desks[0].reader(path, password).page_count


def work_pages(
    path: Path, password: str, task: Callable[[DocumentReader, int], T], pages: Sequence[int]
) -> list[PageOutcome[T]]:
    """Do the task for each page. A page that raises is named; opening errors go to the caller."""
    desk = _desks[0]
    reader = desk.reader(path, password, len(pages))
    outcomes: list[PageOutcome[T]] = []
    for page in pages:
        desk.watch.begin()
        try:
            outcomes.append(PageOutcome(page=page, result=task(reader, page)))
        except XrefError as error:
            outcomes.append(PageOutcome(page=page, problem=error.message))
        except MemoryError:
            outcomes.append(PageOutcome(page=page, problem=memory_problem(path, page, desk.settings)))
        except (
            Exception
        ) as error:  # PDF engines raise anything on damaged pages: one page must not end the run
            outcomes.append(PageOutcome(page=page, problem=_raised_problem(path, page, error)))
        finally:
            desk.watch.end()
    return outcomes


def memory_problem(path: Path, page: int, settings: Settings) -> str:
    """Return the sentence for a page that needed too much memory."""
    return f"{shown_name(path)}: page {page} needed more than {settings.worker_megabytes} MB and was skipped."


def time_problem(path: Path, page: int, settings: Settings) -> str:
    """Return the sentence for a page that took too long."""
    return (
        f"{shown_name(path)}: page {page} took more than {settings.page_seconds:g} seconds and was skipped."
    )


def crash_problem(path: Path, page: int) -> str:
    """Return the sentence for a page that ended its worker."""
    return f"{shown_name(path)}: page {page} broke the program that reads it and was skipped."


def opening_problem(path: Path, code: int, settings: Settings) -> UnreadableDocument:
    """Return the error for a document whose opening ended the worker."""
    why = {
        OVER_MEMORY_OPENING: f"opening it needs more than {settings.worker_megabytes} MB",
        OVER_TIME_OPENING: f"opening it takes more than {settings.page_seconds:g} seconds",
    }.get(code, "opening it breaks the program that reads it")
    return UnreadableDocument(f"{shown_name(path)}: {why}.", hint="Leave the file out.")


def _raised_problem(path: Path, page: int, error: Exception) -> str:
    # The engine's own words may quote the page's bytes; its kind is enough to report it.
    broken = PageBroken(f"{shown_name(path)}: page {page} cannot be read ({type(error).__name__}).")
    return broken.message


def _stamp(path: Path) -> tuple[int, int]:
    try:
        status = path.stat()
    except OSError:
        return 0, 0
    return status.st_mtime_ns, status.st_size
