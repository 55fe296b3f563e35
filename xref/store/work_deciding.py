"""What the person decides, put into the work file: the rows it is about are found, nothing is laid here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.errors import UsageError
from xref.pins.corrections import LaidRow
from xref.pins.corrections_match import RowFinder
from xref.pins.corrections_potential import UNDECIDED, may_be_either, said_of
from xref.pins.corrections_records import (
    CORRECTABLE,
    SETTABLE,
    Changes,
    CircuitIs,
    HeadDecision,
    MateDecision,
    PutAside,
    Region,
    RowAsRead,
    RowDecision,
    region_of,
    row_as_read,
    texts_of,
)
from xref.records import Document, Pin
from xref.store.fold import plain_key, unpadded_key
from xref.store.index import Index
from xref.store.work import Work
from xref.store.work_json import checked
from xref.store.work_laying import laid_rows

_NUMBER = re.compile(r"[dD](\d{1,9})")
#: No page is as large as this, points: the region of a decision about a whole page.
_WHOLE_PAGE = 1_000_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundRow:
    """A row somebody asked for, with its document and its number."""

    number: int
    document: Document
    row: LaidRow

    @property
    def name(self) -> str:
        """The number as it is typed: `D12`."""
        return f"D{self.number}"

    @property
    def pin(self) -> Pin:
        """The row as it is now; as read where it was put aside."""
        return self.row.pin or self.row.read

    @property
    def as_read(self) -> RowAsRead:
        """The row as decisions about it are kept."""
        return row_as_read(self.row.read, self.document.sha256, self.row.wire)


def numbered(work: Work, document: Document, rows: Sequence[LaidRow]) -> list[FoundRow]:
    """Return rows of a document with their numbers; a row shown for the first time gets the next one."""
    numbers = work.numbers_of([row_as_read(r.read, document.sha256, r.wire) for r in rows])
    return [
        FoundRow(number=number, document=document, row=row) for number, row in zip(numbers, rows, strict=True)
    ]


def rows_asked(index: Index, work: Work, asked: Iterable[str], machine: str | None = None) -> list[FoundRow]:
    """Return the rows of texts such as `D12` or `X5:7`.

    Raises UsageError where a text is neither, where the row is not in the index, and where several rows
    print a cavity: then each has to be asked for by its number.
    """
    found: list[FoundRow] = []
    for text in dict.fromkeys(asked):
        match = _NUMBER.fullmatch(text.strip())
        found.append(
            _by_number(index, work, int(match[1])) if match else _by_cavity(index, work, text, machine)
        )
    return found


def _by_number(index: Index, work: Work, number: int) -> FoundRow:
    key = work.row_keys([number]).get(number)
    if key is None:
        raise UsageError(f"There is no row D{number}.", hint="xref check lists the rows with their numbers.")
    sha256, page, x0, top, x1, bottom, cavity, wire = key
    asked = RowAsRead(
        sha256=sha256,
        document="",
        machine="",
        page=page,
        x0=x0,
        top=top,
        x1=x1,
        bottom=bottom,
        cavity=cavity,
        wire=wire,
    )
    for document in index.documents():
        if document.sha256 == sha256:
            rows = laid_rows(index, work, document).rows
            finder = RowFinder(
                sha256=sha256, name=document.name, pins=[r.read for r in rows], wires=[r.wire for r in rows]
            )
            match = finder.row(asked)
            if match is not None and match.certain:
                return FoundRow(number=number, document=document, row=rows[match.place])
            raise UsageError(
                f"D{number} is read otherwise now (page {page} of {document.name}).",
                hint="xref check lists the rows as they are read now.",
            )
    raise UsageError(
        f"D{number} is a row of a document that was changed or is no longer indexed.",
        hint="xref check lists the rows there are now.",
    )


def _by_cavity(index: Index, work: Work, text: str, machine: str | None) -> FoundRow:
    connector, _, cavity = text.rpartition(":")
    rows = []
    if connector:
        names = {(c.machine, c.document) for c in index.connectors_like(connector, machine)}
        wanted = {c.connector for c in index.connectors_like(connector, machine)}
        for document in index.documents(machine):
            if (document.machine, document.name) in names:
                here = [
                    row
                    for row in laid_rows(index, work, document).rows
                    if row.pin is not None
                    and row.pin.connector in wanted
                    and unpadded_key(row.pin.cavity) == unpadded_key(cavity)
                ]
                rows += numbered(work, document, here)
    if not rows:
        raise UsageError(
            f"{text} is no row here.", hint="Name a row by its number (D12) or as CONNECTOR:CAVITY."
        )
    if len(rows) > 1:
        places = ", ".join(f"{r.name} ({r.document.name} p. {r.pin.page})" for r in rows)
        raise UsageError(f"{text} stands in {len(rows)} rows: {places}.", hint="Name the one that is meant.")
    return rows[0]


def table_of(index: Index, work: Work, found: FoundRow) -> list[FoundRow]:
    """Return every row that is left of the table in which a row stands."""
    read = found.row.read
    rows = laid_rows(index, work, found.document).rows
    table = [
        r for r in rows if r.pin is not None and (r.read.page, r.read.table_no) == (read.page, read.table_no)
    ]
    return numbered(work, found.document, table)


def accept(work: Work, rows: Sequence[FoundRow], circuit_is: CircuitIs = "") -> None:
    """Keep that the person has compared these rows with their pages and found them right.

    Corrections that were made on an earlier edition are kept anew for the edition there is now. `circuit_is`
    as for `take_circuit_as`. Raises UsageError where it can be said of a row that has no such circuit.
    """
    _check_circuits(rows, circuit_is)
    before = {d.id: d for d in work.decisions() if isinstance(d, RowDecision)}
    decisions = []
    for found in rows:
        moved = [before[n] for n in found.row.by_text if n in before]
        changes = tuple(dict(pair for decision in moved for pair in decision.changes).items())
        said = [decision.circuit_is for decision in moved if decision.circuit_is]
        decisions.append(
            RowDecision(
                id=0,
                at="",
                row=found.as_read,
                changes=changes,
                accepted=True,
                circuit_is=circuit_is or (said[-1] if said else ""),
                shown=texts_of(found.pin),
            )
        )
    work.add(decisions)


def take_circuit_as(work: Work, rows: Sequence[FoundRow], circuit_is: CircuitIs) -> None:
    """Keep whether the circuit of these rows is a number or the name of a voltage, and no more."""
    _check_circuits(rows, circuit_is)
    work.add(RowDecision(id=0, at="", row=found.as_read, circuit_is=circuit_is) for found in rows)


def _check_circuits(rows: Sequence[FoundRow], circuit_is: CircuitIs) -> None:
    for found in rows if circuit_is else ():
        if not may_be_either(found.pin.circuit):
            circuit = found.pin.circuit or "a row without a circuit"
            raise UsageError(
                f"{found.name}: {circuit} cannot be both a number and the name of a voltage.",
                hint="--as is for rows in the doubt potential-undecided.",
            )


def open_circuits(
    index: Index, work: Work, rows: Sequence[FoundRow], machine: str | None = None
) -> list[FoundRow]:
    """Return the other rows of the circuits of these rows of which is open, or was said, what they are."""
    asked = {(found.document.machine, plain_key(found.pin.circuit)) for found in rows}
    known = {found.number for found in rows}
    others = []
    for document in index.documents(machine):
        if document.machine not in {of for of, _ in asked}:
            continue
        here = [
            row
            for row in laid_rows(index, work, document).rows
            if row.pin is not None
            and (document.machine, plain_key(row.pin.circuit)) in asked
            and (UNDECIDED in row.pin.flags or said_of(row.pin))
        ]
        others += [found for found in numbered(work, document, here) if found.number not in known]
    return others


def correct(work: Work, found: FoundRow, changes: Mapping[str, str]) -> None:
    """Keep what the person says stands in a row; what was not named stays as read, with its doubts.

    Raises UsageError for a value that no row can have.
    """
    if not changes:
        raise UsageError("Nothing to correct was given.", hint="Say what stands there: --circuit 1440 …")
    said = _checked(changes, CORRECTABLE)
    work.add([RowDecision(id=0, at="", row=found.as_read, changes=said)])


def set_head(
    work: Work, machine: str, connector: str, half: str, changes: Mapping[str, str], region: Region | None
) -> None:
    """Keep what the person says a connector is, in its whole machine or in one table only."""
    said = _checked(changes, SETTABLE)
    work.add(
        [
            HeadDecision(
                id=0,
                at="",
                machine=machine,
                connector=connector,
                half=half,
                changes=said,
                region=region,
            )
        ]
    )


def set_mates(work: Work, machine: str, one: tuple[str, str], other: tuple[str, str]) -> None:
    """Keep that two connectors (name, half) are plugged together, cavity n to cavity n."""
    if one == other:
        raise UsageError("A connector is not plugged into itself.", hint="Name the other one, or its half.")
    work.add(
        [
            MateDecision(
                id=0,
                at="",
                machine=machine,
                connector_a=one[0],
                half_a=one[1],
                connector_b=other[0],
                half_b=other[1],
            )
        ]
    )


def put_aside(work: Work, document: Document, rows: Sequence[FoundRow], *, whole_page: bool) -> None:
    """Keep that the table of these rows (there must be one at least), or its whole page, is no pinout."""
    region = region_of([found.row.read for found in rows], document.sha256)
    if whole_page:  # also what another reader may find there
        region = replace(region, x0=0.0, top=0.0, x1=_WHOLE_PAGE, bottom=_WHOLE_PAGE)
    work.add([PutAside(id=0, at="", region=region)])


def _checked(changes: Mapping[str, str], allowed: Sequence[str]) -> Changes:
    try:
        return checked(changes.items(), allowed)
    except ValueError as error:
        raise UsageError(f"{str(error)[:1].upper()}{str(error)[1:]}.") from error
