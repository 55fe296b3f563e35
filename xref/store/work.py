"""The person's own file: decisions, kept for good, and the short numbers of rows. Never rebuilt.

A decision is one line that is never changed; undoing it writes the time beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from xref.errors import WorkDamaged
from xref.pins.corrections_records import (
    Decision,
    HeadDecision,
    MateDecision,
    PutAside,
    RowAsRead,
    RowDecision,
)
from xref.store.work_file import WorkFile, now
from xref.store.work_json import KINDS, Kept, Taught, from_json, to_json, where
from xref.tables.layout import TaughtLayout

_ROW_KEY = ("sha256", "page", "x0", "top", "x1", "bottom", "cavity", "wire")


class Work(WorkFile):
    """Decisions and row numbers in the open work file; empty where there is none and it is only read."""

    # -- asking ------------------------------------------------------------------------------------

    def kept(self) -> list[Kept]:
        """Every decision that holds, in the order they were made."""
        rows = self._rows("SELECT id, at, kind, content FROM decisions WHERE undone_at = '' ORDER BY id")
        try:
            return [from_json(*row) for row in rows]
        except (KeyError, TypeError, ValueError) as error:
            raise WorkDamaged(
                f"A decision in {self._path} cannot be read: {error}.",
                hint="The file is yours and was not changed; a copy you made may help.",
            ) from error

    def decisions(self) -> list[Decision]:
        """Decisions that are laid over rows and connectors."""
        return [d for d in self.kept() if isinstance(d, RowDecision | PutAside | HeadDecision)]

    def mates(self) -> list[MateDecision]:
        """Connectors the person says are plugged together."""
        return [d for d in self.kept() if isinstance(d, MateDecision)]

    def layouts(self, sha256: str, name: str, machine: str) -> tuple[TaughtLayout, ...]:
        """Layouts taught for a document, the latest first: on this very content, else on an earlier one."""
        taught = [d for d in self.kept() if isinstance(d, Taught)]
        here = [d.layout for d in taught if d.sha256 == sha256]
        named = [
            replace(d.layout, earlier=True) for d in taught if (d.document, d.machine) == (name, machine)
        ]
        return tuple(dict.fromkeys(reversed(here or named)))

    # -- deciding ----------------------------------------------------------------------------------

    def add(self, decisions: Iterable[Kept]) -> list[Kept]:
        """Keep decisions, all or none, and return them with their numbers; times already given stay."""
        added: list[Kept] = []
        with self._transaction() as connection:
            for decision in decisions:
                at = decision.at or now()
                cursor = connection.execute(
                    "INSERT INTO decisions (at, kind, sha256, document, machine, page, content)"
                    " VALUES (?,?,?,?,?,?,?)",
                    (at, KINDS[type(decision)], *where(decision), to_json(decision)),
                )
                added.append(replace(decision, id=int(cursor.lastrowid or 0), at=at))
        return added

    def undo(self, numbers: Sequence[int]) -> list[Kept]:
        """Take decisions back and return them; those that are not there or already undone are left out."""
        wanted = set(numbers)
        found = [decision for decision in self.kept() if decision.id in wanted]
        with self._transaction() as connection:
            connection.executemany(
                "UPDATE decisions SET undone_at = ? WHERE id = ? AND undone_at = ''",
                [(now(), decision.id) for decision in found],
            )
        return found

    # -- short numbers of rows ---------------------------------------------------------------------

    def numbers_of(self, rows: Sequence[RowAsRead]) -> list[int]:
        """Return the number of each row; one that was never shown gets the next, for good."""
        keys = [_key(row) for row in rows]
        known = self._known(keys)
        new = [key for key in dict.fromkeys(keys) if key not in known]
        if new:
            with self._transaction() as connection:
                connection.executemany(
                    f"INSERT OR IGNORE INTO row_numbers ({','.join(_ROW_KEY)}) VALUES (?,?,?,?,?,?,?,?)", new
                )
            known |= self._known(new)
        return [known[key] for key in keys]

    def row_keys(self, numbers: Iterable[int]) -> dict[int, tuple[Any, ...]]:
        """Return content hash, page, box, cavity and wire of rows by their numbers."""
        found = {}
        for number in numbers:
            for row in self._rows(f"SELECT {','.join(_ROW_KEY)} FROM row_numbers WHERE id = ?", (number,)):
                found[number] = row
        return found

    def _known(self, keys: Iterable[tuple[Any, ...]]) -> dict[tuple[Any, ...], int]:
        hashes = {key[0] for key in keys}
        known: dict[tuple[Any, ...], int] = {}
        for sha256 in hashes:
            sql = f"SELECT id, {','.join(_ROW_KEY)} FROM row_numbers WHERE sha256 = ?"
            known |= {tuple(row[1:]): row[0] for row in self._rows(sql, (sha256,))}
        return known


def _key(row: RowAsRead) -> tuple[Any, ...]:
    return tuple(getattr(row, name) for name in _ROW_KEY)
