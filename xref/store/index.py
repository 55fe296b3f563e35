"""The index of a workspace: opened for look-ups, written one whole document at a time."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from types import TracebackType
from typing import Self

from xref.records import Connector, Document, PageNote, Pin
from xref.store import schema, settled, writing
from xref.store.filing import Move
from xref.store.lookups import Lookups
from xref.store.settled import Mate, SettledRole, StoredNet
from xref.store.work_pack import LaidNote
from xref.workspace import Workspace


class Index(Lookups):
    """The open index of a workspace.

    Opened for reading it is one unchanging picture, whatever is written meanwhile: open it per request.
    """

    @classmethod
    def open(cls, workspace: Workspace, *, write: bool = False) -> Self:
        """Open the index of a workspace.

        Raises NoIndex where there is none (or one of another version) and `write` is not asked, and
        IndexDamaged where the file is broken; it may be deleted and is rebuilt from the documents.
        """
        opener = schema.open_for_writing if write else schema.open_for_reading
        return cls(opener(workspace.index_db), workspace.index_db)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    # -- writing -----------------------------------------------------------------------------------

    def replace(
        self,
        document: Document,
        connectors: Iterable[Connector],
        pins: Iterable[Pin],
        pages: Iterable[PageNote],
        laid: LaidNote | None = None,
    ) -> None:
        """Put a document in place of the one of its name and machine, wholly or not at all.

        `laid` goes with rows over which decisions of the person were laid.
        """
        with self._transaction():
            self._delete(document.name, document.machine)
            writing.insert_document(self._connection, document, connectors, pins, pages, laid)

    def read_anew(self, sha256: str) -> None:
        """Let the next run read a document again, though its content is the same."""
        with self._transaction(stamped=False):
            self._connection.execute("UPDATE documents SET reader = '' WHERE sha256 = ?", (sha256,))

    def refile(self, machine: str, moves: Sequence[Move], gone: Iterable[str]) -> None:
        """Take out the documents that are gone and give the moved ones their new names and paths, at once.

        Two documents may take each other's names. Where there is nothing to do, nothing is written.
        """
        gone = list(gone)
        if not moves and not gone:
            return
        with self._transaction():
            for name in gone:
                self._delete(name, machine)
            writing.move_documents(self._connection, machine, moves)

    def note_files(self, files: Iterable[tuple[str, str, str]], gone: Iterable[str]) -> None:
        """Keep (path, stamp, hash) of files looked at, and drop paths that are no more.

        This changes no answer, so what is derived from the index stays as it is.
        """
        with self._transaction(stamped=False):
            writing.note_files(self._connection, files, gone)

    def forget(self, name: str, machine: str) -> bool:
        """Take a document out; False if it was not there."""
        with self._transaction():
            return self._delete(name, machine)

    def set_meta(self, key: str, value: str) -> None:
        """Keep a text under a name; no answer changes by it."""
        with self._transaction(stamped=False):
            self._connection.execute("INSERT OR REPLACE INTO meta VALUES (?,?)", (key, value))

    def set_roles(self, roles: Iterable[SettledRole], mates: Iterable[Mate] = ()) -> None:
        """Lay roles and mates settled over all documents over what each document said by itself.

        Roles settled before and not named again go back to what their document says. That a circuit
        appears only once is judged anew over its machine.
        """
        with self._transaction(stamped=False):
            settled.settle(self._connection, roles, mates)
            settled.settle_notices(self._connection)
            writing.drop_unused_texts(self._connection)
            writing.stamp(self._connection)

    def set_nets(self, nets: Iterable[tuple[str, StoredNet]]) -> None:
        """Put nets, each with its machine, in place of all that are kept. No row changes by it."""
        with self._transaction(stamped=False):
            settled.store_nets(self._connection, nets)

    def mark_settled(self) -> None:
        """Say that roles, mates and nets are those of the content as it stands: the last step of settling."""
        with self._transaction(stamped=False):
            writing.stamp_settled(self._connection)

    def _delete(self, name: str, machine: str) -> bool:
        row = self._connection.execute(
            "SELECT id FROM documents WHERE name = ? AND machine = ?", (name, machine)
        ).fetchone()
        if row is None:
            return False
        writing.delete_document(self._connection, row[0])
        return True

    @contextmanager
    def _transaction(self, *, stamped: bool = True) -> Iterator[None]:
        try:
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield
                if stamped:
                    writing.stamp(self._connection)
                self._connection.execute("COMMIT")
            except BaseException:
                self._connection.execute("ROLLBACK")
                raise
        except sqlite3.DatabaseError as error:
            raise schema.sentence_of(error, self._path) from error
