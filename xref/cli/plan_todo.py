"""`xref plan todo PLAN.toml`: what is left, in the order of work; the record of what was done."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli import blocks
from xref.cli.options import JsonOption, PlanArgument, session_of
from xref.cli.plan_words import (
    STEP_WORDS,
    done_words,
    lines_words,
    open_words,
    places_words,
    time_words,
    worked_plan,
)
from xref.cli.terminal import Row, Screen, Style, results, write_json
from xref.cli.text import counted, listed
from xref.errors import UsageError

if TYPE_CHECKING:
    from xref.moves.progress import LineState, NoLongerAsked, Progress
    from xref.moves.records import Plan
    from xref.store.work_progress import Mark

#: Endings the record may have.
_RECORD_SUFFIXES = (".csv", ".xlsx", ".json", ".parquet")


def run(
    ctx: typer.Context,
    file: PlanArgument,
    every: Annotated[
        bool, typer.Option("--all", help="Also lines that are done.", show_default=False)
    ] = False,
    history: Annotated[
        bool,
        typer.Option(
            "--history", help="Every mark in the order it was made, those taken back too.", show_default=False
        ),
    ] = False,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="FILE",
            help="Write the as-built record, every mark with its wire ends, as .csv, .xlsx, .json or "
            ".parquet; with --history those taken back too.",
        ),
    ] = None,
    as_json: JsonOption = False,
) -> int:
    """List what is left of a plan, plug by plug, each line with its next step.

    Exit codes as grep's: 0 while lines are left, 1 when nothing is left (or, with --history or -o, nothing
    is marked yet), which is no error. 2: wrong use.
    """
    from xref.moves.progress import progress_of
    from xref.store.work_progress import Marks

    workspace = session_of(ctx).workspace
    plan = worked_plan(workspace, file)
    with Marks.open(workspace) as work:
        marks = work.marks(plan.machine)
    if history or output is not None:
        chosen = [mark for mark in marks if history or mark.holds]
        _record(plan, chosen, output, as_json)
        return 0 if chosen else 1
    progress = progress_of(plan, marks)
    if as_json:
        from xref.moves.json_progress import progress_to_json

        write_json(progress_to_json(progress, every=every))
    else:
        print_todo(results(), progress, every=every)
    return 0 if progress.left else 1


def print_todo(screen: Screen, progress: Progress, *, every: bool = False) -> None:
    """Write what is left, where the machine is whole, what still crosses, and what is no longer asked for."""
    left, total = len(progress.left), len(progress.lines)
    head = f"{progress.plan}{blocks.machine_words(progress.machine)}"
    words = f"{left:,} of {lines_words(total)} left" if total else "the plan has no lines"
    screen.line(f"{head} – {words}.", "bold")
    if progress.lines:
        screen.rows(
            [
                Row(cells=(step, f"{done:,} done", f"{to_do:,} left" if to_do else "all done"))
                for step, (done, to_do) in progress.counts.items()
                if done or to_do
            ]
        )
    screen.line(open_words(progress), "" if progress.whole else "doubt")
    _print_lines(screen, progress.lines if every else progress.left)
    if any(state.line.kind == "cut" and not state.finished for state in progress.left):
        screen.line()
        screen.line("Power off, plugs off. Label both sides and meter before each cut; one wire at a time.")
    _print_stops(screen, progress)
    crossing = [
        Row(
            cells=(item.name, listed(item.places), item.why or f"{item.joined} of {item.of} joined"),
        )
        for item in progress.crossing
    ]
    blocks.block(screen, "STILL CROSSES BETWEEN PLACES", crossing)
    _print_gone(screen, progress.no_longer_asked)


def _print_lines(screen: Screen, states: Sequence[LineState]) -> None:
    for (connector, half), group in groupby(states, key=lambda s: (s.line.pin.connector, s.line.pin.half)):
        own = list(group)
        pin = own[0].line.pin
        title = f"{connector} half {half}" if half else connector
        blocks.block(screen, " · ".join(filter(None, (title, pin.component))), [_row(state) for state in own])


def _row(state: LineState) -> Row:
    line = state.line
    notes: list[tuple[str, Style]] = [(text, "doubt") for text in state.remarks]
    notes += [(f"{mark.step} {mark.value}".strip() + f", {time_words(mark.at)}", "") for mark in state.marks]
    waits = state.waits_for and state.next in ("joined", "capped")
    later = f"; then {', '.join(STEP_WORDS[step] for step in state.left[1:])}" if len(state.left) > 1 else ""
    what = f"{line.what}{later}"
    if waits:
        what += f"; waits until {listed(state.waits_for)} {'is' if len(state.waits_for) == 1 else 'are'} cut"
    return Row(
        cells=(
            line.id,
            STEP_WORDS[state.next] if state.next else "done",
            line.circuit,
            blocks.where(line.pin),
            line.pin.color_code,
            what,
        ),
        notes=notes,
    )


def _print_stops(screen: Screen, progress: Progress) -> None:
    """Write where the work may rest: plugs of which all lines are done, in the order of work."""
    rows = []
    for number, stop in enumerate(progress.stops, start=1):
        state = "reached" if stop.reached else f"{lines_words(stop.left)} left"
        opened = f"open now: {', '.join(stop.open)}" if stop.open else ""
        rows.append(Row(cells=(str(number), listed(stop.connectors), state, opened)))
    blocks.block(screen, "STOP POINTS – with all lines of a plug done, the machine is whole there", rows)


def _print_gone(screen: Screen, items: Sequence[NoLongerAsked]) -> None:
    rows = []
    for item in items:
        last = item.marks[-1]
        notes: list[tuple[str, Style]] = []
        if item.open:
            again = f"Joined again? xref plan done PLAN.toml {item.line} --undo --step cut"
            notes.append((f"This wire is cut and lies open. {again}", "doubt"))
        if item.here:
            notes.append((f"In the plan there is now: {', '.join(item.here)}", ""))
        said = f"was {listed(item.steps)}, the plan no longer asks for it ({time_words(last.at)})"
        rows.append(Row(cells=(item.line, places_words(last), said), notes=notes))
    blocks.block(screen, "DONE, AND NO LONGER IN THE PLAN", rows)


def _record(plan: Plan, marks: Sequence[Mark], output: Path | None, as_json: bool) -> None:
    """Write marks to a file or the screen."""
    from xref.moves.json_progress import COLUMNS, mark_to_json, record_rows
    from xref.moves.marking import plan_keys

    asked = plan_keys(plan)
    if output is not None:
        from xref.sheets.table import export_table

        if output.suffix.lower() not in _RECORD_SUFFIXES:
            endings = f"{', '.join(_RECORD_SUFFIXES[:-1])} or {_RECORD_SUFFIXES[-1]}"
            raise UsageError(
                f"{output.name}: the record of the work is no such file.", hint=f"It ends in {endings}."
            )
        export_table("as built", COLUMNS, record_rows(marks, asked), output)
    if as_json:
        write_json(
            {
                "plan": plan.name,
                "machine": plan.machine,
                "marks": [{**mark_to_json(mark), "in_plan": mark.key in asked} for mark in marks],
                "written": None if output is None else str(output),
            }
        )
        return
    if output is not None:
        results().line(f"{counted(len(marks), 'mark')} written to {output}.")
        return
    screen = results()
    screen.line(f"{plan.name}{blocks.machine_words(plan.machine)} – {counted(len(marks), 'mark')}.", "bold")
    if marks:
        screen.rows([_history_row(mark, mark.key in asked) for mark in marks])


def _history_row(mark: Mark, asked: bool) -> Row:
    notes: list[tuple[str, Style]] = []
    if mark.anyway:
        notes.append((f"although {mark.anyway}", "doubt"))
    if mark.undone_at:
        notes.append((f"taken back {time_words(mark.undone_at)}", ""))
    if not asked:
        notes.append(("the plan no longer asks for it", ""))
    return Row(cells=(time_words(mark.at), mark.line, done_words(mark)), notes=notes)
