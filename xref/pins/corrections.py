"""A document as read and the person's decisions -> the document as it is answered with.

Pure: decisions come in as records, in the order they were made, each laid over what those before it left.
A decision that was made on this very file is laid without asking. One made on an earlier edition is laid
where its row is found again by its text, and the row says `correction-unconfirmed` until it is accepted.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from xref.pins.corrections_match import RowFinder
from xref.pins.corrections_potential import UNDECIDED, judged_anew, with_circuit_as
from xref.pins.corrections_records import (
    Decision,
    HeadDecision,
    PutAside,
    Region,
    RowAsRead,
    RowDecision,
    texts_of,
    wires_of,
)
from xref.pins.corrections_values import Manner, corrected, head_record, headed, manner_of
from xref.records import DECIDED_AT, Connector, Document, PageNote, Pin

UNCONFIRMED = "correction-unconfirmed"
#: What a page says whose rows the person has put aside.
PUT_ASIDE = "put aside by the person: no pinout"

_Half = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidRow:
    """A row as it was read, and as it is after the person's decisions; None where it was put aside."""

    read: Pin
    wire: int
    pin: Pin | None
    by_text: tuple[int, ...] = ()  #: decisions laid over it that were found again by text


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A document with the person's decisions laid over it."""

    rows: tuple[LaidRow, ...]
    connectors: tuple[Connector, ...]
    page_notes: tuple[PageNote, ...]
    lost: tuple[int, ...] = ()  #: decisions made on this document or its earlier editions that fit no row

    @property
    def pins(self) -> tuple[Pin, ...]:
        """The rows that are left."""
        return tuple(row.pin for row in self.rows if row.pin is not None)


@dataclass(slots=True, kw_only=True)
class _State:
    """The document while decisions are laid over it, one after the other."""

    read: Sequence[Pin]
    pins: list[Pin | None]
    finder: RowFinder
    manner: Manner
    connectors: list[Connector]
    by_text: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    lost: list[int] = field(default_factory=list)

    def flag(self, place: int, decision: int) -> None:
        pin = self.pins[place]
        self.by_text[place].append(decision)
        if pin is not None and UNCONFIRMED not in pin.flags:
            self.pins[place] = replace(pin, flags=(*pin.flags, UNCONFIRMED))

    def lose(self, kept: RowAsRead | Region, decision: int) -> None:
        if self.finder.is_named(kept):
            self.lost.append(decision)

    def heads(self) -> dict[_Half, Pin]:
        return {(p.connector, p.half): p for p in reversed(self.pins) if p is not None}


def lay(
    document: Document,
    connectors: Sequence[Connector],
    pins: Sequence[Pin],
    page_notes: Sequence[PageNote],
    decisions: Iterable[Decision],
) -> Laid:
    """Lay decisions over a document as it was read. Those of other documents must have been left out."""
    wires = wires_of(pins)
    state = _State(
        read=pins,
        pins=list(pins),
        finder=RowFinder(sha256=document.sha256, name=document.name, pins=pins, wires=wires),
        manner=manner_of(document.scheme, pins),
        connectors=list(connectors),
    )
    for decision in decisions:
        if isinstance(decision, RowDecision):
            _lay_row(state, decision)
        elif isinstance(decision, PutAside):
            _lay_aside(state, decision)
        else:
            _lay_head(state, decision)
    _judge_cavities(state)
    rows = tuple(
        LaidRow(read=read, wire=wire, pin=pin, by_text=tuple(state.by_text.get(i, ())))
        for i, (read, wire, pin) in enumerate(zip(pins, wires, state.pins, strict=True))
    )
    return Laid(
        rows=rows,
        connectors=tuple(_connectors(state)),
        page_notes=tuple(_notes(state, page_notes)),
        lost=tuple(state.lost),
    )


def _lay_row(state: _State, decision: RowDecision) -> None:
    found = state.finder.row(decision.row)
    if found is None:
        state.lose(decision.row, decision.id)
        return
    pin = state.pins[found.place]
    if pin is None:
        return
    if not found.same_texts:
        state.flag(found.place, decision.id)  # another row stands there now: nothing of it is changed
        return
    if decision.changes:
        pin = corrected(pin, decision.changes, state.manner, state.heads())
        pin = _noted(pin, "corrected-by-person", decision.at)
        if "circuit" in dict(decision.changes):
            others = (p for i, p in enumerate(state.pins) if p is not None and i != found.place)
            pin = judged_anew(pin, others)
    if found.certain:
        pin = with_circuit_as(pin, decision.circuit_is, decision.at)
    if decision.accepted and found.certain and texts_of(pin) == decision.shown:
        # read right is not yet told apart: a number, or a voltage's name
        left = tuple(flag for flag in pin.flags if flag == UNDECIDED)
        pin = _noted(replace(pin, flags=left), "accepted-by-person", decision.at)
    state.pins[found.place] = pin
    if not found.certain or (decision.accepted and texts_of(pin) != decision.shown):
        state.flag(found.place, decision.id)


