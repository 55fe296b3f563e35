"""Pages of a document worked on in processes of their own, in page order, with flat memory.

A page that takes too long or too much memory, or that crashes the engine, costs its worker; the
pages it was working on are done again one by one, so that only the guilty page is named and left out.
"""

from __future__ import annotations

import multiprocessing
import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, wait
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Any, TypeVar

from pebble import ProcessExpired, ProcessPool

from xref.pages.reader import DocumentReader
from xref.pages.worker import (
    OVER_MEMORY,
    OVER_MEMORY_OPENING,
    OVER_TIME,
    OVER_TIME_OPENING,
    PageOutcome,
    crash_problem,
    memory_problem,
    open_only,
    opening_problem,
    start_worker,
    time_problem,
    work_pages,
)
from xref.settings import DEFAULT, Settings

T = TypeVar("T")

#: The pages of a task, and the task.
_Begun = tuple[tuple[int, ...], "Future[list[PageOutcome[T]]]"]

#: Tasks handed out ahead of the one awaited, per worker: enough to keep all busy, few enough for memory.
AHEAD_PER_WORKER = 2
#: The pool's own clock is only the backstop for a watch that hangs with its worker, in seconds.
GRACE = 15.0
#: A waiting parent wakes this often, so that Ctrl-C is heard on every system, in seconds.
WAKE = 0.25


class PagePool:
    """A pool of page workers; use it as a context manager. Leaving it, by any way, ends its processes.

    Scripts that use it need the usual `if __name__ == "__main__":`, because workers are spawned.
    """

    def __init__(self, settings: Settings = DEFAULT) -> None:
        self._settings = settings
        self._workers = settings.workers or os.cpu_count() or 1
        self._pool: Any = ProcessPool(
            max_workers=self._workers,
            initializer=start_worker,
            initargs=(settings,),
            context=multiprocessing.get_context("spawn"),
        )

    def __enter__(self) -> PagePool:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pool.stop()
        self._pool.join()

    def page_count(self, path: Path, password: str = "") -> int:
        """Open a document in a worker, safe from what opening may do, and return its number of pages.

        Raises `UnreadableDocument` or `PasswordNeeded`.
        """
        future = self._pool.schedule(open_only, (path, password), timeout=self._settings.page_seconds + GRACE)
        try:
            return int(_awaited(future))
        except TimeoutError:
            raise opening_problem(path, OVER_TIME_OPENING, self._settings) from None
        except ProcessExpired as death:
            raise opening_problem(path, death.exitcode, self._settings) from None

    def run(
        self, path: Path, password: str, task: Callable[[DocumentReader, int], T], pages: Iterable[int]
    ) -> Iterator[PageOutcome[T]]:
        """Do a top-level function for each page and yield the outcomes in the order of `pages`.

        The first pages are begun at once, before the first outcome is asked for. Raises `UnreadableDocument`
        or `PasswordNeeded` with the first outcome if the document cannot be opened.
        """
        chunks = _chunks(pages, self._settings.pages_per_task)

        def begin(most: int) -> Iterator[_Begun[T]]:
            for chunk in islice(chunks, most):
                yield chunk, self._schedule(path, password, task, chunk)

        def outcomes(waiting: deque[_Begun[T]]) -> Iterator[PageOutcome[T]]:
            try:
                while waiting:
                    chunk, future = waiting.popleft()
                    yield from self._outcomes(path, password, task, chunk, future)
                    waiting.extend(begin(self.ahead - len(waiting)))
            finally:
                for _, future in waiting:
                    future.cancel()

        return outcomes(deque(begin(self.ahead)))

    @property
    def ahead(self) -> int:
        """How many tasks are handed out ahead of the one that is awaited."""
        return self._workers * AHEAD_PER_WORKER

    def tasks(self, pages: int) -> int:
        """Return how many tasks so many pages make."""
        return -(-pages // self._settings.pages_per_task)

    def _schedule(
        self, path: Path, password: str, task: Callable[[DocumentReader, int], T], chunk: tuple[int, ...]
    ) -> Future[list[PageOutcome[T]]]:
        limit = self._settings.page_seconds * (len(chunk) + 1) + GRACE
        future: Future[list[PageOutcome[T]]] = self._pool.schedule(
            work_pages, (path, password, task, chunk), timeout=limit
        )
        return future

    def _outcomes(
        self,
        path: Path,
        password: str,
        task: Callable[[DocumentReader, int], T],
        chunk: tuple[int, ...],
        future: Future[list[PageOutcome[T]]],
    ) -> Iterator[PageOutcome[T]]:
        """Yield a chunk's outcomes; if its worker died, do its pages again one by one."""
        code = OVER_TIME
        try:
            yield from _awaited(future)
            return
        except TimeoutError:
            pass
        except ProcessExpired as death:
            code = death.exitcode
        if code in (OVER_MEMORY_OPENING, OVER_TIME_OPENING):
            raise opening_problem(path, code, self._settings)
        if len(chunk) == 1:
            yield PageOutcome(page=chunk[0], problem=self._problem(path, password, chunk[0], code))
            return
        for page in chunk:
            alone = self._schedule(path, password, task, (page,))
            yield from self._outcomes(path, password, task, (page,), alone)

    def _problem(self, path: Path, password: str, page: int, code: int) -> str:
        if code == OVER_MEMORY:
            return memory_problem(path, page, self._settings)
        if code == OVER_TIME:
            return time_problem(path, page, self._settings)
        # A crash on opening would repeat for every page: find out, and give the document up.
        self.page_count(path, password)
        return crash_problem(path, page)


def _chunks(pages: Iterable[int], size: int) -> Iterator[tuple[int, ...]]:
    source = iter(pages)
    while chunk := tuple(islice(source, size)):
        yield chunk


def _awaited(future: Future[Any]) -> Any:
    while not future.done():
        wait([future], timeout=WAKE)
    return future.result()
