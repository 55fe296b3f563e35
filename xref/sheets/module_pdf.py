"""The module sheet on paper: A4 lying down, to be pinned up beside the bench."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from xref.records import Pin
from xref.sheets import paper
from xref.sheets.paper import Swatch, TickBox, Upright, grid, mixed, picture, words
from xref.sheets.printed import (
    FREE_LINES,
    FREE_TITLE,
    LOUD,
    NEIGHBOR_HEADS,
    NEIGHBORS_NOTE,
    NEIGHBORS_TITLE,
    TICKS,
    PrintedLine,
    PrintedPart,
    PrintedSheet,
)

if TYPE_CHECKING:
    from PIL.Image import Image

Ask = Callable[[Pin], "Image | None"]

_HEADS = ("Cavity", "Circuit", "Colour", "Function", "Size", "Other ends", "On the way", "Fed by", "Manual")
_WIDTHS = (40.0, 54.0, 94.0, 116.0, 46.0, 160.0, 82.0, 50.0, 42.0, *[17.97] * len(TICKS))
_LAST = len(_WIDTHS) - 1
#: Widths of the list of neighbours, as shares of the sheet's.
_NEIGHBOR_SHARES = (0.07, 0.25, 0.14, 0.14, 0.30, 0.10)
_TICK = len(_HEADS)
#: A connector's heading is not begun below this much room: band, head, column heads and three lines.
_ROOM = 190.0
#: A crop is shown no larger than this, so that it stays with its line.
_CROP = (540.0, 120.0)
#: A longer code does not fit beside its swatch and stands below it.
_CODE = 7
#: Names longer than this together may not fit the band and are repeated in the head.
_BAND = 60
_QUIET = "#404040"


def write_pdf(sheet: PrintedSheet, path: Path, ask: Ask) -> None:
    """Write the sheet as PDF."""
    story: list[Any] = [*_opening(sheet)]
    for part in sheet.parts:
        story += [paper.CondPageBreak(_ROOM), *_part(part, ask), paper.Spacer(1, 16)]
    story += [*_neighbors(sheet), *_closing(sheet)]

    def margin(pen: Any, page: int, pages: int) -> None:
        _margin(pen, sheet, page, pages)

    paper.print_story(path, f"Cross-reference sheet: {sheet.title}", story, margin)


def _margin(pen: Any, sheet: PrintedSheet, page: int, pages: int) -> None:
    """Draw what stands on every page: title, page n of m, the caution, the documents' letters."""
    right, top = paper.SIDE + paper.WIDTH, paper.PAGE[1] - 36
    pen.setFillColor(paper.INK)
    taken = paper.line_of(pen, f"page {page} of {pages}", right, top, 10, bold=True, right=True)
    kind = "Cross-reference sheet  "
    wide = paper.line_of(pen, kind, paper.SIDE, top, 10)
    room = paper.WIDTH - wide - taken - 20
    # The first page carries the title in large letters already.
    names = (sheet.machine,) if page == 1 else (sheet.title, sheet.machine)
    title = " — ".join(name for name in names if name)
    paper.line_of(pen, paper.shortened(title, 12, room, bold=True), paper.SIDE + wide, top, 12, bold=True)
    pen.setStrokeColor(paper.INK)
    pen.setLineWidth(1.6)
    pen.line(paper.SIDE, top - 6, right, top - 6)
    pen.setLineWidth(paper.HAIR)
    pen.line(paper.SIDE, paper.BELOW - 6, right, paper.BELOW - 6)
    paper.line_of(pen, sheet.caution_short, paper.SIDE, paper.BELOW - 17, 8.5, bold=True)
    letters = "Documents: " + "   ".join(f"{letter} = {name}" for letter, name in sheet.documents)
    paper.line_of(pen, paper.shortened(letters, 8, paper.WIDTH), paper.SIDE, paper.BELOW - 28, 8)


