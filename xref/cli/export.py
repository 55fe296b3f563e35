"""`xref export FILE`: the whole normalised table as .csv, .xlsx, .parquet or .json."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from xref.cli.options import JsonOption, MachineOption, exit_code, machine_asked, session_of
from xref.cli.terminal import results, write_json
from xref.cli.text import counted


def run(
    ctx: typer.Context,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="Ends in .csv, .xlsx, .parquet or .json, which decides.")
    ],
    machine: MachineOption = "",
    plain: Annotated[
        bool,
        typer.Option(
            "--plain",
            help="CSV without the apostrophe before cells a spreadsheet would run as a formula.",
            show_default=False,
        ),
    ] = False,
    as_json: JsonOption = False,
) -> int:
    """Write every row that was read to a table file.

    One row per pin; the ending of FILE decides the format.
    """
    from xref.sheets.table import export_pins
    from xref.store.index import Index

    with Index.open(session_of(ctx).workspace) as index:
        asked = machine_asked(index, machine)
        rows = export_pins(index.all_pins(asked), file, plain=plain)
        unread = index.unread_pages(asked)
    if as_json:
        pages = [{"document": n.document, "page": n.page, "why": n.why} for n in unread]
        write_json({"file": str(file), "rows": rows, "unread_pages": pages})
    else:
        results().line(f"{counted(rows, 'row')} written to {file}.")
    return exit_code(rows > 0)
