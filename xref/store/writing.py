"""Records into the tables of the index. Everything here runs inside a transaction of the caller."""

from __future__ import annotations

import hashlib
import json
import sqlite3
import uuid
from collections.abc import Callable, Iterable, Sequence

from xref.records import TABLE_UNREAD, Connector, Document, PageNote, Pin
from xref.store.filing import Move, path_to_text
from xref.store.fold import confusion_key, plain_key, stem_key, unpadded_key
from xref.store.work_pack import LaidNote

#: A page with fewer rows than this may look like another by chance: one relay drawn on each sheet.
_FEWEST_ROWS_OF_PRINT = 3

_PIN_SQL = "INSERT INTO pins VALUES (" + ",".join("?" * 22) + ")"
_CONNECTOR_SQL = "INSERT INTO connectors VALUES (NULL," + ",".join("?" * 24) + ")"


def delete_document(connection: sqlite3.Connection, document_id: int) -> None:
    """Take a document with all its rows out."""
    for table in ("pins", "net_pins", "pages", "heads", "connectors", "laid"):
        connection.execute(f"DELETE FROM {table} WHERE document_id = ?", (document_id,))
    connection.execute("DELETE FROM documents WHERE id = ?", (document_id,))


def insert_document(
    connection: sqlite3.Connection,
    document: Document,
    connectors: Iterable[Connector],
    pins: Iterable[Pin],
    pages: Iterable[PageNote],
    laid: LaidNote | None = None,
) -> None:
    """Put a document in. A pin whose connector has no record of its own gets one, so none is out of reach."""
    cursor = connection.execute(
        "INSERT INTO documents VALUES (NULL,?,?,?,?,?,?,?,?,?)",
        (
            document.machine,
            document.name,
            path_to_text(document.path),
            document.sha256,
            document.pages,
            document.reader,
            document.scheme,
            document.scheme_why,
            json.dumps(document.color_key, ensure_ascii=False),
        ),
    )
    document_id = int(cursor.lastrowid or 0)
    ordered = sorted(pins, key=lambda pin: (pin.page, pin.table_no, pin.row_no))
    known = list(connectors)
    owners = {(c.machine, c.document) for c in known} | {(p.machine, p.document) for p in ordered}
    if owners - {(document.machine, document.name)}:
        raise ValueError(f"rows of other documents came with {document.name!r}: {owners}")
    known += _heads_without_connector(known, ordered)
    if laid is not None:
        note = (document_id, laid.decisions, " ".join(map(str, laid.lost)), laid.as_read)
        connection.execute("INSERT INTO laid VALUES (?,?,?,?)", note)
    connection.executemany(_CONNECTOR_SQL, (_connector_row(document_id, record) for record in known))
    numbers = _Numbers(connection, document_id, document.machine)
    connection.executemany(
        _PIN_SQL, (_pin_row(document_id, seq, pin, numbers) for seq, pin in enumerate(ordered))
    )
    prints = _page_prints(ordered)
    connection.executemany(
        "INSERT OR REPLACE INTO pages VALUES (?,?,?,?,?,?,?)",
        (_page_row(document_id, note, prints.get(note.page, "")) for note in pages),
    )


def _page_row(document_id: int, note: PageNote, print_: str) -> tuple[object, ...]:
    missing = note.outcome == "unread" or TABLE_UNREAD in note.why
    return (document_id, note.page, note.page_label, note.outcome, note.why, print_, missing)


def move_documents(connection: sqlite3.Connection, machine: str, moves: Sequence[Move]) -> None:
    """Give documents of a machine new names and paths, also where two exchange theirs."""
    ids = [
        connection.execute(
            "SELECT id FROM documents WHERE machine = ? AND name = ?", (machine, move.old_name)
        ).fetchone()[0]
        for move in moves
    ]
    # A name of blanks is none that a file can have: a place to wait in while names are exchanged.
    connection.executemany(
        "UPDATE documents SET name = ' ' || id WHERE id = ?", ((number,) for number in ids)
    )
    connection.executemany(
        "UPDATE documents SET name = ?, path = ? WHERE id = ?",
        ((move.name, path_to_text(move.path), number) for move, number in zip(moves, ids, strict=True)),
    )


def note_files(
    connection: sqlite3.Connection, files: Iterable[tuple[str, str, str]], gone: Iterable[str]
) -> None:
    """Keep path, stamp and hash of each file, and drop the paths that are no more."""
    connection.executemany("DELETE FROM files WHERE path = ?", ((path_to_text(path),) for path in gone))
    connection.executemany(
        "INSERT OR REPLACE INTO files VALUES (?,?,?)",
        ((path_to_text(path), stamp, sha256) for path, stamp, sha256 in files),
    )


def drop_unused_texts(connection: sqlite3.Connection) -> None:
    """Take out circuits, texts and colours that no pin refers to any more."""
    used = {
        "circuits": ("circuit_id",),
        "colors": ("color_id",),
        "texts": ("function_id", "goes_to_id", "option_id", "flags_id", "notices_id"),
    }
    for table, columns in used.items():
        kept = " UNION ".join(f"SELECT {column} FROM pins" for column in columns)
        connection.execute(f"DELETE FROM {table} WHERE id NOT IN ({kept})")


def stamp(connection: sqlite3.Connection) -> None:
    """Mark the content as new, so that what was derived from it knows."""
    connection.execute("INSERT OR REPLACE INTO meta VALUES ('stamp', ?)", (uuid.uuid4().hex,))


def stamp_settled(connection: sqlite3.Connection) -> None:
    """Mark the content as it stands as settled over all documents."""
    connection.execute("INSERT OR REPLACE INTO meta SELECT 'settled', value FROM meta WHERE key = 'stamp'")


