"""`xref page DOCUMENT PAGE`: one page as it is read, drawn and in words: why it was, or was not, a pinout."""

from __future__ import annotations

import unicodedata
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.options import (
    JsonOption,
    MachineOption,
    PasswordOption,
    Session,
    check_drawing,
    machine_asked,
    session_of,
)
from xref.cli.terminal import (
    Bar,
    Row,
    Screen,
    is_talk_terminal,
    progress_bar,
    results,
    write_json,
)
from xref.cli.text import counted, listed
from xref.errors import NoIndex, UnreadableDocument, UsageError

if TYPE_CHECKING:
    from xref.records import Document, Pin
    from xref.sheets.page_seen import PageExplained
    from xref.store.index import Index
    from xref.tables.layout import TaughtLayout

#: So many documents are named where a part of a name fits several.
_MOST_NAMED = 8


def run(
    ctx: typer.Context,
    document: Annotated[
        str,
        typer.Argument(
            metavar="DOCUMENT", help="A document of the index (name, or a part only it has), or a PDF file."
        ),
    ],
    page: Annotated[
        str, typer.Argument(metavar="PAGE", help="Page in the file, from 1; or the number printed on it.")
    ],
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", metavar="FILE", help="Draw it: a name ending in .png, .pdf or .svg."),
    ] = None,
    machine: MachineOption = "",
    password: PasswordOption = "",
    as_json: JsonOption = False,
) -> int:
    """Show how a page is read, and why.

    Rules, tables, columns with their meaning, headings, rows and doubts; or why the page was skipped.
    """
    check_drawing(output)
    session = session_of(ctx)
    asked = _asked(session, document, machine)
    seen = _seen(session, asked, page, password)
    if output is not None:
        _draw(seen, asked.path, output, password)
    if as_json:
        from xref.sheets.page_json import page_to_json

        write_json({**page_to_json(seen), "drawing": str(output) if output else None})
    else:
        print_page(results(), seen)
        if output is not None:
            results().line()
            results().line(f"Drawn: {output}", "bold")
    return 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """The file to read, and what answers call it."""

    path: Path
    name: str
    taught: tuple[TaughtLayout, ...] = ()


def _asked(session: Session, text: str, machine: str) -> _Asked:
    """Find the document of the index, or else the file, that was asked for."""
    from xref.store.index import Index

    path = Path(text)
    try:
        with Index.open(session.workspace) as index:
            found = _indexed(index, text, machine_asked(index, machine))
    except NoIndex:
        found = None
    if found is not None:
        if not Path(found.path).is_file():
            raise UnreadableDocument(
                f"{found.name} is no longer at {found.path}, so its page cannot be read again.",
                hint="Give the file's path, or run xref index where it lies now.",
            )
        return _Asked(path=Path(found.path), name=found.name, taught=_taught(session, found))
    if _is_file(path):
        return _Asked(path=path, name=path.name)
    raise UsageError(
        f"{text} is neither a document of the index nor a file.", hint="xref doctor lists the documents."
    )


def _taught(session: Session, document: Document) -> tuple[TaughtLayout, ...]:
    from xref.store.work import Work

    with Work.open(session.workspace) as work:
        return work.layouts(document.sha256, document.name, document.machine)


def _indexed(index: Index, text: str, machine: str | None) -> Document | None:
    """Return the one document that is meant by its path, its name, or a part of it; None if there is none."""
    documents = index.documents(machine)
    path, key = Path(text), _key(text)
    if _is_file(path):
        where = str(path.resolve())
        return next((document for document in documents if document.path == where), None)
    for fits in (
        [document for document in documents if document.name == text],
        [document for document in documents if _key(document.name) in (key, f"{key}.pdf")],
        [document for document in documents if key and key in _key(document.name)],
    ):
        if len({document.path for document in fits}) > 1:
            names = [
                f"{document.name} ({document.machine})" if document.machine else document.name
                for document in fits
            ]
            more = " …" if len(names) > _MOST_NAMED else ""
            raise UsageError(
                f"{text} may be {counted(len(fits), 'document')}: {listed(names[:_MOST_NAMED])}{more}.",
                hint="Give more of the name, or --machine.",
            )
        if fits:
            return fits[0]
    return None


def _key(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold().strip()


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # longer than the system allows, or with a NUL in it
        return False


def _seen(session: Session, asked: _Asked, page: str, password: str) -> PageExplained:
    from xref.pages.pdfium import PdfiumDocument
    from xref.sheets.page_read import see_page
    from xref.sheets.page_seen import explain_page

    bar_wanted = is_talk_terminal() and not session.quiet
    with progress_bar() if bar_wanted else nullcontext() as bar:
        seen = see_page(
            asked.path, page, password=password, taught=asked.taught, on_page=_mover(bar, asked.name)
        )
    with PdfiumDocument(asked.path, password) as opened:
        size = opened.size(seen.note.page)
    return explain_page(seen, asked.name, size)


def _mover(bar: Bar | None, name: str) -> _Mover | None:
    return _Mover(bar=bar, name=name) if bar else None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mover:
    bar: Bar
    name: str

    def __call__(self, done: int, total: int) -> None:
        self.bar.move(done, total, f"{self.name} p. {done}")


def _draw(page: PageExplained, path: Path, output: Path, password: str) -> None:
    from xref.sheets.drawing_files import write_drawing
    from xref.sheets.page_marks import DOTS_PER_INCH, draw_page
    from xref.sheets.picture import drawn_page

    picture, _ = drawn_page(path, page.note.page, password=password, dpi=DOTS_PER_INCH)
    write_drawing(draw_page(page, picture), output)


def print_page(screen: Screen, page: PageExplained) -> None:
    """Write what was seen on a page, and why each table of it was or was not read."""
    from xref.sheets.page_words import (
        color_key_in_words,
        column_in_words,
        doubts_in_words,
        outcome_in_words,
        owner_in_words,
        page_in_words,
        rows_of,
        table_in_words,
    )

    screen.line(page_in_words(page), "bold")
    screen.line(outcome_in_words(page), "" if page.note.outcome == "read" else "doubt")
    if page.color_key:
        screen.line(color_key_in_words(page))
    if page.looked_at and not page.tables and page.note.outcome != "unread":
        screen.line("No table was found on it.")
    for table in page.tables:
        rows = rows_of(page, table)
        screen.line()
        screen.line(table_in_words(table), "bold")
        for owner in table.owners:
            screen.line(owner_in_words(owner), "", 2)
        for column in table.columns:
            screen.line(column_in_words(column), "", 4)
        for doubt in doubts_in_words(rows):
            screen.line(doubt, "doubt", 2)
        if rows:
            screen.rows([_row(row) for row in rows], 4)


def _row(row: Pin) -> Row:
    name = f"{row.connector} {row.half}".strip() + (f":{row.cavity}" if row.cavity else "")
    said = row.function if row.status == "used" else f"{row.function} ({row.status})".strip()
    cells = (name, row.color_code, row.circuit, row.size, said)
    return Row(cells=cells, notes=[(f"DOUBT {' '.join(row.flags)}", "doubt")] if row.flags else [])
