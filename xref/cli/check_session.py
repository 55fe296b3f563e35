"""What the sub-commands of `xref check` share: the index with the work file, and rows as they are shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from xref.cli import blocks
from xref.cli.options import Session
from xref.cli.terminal import Row, Screen, Style, talk
from xref.errors import CannotWrite
from xref.harness.size_words import size_words

if TYPE_CHECKING:
    from xref.harness.doubts import Adrift
    from xref.store.index import Index
    from xref.store.work import Work
    from xref.store.work_deciding import FoundRow

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedRow:
    """A row that is shown, with the picture that was drawn of it."""

    found: FoundRow
    picture: Path | None = None


@contextmanager
def at_work(session: Session) -> Iterator[tuple[Index, Work]]:
    """Open index and work file; decisions that were kept but not laid yet are laid first.

    A command that was killed between the two leaves that to the next one.
    """
    from xref.harness.settle import settle
    from xref.store.index import Index
    from xref.store.work import Work
    from xref.store.work_laying import is_current

    with Index.open(session.workspace) as index, Work.open(session.workspace, write=True) as work:
        current = is_current(index, work)
        if current:
            yield index, work
    if not current:
        with Work.open(session.workspace, write=True) as work:
            with Index.open(session.workspace, write=True) as index:
                settle(index, work)
            with Index.open(session.workspace) as index:
                yield index, work


def decide(session: Session, decision: Callable[[Index, Work], T]) -> T:
    """Let a decision be made and kept, then lay it over the index; return what the decision returned."""
    from xref.harness.settle import settle

    with at_work(session) as (index, work):
        made = decision(index, work)
    with at_work_write(session) as (index, work):
        settle(index, work)
    return made


@contextmanager
def at_work_write(session: Session) -> Iterator[tuple[Index, Work]]:
    """Open index and work file for writing."""
    from xref.store.index import Index
    from xref.store.work import Work

    with Index.open(session.workspace, write=True) as index, Work.open(session.workspace, write=True) as work:
        yield index, work


def draw_rows(
    index: Index, session: Session, rows: Sequence[FoundRow], folder: Path | None, password: str
) -> dict[int, Path]:
    """Draw each row on its page, as `D12.png` in a folder, and return where each lies.

    What cannot be drawn is said and left out.
    """
    from xref.cli.pictures import row_pictures
    from xref.sheets.files import written_whole

    target = folder or session.workspace.pictures
    try:
        target.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(f"The folder {target} cannot be made: {error.strerror}.") from error
    names = {id(row.pin): row.name for row in rows}
    picture = row_pictures(index, talk(session.quiet), password, label=lambda pin: names[id(pin)])
    drawn = {}
    for row in sorted(rows, key=lambda r: (r.document.machine, r.document.name, r.pin.page)):
        image = picture(row.pin)
        if image is not None:
            out = target / f"{row.name}.png"
            with written_whole(out) as beside:
                image.save(beside, "PNG")
            drawn[row.number] = out
    return drawn


def row_words(row: ListedRow, besides: str = "", *, with_doubts: bool = True) -> Row:
    """Return a row as one line: number, place, circuit, colour, function; below it its other doubts."""
    pin = row.found.pin
    others = [flag for flag in pin.flags if flag != besides]
    said = pin.function if pin.status == "used" else f"{pin.function} ({pin.status})".strip()
    cells = (
        row.found.name,
        blocks.where(pin),
        pin.circuit or "–",
        pin.color_code or "–",
        blocks.color_words(pin),
        " · ".join(filter(None, (f"size {size_words(pin)}" if pin.size else "", said))),
    )
    notes: list[tuple[str, Style]] = []
    if others and with_doubts:
        notes.append((f"{'also ' if besides else 'in doubt: '}{', '.join(others)}", "doubt"))
    notes += decision_lines(row.found)
    if row.picture is not None:
        notes.append((str(row.picture), ""))
    return Row(cells=cells, notes=notes)


def decision_lines(found: FoundRow) -> list[tuple[str, Style]]:
    """Return what the person decided about a row, with its time, and what was read before."""
    from xref.harness.doubts import decided
    from xref.records import notice_words

    lines: list[tuple[str, Style]] = [(notice_words(notice), "") for notice in decided(found.pin)]
    read, now = found.row.read, found.pin
    changed = [
        f"{name} {getattr(read, name) or 'blank'!s}"
        for name in ("connector", "half", "cavity", "circuit", "color_code", "function", "size", "status")
        if getattr(read, name) != getattr(now, name)
    ]
    if changed:
        lines.append((f"as read: {', '.join(changed)}", ""))
    return lines


def row_json(row: ListedRow) -> dict[str, Any]:
    """Return a row for programs: its number, its appearance, each doubt in words, its picture."""
    from xref.harness.doubts_words import look_at, means, risk_of
    from xref.harness.json_answers import appearance_to_json

    pin, read = row.found.pin, row.found.row.read
    return {
        "row": row.found.name,
        **appearance_to_json(pin),
        "page_label": pin.page_label,
        "table_no": pin.table_no,
        "row_no": pin.row_no,
        "box": [pin.x0, pin.top, pin.x1, pin.bottom],
        "doubts": [
            {"doubt": flag, "risk": risk_of(flag), "means": means(flag), "look_at": look_at(flag)}
            for flag in pin.flags
        ],
        "as_read": {
            name: getattr(read, name)
            for name in ("connector", "half", "cavity", "circuit", "color_code", "function", "size", "status")
        },
        "put_aside": row.found.row.pin is None,
        "picture": str(row.picture) if row.picture else None,
    }


def again(session: Session, numbers: Iterable[int]) -> list[ListedRow]:
    """Return rows as they are now, after a decision."""
    from xref.store.work_deciding import rows_asked

    with at_work(session) as (index, work):
        return [ListedRow(found=row) for row in rows_asked(index, work, [f"D{n}" for n in numbers])]


def print_adrift(screen: Screen, adrift: Iterable[Adrift]) -> None:
    """Write the decisions that fit nothing now: they are kept, and laid over nothing."""
    rows = [
        Row(cells=(f"decision {item.decision.id}", f"{item.document} p. {item.page}", item.why))
        for item in adrift
    ]
    blocks.block(screen, "DECISIONS THAT FIT NOTHING NOW (kept; xref check undo N drops one)", rows)


def adrift_json(adrift: Iterable[Adrift]) -> list[dict[str, Any]]:
    """Return the decisions that fit nothing now, for programs."""
    return [
        {"decision": item.decision.id, "document": item.document, "page": item.page, "why": item.why}
        for item in adrift
    ]
