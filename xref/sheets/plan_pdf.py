"""The plan on paper: a cover, a section per connector to work at, lists, and the sheet for the meter."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from xref.sheets import paper
from xref.sheets.paper import Blank, Swatch, TickBox, Upright, grid, mixed, words
from xref.sheets.printed import Wire
from xref.sheets.printed_plan import (
    CUT_HEADS,
    FIGURE_HEADS,
    NO_QUESTIONS,
    PLAN_TICKS,
    QUESTIONS_TITLE,
    READS,
    SUMMARY_TITLE,
    UNREAD_TITLE,
    WORK_TITLE,
    Listing,
    PrintedCut,
    PrintedPlan,
    PrintedStation,
)

#: A box a gloved hand with a thick pen can tick.
_BOX = 16.0
_TICK_WIDE = 22.0
_WIDTHS = (40.0, 72.0, 86.0, 78.0, 104.0, 132.0, 114.0, 41.8, *[_TICK_WIDE] * len(PLAN_TICKS))
_TICK = len(CUT_HEADS)
_LAST = len(_WIDTHS) - 1
_METER, _LABELS = 4, 5
#: A heading is not begun below this much room: band, column heads and two lines.
_ROOM = 150.0
_FIGURE_SHARES = (0.31, 0.2, 0.13, 0.36)
#: Of the width of the cover: the counts; beside them what is open.
_FIGURES_SHARE = 0.66
#: Lines that are written on by hand are this high, in points: 8 mm.
_WRITTEN_ON = 23.0
#: Longer texts may make a line higher than a page: nothing in it is kept together then.
_LONG = 250
#: A longer code does not fit beside its swatch and stands below it.
_CODE = 6


def write_plan_pdf(plan: PrintedPlan, path: Path) -> None:
    """Write the plan as PDF."""
    story: list[Any] = [*_cover(plan)]
    if plan.stations:
        story += [paper.CondPageBreak(paper.PAGE[1]), words(WORK_TITLE, 15, bold=True), paper.Spacer(1, 6)]
    for station in plan.stations:
        story += [paper.CondPageBreak(_ROOM), _station(station), paper.Spacer(1, 14)]
    for listing in plan.listings:
        story += [paper.CondPageBreak(_ROOM), *_listing(listing), paper.Spacer(1, 14)]
    if plan.documents:
        story.append(paper.KeepTogether([words("Documents", 9, bold=True), *_documents(plan)]))

    def margin(pen: Any, page: int, pages: int) -> None:
        _margin(pen, plan, page, pages)

    paper.print_story(path, f"Plan of a move: {plan.title}", story, margin)


def _documents(plan: PrintedPlan) -> list[Any]:
    return [mixed([(f"{letter}  ", True), (name, False)]) for letter, name in plan.documents]


def _margin(pen: Any, plan: PrintedPlan, page: int, pages: int) -> None:
    """Draw what stands on every page: which plan, page n of m, the caution, the documents' letters."""
    right, top = paper.SIDE + paper.WIDTH, paper.PAGE[1] - 36
    pen.setFillColor(paper.INK)
    taken = paper.line_of(pen, f"page {page} of {pages}", right, top, 10, bold=True, right=True)
    wide = paper.line_of(pen, "Plan of a move  ", paper.SIDE, top, 10)
    names = (plan.machine,) if page == 1 else (plan.title, plan.machine)
    title = " — ".join(name for name in names if name)
    room = paper.WIDTH - wide - taken - 20
    paper.line_of(pen, paper.shortened(title, 12, room, bold=True), paper.SIDE + wide, top, 12, bold=True)
    pen.setStrokeColor(paper.INK)
    pen.setLineWidth(1.6)
    pen.line(paper.SIDE, top - 6, right, top - 6)
    pen.setLineWidth(paper.HAIR)
    pen.line(paper.SIDE, paper.BELOW - 6, right, paper.BELOW - 6)
    paper.line_of(pen, plan.caution_short, paper.SIDE, paper.BELOW - 17, 8.5, bold=True)
    letters = "   ".join(f"{letter} = {name}" for letter, name in plan.documents)
    if letters:
        said = paper.shortened(f"Documents: {letters}", 8, paper.WIDTH)
        paper.line_of(pen, said, paper.SIDE, paper.BELOW - 28, 8)


def _cover(plan: PrintedPlan) -> list[Any]:
    """Return the first page: the name, the caution, the counts, and what is open."""
    caution = [words("Before anything is cut", 10, bold=True), *[words(text, 9) for text in plan.cautions]]
    box = grid(
        [[caution]],
        [paper.WIDTH],
        [
            ("BOX", (0, 0), (-1, -1), 1.4, paper.INK),
            ("LEFTPADDING", (0, 0), (-1, -1), 8),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 7),
        ],
    )
    story: list[Any] = [words(plan.title, 20, bold=True), paper.Spacer(1, 10), box, paper.Spacer(1, 10)]
    if plan.nothing:
        story += [words(plan.nothing, 12, bold=True), paper.Spacer(1, 8)]
    left = paper.WIDTH * _FIGURES_SHARE
    sides = grid(
        [[_figures(plan, left - 14), _summary(plan)]],
        [left, paper.WIDTH - left],
        [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (1, 0), (1, 0), 0)],
    )
    return [*story, sides, paper.Spacer(1, 8), *_questions(plan)]


