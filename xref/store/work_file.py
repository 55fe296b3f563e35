"""The open work file of a workspace: opening, asking, and writing all or nothing."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from xref.store.work_schema import open_work, sentence_of
from xref.workspace import Workspace


def now() -> str:
    """Return the time as everything in the work file carries it: UTC, to the second."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


class WorkFile:
    """The open work file of a workspace. Opened for reading where there is none, it is empty."""

    def __init__(self, connection: sqlite3.Connection | None, path: Path) -> None:
        self._connection = connection
        self._path = path

    @classmethod
    def open(cls, workspace: Workspace, *, write: bool = False) -> Self:
        """Open the work file of a workspace; raises WorkDamaged where it cannot be read."""
        return cls(open_work(workspace.work_db, write=write), workspace.work_db)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._connection is not None:
            self._connection.close()

    def _rows(self, sql: str, values: Sequence[object] = ()) -> Iterator[tuple[Any, ...]]:
        if self._connection is None:
            return
        try:
            yield from self._connection.execute(sql, values)
        except sqlite3.DatabaseError as error:
            raise sentence_of(error, self._path) from error

    @contextmanager
    def _transaction(self) -> Iterator[sqlite3.Connection]:
        if self._connection is None:
            raise TypeError("the work file was opened for reading")
        try:
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield self._connection
                self._connection.execute("COMMIT")
            except BaseException:
                self._connection.execute("ROLLBACK")
                raise
        except sqlite3.DatabaseError as error:
            raise sentence_of(error, self._path) from error
