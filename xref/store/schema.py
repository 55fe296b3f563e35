"""The tables of the index, and opening the file that holds them.

Texts that repeat (functions, flags, colours, circuits) are kept once and referred to by number, so that
a million pins stay small and the free-text search sees each text once.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from xref.errors import IndexDamaged, NoIndex, XrefError
from xref.store.wal import use_wal

#: Raise it with every change of the tables; an index of another version is emptied and read anew.
SCHEMA_VERSION = 5

#: A writer holds the lock for one document at a time; half a minute covers the largest seen.
BUSY_SECONDS = 30.0

REBUILD_HINT = "Delete the folder .xref and run 'xref index' again; it holds nothing that cannot be rebuilt."

#: Taken out while nets are written, and made again.
NET_PINS_INDEX = "CREATE INDEX net_pins_net ON net_pins (net_id)"

_TABLES = (
    """
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE texts (id INTEGER PRIMARY KEY, text TEXT NOT NULL UNIQUE);
CREATE TABLE colors (
    id INTEGER PRIMARY KEY, code TEXT NOT NULL, base TEXT NOT NULL, stripe TEXT NOT NULL, ring TEXT NOT NULL,
    UNIQUE (code, base, stripe, ring));
CREATE TABLE circuits (
    id INTEGER PRIMARY KEY, machine TEXT NOT NULL, circuit TEXT NOT NULL,
    confused TEXT NOT NULL, unpadded TEXT NOT NULL, stem TEXT NOT NULL, UNIQUE (circuit, machine));
CREATE INDEX circuits_confused ON circuits (confused);
CREATE INDEX circuits_unpadded ON circuits (unpadded);
CREATE INDEX circuits_stem ON circuits (stem);
CREATE TABLE documents (
    id INTEGER PRIMARY KEY, machine TEXT NOT NULL, name TEXT NOT NULL, path TEXT NOT NULL,
    sha256 TEXT NOT NULL, pages INTEGER NOT NULL, reader TEXT NOT NULL, scheme TEXT NOT NULL,
    scheme_why TEXT NOT NULL, color_key TEXT NOT NULL, UNIQUE (machine, name));
