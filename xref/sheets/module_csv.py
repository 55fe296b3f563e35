"""The module sheet as one flat CSV table, safe in a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from xref.sheets.plainfiles import write_csv
from xref.sheets.printed import FREE_LINES, FREE_TITLE, TICKS, PrintedLine, PrintedPart, PrintedSheet
from xref.sheets.shape import Shape

COLUMNS = (
    "kind",
    "connector",
    "component",
    "cavity",
    "circuit",
    "color_code",
    "color",
    "function",
    "size",
    "other_ends",
    "on_the_way",
    "fed_by",
    "document",
    "manual_page",
    "doubts",
    "notes",
    *TICKS,
)
#: Between several entries of one cell.
_BETWEEN = " | "


def write_sheet_csv(sheet: PrintedSheet, path: Path) -> None:
    """Write the sheet; `kind` says what a row is: caution, taken, head, count, warning, cavity, free …"""
    shape = Shape(name="sheet", columns=COLUMNS)
    write_csv(shape, (shape.cells(row) for row in _rows(sheet)), path, plain=False)


def _rows(sheet: PrintedSheet) -> Iterator[Mapping[str, object]]:
    yield {"kind": "sheet", "component": sheet.title, "notes": sheet.machine}
    yield from ({"kind": "caution", "notes": text} for text in sheet.cautions)
    yield from ({"kind": "taken", "connector": name, "notes": why} for name, why in sheet.taken)
    yield from ({"kind": "not taken", "connector": name, "notes": why} for name, why in sheet.not_taken)
    yield from ({"kind": "not readable", "notes": text} for text in sheet.unread)
    for part in sheet.parts:
        yield from _part(part)
    for item in sheet.neighbors:
        yield {
            "kind": "neighbor",
            "connector": item.connectors,
            "component": item.name,
            "circuit": item.circuits,
            "on_the_way": item.through,
            "notes": f"{item.mark} {item.count}".strip(),
        }


def _part(part: PrintedPart) -> Iterator[Mapping[str, object]]:
    named: dict[str, object] = {"connector": part.name, "component": part.component}
    for label, text in part.head:
        yield {**named, "kind": "head", "notes": f"{label}: {text}"}
    for label, text in part.counts:
        yield {**named, "kind": "count", "notes": f"{label}: {text}"}
    for text in part.warnings:
        yield {**named, "kind": "warning", "notes": text}
    for line in part.lines:
        yield {**named, **_line(line)}
    for _ in range(FREE_LINES):
        yield {**named, "kind": "free", "notes": FREE_TITLE}


def _line(line: PrintedLine) -> dict[str, object]:
    kind = "not read" if line.unread else "not fitted" if line.empty else "cavity"
    return {
        "kind": kind,
        "cavity": line.cavity,
        "circuit": line.circuit,
        "color_code": line.wire.code if line.wire else "",
        "color": line.wire.words if line.wire else "",
        "function": line.function,
        "size": line.size,
        "other_ends": _BETWEEN.join(map(str, line.ends)) or line.ends_note,
        "on_the_way": _BETWEEN.join(line.through),
        "fed_by": _BETWEEN.join(line.fed_by),
        "document": _BETWEEN.join(document for document, _ in line.places),
        "manual_page": _BETWEEN.join(page for _, page in line.places),
        "doubts": _BETWEEN.join(line.doubts),
        "notes": _BETWEEN.join(line.notes),
    }
