"""What the index knows of its documents, their files and their pages."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from xref.records import TABLE_UNREAD, Document, PageNote
from xref.store import reading, schema
from xref.store.filing import text_to_path
from xref.store.work_pack import AsRead, unpack


@dataclass(frozen=True, slots=True, kw_only=True)
class SamePages:
    """A page whose rows stand on another page too, in another document or the same."""

    machine: str
    document: str
    page: int
    other: str
    other_page: int


class DocumentLookups:
    """The part of the look-ups that is about documents and pages."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._connection = connection
        self._path = path

    def documents(self, machine: str | None = None) -> list[Document]:
        """All documents, by machine and name."""
        fields = "machine, name, path, sha256, pages, reader, scheme, scheme_why, color_key"
        rows = self._rows(
            f"SELECT {fields} FROM documents WHERE {same('machine', machine)} ORDER BY machine, name",
            given(machine),
        )
        documents = []
        for row in rows:
            values = dict(zip(fields.split(", "), row, strict=True))
            key = tuple((code, color) for code, color in json.loads(values["color_key"]))
            documents.append(Document(**{**values, "path": text_to_path(values["path"]), "color_key": key}))
        return documents

    def known_files(self) -> dict[str, tuple[str, str]]:
        """Every file ever looked at: its path to its stamp (`filing.file_stamp`) and its content's hash."""
        rows = self._rows("SELECT path, stamp, sha256 FROM files")
        return {text_to_path(path): (stamp, sha256) for path, stamp, sha256 in rows}

    def document_files(self, machine: str | None = None) -> dict[tuple[str, str], tuple[str, str, str]]:
        """Path, stamp and hash of the file each document (machine, name) was read from.

        The stamp is "" where it is not known.
        """
        sql = "SELECT d.machine, d.name, d.path, COALESCE(f.stamp, ''), d.sha256 FROM documents d"
        sql += " LEFT JOIN files f ON f.path = d.path AND f.sha256 = d.sha256"
        sql += f" WHERE {same('d.machine', machine)}"
        return {
            (of, name): (text_to_path(path), stamp, sha256)
            for of, name, path, stamp, sha256 in self._rows(sql, given(machine))
        }

    def unread_pages(self, machine: str | None = None) -> list[PageNote]:
        """Pages of which nobody can know what stands there, and those on which a pinout was passed over.

        The latter keep their outcome, and say as their reason which table it is.
        """
        where = f"o.missing = 1 AND {same('d.machine', machine)}"
        return [_of_table(note) for note in self._pages(where, given(machine))]

    def partly_read_pages(self, machine: str | None = None) -> list[PageNote]:
        """Pages whose text was looked at, but not the picture beside it; triage says so in the reason."""
        return self._pages(
            f"o.why LIKE '%; a picture covers %' AND {same('d.machine', machine)}", given(machine)
        )

    def page_note(self, document: str, page: int, machine: str | None = None) -> PageNote | None:
        """What became of a page, or None where that document has no such page."""
        notes = self._pages(
            f"d.name = ? AND o.page = ? AND {same('d.machine', machine)}", (document, page, *given(machine))
        )
        return notes[0] if notes else None

    def page_notes(self, machine: str | None = None) -> list[PageNote]:
        """What became of every page."""
        return self._pages(same("d.machine", machine), given(machine))

    def same_pages(self, machine: str | None = None) -> list[SamePages]:
        """Pages whose rows all stand on an earlier page too, each with the first that has them."""
        sql = (
            "SELECT o.print, d.machine, d.name, o.page FROM pages o JOIN documents d ON d.id = o.document_id"
        )
        sql += (
            f" WHERE {same('d.machine', machine)} AND o.print IN (SELECT print FROM pages WHERE print <> ''"
        )
        sql += " GROUP BY print HAVING COUNT(*) > 1) ORDER BY d.machine, d.name, o.page"
        first: dict[tuple[str, str], tuple[str, int]] = {}
        found = []
        for print_, of, name, page in self._rows(sql, given(machine)):
            other, other_page = first.setdefault((of, print_), (name, page))
            if (other, other_page) != (name, page):
                found.append(
                    SamePages(machine=of, document=name, page=page, other=other, other_page=other_page)
                )
        return found

    def count_of_notice(self, notice: str, machine: str, documents: Iterable[str]) -> int:
        """Return how many rows of these documents carry a notice."""
        sql = "SELECT COUNT(*) FROM documents d JOIN pins p ON p.document_id = d.id WHERE d.machine = ?"
        sql += " AND d.name = ? AND p.notices_id IN (SELECT id FROM texts WHERE ' ' || text || ' ' LIKE ?)"
        return sum(row[0] for name in documents for row in self._rows(sql, (machine, name, f"% {notice} %")))

    def laid_notes(self) -> dict[tuple[str, str], tuple[str, tuple[int, ...]]]:
        """Return for each document (machine, name) with decisions laid over it which, and which were lost."""
        sql = "SELECT d.machine, d.name, l.decisions, l.lost FROM laid l"
        sql += " JOIN documents d ON d.id = l.document_id"
        return {
            (machine, name): (decisions, tuple(map(int, lost.split())))
            for machine, name, decisions, lost in self._rows(sql)
        }

    def doubtful_documents(self, machine: str | None = None) -> set[tuple[str, str]]:
        """Return the documents (machine, name) that hold a row with a doubt."""
        sql = "SELECT DISTINCT d.machine, d.name FROM pins p JOIN documents d ON d.id = p.document_id"
        sql += " WHERE p.flags_id NOT IN (SELECT id FROM texts WHERE text = '')"
        sql += f" AND {same('d.machine', machine)}"
        return {(where, name) for where, name in self._rows(sql, given(machine))}

    def as_read(self, machine: str, name: str, *, doubtful: bool = False) -> AsRead:
        """Return a document as it was read, without what the person decided or all documents settled.

        With `doubtful`, rows of pages without any doubt may be left out.
        """
        where = "WHERE d.machine = ? AND d.name = ?"
        at = (machine, name)
        kept = f"SELECT l.as_read FROM laid l JOIN documents d ON d.id = l.document_id {where}"
        for (data,) in self._rows(kept, at):
            return unpack(data, machine, name)
        only = f" AND {reading.DOUBTFUL_PAGE}" if doubtful else ""
        pins = self._rows(f"{reading.PIN_READ_SQL} {where}{only} {reading.PIN_ORDER}", at * (1 + doubtful))
        heads = self._rows(f"{reading.CONNECTOR_READ_SQL} {where} ORDER BY c.id", at)
        return AsRead(
            connectors=tuple(map(reading.row_to_connector, heads)),
            pins=tuple(map(reading.row_to_pin, pins)),
            page_notes=tuple(self._pages("d.machine = ? AND d.name = ?", at)),
        )

    def machines(self) -> list[str]:
        """Machines that have documents, sorted."""
        return [row[0] for row in self._rows("SELECT DISTINCT machine FROM documents ORDER BY machine")]

    def counts(self) -> dict[str, int]:
        """How many documents, pages, unread pages, connectors, pins and circuits the index holds."""
        return {
            "documents": self._count("SELECT COUNT(*) FROM documents"),
            "pages": self._count("SELECT COALESCE(SUM(pages), 0) FROM documents"),
            "unread_pages": self._count("SELECT COUNT(*) FROM pages WHERE outcome = 'unread'"),
            "connectors": self._count(
                "SELECT COUNT(*) FROM (SELECT DISTINCT machine, connector, half FROM connectors)"
            ),
            "pins": self._count("SELECT COUNT(*) FROM pins"),
            "circuits": self._count(
                "SELECT COUNT(*) FROM circuits c WHERE circuit <> ''"
                " AND EXISTS (SELECT 1 FROM pins WHERE circuit_id = c.id)"
            ),
        }

    def stamp(self) -> str:
        """Mark that changes with every write; what is derived from the index is checked against it."""
        return self.meta("stamp")

    def is_settled(self) -> bool:
        """Say whether roles and notices were settled over all documents since the last write of one.

        A run that was stopped leaves whole documents, but may leave this to the next one.
        """
        return self.meta("settled") == self.meta("stamp")

    def _pages(self, where: str, values: Sequence[object]) -> list[PageNote]:
        order = "ORDER BY d.machine, d.name, o.page"
        rows = self._rows(f"{reading.PAGE_SQL} WHERE {where} {order}", values)
        return [reading.row_to_page_note(row) for row in rows]

    def meta(self, key: str) -> str:
        """Return what is kept under a name, "" where nothing is."""
        return next((row[0] for row in self._rows("SELECT value FROM meta WHERE key = ?", (key,))), "")

    def _count(self, sql: str) -> int:
        return next(int(row[0]) for row in self._rows(sql))

    def _rows(self, sql: str, values: Sequence[object] = ()) -> Iterator[tuple[Any, ...]]:
        try:
            yield from self._connection.execute(sql, values)
        except sqlite3.DatabaseError as error:
            raise schema.sentence_of(error, self._path) from error


def _of_table(note: PageNote) -> PageNote:
    """Return the note of a page with what it says of a table that was passed over, if that is all."""
    _, sign, said = note.why.partition(TABLE_UNREAD)
    return replace(note, why=(sign + said).removeprefix("; ")) if sign and note.outcome != "unread" else note


def same(column: str, value: str | None) -> str:
    """Condition on a column, or one that always holds where any value will do."""
    return "1" if value is None else f"{column} = ?"


def given(value: str | None) -> tuple[str, ...]:
    """Return the value for the mark of a condition `same` made."""
    return () if value is None else (value,)