CREATE INDEX documents_sha256 ON documents (sha256);
CREATE TABLE files (path TEXT PRIMARY KEY, stamp TEXT NOT NULL, sha256 TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE pages (
    document_id INTEGER NOT NULL, page INTEGER NOT NULL, page_label TEXT NOT NULL, outcome TEXT NOT NULL,
    why TEXT NOT NULL, print TEXT NOT NULL, missing INTEGER NOT NULL,
    PRIMARY KEY (document_id, page)) WITHOUT ROWID;
CREATE INDEX pages_print ON pages (print) WHERE print <> '';
CREATE INDEX pages_unread ON pages (document_id, page) WHERE missing = 1;
CREATE TABLE connectors (
    id INTEGER PRIMARY KEY, document_id INTEGER NOT NULL, machine TEXT NOT NULL, connector TEXT NOT NULL,
    half TEXT NOT NULL, role TEXT NOT NULL, role_read TEXT NOT NULL, component TEXT NOT NULL,
    connector_name TEXT NOT NULL, harness TEXT NOT NULL, color TEXT NOT NULL, location TEXT NOT NULL,
    gender TEXT NOT NULL, cavities_stated INTEGER, cavities_read INTEGER NOT NULL, view TEXT NOT NULL,
    pages TEXT NOT NULL, flags TEXT NOT NULL, role_why TEXT NOT NULL, role_why_read TEXT NOT NULL,
    name_key TEXT NOT NULL, component_key TEXT NOT NULL, title_key TEXT NOT NULL,
    confused TEXT NOT NULL, unpadded TEXT NOT NULL);
CREATE INDEX connectors_document ON connectors (document_id);
CREATE INDEX connectors_name ON connectors (connector);
CREATE INDEX connectors_name_key ON connectors (name_key);
CREATE INDEX connectors_component_key ON connectors (component_key);
CREATE INDEX connectors_title_key ON connectors (title_key);
CREATE INDEX connectors_confused ON connectors (confused);
CREATE INDEX connectors_unpadded ON connectors (unpadded);
CREATE TABLE heads (
    id INTEGER PRIMARY KEY, document_id INTEGER NOT NULL, machine TEXT NOT NULL, connector TEXT NOT NULL,
    half TEXT NOT NULL, role TEXT NOT NULL, role_read TEXT NOT NULL, component TEXT NOT NULL,
    connector_name TEXT NOT NULL, harness TEXT NOT NULL);
CREATE INDEX heads_document ON heads (document_id);
CREATE INDEX heads_connector ON heads (connector, machine);
CREATE INDEX heads_role ON heads (role);
CREATE INDEX heads_component ON heads (component);
CREATE INDEX heads_connector_name ON heads (connector_name);
CREATE TABLE pins (
    document_id INTEGER NOT NULL, seq INTEGER NOT NULL, head_id INTEGER NOT NULL, cavity TEXT NOT NULL,
    color_id INTEGER NOT NULL, circuit_id INTEGER NOT NULL, function_id INTEGER NOT NULL, size TEXT NOT NULL,
    size_mm2 REAL, status TEXT NOT NULL, option_id INTEGER NOT NULL, goes_to_id INTEGER NOT NULL,
    page INTEGER NOT NULL, page_label TEXT NOT NULL, table_no INTEGER NOT NULL, row_no INTEGER NOT NULL,
    x0 REAL NOT NULL, top REAL NOT NULL, x1 REAL NOT NULL, bottom REAL NOT NULL,
    flags_id INTEGER NOT NULL, notices_id INTEGER NOT NULL,
    PRIMARY KEY (document_id, seq)) WITHOUT ROWID;
CREATE INDEX pins_head ON pins (head_id);
CREATE INDEX pins_circuit ON pins (circuit_id);
CREATE INDEX pins_function ON pins (function_id);
CREATE INDEX pins_goes_to ON pins (goes_to_id);
CREATE TABLE laid (
    document_id INTEGER PRIMARY KEY, decisions TEXT NOT NULL, lost TEXT NOT NULL, as_read BLOB NOT NULL);
CREATE TABLE mates (
    machine TEXT NOT NULL, connector_a TEXT NOT NULL, half_a TEXT NOT NULL, cavity_a TEXT NOT NULL,
    connector_b TEXT NOT NULL, half_b TEXT NOT NULL, cavity_b TEXT NOT NULL, how TEXT NOT NULL,
    differences TEXT NOT NULL);
CREATE INDEX mates_a ON mates (connector_a, machine);
CREATE INDEX mates_b ON mates (connector_b, machine);
CREATE TABLE nets (id INTEGER PRIMARY KEY, machine TEXT NOT NULL, flags TEXT NOT NULL);
CREATE INDEX nets_machine ON nets (machine);
CREATE TABLE net_pins (
    document_id INTEGER NOT NULL, seq INTEGER NOT NULL, net_id INTEGER NOT NULL,
    PRIMARY KEY (document_id, seq)) WITHOUT ROWID;
"""
    + NET_PINS_INDEX
)


def open_for_reading(path: Path) -> sqlite3.Connection:
    """Open an existing index as one unchanging picture of it; raise NoIndex or IndexDamaged."""
    if not path.is_file():
        raise NoIndex(f"There is no index in {path.parent.parent} yet.", hint="Run 'xref index PATH' first.")
    try:
        connection = _connect(path, "rw")
        connection.execute("PRAGMA query_only = 1")
        version = _version(connection)
    except sqlite3.DatabaseError as error:
        raise sentence_of(error, path) from error
    if version != SCHEMA_VERSION:
        connection.close()
        raise NoIndex(
            f"The index in {path.parent.parent} was written by another version of xref.",
            hint="Run 'xref index PATH' again; the documents are then read anew.",
        )
    connection.execute("BEGIN")
    return connection


def open_for_writing(path: Path) -> sqlite3.Connection:
    """Open or create the index; one of another schema version is emptied. Raise IndexDamaged."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise XrefError(
            f"The folder {path.parent} cannot be made: {error.strerror}.",
            hint="Choose another folder with --workspace.",
        ) from error
    try:
        connection = _connect(path, "rwc")
        use_wal(connection)
        # In WAL mode NORMAL never leaves a torn index; what is lost at a power cut is read anew.
        connection.execute("PRAGMA synchronous = NORMAL")
        if _version(connection) != SCHEMA_VERSION:
            _create(connection)
        return connection
    except sqlite3.DatabaseError as error:
        raise sentence_of(error, path) from error


def sentence_of(error: sqlite3.DatabaseError, path: Path) -> XrefError:
    """Turn an error of SQLite into one of ours that says what to do."""
    code = getattr(error, "sqlite_errorcode", None)
    primary = code & 0xFF if code is not None else None  # the low byte is the kind, the rest details
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return XrefError(f"Another run is writing to {path}.", hint="Wait until it has ended and try again.")
    if primary == sqlite3.SQLITE_FULL:
        return XrefError(f"The disk that holds {path} is full.", hint="Make room and run 'xref index' again.")
    if primary in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        return XrefError(
            f"The index {path} cannot be opened: {error}.",
            hint="See whether you may write in that folder, or choose another with --workspace.",
        )
    return IndexDamaged(f"The index {path} cannot be read: {error}.", hint=REBUILD_HINT)


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}", uri=True, timeout=BUSY_SECONDS, isolation_level=None
    )
    connection.execute("PRAGMA cache_size = -65536")  # 64 MB: an indexing run stays under its memory target
    return connection


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _create(connection: sqlite3.Connection) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        if _version(connection) != SCHEMA_VERSION:  # another process may have been first
            tables = connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT GLOB 'sqlite_*'"
            ).fetchall()
            for (name,) in tables:
                connection.execute('DROP TABLE "' + name.replace('"', '""') + '"')
            for statement in _TABLES.split(";"):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {SCHEMA_VERSION}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