def _summary(plan: PrintedPlan) -> list[Any]:
    """Return how many questions of each kind are open, and which pages the plan knows nothing of."""
    story: list[Any] = [words(SUMMARY_TITLE, 12, bold=True), paper.Spacer(1, 2)]
    for title, questions in plan.questions:
        story.append(mixed([(f"{len(questions)}  ", True), (title, False)], 10))
    if not plan.questions:
        story.append(words(NO_QUESTIONS, 10))
    if plan.unread:
        story += [paper.Spacer(1, 8), words(UNREAD_TITLE, 10, bold=True)]
        story += [words(text) for text in plan.unread]
    return story


def _questions(plan: PrintedPlan) -> list[Any]:
    if not plan.questions:
        return []
    rows: list[list[Any]] = [[words(QUESTIONS_TITLE, 12, bold=True, color="#ffffff"), ""]]
    style: list[tuple[Any, ...]] = [
        *_list_frame(heads=1),
        ("SPAN", (0, 0), (-1, 0)),
        ("VALIGN", (0, 1), (0, -1), "MIDDLE"),
    ]
    for title, questions in plan.questions:
        style += [
            ("SPAN", (0, len(rows)), (-1, len(rows))),
            ("BACKGROUND", (0, len(rows)), (-1, len(rows)), paper.PALE),
        ]
        style.append(("NOSPLIT", (0, len(rows)), (0, len(rows) + 1)))
        rows.append([words(f"{title} ({len(questions)})", 9.5, bold=True), ""])
        for text, settle in questions:
            rows.append([TickBox(_BOX - 3), [words(text, 9), mixed([("→ ", True), (settle, False)], 8.5)]])
    return [grid(rows, [24, paper.WIDTH - 24], style, repeat=1), paper.Spacer(1, 12)]


def _figures(plan: PrintedPlan, wide: float) -> Any:
    rows: list[list[Any]] = [[words(head, 9, bold=True, color="#ffffff") for head in FIGURE_HEADS]]
    for item in plan.figures:
        said = (words(item.title, 9), words(item.figure, 9.5, bold=True))
        rows.append([*said, words(item.one_by_one or "–", 9), words(item.how, 8)])
    style = [
        *_list_frame(heads=1),
        ("TOPPADDING", (0, 1), (-1, -1), 0.5),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 3),
    ]
    return grid(rows, [wide * share for share in _FIGURE_SHARES], style)


def _list_frame(*, heads: int) -> list[tuple[Any, ...]]:
    return [
        ("BACKGROUND", (0, 0), (-1, heads - 1), paper.INK),
        ("LINEBELOW", (0, heads), (-1, -1), paper.HAIR, paper.INK),
        ("BOX", (0, 0), (-1, -1), 1.2, paper.INK),
        ("LEFTPADDING", (0, 0), (-1, -1), 4),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3),
    ]


def _station(station: PrintedStation) -> Any:
    full = f"{station.name}  –  {station.component}" if station.component else station.name
    full = f"{full}  –  {station.going}"
    name = paper.shortened(full, 14, sum(_WIDTHS[:_TICK]) - 12, bold=True)
    band = [words(name, 14, bold=True, color="#ffffff"), *[""] * (_TICK - 1), *map(Upright, PLAN_TICKS)]
    heads = [*[words(head, 9, bold=True, color="#ffffff") for head in CUT_HEADS], *[""] * len(PLAN_TICKS)]
    rows: list[list[Any]] = [band, heads]
    style = _station_frame()
    if not _is_long(station.cuts[0]):
        style.append(("NOSPLIT", (0, 2), (0, 3)))
    checks = [mixed([("Before each: ", True), (f"{'; '.join(station.checks)}.", False)], 9)]
    if name != full:
        checks.insert(0, words(full, 9, bold=True))
    rows.append([checks, *[""] * _LAST])
    for cut in station.cuts:
        _add_cut(rows, style, cut)
    return grid(rows, _WIDTHS, style, repeat=2)


