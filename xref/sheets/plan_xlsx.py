"""The plan as a workbook: cover, work, and a worksheet per list, to be filtered, filled in or printed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from xref.sheets.printed import Wire
from xref.sheets.printed_plan import (
    FIGURE_HEADS,
    NO_QUESTIONS,
    PLAN_TICKS,
    QUESTIONS_TITLE,
    UNREAD_TITLE,
    Listing,
    PrintedCut,
    PrintedPlan,
    PrintedStation,
)
from xref.sheets.workbook import LaidOut, row_height

_COVER = (34.0, 26.0, 18.0, 72.0)
_WORK = (
    ("Connector", 11.0),
    ("Cavity", 7.0),
    ("Circuit", 9.0),
    ("Base", 7.0),
    ("Stripe", 7.0),
    ("Ring", 6.0),
    ("Code", 9.0),
    ("Colour", 14.0),
    ("Size", 8.0),
    ("Function", 18.0),
    ("Cut it", 20.0),
    ("Meter first", 22.0),
    ("Reads Ω", 9.0),
    ("Label plug side", 27.0),
    ("Label loom side", 27.0),
    ("Plug side", 21.0),
    ("Loom side", 21.0),
    ("Extension", 18.0),
    ("Manual", 9.0),
    *((tick, 8.5) for tick in PLAN_TICKS),
)
_AT = {name: number for number, (name, _) in enumerate(_WORK)}
#: Columns of a list share so many units of width.
_LIST_WIDE = 150.0
_TICK_WIDE = 9.0
#: Stands in a step that is still to be ticked off.
_BOX = "☐"
#: Lines that are written on by hand are this high, in points.
_WRITTEN_ON = 22.0
_TABS = {
    "refused": "Never cut",
    "inline": "In-lines",
    "host": "New vehicle",
    "supply": "Supplies",
    "bus": "Buses",
    "bus reading": "Bus readings",
    "join": "Joints",
    "cap": "Caps",
    "link": "Links",
    "wire": "Wire",
    "machine": "Meter machine",
    "reading": "Meter wires",
    "fate": "Nets",
}


def write_plan_xlsx(plan: PrintedPlan, path: Path) -> None:
    """Write the plan as XLSX. Every text is a text cell; colours are cell fills with their names."""
    book = LaidOut("Plan", _COVER, printed=len(_COVER))
    _head(book, plan, plan.title)
    book.line(FIGURE_HEADS, height=20, tone="dark")
    _cover(book, plan)
    if plan.stations:
        book = book.further("Work", [width for _, width in _WORK])
        _head(book, plan, "Work")
        book.line([name for name, _ in _WORK], height=20, tone="dark")
        for station in plan.stations:
            _station(book, station)
    for listing in plan.listings:
        book = _listing(book, plan, listing)
    book.save(path)


def _head(book: LaidOut, plan: PrintedPlan, title: str) -> None:
    """Write the first row, which stands on every printed page, and the foot: both bear the caution."""
    machine = f" — {plan.machine}" if plan.machine else ""
    book.across(f"{title}{machine}. {plan.caution_short}", bold=True, size=11)
    book.foot(plan.caution_short.replace("&", "&&"), "page &P of &N")


def _cover(book: LaidOut, plan: PrintedPlan) -> None:
    for item in plan.figures:
        texts = (item.title, item.figure, item.one_by_one or "–", item.how)
        book.line(texts, height=row_height(texts, _COVER), bold=(1,))
    if plan.nothing:
        book.across(plan.nothing, bold=True)
    for text in plan.cautions:
        book.across(text, bold=True)
    book.across(QUESTIONS_TITLE if plan.questions else NO_QUESTIONS, size=12, tone="dark")
    for title, questions in plan.questions:
        book.across(f"{title} ({len(questions)})", bold=True, tone="pale")
        for text, settle in questions:
            book.across(f"{_BOX} {text} → {settle}")
    if plan.unread:
        book.across(UNREAD_TITLE, bold=True, tone="pale")
        for text in plan.unread:
            book.across(text)
    for letter, name in plan.documents:
        book.across(f"Document {letter}: {name}")


def _station(book: LaidOut, station: PrintedStation) -> None:
    component = f" – {station.component}" if station.component else ""
    book.across(f"{station.name}{component} – {station.going}", size=13, tone="dark")
    book.across(f"Before each: {'; '.join(station.checks)}.", tone="pale")
    for cut in station.cuts:
        _cut(book, station, cut)


def _cut(book: LaidOut, station: PrintedStation, cut: PrintedCut) -> None:
    cells = {
        "Connector": station.name,
        "Cavity": cut.cavity,
        "Circuit": cut.circuit or "no number",
        "Code": cut.wire.code if cut.wire else "",
        "Colour": cut.wire.words if cut.wire else "no colour printed",
        "Size": cut.size,
        "Function": cut.does,
        "Cut it": f"SAFETY: {cut.safety}\n{cut.where}" if cut.safety else cut.where,
        "Meter first": "\n".join(cut.meter),
        "Label plug side": cut.labels[0],
        "Label loom side": cut.labels[1],
        "Plug side": cut.plug,
        "Loom side": cut.loom,
        "Extension": "\n".join(cut.extensions),
        "Manual": cut.source,
        **dict.fromkeys(PLAN_TICKS, _BOX),
    }
    texts = [cells.get(head, "") for head, _ in _WORK]
    bold = (_AT["Cavity"], _AT["Circuit"], _AT["Code"], _AT["Label plug side"], _AT["Label loom side"])
    book.line(texts, height=row_height(texts, [width for _, width in _WORK]), bold=bold)
    if cut.wire is None:
        return
    drawn = (cut.wire.base, cut.wire.stripe, cut.wire.ring)
    for head, color, name in zip(("Base", "Stripe", "Ring"), drawn, cut.wire.names, strict=True):
        if color:
            book.paint(_AT[head], color, name)
    if not cut.wire.base:
        book.paint(_AT["Base"], "#ffffff", "?")


def _listing(book: LaidOut, plan: PrintedPlan, listing: Listing) -> LaidOut:
    room = _LIST_WIDE - _TICK_WIDE * len(listing.ticks)
    widths = [*(room * share for share in listing.shares), *[_TICK_WIDE] * len(listing.ticks)]
    book = book.further(_TABS[listing.kind], widths)
    _head(book, plan, listing.title)
    book.line([*(head.rstrip("…") for head in listing.heads), *listing.ticks], height=20, tone="dark")
    least = _WRITTEN_ON if any(head.endswith("…") for head in listing.heads) else 0.0
    if listing.note:
        book.across(listing.note, tone="pale")
    for row in listing.rows:
        texts = [*map(_text, row), *[_BOX] * len(listing.ticks)]
        book.line(texts, height=max(least, row_height(texts, widths)), bold=(0,))
        _paint(book, row)
    return book


def _text(cell: str | Wire) -> str:
    return f"{cell.code} {cell.words}".strip() if isinstance(cell, Wire) else cell


def _paint(book: LaidOut, row: Sequence[str | Wire]) -> None:
    for column, cell in enumerate(row):
        if isinstance(cell, Wire) and cell.base:
            book.paint(column, cell.base, _text(cell))
