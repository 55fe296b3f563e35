"""Rows in doubt, worst first, each with its number; and decisions that no longer fit what is read."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from xref.harness.doubts_words import look_at, means, rank, risk_of
from xref.harness.module import module_sheet
from xref.records import DECIDED_AT, Document, PageNote, Pin
from xref.settings import READER_VERSION
from xref.store.index import Index
from xref.store.work import Work
from xref.store.work_deciding import FoundRow, numbered
from xref.store.work_json import Kept, Taught, where
from xref.store.work_laying import laid_rows
from xref.tables.layout import TAUGHT

#: Where a pin stands: machine, document, page, table, row, half, connector and cavity.
_Place = tuple[str, str, int, int, int, str, str, str]

#: Columns of the table of doubts, one line per row and doubt.
COLUMNS = (
    *("row", "risk", "doubt", "means", "look_at", "machine", "document", "page", "page_label", "table_no"),
    *("row_no", "connector", "half", "cavity", "circuit", "color_code", "function", "x0", "top", "x1"),
    "bottom",
)
_PIN_COLUMNS = COLUMNS[5:]


@dataclass(frozen=True, slots=True, kw_only=True)
class Adrift:
    """A decision that fits no row any more, or whose document is not indexed, and why."""

    decision: Kept
    document: str
    page: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtList:
    """Rows in doubt, worst first, and what else needs the person."""

    rows: tuple[FoundRow, ...]
    adrift: tuple[Adrift, ...] = ()
    unread_pages: tuple[PageNote, ...] = ()
    taken: tuple[str, ...] = ()  #: the connectors taken as the component asked for


def doubtful_rows(
    index: Index,
    work: Work,
    machine: str | None = None,
    *,
    component: str = "",
    connector: str = "",
    vouched: bool = False,
) -> DoubtList:
    """Return the rows in doubt, worst first.

    Args:
        index: the open index.
        work: the work file, open for writing: rows that are shown get their numbers.
        machine: only its documents; None for all.
        component: only rows that stand in the way of this module: those of its plugs, and those of the
            circuits that leave them.
        connector: only rows of the connector of this name.
        vouched: also rows without doubt, in printed order behind the others.
    """
    wanted, taken = _in_the_way(index, component, machine) if component else (None, ())
    names = {c.connector for c in index.connectors_like(connector, machine)} if connector else None
    found: list[FoundRow] = []
    with_doubts = index.doubtful_documents(machine)
    for document in index.documents(machine):
        if not vouched and (document.machine, document.name) not in with_doubts:
            continue
        rows = [
            row
            for row in laid_rows(index, work, document, doubtful=not vouched).rows
            if row.pin is not None
            and (vouched or row.pin.flags)
            and (wanted is None or _place(row.pin) in wanted)
            and (names is None or row.pin.connector in names)
        ]
        found += numbered(work, document, rows)
    found.sort(key=_harm)
    return DoubtList(
        rows=tuple(found),
        adrift=tuple(adrift(index, work)),
        unread_pages=tuple(index.unread_pages(machine)),
        taken=taken,
    )


def _in_the_way(
    index: Index, component: str, machine: str | None
) -> tuple[Collection[_Place], tuple[str, ...]]:
    sheet = module_sheet(index, [component], machine)
    places = set()
    for part in sheet.parts:
        for line in part.lines:
            places |= {_place(pin) for pin in (line.pin, *line.rows, *line.feeding)}
            if line.others is not None:
                places |= {_place(pin) for pin in line.others.appearances}
                for passing in line.others.pass_throughs:
                    places |= {_place(pin) for pin in passing.halves}
    return places, tuple(name for name, _ in sheet.taken)


def _place(pin: Pin) -> _Place:
    at = (pin.machine, pin.document, pin.page, pin.table_no, pin.row_no)
    return (*at, pin.half, pin.connector, pin.cavity)


def _harm(found: FoundRow) -> tuple[object, ...]:
    pin = found.pin
    worst = min((rank(flag) for flag in pin.flags), default=10_000)
    table = (pin.machine, pin.document, pin.page, pin.table_no)
    return (worst, *table, bool(pin.flags) and pin.status != "used", pin.row_no, found.number)


def worst_doubt(pin: Pin) -> str:
    """Return the doubt of a row that could do the most harm; "" where it has none."""
    return min(pin.flags, key=rank, default="")


def adrift(index: Index, work: Work) -> Iterator[Adrift]:
    """Yield decisions that hold and are laid over nothing, with why."""
    documents = index.documents()
    contents = {d.sha256 for d in documents}
    notes = index.laid_notes()
    lost: dict[int, Document] = {}
    for document in documents:
        _, numbers = notes.get((document.machine, document.name), ("", ()))
        lost |= dict.fromkeys(numbers, document)
    left: list[Adrift] = []
    for decision in work.kept():
        sha256, name, machine, page = where(decision)
        if sha256 and sha256 not in contents and not _earlier(documents, name, machine):
            why = f"{name} is not in the index"
        elif decision.id in lost:
            here = lost[decision.id]
            changed = "was changed since" if here.sha256 != sha256 else "is read otherwise now"
            why = f"{here.name} {changed}, and no row there fits this decision"
        elif isinstance(decision, Taught) and not _is_used(index, documents, decision):
            why = f"nothing in {name} stands in the columns taught on this page"
        else:
            continue
        left.append(Adrift(decision=decision, document=name, page=page, why=why))
    found: set[int] = set()
    for document in documents if left else ():  # what nothing fits here may have been found elsewhere
        if (document.machine, document.name) in notes:
            found |= {n for row in laid_rows(index, work, document).rows for n in row.by_text}
    yield from (item for item in left if item.decision.id not in found)


def _is_used(index: Index, documents: Iterable[Document], taught: Taught) -> bool:
    """Say whether some page of the document was read in taught columns, or it waits to be read anew."""
    for document in documents:
        if taught.sha256 == document.sha256 or (document.name, document.machine) == where(taught)[1:3]:
            notes = index.page_notes(document.machine)
            used = any(n.document == document.name and n.why.startswith(TAUGHT) for n in notes)
            if used or document.reader != READER_VERSION:
                return True
    return False


def _earlier(documents: Iterable[Document], name: str, machine: str) -> bool:
    return any((d.name, d.machine) == (name, machine) for d in documents)


def doubt_lines(rows: Iterable[FoundRow]) -> Iterator[dict[str, object]]:
    """Yield one line per row and doubt, as `COLUMNS` name them, in the order of the rows."""
    for found in rows:
        pin = found.pin
        for flag in sorted(pin.flags, key=rank):
            line: dict[str, object] = {name: getattr(pin, name) for name in _PIN_COLUMNS}
            said = {"doubt": flag, "means": means(flag), "look_at": look_at(flag)}
            yield {"row": found.name, "risk": risk_of(flag), **said, **line}


def decided(pin: Pin) -> list[str]:
    """Return the notices of a row that tell of the person's decisions."""
    return [notice for notice in pin.notices if DECIDED_AT in notice]