def _opening(sheet: PrintedSheet) -> list[Any]:
    """Return the top of the first page: name of the module, what was taken, the caution."""
    taken: list[Any] = [words("Taken as this module", 9, bold=True)]
    taken += [mixed([(name, True), (f" — {why}", False)]) for name, why in sheet.taken]
    if sheet.not_taken:
        taken += [paper.Spacer(1, 3), words("Near names, not taken", 9, bold=True)]
        taken += [mixed([(name, True), (f" — {why}", False)]) for name, why in sheet.not_taken]
    caution = [words("Before anything is cut", 9, bold=True), *[words(text, 8.5) for text in sheet.cautions]]
    if sheet.unread:
        taken += [
            paper.Spacer(1, 3),
            words("Pages nobody could read: what stands there is not on this sheet", 9, bold=True),
        ]
        taken += [words(text) for text in sheet.unread]
    half = paper.WIDTH / 2
    box = grid(
        [[taken, caution]],
        [half - 30, half + 30],
        [
            ("BOX", (1, 0), (1, 0), 1.4, paper.INK),
            ("LEFTPADDING", (0, 0), (0, 0), 0),
            ("LEFTPADDING", (1, 0), (1, 0), 8),
            ("RIGHTPADDING", (1, 0), (1, 0), 8),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
        ],
    )
    return [words(sheet.title, 20, bold=True), paper.Spacer(1, 10), box, paper.Spacer(1, 14)]


def _neighbors(sheet: PrintedSheet) -> list[Any]:
    """Return the list of what the module is wired to."""
    if not sheet.neighbors:
        return []
    rows: list[list[Any]] = [[words(head, 9, bold=True, color="#ffffff") for head in NEIGHBOR_HEADS]]
    for item in sheet.neighbors:
        rows.append(
            [
                words(item.count, 11, bold=True),
                words(item.name, 10, bold=True),
                *[words(text, 9) if text else "" for text in (item.connectors, item.through, item.circuits)],
                words(item.mark, 9, bold=True) if item.mark else "",
            ]
        )
    style = [
        ("BACKGROUND", (0, 0), (-1, 0), paper.INK),
        ("LINEBELOW", (0, 0), (-1, -1), paper.HAIR, paper.INK),
        ("BOX", (0, 0), (-1, -1), 1.2, paper.INK),
        ("LEFTPADDING", (0, 0), (-1, -1), 4),
    ]
    widths = [paper.WIDTH * share for share in _NEIGHBOR_SHARES]
    note = [words(NEIGHBORS_NOTE, 9)] if any("ONLY" in item.mark for item in sheet.neighbors) else []
    title = words(NEIGHBORS_TITLE, 14, bold=True)
    return [
        paper.CondPageBreak(_ROOM),
        *[title, paper.Spacer(1, 6), grid(rows, widths, style, repeat=1), *note, paper.Spacer(1, 16)],
    ]


def _closing(sheet: PrintedSheet) -> list[Any]:
    return [
        paper.KeepTogether(
            [
                words("Documents", 9, bold=True),
                *[mixed([(f"{letter}  ", True), (name, False)]) for letter, name in sheet.documents],
            ]
        )
    ]


def _part(part: PrintedPart, ask: Ask) -> list[Any]:
    rows: list[list[Any]] = [_band_row(part), _head_row()]
    style: list[tuple[Any, ...]] = [*_frame_style()]
    if part.head or part.counts or part.warnings:
        rows.append([_facts(part), *[""] * _LAST])
        style += [("SPAN", (0, 2), (-1, 2)), ("BACKGROUND", (0, 2), (-1, 2), paper.PALE)]
    for line in part.lines:
        _add_line(rows, style, line, ask)
    _add_free(rows, style)
    return [grid(rows, _WIDTHS, style, repeat=2)]


def _band_row(part: PrintedPart) -> list[Any]:
    # On one line, as it stands on every page; a name cut short here stands in full in the head below.
    full = f"{part.name}  –  {part.component}" if part.component else part.name
    name = paper.shortened(full, 14, sum(_WIDTHS[:_TICK]) - 12, bold=True)
    return [
        words(name, 14, bold=True, color="#ffffff"),
        *[""] * (_TICK - 1),
        *[Upright(tick) for tick in TICKS],
    ]


def _head_row() -> list[Any]:
    return [*[words(head, 9, bold=True, color="#ffffff") for head in _HEADS], *[""] * len(TICKS)]


def _frame_style() -> list[tuple[Any, ...]]:
    return [
        ("SPAN", (0, 0), (_TICK - 1, 0)),
        *[("SPAN", (n, 0), (n, 1)) for n in range(_TICK, _LAST + 1)],
        ("VALIGN", (_TICK, 0), (-1, 1), "BOTTOM"),
        ("BACKGROUND", (0, 0), (-1, 1), paper.INK),
        ("VALIGN", (0, 1), (-1, 1), "BOTTOM"),
        ("LEFTPADDING", (0, 0), (-1, -1), 4),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3),
        ("LEFTPADDING", (_TICK, 0), (-1, 1), 4.5),
        ("LEFTPADDING", (_TICK, 2), (-1, -1), 2.5),
        ("RIGHTPADDING", (_TICK, 1), (-1, -1), 2),
        ("TOPPADDING", (0, 1), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 5),
        ("LINEBELOW", (0, 2), (-1, -1), paper.HAIR, paper.INK),
        ("BOX", (0, 0), (-1, -1), 1.2, paper.INK),
    ]


