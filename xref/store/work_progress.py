"""What was done at the machine: marks, kept for good in the person's own file. Never rebuilt.

A mark belongs to wire ends of a machine, not to a plan: a wire that was cut stays cut whatever a plan says
later. It is one line that is never changed; taking it back writes the time beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from xref.store.fold import unpadded_key
from xref.store.work_file import WorkFile, now

Kind = Literal["cut", "join", "cap"]
Step = Literal["labelled", "metered", "cut", "joined", "capped"]

_MARK = ("at", "machine", "kind", "line", "step", "value", "note", "said", "anyway", "plan", "undone_at")
_END = ("connector", "half", "cavity", "circuit", "side")


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkEnd:
    """A wire end a mark is about."""

    connector: str
    half: str
    cavity: str  #: as printed
    circuit: str
    side: str = ""  #: which stub of the cut there, `plug` or `loom`; "" of a cut itself

    @property
    def key(self) -> tuple[str, str, str, str, str]:
        """What stays the same however the cavity is padded."""
        return (self.connector, self.half, unpadded_key(self.cavity), self.circuit, self.side)


#: By this a line of work is known again: its kind and its wire ends.
LineKey = tuple[str, frozenset[tuple[str, str, str, str, str]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One step that was done at one line of a plan."""

    id: int = 0
    at: str = ""
    machine: str
    kind: Kind
    line: str  #: the id under which the plan printed it then
    step: Step
    ends: tuple[MarkEnd, ...]
    value: str = ""  #: number and unit as typed
    note: str = ""
    said: str = ""  #: what the plan said then and what was done by it: label texts, the place of a joint
    anyway: str = ""  #: what was missing when the person insisted; "" where nothing was
    plan: str = ""  #: the plan file it was marked by
    undone_at: str = ""

    @property
    def key(self) -> LineKey:
        """Kind and wire ends of its line."""
        return (self.kind, frozenset(end.key for end in self.ends))

    @property
    def holds(self) -> bool:
        """Whether it was not taken back."""
        return not self.undone_at


class Marks(WorkFile):
    """Marks in the open work file; none where there is no file and it is only read."""

    def marks(self, machine: str) -> list[Mark]:
        """Return every mark of a machine in the order they were made, those taken back too."""
        sql = f"SELECT id, {','.join(_MARK)} FROM marks WHERE machine = ? ORDER BY id"
        found = list(self._rows(sql, (machine,)))
        # after the marks, so that those read have their ends although another process may be writing
        ends: dict[int, list[MarkEnd]] = {}
        sql = f"SELECT mark, {','.join(_END)} FROM mark_ends JOIN marks ON marks.id = mark_ends.mark"
        for number, *texts in self._rows(f"{sql} WHERE machine = ? ORDER BY mark, place", (machine,)):
            ends.setdefault(number, []).append(MarkEnd(**dict(zip(_END, texts, strict=True))))
        return [
            Mark(id=number, ends=tuple(ends.get(number, ())), **dict(zip(_MARK, texts, strict=True)))
            for number, *texts in found
        ]

    def add(self, machine: str, made: Callable[[list[Mark]], Iterable[Mark]]) -> list[Mark]:
        """Keep the marks that `made` returns of those there are, all or none; return them numbered.

        No other process can write between its look at the marks and the new ones, so what it checked holds.
        """
        added = []
        with self._transaction() as connection:
            for mark in made(self.marks(machine)):
                kept = replace(mark, at=mark.at or now())
                values = [getattr(kept, name) for name in _MARK]
                places = ",".join("?" * len(_MARK))
                cursor = connection.execute(
                    f"INSERT INTO marks ({','.join(_MARK)}) VALUES ({places})", values
                )
                number = int(cursor.lastrowid or 0)
                connection.executemany(
                    f"INSERT INTO mark_ends (mark, place, {','.join(_END)}) VALUES (?,?,?,?,?,?,?)",
                    [
                        (number, place, *(getattr(end, name) for name in _END))
                        for place, end in enumerate(kept.ends)
                    ],
                )
                added.append(replace(kept, id=number))
        return added

    def undo(self, machine: str, chosen: Callable[[list[Mark]], Sequence[Mark]]) -> list[Mark]:
        """Take back the marks that `chosen` returns of those there are; return them with the time."""
        with self._transaction() as connection:
            at = now()
            taken = [replace(mark, undone_at=at) for mark in chosen(self.marks(machine)) if mark.holds]
            connection.executemany(
                "UPDATE marks SET undone_at = ? WHERE id = ?", [(at, mark.id) for mark in taken]
            )
        return taken
