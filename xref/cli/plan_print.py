"""A plan on the terminal: what could not be decided first, then what happens, then every line of work."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from xref.cli import blocks
from xref.cli.terminal import Row, Screen, Style
from xref.cli.text import counted, listed
from xref.colors.words import in_words

if TYPE_CHECKING:
    from xref.harness.answers import Outdated
    from xref.moves.records import HostNeed, Join, Plan
    from xref.moves.worklist import WorkLine, WorkPlace
    from xref.records import PageNote

#: Circuits named in one line; a sheet or --json names them all.
_MOST_NAMED = 8


def print_plan(screen: Screen, plan: Plan, unread: Sequence[PageNote], outdated: Sequence[Outdated]) -> None:
    """Write the whole plan."""
    screen.line(f"Plan {plan.name}{blocks.machine_words(plan.machine)}", "bold")
    if not any(net.touched for net in plan.nets):
        screen.line("Nothing moves: no place is given. Nothing is cut.")
    _questions(screen, plan)
    _refused(screen, plan)
    _fates(screen, plan)
    _inlines(screen, plan)
    _host(screen, plan.host)
    _kept(screen, plan)
    _cuts(screen, plan)
    _joins(screen, plan)
    _caps(screen, plan)
    _links(screen, plan)
    _wire(screen, plan)
    print_figures(screen, plan)
    screen.line()
    screen.line("BEFORE YOU CUT", "bold")
    for text in plan.cautions:
        screen.line(text, "", 2)
    blocks.outdated(screen, outdated)
    blocks.unread_pages(screen, unread)


def print_written(screen: Screen, plan: Plan, output: Path) -> None:
    """Write where the plan lies now, and what is open in it."""
    from xref.moves.questions import by_kind

    screen.line(f"Plan written: {output}", "bold")
    for title, questions in by_kind(plan.questions):
        screen.line(f"OPEN: {title} ({len(questions)})", "doubt", 2)
    print_figures(screen, plan)


def print_figures(screen: Screen, plan: Plan) -> None:
    """Write every count beside that of the move made module by module, and how it was got."""
    from xref.moves.figures import figures_of

    rows = [
        Row(
            cells=(
                item.title,
                item.figure,
                f"one by one: {item.one_by_one}" if item.one_by_one else "",
                item.how,
            )
        )
        for item in figures_of(plan)
    ]
    blocks.block(screen, "COUNTS, and what the same move takes made one module at a time", rows)


def _questions(screen: Screen, plan: Plan) -> None:
    from xref.moves.questions import by_kind

    if not plan.questions:
        return
    screen.line()
    screen.line(f"NOT DECIDED: {counted(len(plan.questions), 'question')}", "doubt")
    for title, questions in by_kind(plan.questions):
        screen.line(f"{title} ({len(questions)})", "bold", 2)
        for item in questions:
            screen.line(item.text, "", 4)
            screen.line(f"-> {item.settle}", "", 6)


def _refused(screen: Screen, plan: Plan) -> None:
    from xref.moves.ids import cavity_words

    rows = [
        Row(cells=(item.circuit, _some([cavity_words(p) for p in item.pins]), item.reason))
        for item in plan.refused
    ]
    blocks.block(screen, f"REFUSED: no cut is proposed for {counted(len(rows), 'net')}, ever", rows)


def _fates(screen: Screen, plan: Plan) -> None:
    from xref.moves.figures import FATE_WORDS, by_fate

    rows = []
    for fate, nets in by_fate(plan):
        touched = [net.name for net in nets if net.touched]
        notes: list[tuple[str, Style]] = [(_some(touched), "")] if touched and fate != "stays" else []
        rows.append(Row(cells=(str(len(nets)), fate, FATE_WORDS[fate]), notes=notes))
    blocks.block(screen, f"WHAT HAPPENS to the {counted(len(plan.nets), 'net')} of the machine", rows)


def _inlines(screen: Screen, plan: Plan) -> None:
    from xref.moves.worklist import inline_remarks

    for title, fate in (("IN-LINES THAT GO", "goes"), ("IN-LINES THAT STAY", "stays")):
        found = [item for item in plan.inlines if item.fate == fate]
        rows = [
            Row(
                cells=(
                    item.connector,
                    _still_used(item.cavities_used_after) if fate == "stays" else "",
                    item.because,
                ),
                notes=[(remark, "bold" if item.fate == "goes" else "") for remark in inline_remarks(item)],
            )
            for item in found
        ]
        blocks.block(screen, f"{title} ({len(found)})", rows)


def _still_used(number: int) -> str:
    return f"{counted(number, 'cavity', 'cavities')} still used" if number else ""


def _host(screen: Screen, needs: Sequence[HostNeed]) -> None:
    rows = [
        Row(
            cells=(
                blocks.where(need.pin),
                need.pin.component,
                need.kind,
                need.answer or "NOT ANSWERED",
                need.pin.function,
            )
        )
        for need in sorted(needs, key=lambda need: need.pin.component or need.pin.connector)
    ]
    blocks.block(screen, f"FROM THE NEW VEHICLE ({len(rows)})", rows)


def _kept(screen: Screen, plan: Plan) -> None:
    from xref.moves.kept_texts import bus_rows, supply_counts, supply_rows

    for module, text in zip(plan.supplies, supply_counts(plan.supplies), strict=True):
        rows = [Row(cells=cells) for _, *cells in supply_rows(module)]
        blocks.block(screen, f"FEEDS AND GROUNDS, {text}", rows)
    rows = [Row(cells=row) for pair in plan.buses for row in bus_rows(pair)]
    blocks.block(screen, f"BUS PAIRS ({len(plan.buses)}), power off, modules asleep", rows)


def _cuts(screen: Screen, plan: Plan) -> None:
    from xref.moves.worklist import work_places

    if not plan.cuts:
        return
    screen.line()
    screen.line(f"CUTS ({len(plan.cuts)}), in the order of work", "bold")
    for place in work_places(plan):
        _work_place(screen, place)


def _work_place(screen: Screen, place: WorkPlace) -> None:
    component = f" – {place.component}" if place.component else ""
    screen.line()
    screen.line(f"{place.name}{component} · {place.going} · {counted(len(place.lines), 'cut')}", "bold", 2)
    for text in place.checks:
        screen.line(f"first: {text}", "", 4)
    screen.rows([_work_line(line) for line in place.lines], 4)


def _work_line(line: WorkLine) -> Row:
    pin = line.colored
    color = in_words(pin.base_color, pin.stripe_color, pin.ring_color) or "colour not decided"
    notes: list[tuple[str, Style]] = [(f"meter first: {'; '.join(line.checks)}", "")] if line.checks else []
    if line.net.review:
        notes.insert(0, (f"SAFETY: {', '.join(line.net.review)}", "doubt"))
    further: list[tuple[str, Style]] = [
        (f"labels: {line.cut.labels[0]}  |  {line.cut.labels[1]}", ""),
        (f"plug stub: {line.plug}", ""),
        (f"loom stub: {line.loom}", ""),
        *[(f"extension {text}", "") for text in line.extensions],
        (blocks.page_of(line.cut.pin), ""),
    ]
    about = ", ".join(filter(None, (line.size, line.does)))
    if about:
        notes.insert(0, (about, ""))
    code = f"{pin.color_code} {color}".strip()
    cells = (line.cut.id, line.cut.pin.cavity, line.cut.circuit or "no number", code, line.cut.where)
    return Row(cells=cells, notes=[*notes, *further])


def _joins(screen: Screen, plan: Plan) -> None:
    blocks.block(screen, f"JOINTS ({len(plan.joins)})", [_join_row(join) for join in plan.joins])


def _join_row(join: Join) -> Row:
    from xref.moves.worklist import join_ends, stub_names, wire_words

    ends = [f"{place}: {stub_names(stubs) or 'the end of the extension'}" for place, stubs in join_ends(join)]
    notes: list[tuple[str, Style]] = [(text, "") for text in ends]
    what = f"to the new vehicle: {join.host}" if join.host else "joined directly"
    if join.wire is not None:
        wire = join.wire
        color = in_words(wire.base_color, wire.stripe_color, wire.ring_color) or wire.color
        what = f"extension, {wire_words(wire)}, {color or 'colour not known'}"
        notes.append((f"labels: {'  |  '.join(join.labels)}", ""))
    return Row(cells=(join.id, join.place, what), notes=notes)


def _caps(screen: Screen, plan: Plan) -> None:
    from xref.moves.worklist import LIVE_WORDS

    rows = [Row(cells=(cap.id, f"{cap.cut} {cap.side}", LIVE_WORDS[cap.live])) for cap in plan.caps]
    blocks.block(screen, f"STUBS TO BE CAPPED ({len(rows)})", rows)


def _links(screen: Screen, plan: Plan) -> None:
    names = {net.number: net.name for net in plan.nets}
    rows = [
        Row(cells=(names[link.net], f"{blocks.where(link.start)} – {blocks.where(link.end)}"))
        for link in plan.links
    ]
    blocks.block(screen, f"LINKS, the short way between modules that move together ({len(rows)})", rows)


def _wire(screen: Screen, plan: Plan) -> None:
    from xref.moves.figures import metres_text, size_text
    from xref.moves.needs import wire_needed

    rows = [
        Row(
            cells=(
                size_text(need.size_mm2),
                in_words(need.base_color, need.stripe_color, need.ring_color)
                or need.color
                or "colour not known",
                counted(need.pieces, "piece"),
                metres_text(need),
            )
        )
        for need in wire_needed(plan.joins)
    ]
    blocks.block(screen, "WIRE NEEDED (estimated: see the counts)", rows)


def _some(names: Sequence[str]) -> str:
    left = len(names) - _MOST_NAMED
    return listed(names) if left <= 0 else f"{', '.join(names[:_MOST_NAMED])} and {left} more"
