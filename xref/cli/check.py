"""`xref check`: rows in doubt, worst first, with what to look at; and what the person decides."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from xref.cli import blocks, check_decide, check_files, check_teach
from xref.cli.check_session import (
    ListedRow,
    adrift_json,
    at_work,
    draw_rows,
    print_adrift,
    row_json,
    row_words,
)
from xref.cli.options import JsonOption, MachineOption, PasswordOption, machine_asked, session_of
from xref.cli.terminal import Screen, results, write_json
from xref.cli.text import counted, listed

if TYPE_CHECKING:
    from xref.harness.doubts import DoubtList

#: What the person may do with the rows; `xref check` alone lists them.
SUBCOMMANDS = {
    "show": check_decide.show,
    "accept": check_decide.accept,
    "correct": check_decide.correct,
    "set": check_decide.set_connector,
    "not-a-pinout": check_decide.not_a_pinout,
    "teach": check_teach.teach,
    "decisions": check_files.decisions,
    "undo": check_files.undo,
    "export": check_files.export,
    "import": check_files.import_,
}

#: Nobody works through more rows than these at one go; the worst are looked at first.
_MOST_ROWS = 60


def run(
    ctx: typer.Context,
    component: Annotated[
        str,
        typer.Option(
            "--for",
            metavar="COMPONENT",
            help="Only rows that stand in the way of this module: its plugs and their circuits.",
        ),
    ] = "",
    connector: Annotated[
        str, typer.Option("--connector", metavar="NAME", help="Only rows of this connector.")
    ] = "",
    every: Annotated[
        bool, typer.Option("--all", help="Also rows without doubt, with their numbers.", show_default=False)
    ] = False,
    most: Annotated[
        int, typer.Option("--limit", metavar="N", min=0, help="At most so many rows; 0 for all.")
    ] = _MOST_ROWS,
    pictures: Annotated[
        bool,
        typer.Option(
            "--pictures", help="Draw each row on its page, into .xref/pictures.", show_default=False
        ),
    ] = False,
    folder: Annotated[
        Path | None, typer.Option("--into", metavar="DIR", help="Draw the pictures into this folder.")
    ] = None,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    password: PasswordOption = "",
    strict: Annotated[
        bool, typer.Option("--strict", help="Exit code 1 if a row in doubt is left.", show_default=False)
    ] = False,
) -> int | None:
    """List rows in doubt, worst first; accept or correct them.

    Each row has a number that stays its own: xref check accept D12.
    """
    if ctx.invoked_subcommand is not None:
        return None
    from xref.harness.doubts import doubtful_rows

    session = session_of(ctx)
    with at_work(session) as (index, work):
        asked = machine_asked(index, machine)
        found = doubtful_rows(index, work, asked, component=component, connector=connector, vouched=every)
        shown = found.rows[:most] if most else found.rows
        drawn: Mapping[int, Path] = {}
        if pictures or folder is not None:
            drawn = draw_rows(index, session, shown, folder, password)
    rows = [ListedRow(found=row, picture=drawn.get(row.number)) for row in shown]
    if as_json:
        write_json(_to_json(found, rows))
    else:
        print_doubts(results(), found, rows, asked=component)
    nobody = bool(component) and not found.taken
    return 1 if nobody or (strict and any(row.pin.flags for row in found.rows)) else 0


def print_doubts(screen: Screen, found: DoubtList, rows: Sequence[ListedRow], *, asked: str = "") -> None:
    """Write the rows in doubt grouped by what is doubted, and what else needs the person."""
    from xref.harness.doubts import worst_doubt

    if asked and not found.taken:
        screen.line(f"No connector or component here is named {asked}.", "bold")
    elif asked:
        screen.line(f"{asked}: taken as {listed(found.taken)}.")
    doubtful = sum(bool(row.pin.flags) for row in found.rows)
    screen.line(f"{counted(doubtful, 'row')} in doubt{', worst first' if doubtful > 1 else ''}.", "bold")
    for doubt, members in groupby(rows, key=lambda row: worst_doubt(row.found.pin)):
        _print_doubt(screen, doubt, list(members))
    if len(rows) < len(found.rows):
        screen.line()
        screen.line(f"{len(found.rows) - len(rows):,} rows more: --limit 0 lists all.")
    print_adrift(screen, found.adrift)
    blocks.unread_pages(screen, found.unread_pages)
    if doubtful:
        screen.line()
        example = rows[0].found.name if rows else "D12"
        screen.line(f"Right as it stands:   xref check accept {example}   (--table: its whole table)")
        screen.line(f"Something is wrong:   xref check correct {example} --circuit … --color …")
        screen.line(
            f"Wrong connector:      xref check set {example} --name …   (its table goes to that name)"
        )
        screen.line(f"No pinout at all:     xref check not-a-pinout {example}")
        if not any(row.picture for row in rows):
            screen.line("Each row on its page: xref check --pictures")


def _print_doubt(screen: Screen, doubt: str, rows: Sequence[ListedRow]) -> None:
    from xref.harness.doubts_words import look_at, means

    screen.line()
    if doubt:
        screen.line(f"{doubt} – {means(doubt)}", "doubt")
        screen.line(look_at(doubt), "", 2)
    else:
        screen.line("Without doubt", "bold")
    for _, table in groupby(rows, key=lambda row: _table(row)):
        members = list(table)
        pin = members[0].found.pin
        screen.line(f"{blocks.page_of(pin)}, table {pin.table_no}{blocks.machine_words(pin.machine)}", "", 2)
        screen.rows([row_words(row, besides=doubt) for row in members], 4)


def _table(row: ListedRow) -> tuple[str, str, int, int]:
    pin = row.found.pin
    return (pin.machine, pin.document, pin.page, pin.table_no)


def _to_json(found: DoubtList, rows: Sequence[ListedRow]) -> dict[str, Any]:
    counts = Counter(flag for row in found.rows for flag in row.pin.flags)
    return {
        "doubts": [row_json(row) for row in rows],
        "rows_in_doubt": sum(bool(row.pin.flags) for row in found.rows),
        "counts": dict(counts.most_common()),
        "taken": list(found.taken),
        "adrift": adrift_json(found.adrift),
        "unread_pages": [{"document": n.document, "page": n.page, "why": n.why} for n in found.unread_pages],
    }
