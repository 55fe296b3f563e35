"""The person's own file `xref-work.db`: its tables, and opening it. It is never rebuilt.

Everything a command decides is on the disk when the command says so (synchronous=FULL), and whoever
reads meanwhile sees the state before or after it (WAL).
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from xref.errors import WorkDamaged, XrefError
from xref.store.wal import use_wal

#: A writer holds the lock for one decision; half a minute covers an import of thousands.
BUSY_SECONDS = 30.0

#: Each step brings the file from the version of its place to the next; steps are only ever added.
STEPS: tuple[str, ...] = (
    """
    CREATE TABLE decisions (
        id INTEGER PRIMARY KEY AUTOINCREMENT, at TEXT NOT NULL, kind TEXT NOT NULL,
        sha256 TEXT NOT NULL, document TEXT NOT NULL, machine TEXT NOT NULL, page INTEGER NOT NULL,
        content TEXT NOT NULL, undone_at TEXT NOT NULL DEFAULT '');
    CREATE INDEX decisions_sha256 ON decisions (sha256);
    CREATE TABLE row_numbers (
        id INTEGER PRIMARY KEY AUTOINCREMENT, sha256 TEXT NOT NULL, page INTEGER NOT NULL,
        x0 REAL NOT NULL, top REAL NOT NULL, x1 REAL NOT NULL, bottom REAL NOT NULL,
        cavity TEXT NOT NULL, wire INTEGER NOT NULL,
        UNIQUE (sha256, page, x0, top, x1, bottom, cavity, wire));
    """,
    """
    CREATE TABLE marks (
        id INTEGER PRIMARY KEY AUTOINCREMENT, at TEXT NOT NULL, machine TEXT NOT NULL, kind TEXT NOT NULL,
        line TEXT NOT NULL, step TEXT NOT NULL, value TEXT NOT NULL, note TEXT NOT NULL, said TEXT NOT NULL,
        anyway TEXT NOT NULL, plan TEXT NOT NULL, undone_at TEXT NOT NULL DEFAULT '');
    CREATE INDEX marks_machine ON marks (machine);
    CREATE TABLE mark_ends (
        mark INTEGER NOT NULL REFERENCES marks (id), place INTEGER NOT NULL, connector TEXT NOT NULL,
        half TEXT NOT NULL, cavity TEXT NOT NULL, circuit TEXT NOT NULL, side TEXT NOT NULL,
        PRIMARY KEY (mark, place));
    """,
)


def open_work(path: Path, *, write: bool) -> sqlite3.Connection | None:
    """Open the work file; for reading None where there is none yet, for writing it is made.

    A file of an earlier version is copied beside itself before its tables change.

    Raises:
        WorkDamaged: it is no work file, or one of a later version of the program.
        XrefError: another command holds it, the disk is full, or the folder cannot be written.
    """
    if not write and not path.is_file():
        return None
    try:
        connection = _connect(path, "rwc" if write else "rw")
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if version > len(STEPS):
            connection.close()
            raise WorkDamaged(
                f"{path} was written by a later version of xref.",
                hint="Use that version; nothing was changed.",
            )
        if version < len(STEPS):
            _upgrade(connection, path)
        connection.execute("PRAGMA synchronous = FULL")
        return connection
    except sqlite3.DatabaseError as error:
        raise sentence_of(error, path) from error


def sentence_of(error: sqlite3.DatabaseError, path: Path) -> XrefError:
    """Turn an error of SQLite into one of ours that says what to do."""
    code = getattr(error, "sqlite_errorcode", None)
    primary = code & 0xFF if code is not None else None  # the low byte is the kind, the rest details
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return XrefError(
            f"Another command is writing to {path}.", hint="Wait until it has ended and try again."
        )
    if primary == sqlite3.SQLITE_FULL:
        return XrefError(f"The disk that holds {path} is full.", hint="Make room; nothing was changed.")
    if primary in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        return XrefError(
            f"{path} cannot be opened: {error}.", hint="See whether you may write in that folder."
        )
    return WorkDamaged(
        f"{path} cannot be read: {error}.",
        hint="It holds your decisions: keep it. Copies made before a change of its tables lie beside it.",
    )


def backup_name(path: Path, version: int) -> Path:
    """Return where the copy of a file of this version lies."""
    return path.with_name(f"{path.stem}.before-version-{version + 1}{path.suffix}")


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}", uri=True, timeout=BUSY_SECONDS, isolation_level=None
    )
    use_wal(connection)
    return connection


def _upgrade(connection: sqlite3.Connection, path: Path) -> None:
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("BEGIN IMMEDIATE")
    try:
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])  # another may have been first
        if 0 < version < len(STEPS):
            _copy(path, backup_name(path, version))
        for step in STEPS[version:]:
            for statement in step.split(";"):
                connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {len(STEPS)}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def _copy(path: Path, to: Path) -> None:
    """Copy the file as it stands; a copy that is there already is the older one and is kept."""
    if to.exists():
        return
    beside = to.with_name(to.name + ".part")
    beside.unlink(missing_ok=True)
    with closing(_connect(path, "rw")) as source, closing(sqlite3.connect(beside)) as target:
        source.backup(target)
    beside.replace(to)
