"""`xref plan show PLAN.toml`: the move worked out, what is open first; `-o FILE` writes it to work by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli import plan_print
from xref.cli.options import JsonOption, PlanArgument, session_of
from xref.cli.terminal import results, write_json
from xref.errors import UsageError

if TYPE_CHECKING:
    from xref.harness.answers import Outdated
    from xref.moves.records import Plan
    from xref.records import PageNote
    from xref.workspace import Workspace


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A plan worked out, and which pages the index knows nothing of."""

    plan: Plan
    unread: tuple[PageNote, ...]
    outdated: tuple[Outdated, ...]


def run(
    ctx: typer.Context,
    file: PlanArgument,
    output: Annotated[
        Path | None,
        typer.Option("--output", "-o", metavar="FILE", help="To work by, as .pdf, .xlsx, .html or .csv."),
    ] = None,
    as_json: JsonOption = False,
    strict: Annotated[
        bool,
        typer.Option(
            "--strict", help="Exit code 1 if nothing moves or a question is open.", show_default=False
        ),
    ] = False,
) -> int:
    """Work a plan out: what is open, what goes, and every cut with its labels.

    It proposes; the meter decides. Nothing is done by this command but to show.
    """
    answer = worked(session_of(ctx).workspace, file)
    if output is not None:
        from xref.sheets.plan import write_plan

        if output.suffix.lower() == ".toml":
            raise UsageError(f"{output} looks like a plan.", hint="Write -o FILE.pdf, .xlsx, .html or .csv.")
        write_plan(answer.plan, output, unread=answer.unread)
    if as_json:
        write_json(_to_json(answer, output))
    elif output is not None:
        plan_print.print_written(results(), answer.plan, output)
    else:
        plan_print.print_plan(results(), answer.plan, answer.unread, answer.outdated)
    moves = any(net.touched for net in answer.plan.nets)
    return 1 if strict and (answer.plan.questions or not moves) else 0


def worked(workspace: Workspace, file: Path) -> Answer:
    """Read a plan file and work it out. Raises PlanError."""
    from xref.harness.outdated import outdated_documents
    from xref.moves.plan_file import read_plan
    from xref.moves.work_out import work_out
    from xref.store.index import Index

    said = read_plan(file)
    with Index.open(workspace) as index:
        plan = work_out(index, said)
        return Answer(
            plan=plan,
            unread=tuple(index.unread_pages(plan.machine)),
            outdated=outdated_documents(index, plan.machine),
        )


def _to_json(answer: Answer, output: Path | None) -> dict[str, object]:
    from xref.moves.json_plan import plan_to_json

    return {
        **plan_to_json(answer.plan),
        "written": None if output is None else str(output),
        "unread_pages": _pages(answer.unread),
        "outdated_documents": [{"document": item.document, "why": item.why} for item in answer.outdated],
    }


def _pages(notes: Iterable[PageNote]) -> list[dict[str, object]]:
    return [{"document": note.document, "page": note.page, "why": note.why} for note in notes]
