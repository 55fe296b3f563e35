"""`xref plan done PLAN.toml ID…`: what was labelled, metered, cut, joined, capped; and taking it back."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.options import JsonOption, PlanArgument, session_of
from xref.cli.plan_words import STEP_WORDS, done_words, open_words, time_words, worked_plan
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import counted, listed
from xref.errors import UsageError

if TYPE_CHECKING:
    from xref.moves.marking import Wanted
    from xref.moves.progress import LineState, Progress
    from xref.moves.records import Plan
    from xref.store.work_progress import Mark, Step
    from xref.workspace import Workspace

#: A note is a remark beside a line, not a report.
_LONGEST_NOTE = 500


def run(
    ctx: typer.Context,
    file: PlanArgument,
    ids: Annotated[list[str], typer.Argument(metavar="ID...", help="Lines, as the plan prints them.")],
    step: Annotated[
        str,
        typer.Option(
            "--step",
            metavar="STEP",
            help="labelled (both labels are on), metered, cut, joined or capped. Left out: a cut is cut, "
            "a joint joined, a cap capped; with --value metered.",
        ),
    ] = "",
    value: Annotated[
        str,
        typer.Option("--value", metavar="TEXT", help='What the meter showed: "0.3 ohm"; OL: open.'),
    ] = "",
    note: Annotated[str, typer.Option("--note", metavar="TEXT", help="A remark, kept with the mark.")] = "",
    undo: Annotated[
        bool,
        typer.Option(
            "--undo", help="Take back the last mark of each line, or its last STEP.", show_default=False
        ),
    ] = False,
    anyway: Annotated[
        bool,
        typer.Option(
            "--anyway",
            help="Also where the step's turn has not come; what was missing is kept with the mark.",
            show_default=False,
        ),
    ] = False,
    as_json: JsonOption = False,
) -> int:
    """Mark lines of a plan as labelled, metered, cut, joined or capped.

    A wire is marked cut only when both its labels are on and it was metered. What is marked is on the disk
    when the command has said so. Exit code 1: nothing new was marked.
    """
    wanted = _wanted(ids, step, value, note, undo, anyway)
    workspace = session_of(ctx).workspace
    plan = worked_plan(workspace, file)
    new, already, progress = _undone(workspace, plan, wanted) if undo else _marked(workspace, plan, wanted)
    if as_json:
        write_json(_to_json(new, already, progress, undo))
    else:
        print_done(results(), new, already, progress)
    return 0 if new else 1


def _wanted(ids: list[str], step: str, value: str, note: str, undo: bool, anyway: bool) -> Wanted:
    """Return what the person says was done; raises UsageError where it does not go together."""
    from xref.moves.marking import Wanted
    from xref.moves.readings import checked_reading

    if undo and (value or note):
        raise UsageError("--undo takes no --value and no --note.", hint="Mark anew what is right.")
    if len(note) > _LONGEST_NOTE:
        raise UsageError(f"A note has at most {_LONGEST_NOTE} characters.")
    return Wanted(
        ids=tuple(id_ for text in ids for id_ in re.split("[,;]", text) if id_.strip()) or tuple(ids),
        step=_step(step),
        value=checked_reading(value) if value else "",
        note=" ".join(note.split()),
        anyway=anyway,
    )


def print_done(screen: Screen, new: list[Mark], already: list[Mark], progress: Progress) -> None:
    """Write what was marked or taken back, what comes next at these lines, and whether wires lie open."""
    from xref.moves.readings import is_live, why_no_continuity

    verb = "taken back" if any(mark.undone_at for mark in new) else "marked"
    screen.line(f"{counted(len(new), 'line')} {verb}.", "bold")
    if new:
        screen.rows(
            [
                Row(
                    cells=(mark.line, done_words(mark), time_words(mark.undone_at or mark.at)),
                    notes=[(f"although {mark.anyway}", "doubt")] if mark.anyway and mark.holds else [],
                )
                for mark in new
            ]
        )
    for mark in new:
        if mark.kind == "cut" and mark.holds and is_live(mark.value):
            screen.line(
                f"{mark.line} IS LIVE: {mark.value}. Do not cut. Find what feeds it, then meter again.",
                "doubt",
            )
        elif mark.kind == "cut" and mark.holds and mark.value and (why := why_no_continuity(mark.value)):
            screen.line(f"{mark.line} shows no continuity: {mark.value}, {why}. Do not cut by it.", "doubt")
    for mark in already:
        screen.line(f"{mark.line} was marked {mark.step} already, {time_words(mark.at)}.", "", 2)
    following = _touched(progress, new, already)
    if following:
        screen.line("Next: " + listed([f"{s.line.id} {STEP_WORDS[s.next or '']}" for s in following]) + ".")
    screen.line(open_words(progress), "" if progress.whole else "doubt")


def _touched(progress: Progress, new: list[Mark], already: list[Mark]) -> list[LineState]:
    """Return the lines of these marks that have something left to do."""
    touched = {mark.key for mark in (*new, *already)}
    return [state for state in progress.left if state.line.key in touched]


def _to_json(new: list[Mark], already: list[Mark], progress: Progress, undo: bool) -> dict[str, object]:
    from xref.moves.json_progress import mark_to_json

    said = [mark_to_json(mark) for mark in new]
    return {
        "marked": [] if undo else said,
        "already": [mark_to_json(mark) for mark in already],
        "undone": said if undo else [],
        "next": [
            {"line": state.line.id, "next": state.next, "remarks": list(state.remarks)}
            for state in _touched(progress, new, already)
        ],
        "left": len(progress.left),
        "whole": progress.whole,
        "open": list(progress.open),
    }


def _marked(workspace: Workspace, plan: Plan, wanted: Wanted) -> tuple[list[Mark], list[Mark], Progress]:
    from xref.moves.marking import Made, marks_wanted
    from xref.moves.progress import progress_of
    from xref.store.work_progress import Marks

    made = Made()

    def judged(marks: list[Mark]) -> list[Mark]:
        nonlocal made
        made = marks_wanted(plan, marks, wanted)
        return made.marks

    with Marks.open(workspace, write=True) as work:
        new = work.add(plan.machine, judged)
        return new, made.already, progress_of(plan, work.marks(plan.machine))


def _undone(workspace: Workspace, plan: Plan, wanted: Wanted) -> tuple[list[Mark], list[Mark], Progress]:
    from xref.moves.marking import marks_to_undo
    from xref.moves.progress import progress_of
    from xref.store.work_progress import Marks

    with Marks.open(workspace, write=True) as work:
        taken = work.undo(plan.machine, lambda marks: marks_to_undo(plan, marks, wanted))
        return taken, [], progress_of(plan, work.marks(plan.machine))


def _step(text: str) -> Step | None:
    from xref.moves.progress_lines import ALL_STEPS

    folded = text.strip().casefold()
    if not folded:
        return None
    for step in ALL_STEPS:
        if folded in (step, STEP_WORDS[step]):
            return step
    raise UsageError(f"There is no step {text}.", hint=f"Steps: {', '.join(ALL_STEPS)}.")