class _Numbers:
    """Numbers of the repeating texts, kept for one transaction only: another writer may drop unused ones."""

    def __init__(self, connection: sqlite3.Connection, document_id: int, machine: str) -> None:
        self._connection = connection
        self._document_id = document_id
        self._machine = machine
        self._known: dict[tuple[str, ...], int] = {}

    def text(self, text: str) -> int:
        return self._number(("t", text), lambda: self._stored("texts", "text", (text,)))

    def color(self, pin: Pin) -> int:
        values = (pin.color_code, pin.base_color, pin.stripe_color, pin.ring_color)
        return self._number(
            ("c", *values), lambda: self._stored("colors", "code, base, stripe, ring", values)
        )

    def circuit(self, circuit: str) -> int:
        return self._number(("n", circuit), lambda: self._stored_circuit(circuit))

    def head(self, pin: Pin) -> int:
        values = (pin.connector, pin.half, pin.role, pin.component, pin.connector_name, pin.harness)
        return self._number(("h", *values), lambda: self._new_head(pin))

    def _number(self, key: tuple[str, ...], find: Callable[[], int]) -> int:
        number = self._known.get(key)
        if number is None:
            number = self._known[key] = find()
        return number

    def _stored(self, table: str, columns: str, values: tuple[str, ...]) -> int:
        marks = ",".join("?" * len(values))
        row = self._connection.execute(
            f"SELECT id FROM {table} WHERE ({columns}) = ({marks})", values
        ).fetchone()
        if row is None:
            return self._insert(f"INSERT INTO {table} ({columns}) VALUES ({marks})", values)
        return int(row[0])

    def _stored_circuit(self, circuit: str) -> int:
        row = self._connection.execute(
            "SELECT id FROM circuits WHERE circuit = ? AND machine = ?", (circuit, self._machine)
        ).fetchone()
        if row is not None:
            return int(row[0])
        return self._insert(
            "INSERT INTO circuits VALUES (NULL,?,?,?,?,?)",
            (self._machine, circuit, confusion_key(circuit), unpadded_key(circuit), stem_key(circuit)),
        )

    def _new_head(self, pin: Pin) -> int:
        return self._insert(
            "INSERT INTO heads VALUES (NULL,?,?,?,?,?,?,?,?,?)",
            (
                self._document_id,
                self._machine,
                pin.connector,
                pin.half,
                pin.role,
                pin.role,
                pin.component,
                pin.connector_name,
                pin.harness,
            ),
        )

    def _insert(self, sql: str, values: tuple[object, ...]) -> int:
        return int(self._connection.execute(sql, values).lastrowid or 0)


def _pin_row(document_id: int, seq: int, pin: Pin, numbers: _Numbers) -> tuple[object, ...]:
    return (
        document_id,
        seq,
        numbers.head(pin),
        pin.cavity,
        numbers.color(pin),
        numbers.circuit(pin.circuit),
        numbers.text(pin.function),
        pin.size,
        pin.size_mm2,
        pin.status,
        numbers.text(pin.option),
        numbers.text(pin.goes_to),
        pin.page,
        pin.page_label,
        pin.table_no,
        pin.row_no,
        pin.x0,
        pin.top,
        pin.x1,
        pin.bottom,
        numbers.text(" ".join(pin.flags)),
        numbers.text(" ".join(pin.notices)),
    )


def _connector_row(document_id: int, record: Connector) -> tuple[object, ...]:
    return (
        document_id,
        record.machine,
        record.connector,
        record.half,
        record.role,
        record.role,
        record.component,
        record.connector_name,
        record.harness,
        record.color,
        record.location,
        record.gender,
        record.cavities_stated,
        record.cavities_read,
        record.view,
        " ".join(str(page) for page in record.pages),
        " ".join(record.flags),
        record.role_why,
        record.role_why,
        plain_key(record.connector),
        plain_key(record.component),
        plain_key(record.connector_name),
        confusion_key(record.connector),
        unpadded_key(record.connector),
    )


def _page_prints(pins: Iterable[Pin]) -> dict[int, str]:
    """Return a mark of each page's rows, by which the same page in another document is told.

    The connector is part of it: both halves of an in-line may be printed alike on two pages.
    """
    rows: dict[int, list[str]] = {}
    for pin in pins:
        head = (pin.connector, pin.half)
        texts = (pin.cavity, pin.color_code, pin.circuit, pin.function, pin.size, pin.goes_to, pin.status)
        place = tuple(round(edge) for edge in (pin.x0, pin.top, pin.x1, pin.bottom))
        rows.setdefault(pin.page, []).append(repr((head, texts, place)))
    return {
        page: hashlib.sha256("\n".join(found).encode("utf-8", "backslashreplace")).hexdigest()[:32]
        for page, found in rows.items()
        if len(found) >= _FEWEST_ROWS_OF_PRINT
    }


def _heads_without_connector(known: list[Connector], pins: list[Pin]) -> list[Connector]:
    there = {(record.connector, record.half) for record in known}
    groups: dict[tuple[str, str], list[Pin]] = {}
    for pin in pins:
        if (pin.connector, pin.half) not in there:
            groups.setdefault((pin.connector, pin.half), []).append(pin)
    return [
        Connector(
            machine=group[0].machine,
            connector=connector,
            half=half,
            role=group[0].role,
            component=group[0].component,
            connector_name=group[0].connector_name,
            harness=group[0].harness,
            cavities_read=len({pin.cavity for pin in group}),
            document=group[0].document,
            pages=tuple(sorted({pin.page for pin in group})),
        )
        for (connector, half), group in groups.items()
    ]