def _facts(part: PrintedPart) -> list[Any]:
    """Return the connector's head as printed, its counts, and what to look out for."""
    name = ((part.name, part.component),) if len(part.name) + len(part.component) > _BAND else ()
    lines = [mixed(_pairs(pairs)) for pairs in (name, part.head, part.counts) if pairs]
    return [*lines, *[mixed([("! ", True), (text, True)]) for text in part.warnings]]


def _pairs(pairs: tuple[tuple[str, str], ...]) -> list[tuple[str, bool]]:
    """Return "label text" pairs with a dot between them, the texts bold."""
    parts: list[tuple[str, bool]] = []
    for label, text in pairs:
        parts += [("  ·  " if parts else "", False), (f"{label} ", False), (text, True)]
    return parts


def _add_line(rows: list[list[Any]], style: list[tuple[Any, ...]], line: PrintedLine, ask: Ask) -> None:
    row = len(rows)
    rows.append([*_cells(line), *_ticks(line)])
    if line.empty:
        style.append(("BACKGROUND", (0, row), (-1, row), paper.PALE))
    if not line.doubts:
        return
    style += [
        ("LINEBELOW", (0, row), (-1, row), 0, paper.PALE),
        ("LINEBEFORE", (0, row), (0, row + 1), 4, paper.INK, "butt"),
        ("SPAN", (1, row + 1), (-1, row + 1)),
        ("NOSPLIT", (0, row), (-1, row + 1)),
    ]
    said: list[Any] = [mixed([("IN DOUBT  ", True), ("; ".join(line.doubts), False)])]
    image = ask(line.pin) if line.pin else None
    if image is not None:
        said += [paper.Spacer(1, 3), picture(image, *_CROP)]
    rows.append([words("?", 14, bold=True), said, *[""] * (_LAST - 1)])


def _cells(line: PrintedLine) -> list[Any]:
    function: list[Any] = [words(line.function, 9)] if line.function else []
    function += [words(note, 8.5, bold=note.startswith(LOUD)) for note in line.notes]
    ends: list[Any] = [
        # no line break within `A p. 5`
        mixed(
            [(place.at, True), (f" {place.what}", False)], small=place.page.replace(" p. ", "\u00a0p.\u00a0")
        )
        for place in line.ends
    ]
    if line.ends_note:
        ends.append(words(line.ends_note, 9, color=_QUIET))
    return [
        words(line.cavity, 14, bold=True),
        words(line.circuit, 11, bold=True) if line.circuit else "",
        _colour(line),
        function,
        words(line.size, 9) if line.size else "",
        ends,
        [words(text, 9) for text in line.through],
        [words(text, 9) for text in line.fed_by],
        [words(text, 8.5) for text in line.source],
    ]


def _colour(line: PrintedLine) -> list[Any]:
    if line.wire is None:
        return []
    said = [words(line.wire.words, 9)]
    code = words(line.wire.code, 10, bold=True)
    if len(line.wire.code) > _CODE:
        return [paper.Spacer(1, 1), Swatch(line.wire), code, *said]
    room = _WIDTHS[2] - 7
    none = [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]
    beside = grid([[Swatch(line.wire), code]], [Swatch.wide + 4, room - Swatch.wide - 4], none)
    return [beside, *said]


def _ticks(line: PrintedLine) -> list[Any]:
    return [""] * len(TICKS) if line.empty else [TickBox() for _ in TICKS]


def _add_free(rows: list[list[Any]], style: list[tuple[Any, ...]]) -> None:
    """Add ruled lines for what the manual does not know."""
    row = len(rows)
    rows.append([words(FREE_TITLE, 9, bold=True), *[""] * _LAST])
    style += [("SPAN", (0, row), (-1, row)), ("BACKGROUND", (0, row), (-1, row), paper.PALE)]
    for number in range(1, FREE_LINES + 1):
        rows.append([paper.Spacer(1, 16), *[""] * (_LAST - len(TICKS)), *[TickBox() for _ in TICKS]])
        style.append(("NOSPLIT", (0, row + number - 1), (0, row + number)))
    columns = range(1, _TICK)
    style += [("LINEBEFORE", (n, row + 1), (n, -1), 0.4, paper.GREY) for n in columns]
