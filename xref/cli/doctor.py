"""`xref doctor`: where things are, what was and was not read, and whether the index is sound."""

from __future__ import annotations

import importlib.metadata
import platform
import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import typer

from xref import __version__
from xref.cli import blocks
from xref.cli.options import JsonOption, session_of
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import counted
from xref.errors import IndexDamaged, NoIndex, XrefError
from xref.records import Document, PageNote
from xref.settings import READER_VERSION
from xref.workspace import Workspace

#: Libraries whose version decides what is read.
_LIBRARIES = ("pdfplumber", "pypdfium2", "pdfminer.six", "rapidfuzz")


def run(ctx: typer.Context, as_json: JsonOption = False) -> int:
    """Check the workspace and what was read.

    Documents, pages not read, versions, and whether the index is sound.
    """
    workspace = session_of(ctx).workspace
    documents, unread, counts, trouble = _look(workspace)
    troubles = [trouble] if trouble else _document_troubles(documents)
    versions = _versions()
    if as_json:
        write_json(
            {
                "workspace": str(workspace.folder),
                "versions": versions,
                "counts": counts,
                "documents": [_document_json(document) for document in documents],
                "unread_pages": [{"document": n.document, "page": n.page, "why": n.why} for n in unread],
                "troubles": troubles,
            }
        )
    else:
        _print(results(), workspace, versions, counts, documents, unread, troubles)
    return 1 if troubles else 0


def _look(workspace: Workspace) -> tuple[list[Document], list[PageNote], dict[str, int], str]:
    from xref.store.index import Index

    try:
        with Index.open(workspace) as index:
            return index.documents(), index.unread_pages(), index.counts(), ""
    except (NoIndex, IndexDamaged) as error:
        return [], [], {}, _sentence(error)


def _sentence(error: XrefError) -> str:
    return f"{error.message} {error.hint}".rstrip()


def _document_troubles(documents: Sequence[Document]) -> list[str]:
    troubles = [
        f"{document.name} is no longer at {document.path}; look-ups work, pictures of its pages do not."
        for document in documents
        if not Path(document.path).is_file()
    ]
    old = [document.name for document in documents if document.reader != READER_VERSION]
    if old:
        troubles.append(f"{counted(len(old), 'document')} read by another version; run xref index again.")
    return troubles


def _versions() -> dict[str, str]:
    versions = {"xref": __version__, "reader": READER_VERSION, "python": platform.python_version()}
    versions["sqlite"] = sqlite3.sqlite_version
    for name in _LIBRARIES:
        try:
            versions[name] = importlib.metadata.version(name)
        except importlib.metadata.PackageNotFoundError:
            versions[name] = "not installed"
    return versions


def _document_json(document: Document) -> dict[str, Any]:
    return {
        "machine": document.machine,
        "document": document.name,
        "path": document.path,
        "pages": document.pages,
        "scheme": document.scheme,
        "reader": document.reader,
    }


def _print(
    screen: Screen,
    workspace: Workspace,
    versions: dict[str, str],
    counts: dict[str, int],
    documents: Sequence[Document],
    unread: Sequence[PageNote],
    troubles: Sequence[str],
) -> None:
    screen.line(f"Workspace {workspace.folder}", "bold")
    screen.rows([Row(cells=(name, version)) for name, version in versions.items()])
    if counts:
        screen.line()
        screen.rows([Row(cells=(name.replace("_", " "), f"{n:,}")) for name, n in counts.items()])
    blocks.block(screen, "DOCUMENTS", [_document_row(document) for document in documents])
    blocks.unread_pages(screen, unread)
    screen.line()
    for trouble in troubles:
        screen.line(trouble, "doubt")
    if not troubles:
        screen.line("The index is sound.")


def _document_row(document: Document) -> Row:
    scheme = {"": "undecided", "key": "its own key"}.get(document.scheme, document.scheme)
    pages = counted(document.pages, "page")
    return Row(cells=(document.machine, document.name, pages, f"colours: {scheme}"))