def _noted(pin: Pin, notice: str, at: str) -> Pin:
    others = [n for n in pin.notices if n.partition(DECIDED_AT)[0] != notice]
    return replace(pin, notices=(*others, f"{notice}{DECIDED_AT}{at}"))


def _lay_aside(state: _State, decision: PutAside) -> None:
    places, certain = state.finder.table(decision.region)
    if not places:
        state.lose(decision.region, decision.id)
    for place in places:
        if certain:
            state.pins[place] = None
        else:
            state.flag(place, decision.id)


def _lay_head(state: _State, decision: HeadDecision) -> None:
    old = (decision.connector, decision.half)
    if decision.region is None:
        places, certain = list(range(len(state.pins))), True
    else:
        places, certain = state.finder.table(decision.region)
        if not places:
            state.lose(decision.region, decision.id)
    members = [i for i in places if _half_of(state.pins[i]) == old]
    heads = None if decision.region is None else state.heads()
    for place in members:
        pin = state.pins[place]
        if pin is not None:
            state.pins[place] = headed(pin, decision.changes, heads)
        if not certain:
            state.flag(place, decision.id)
    if not any(_half_of(pin) == old for pin in state.pins) or decision.region is None:
        why = f"set by the person ({decision.at.replace('T', ' ').replace('Z', ' UTC')})"
        state.connectors = [
            head_record(c, decision.changes, why) if (c.connector, c.half) == old else c
            for c in state.connectors
        ]


def _half_of(pin: Pin | None) -> _Half | None:
    return None if pin is None else (pin.connector, pin.half)


def _judge_cavities(state: _State) -> None:
    """Judge anew what the corrections may have mended or brought about: cavities that stand twice."""
    touched = {
        half
        for read, pin in zip(state.read, state.pins, strict=True)
        if pin is None or (pin.connector, pin.half, pin.cavity) != (read.connector, read.half, read.cavity)
        for half in ((read.connector, read.half), _half_of(pin))
    }
    groups: dict[tuple[str, ...], list[int]] = defaultdict(list)
    for i, pin in enumerate(state.pins):
        if pin is not None and _half_of(pin) in touched:
            groups[pin.connector, pin.half, pin.cavity, pin.option].append(i)
    for members in groups.values():
        if len(members) == 1:
            _unflag(state, members[0])
            continue
        moved = [i for i in members if _moved(state.read[i], state.pins[i])]
        if moved:
            for i in members:
                _flag_repeated(state, i)


def _moved(read: Pin, pin: Pin | None) -> bool:
    return pin is not None and pin.cavity != read.cavity


def _unflag(state: _State, place: int) -> None:
    pin = state.pins[place]
    if pin is not None and "cavity-repeated" in pin.flags:
        state.pins[place] = replace(pin, flags=tuple(f for f in pin.flags if f != "cavity-repeated"))


def _flag_repeated(state: _State, place: int) -> None:
    pin = state.pins[place]
    if pin is None or "cavity-repeated" in pin.flags or pin.role in ("splice", "ground"):
        return
    if any(notice.startswith("accepted-by-person") for notice in pin.notices):
        return
    state.pins[place] = replace(pin, flags=(*pin.flags, "cavity-repeated"))


def _connectors(state: _State) -> list[Connector]:
    """Return a record for each connector that has rows left, in its place; new ones are made by the store."""
    members: dict[_Half, list[Pin]] = defaultdict(list)
    for pin in state.pins:
        if pin is not None:
            members[pin.connector, pin.half].append(pin)
    had_rows = {(p.connector, p.half) for p in state.read}
    records: dict[_Half, Connector] = {}
    for record in state.connectors:
        half = (record.connector, record.half)
        here = members.get(half, [])
        if half in records or (not here and half in had_rows):
            continue
        if here:
            record = replace(
                record,
                pages=tuple(sorted({p.page for p in here})),
                cavities_read=len({p.cavity for p in here if p.cavity}),
                flags=tuple(f for f in record.flags if any(f in p.flags for p in here)),
            )
        records[half] = record
    return list(records.values())


def _notes(state: _State, page_notes: Sequence[PageNote]) -> Iterable[PageNote]:
    """Say of each page whose rows are all put aside that the person did it."""
    had = {pin.page for pin in state.read}
    left = {pin.page for pin in state.pins if pin is not None}
    for note in page_notes:
        aside = note.page in had and note.page not in left
        yield replace(note, outcome="skipped", why=PUT_ASIDE) if aside else note
