"""`xref sheet COMPONENT… -o FILE`: the cross-reference sheet of a module being moved."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from xref.cli import blocks
from xref.cli.options import (
    JsonOption,
    MachineOption,
    PasswordOption,
    StrictOption,
    exit_code,
    machine_asked,
    session_of,
)
from xref.cli.terminal import Row, Screen, results, talk, write_json
from xref.cli.text import counted
from xref.harness.answers import ModuleSheet


def run(
    ctx: typer.Context,
    components: Annotated[
        list[str], typer.Argument(metavar="COMPONENT...", help="Module, component or connector that moves.")
    ],
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Sheet as .pdf, .xlsx, .html or .csv.")
    ],
    machine: MachineOption = "",
    as_json: JsonOption = False,
    password: PasswordOption = "",
    strict: StrictOption = False,
) -> int:
    """Write the cross-reference sheet of a module.

    Says which connectors were taken as that module, and which near names were not.
    """
    from xref.harness.lookup import module_sheet
    from xref.store.index import Index

    session = session_of(ctx)
    with Index.open(session.workspace) as index:
        sheet = module_sheet(index, components, machine_asked(index, machine))
        if sheet.parts:
            from xref.cli.pictures import row_pictures
            from xref.sheets.module import write_module_sheet

            pictures = row_pictures(index, talk(session.quiet), password)
            write_module_sheet(sheet, output, pictures=pictures)
    if as_json:
        write_json(_to_json(sheet, output))
    else:
        print_taken(results(), sheet, output)
    return exit_code(bool(sheet.parts), (line.pin for part in sheet.parts for line in part.lines), strict)


def print_taken(screen: Screen, sheet: ModuleSheet, output: Path) -> None:
    """Write which connectors the sheet holds, which near names it does not, and where it lies."""
    if sheet.parts:
        screen.line(f"Sheet written: {output}", "bold")
        screen.rows([Row(cells=(name, why)) for name, why in sheet.taken])
    else:
        screen.line(f"No connector or component here is named {' or '.join(sheet.asked)}.", "bold")
    lines = [line for part in sheet.parts for line in part.lines]
    doubtful = sum(bool(line.pin.flags) for line in lines)
    if lines:
        said = f", {doubtful} DOUBTFUL" if doubtful else ""
        screen.line(counted(len(lines), "cavity line") + said, "doubt" if doubtful else "", 2)
    title = (
        "NOT TAKEN (near names; ask for them too if they belong to it):" if sheet.parts else "Did you mean:"
    )
    blocks.near_names(screen, title, sheet.not_taken)
    blocks.outdated(screen, sheet.outdated)
    blocks.unread_pages(screen, sheet.unread_pages)


def _to_json(sheet: ModuleSheet, output: Path) -> dict[str, object]:
    return {
        "sheet": str(output) if sheet.parts else None,
        "taken": [{"connector": name, "why": why} for name, why in sheet.taken],
        "near": [{"name": item.name, "why": item.why} for item in sheet.not_taken],
        "lines": sum(len(part.lines) for part in sheet.parts),
        "unread_pages": [{"document": n.document, "page": n.page, "why": n.why} for n in sheet.unread_pages],
        "outdated_documents": [{"document": item.document, "why": item.why} for item in sheet.outdated],
    }
