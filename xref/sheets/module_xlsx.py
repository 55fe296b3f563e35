"""The module sheet as a workbook: to be filtered and filled in at a desk, or printed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from xref.records import Pin
from xref.sheets.printed import (
    FREE_LINES,
    FREE_TITLE,
    NEIGHBORS_NOTE,
    NEIGHBORS_TITLE,
    TICKS,
    PrintedLine,
    PrintedPart,
    PrintedSheet,
)
from xref.sheets.workbook import LaidOut, row_height

if TYPE_CHECKING:
    from PIL.Image import Image

Ask = Callable[[Pin], "Image | None"]

_HEADS = (
    ("Connector", 9.0),
    ("Cavity", 7.0),
    ("Circuit", 9.0),
    ("Base", 6.5),
    ("Stripe", 6.5),
    ("Ring", 6.0),
    ("Code", 9.5),
    ("Colour", 14.0),
    ("Function", 25.0),
    ("Size", 6.5),
    ("Other ends", 40.0),
    ("On the way", 17.0),
    ("Fed by", 10.0),
    ("Manual", 10.0),
    *((tick, 8.0) for tick in TICKS),
    ("Document", 24.0),  # for filtering; left out of print, where the letter stands for it
)
_AT = {name: number for number, (name, _) in enumerate(_HEADS)}
_WIDTHS = tuple(width for _, width in _HEADS)
_PRINTED = len(_HEADS) - 1
#: Stands in a step that is still to be ticked off.
_BOX = "☐"
_CROP = 520.0  #: a crop is laid no wider than this
_CROP_DPI = 110.0


def write_sheet_xlsx(sheet: PrintedSheet, path: Path, ask: Ask) -> None:
    """Write the sheet as XLSX. Every text is a text cell; colours are cell fills beside their code."""
    book = LaidOut("Cross-reference sheet", _WIDTHS, printed=_PRINTED)
    machine = f" — {sheet.machine}" if sheet.machine else ""
    book.across(f"Cross-reference sheet: {sheet.title}{machine}", size=16, bold=True)
    book.line([name for name, _ in _HEADS], height=20, tone="dark")
    book.foot(sheet.caution_short.replace("&", "&&"), "page &P of &N")
    for letter, name in sheet.documents:
        book.across(f"Document {letter}: {name}")
    for text in sheet.cautions:
        book.across(text, bold=True)
    for name, why in sheet.taken:
        book.across(f"Taken as this module: {name} — {why}")
    for name, why in sheet.not_taken:
        book.across(f"Near name, not taken: {name} — {why}")
    for text in sheet.unread:
        book.across(f"Page nobody could read: {text}")
    for part in sheet.parts:
        _part(book, part, ask)
    _neighbors(book, sheet)
    book.save(path)


def _neighbors(book: LaidOut, sheet: PrintedSheet) -> None:
    if not sheet.neighbors:
        return
    book.across(NEIGHBORS_TITLE, size=14, tone="dark")
    for item in sheet.neighbors:
        reached = f"{item.name} ({item.connectors})" if item.connectors else item.name
        through = f", through {item.through}" if item.through else ""
        mark = f"{item.mark}: " if item.mark else ""
        book.across(f"{mark}{item.count} × {reached}{through}: {item.circuits}", bold=bool(item.mark))
    book.across(NEIGHBORS_NOTE, tone="pale")


def _part(book: LaidOut, part: PrintedPart, ask: Ask) -> None:
    name = f"{part.name} – {part.component}" if part.component else part.name
    book.across(name, size=14, tone="dark")
    for pairs in (part.head, part.counts):
        if pairs:
            book.across("  ·  ".join(f"{label}: {text}" for label, text in pairs), tone="pale")
    for text in part.warnings:
        book.across(f"! {text}", bold=True, tone="pale")
    for line in part.lines:
        _line(book, part.name, line)
        if line.doubts:
            book.across(f"? IN DOUBT: {'; '.join(line.doubts)}", bold=True)
        image = ask(line.pin) if line.doubts and line.pin else None
        if image is not None:
            book.across("")
            book.picture(image, column=_AT["Circuit"], most_wide=_CROP, dpi=_CROP_DPI)
    book.across(FREE_TITLE, bold=True, tone="pale")
    for _ in range(FREE_LINES):
        texts = [part.name if head == "Connector" else _BOX if head in TICKS else "" for head, _ in _HEADS]
        book.line(texts, height=22)


def _line(book: LaidOut, connector: str, line: PrintedLine) -> None:
    wire = line.wire
    cells = {
        "Connector": connector,
        "Cavity": line.cavity,
        "Circuit": line.circuit,
        "Code": wire.code if wire else "",
        "Colour": wire.words if wire else "",
        "Function": "\n".join(filter(None, (line.function, *line.notes))),
        "Size": line.size,
        "Other ends": "\n".join(map(str, line.ends)) or line.ends_note,
        "On the way": "\n".join(line.through),
        "Fed by": "\n".join(line.fed_by),
        "Manual": "\n".join(line.source),
        "Document": "\n".join(dict.fromkeys(document for document, _ in line.places)),
        **dict.fromkeys(TICKS, "" if line.empty else _BOX),
    }
    texts = [cells.get(head, "") for head, _ in _HEADS]
    book.line(
        texts,
        height=row_height(texts, _WIDTHS),
        bold=(_AT["Cavity"], _AT["Circuit"], _AT["Code"]),
        tone="pale" if line.empty else "",
    )
    if wire is None:
        return
    # The colour's name stands in its cell: a white stripe would look like none.
    drawn = zip(("Base", "Stripe", "Ring"), (wire.base, wire.stripe, wire.ring), wire.names, strict=True)
    for head, color, name in drawn:
        if color:
            book.paint(_AT[head], color, name)
    if not wire.base:
        book.paint(_AT["Base"], "#ffffff", "?")
