"""`xref check teach DOCUMENT PAGE --columns …`: say what columns hold; the document is read anew at once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.check_session import at_work_write
from xref.cli.options import JsonOption, MachineOption, PasswordOption, Session, machine_asked, session_of
from xref.cli.terminal import results, write_json
from xref.cli.text import counted, listed
from xref.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from xref.records import Document, Pin
    from xref.store.index import Index
    from xref.store.work_pack import AsRead
    from xref.tables.layout import TaughtLayout
    from xref.tables.table import Table


def teach(
    ctx: typer.Context,
    document: Annotated[str, typer.Argument(metavar="DOCUMENT", help="The document, as answers name it.")],
    page: Annotated[int, typer.Argument(metavar="PAGE", help="The page of the PDF, from 1.", min=1)],
    columns: Annotated[
        str,
        typer.Option(
            "--columns",
            metavar="LIST",
            help="What each column holds, from left to right: 'cavity,color,-,circuit'; - leaves one out.",
        ),
    ],
    table: Annotated[
        int, typer.Option("--table-no", metavar="N", help="The table on the page, from the top.", min=0)
    ] = 0,
    anew: Annotated[
        bool,
        typer.Option(
            "--anew",
            help="Cut the rows anew at the columns' borders: where what was found is no good.",
            show_default=False,
        ),
    ] = False,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    password: PasswordOption = "",
) -> int:
    """Say what the columns of a table hold.

    Every table of that document with the same columns under the same header is then read that way.
    """
    from xref.rows.taught import roles_named
    from xref.store.index import Index
    from xref.tables.layout import TAUGHT

    session = session_of(ctx)
    roles = roles_named(columns)
    with Index.open(session.workspace) as index:
        found = document_named(index, document, machine_asked(index, machine))
    layout = _layout(found, page, roles, table, password, anew=anew)
    _keep(session, found, page, layout)
    read = _read_anew(session, found, password)
    pages = sorted(n.page for n in read.page_notes if n.why == TAUGHT)
    rows = [pin for pin in read.pins if pin.page in pages]
    if as_json:
        write_json({"document": found.name, "pages": pages, "rows": len(rows), "edges": list(layout.edges)})
    else:
        _say(found.name, page, pages, rows, anew=anew)
    return 0 if rows else 1


def _say(document: str, page: int, pages: list[int], rows: list[Pin], *, anew: bool) -> None:
    screen = results()
    if rows:
        where = f"on page {listed([str(p) for p in pages])} of {document}"
        screen.line(f"{counted(len(rows), 'row')} read in these columns, {where}.", "bold")
    else:
        screen.line(f"Taught, but no row was read in these columns on page {page}.", "bold")
    screen.line("Compare them with the page: xref check --all --connector NAME --pictures")
    unsure = sum("readings-disagree" in pin.flags for pin in rows)
    if unsure and not anew:
        read = f"{counted(unsure, 'row')} read otherwise when cut at the borders of the columns"
        screen.line(f"{read}: see whether --anew reads them right.", "doubt")


def _keep(session: Session, document: Document, page: int, layout: TaughtLayout) -> None:
    from xref.store.work_json import Taught

    taught = Taught(
        id=0,
        at="",
        sha256=document.sha256,
        document=document.name,
        machine=document.machine,
        page=page,
        layout=layout,
    )
    with at_work_write(session) as (index, work):
        work.add([taught])
        index.read_anew(document.sha256)


def _read_anew(session: Session, document: Document, password: str) -> AsRead:
    from xref.pipeline import index_paths
    from xref.store.index import Index

    index_paths([Path(document.path)], session.workspace, machine=document.machine, password=password)
    with Index.open(session.workspace) as index:
        return index.as_read(document.machine, document.name)


def document_named(index: Index, name: str, machine: str | None) -> Document:
    """Return the one document of this name or path; raises UsageError where there is none, or several."""
    documents = index.documents(machine)
    path = str(Path(name).resolve())
    found = [d for d in documents if name in (d.name, d.path) or d.path == path]
    found = found or [d for d in documents if d.name.casefold().startswith(name.casefold())]
    if len(found) == 1:
        return found[0]
    if not found:
        raise UsageError(
            f"No document {name} is in the index.", hint=f"There are: {listed([d.name for d in documents])}."
        )
    raise UsageError(
        f"{name} stands for several documents: {listed([d.name for d in found])}.",
        hint="Give its whole name.",
    )


def _layout(
    document: Document, page: int, roles: Sequence[str], table: int, password: str, *, anew: bool
) -> TaughtLayout:
    from xref.cli.pictures import unchanged_file
    from xref.pages.reader import DocumentReader
    from xref.rows.choose import best_reading
    from xref.tables.page import content_to_reading
    from xref.tables.taught import layout_of
    from xref.tables.taught_cut import cut_layout

    if page > document.pages:
        raise UsageError(f"{document.name} has {counted(document.pages, 'page')}, no page {page}.")
    with DocumentReader(unchanged_file(document), password) as reader:
        content = reader.content(page)
    if not content.words:
        raise UsageError(
            f"{document.name} p. {page} holds no text (a picture?), so there are no columns to name."
        )
    tables = content_to_reading(content, "", best_reading).tables
    if table:
        if table > len(tables):
            raise UsageError(f"Page {page} has {counted(len(tables), 'table')}, no table {table}.")
        if tables[table - 1].columns != len(roles):
            raise UsageError(
                f"Table {table} has {counted(tables[table - 1].columns, 'column')},"
                f" and {len(roles)} are named. {_seen(tables)}"
            )
        return layout_of(content, tables[table - 1], roles, anew=anew)
    fitting = [t for t in tables if t.columns == len(roles)]
    if len(fitting) == 1:
        return layout_of(content, fitting[0], roles, anew=anew)
    if fitting:
        raise UsageError(
            f"{len(fitting)} tables have so many columns. {_seen(tables)}", hint="Add --table-no N."
        )
    layout = cut_layout(content, roles)
    if layout is None:
        raise UsageError(
            f"Nothing on page {page} parts into {counted(len(roles), 'column')}. {_seen(tables)}",
            hint="Name each column that is seen, - for those to leave out.",
        )
    return layout


def _seen(tables: Sequence[Table]) -> str:
    if not tables:
        return "No table was found there."
    parts = []
    for number, table in enumerate(tables, start=1):
        first = table.header if table.has_header else tuple(c.text for c in table.bands[0].cells)
        parts.append(f"table {number}: {counted(table.columns, 'column')}, {' | '.join(first)}")
    return f"Seen: {'; '.join(parts)}."