def _station_frame() -> list[tuple[Any, ...]]:
    return [
        *_list_frame(heads=2),
        ("SPAN", (0, 0), (_TICK - 1, 0)),
        *[("SPAN", (n, 0), (n, 1)) for n in range(_TICK, _LAST + 1)],
        ("VALIGN", (_TICK, 0), (-1, 1), "BOTTOM"),
        ("VALIGN", (0, 1), (-1, 1), "BOTTOM"),
        ("LEFTPADDING", (_TICK, 0), (-1, 1), 6.5),
        ("LEFTPADDING", (_TICK, 2), (-1, -1), 3),
        ("RIGHTPADDING", (_TICK, 1), (-1, -1), 2),
        ("TOPPADDING", (0, 1), (-1, -1), 4),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 6),
        ("TOPPADDING", (_TICK, 0), (-1, 0), 30),  # room for the upright words where the name is short
        ("SPAN", (0, 2), (-1, 2)),
        ("BACKGROUND", (0, 2), (-1, 2), paper.PALE),
    ]


def _add_cut(rows: list[list[Any]], style: list[tuple[Any, ...]], cut: PrintedCut) -> None:
    if cut.safety:
        style.append(("LINEBEFORE", (0, len(rows)), (0, len(rows)), 4, paper.INK, "butt"))
    safety = [words(f"SAFETY: {cut.safety}", 9, bold=True)] if cut.safety else []
    meter = [words(text, 8.5) for text in cut.meter]
    rows.append(
        [
            words(cut.cavity, 14, bold=True),
            [words(cut.circuit or "no number", 11, bold=True), *[words(t, 8) for t in [cut.does] if t]],
            [*_colour(cut.wire, _WIDTHS[2] - 7), *[words(t, 8.5) for t in [cut.size] if t]],
            [*safety, words(cut.where, 9)],
            [*meter, Blank(READS, _WIDTHS[_METER] - 8, "Ω")],
            _labels(cut),
            [
                mixed([("plug: ", True), (cut.plug, False)], 8.5),
                mixed([("loom: ", True), (cut.loom, False)], 8.5),
                *[words(text, 8.5) for text in cut.extensions],
            ],
            words(cut.source, 8.5),
            *[TickBox(_BOX) for _ in PLAN_TICKS],
        ]
    )


def _labels(cut: PrintedCut) -> Any:
    """Return both labels, framed as on the wire; long ones as running text, which may go on overleaf."""
    near, far = (words(text, 9, bold=True) for text in cut.labels)
    if _is_long(cut):
        return [near, far]
    frame = [
        ("GRID", (0, 0), (-1, -1), 0.8, paper.INK),
        ("LEFTPADDING", (0, 0), (-1, -1), 3),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
    ]
    return grid([[[near]], [[far]]], [_WIDTHS[_LABELS] - 8], frame)


def _is_long(cut: PrintedCut) -> bool:
    texts = (cut.cavity, cut.circuit, cut.does, cut.where, cut.plug, cut.loom)
    return max(map(len, (*texts, *cut.meter, *cut.labels, *cut.extensions))) > _LONG


def _colour(wire: Wire | None, room: float) -> list[Any]:
    if wire is None:
        return [words("no colour printed", 8.5)]
    said = words(wire.words, 9)
    if not wire.code:
        return [Swatch(wire), said]
    code = words(wire.code, 10, bold=True)
    if len(wire.code) > _CODE:
        return [paper.Spacer(1, 1), Swatch(wire), code, said]
    none = [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]
    return [grid([[Swatch(wire), code]], [Swatch.wide + 4, room - Swatch.wide - 4], none), said]


def _listing(listing: Listing) -> list[Any]:
    free = [n for n, head in enumerate(listing.heads) if head.endswith("…")]
    heads = [*(head.rstrip("…") for head in listing.heads), *listing.ticks]
    room = paper.WIDTH - sum(_tick_wide(tick) for tick in listing.ticks)
    widths = [*(room * share for share in listing.shares), *map(_tick_wide, listing.ticks)]
    rows: list[list[Any]] = [[words(head, 9, bold=True, color="#ffffff") for head in heads]]
    for row in listing.rows:
        cells = [_cell(cell, n, widths[n]) for n, cell in enumerate(row)]
        rows.append([*cells, *[TickBox(_BOX) for _ in listing.ticks]])
    style = [*_list_frame(heads=1), *[("LINEBEFORE", (n, 1), (n + 1, -1), 0.4, paper.GREY) for n in free]]
    if free:
        style.append(("BOTTOMPADDING", (0, 1), (-1, -1), _WRITTEN_ON - 14))
    note = [words(listing.note, 9), paper.Spacer(1, 4)] if listing.note else []
    return [
        words(listing.title, 14, bold=True),
        paper.Spacer(1, 4),
        *note,
        grid(rows, widths, style, repeat=1),
    ]


def _tick_wide(tick: str) -> float:
    return 12.0 + 5.0 * len(tick)


def _cell(cell: str | Wire, column: int, wide: float) -> Any:
    if isinstance(cell, Wire):
        return _colour(cell, wide - 7)
    return words(cell, 10 if column == 0 else 9, bold=column == 0) if cell else ""
