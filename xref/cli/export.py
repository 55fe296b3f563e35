"""`xref export FILE`: the whole normalised table as .csv, .xlsx, .parquet or .json."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from xref.cli.options import JsonOption, MachineOption, Session, exit_code, machine_asked, session_of
from xref.cli.terminal import results, write_json
from xref.cli.text import counted

#: The tables there are.
Table = Literal["pins", "connectors", "mates", "nets", "doubts"]


def run(
    ctx: typer.Context,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="Ends in .csv, .xlsx, .parquet or .json, which decides.")
    ],
    table: Annotated[
        Table,
        typer.Option(
            "--table",
            help="pins: the normalised table; connectors; mates: cavities that touch; nets: a line per pin; "
            "doubts: a line per row and doubt.",
        ),
    ] = "pins",
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

    One row per pin (or per doubt); the ending of FILE decides the format.
    """
    from xref.sheets.table import export_pins, export_table
    from xref.store.index import Index

    with Index.open(session_of(ctx).workspace) as index:
        asked = machine_asked(index, machine)
        if table == "doubts":
            rows = _export_doubts(session_of(ctx), asked, file, plain)
        elif table == "pins":
            rows = export_pins(index.all_pins(asked), file, plain=plain)
        else:
            from xref.harness.net_tables import TABLES

            columns, lines = TABLES[table]
            rows = export_table(table, columns, lines(index, asked), file, plain=plain)
        unread = index.unread_pages(asked)
    if as_json:
        pages = [{"document": n.document, "page": n.page, "why": n.why} for n in unread]
        write_json({"file": str(file), "rows": rows, "unread_pages": pages})
    else:
        results().line(f"{counted(rows, 'row')} written to {file}.")
    return exit_code(rows > 0)


def _export_doubts(session: Session, machine: str | None, file: Path, plain: bool) -> int:
    from xref.cli.check_session import at_work
    from xref.harness.doubts import COLUMNS, doubt_lines, doubtful_rows
    from xref.sheets.table import export_table

    with at_work(session) as (index, work):
        lines = list(doubt_lines(doubtful_rows(index, work, machine).rows))
    return export_table("doubts", COLUMNS, lines, file, plain=plain)
