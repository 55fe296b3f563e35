"""`xref doctor`: where things are, what was and was not read, and whether the index is sound."""

from __future__ import annotations

import importlib.metadata
import platform
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from xref import __version__
from xref.cli import blocks
from xref.cli.options import JsonOption, session_of
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import counted, listed
from xref.errors import IndexDamaged, NoIndex
from xref.records import Document, PageNote
from xref.settings import READER_VERSION
from xref.workspace import Workspace

if TYPE_CHECKING:
    from xref.harness.answers import Outdated
    from xref.store.documents import SamePages

#: Libraries whose version decides what is read.
_LIBRARIES = ("pdfplumber", "pypdfium2", "pdfminer.six", "rapidfuzz")


def run(ctx: typer.Context, as_json: JsonOption = False) -> int:
    """Check the workspace and what was read.

    Documents, pages not read, versions, and whether the index is sound.
    """
    workspace = session_of(ctx).workspace
    found = _look(workspace)
    versions = _versions()
    if as_json:
        write_json(_to_json(workspace, versions, found))
    else:
        _print(results(), workspace, versions, found)
    return 1 if found.troubles else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What the doctor saw."""

    documents: Sequence[Document] = ()
    unread: Sequence[PageNote] = ()
    beside: Sequence[PageNote] = ()  #: pages with text and a picture, of which only the text was read
    counts: Mapping[str, int] = field(default_factory=dict)
    same_pages: Sequence[SamePages] = ()
    copies: Sequence[tuple[str, str]] = ()  #: a file, and the document whose content it has
    remarks: Sequence[str] = ()  #: worth knowing, nothing to be done
    troubles: Sequence[str] = ()


def _look(workspace: Workspace) -> _Found:
    from xref.harness.outdated import outdated_documents
    from xref.store.index import Index

    try:
        with Index.open(workspace) as index:
            documents = index.documents()
            return _Found(
                documents=documents,
                unread=index.unread_pages(),
                beside=index.partly_read_pages(),
                counts=index.counts(),
                same_pages=index.same_pages(),
                copies=_copies(documents, index.known_files()),
                remarks=[*_twice_indexed(documents), *_faults(workspace)],
                troubles=[
                    *_outdated(outdated_documents(index, thorough=True), documents),
                    *_old_reader(documents),
                    *([] if index.is_settled() else [_UNSETTLED]),
                ],
            )
    except (NoIndex, IndexDamaged) as error:
        return _Found(troubles=[f"{error.message} {error.hint}".rstrip()])


_UNSETTLED = (
    "The last run was stopped before it had compared all documents; run xref index again to finish it."
)


def _outdated(outdated: Iterable[Outdated], documents: Iterable[Document]) -> list[str]:
    paths = {(document.machine, document.name): document.path for document in documents}
    answers = "look-ups answer with the rows that were read"
    return [
        f"{item.document} {item.why} ({paths[item.machine, item.document]}); {answers}." for item in outdated
    ]


def _old_reader(documents: Sequence[Document]) -> list[str]:
    old = [document.name for document in documents if document.reader != READER_VERSION]
    return [f"{counted(len(old), 'document')} read by another version; run xref index again."] if old else []


def _copies(documents: Iterable[Document], files: Mapping[str, tuple[str, str]]) -> list[tuple[str, str]]:
    names = {document.sha256: document.name for document in documents}
    homes = {document.path for document in documents}
    return [
        (path, names[sha256])
        for path, (_, sha256) in sorted(files.items())
        if sha256 in names and path not in homes and Path(path).is_file()
    ]


def _twice_indexed(documents: Iterable[Document]) -> list[str]:
    by_content: dict[str, list[Document]] = {}
    for document in documents:
        by_content.setdefault(document.sha256, []).append(document)
    return [
        f"{found[0].name} is indexed for {len(found)} machines: "
        f"{listed([document.machine or '(unnamed)' for document in found])}. Its rows answer once for each."
        for found in by_content.values()
        if len(found) > 1
    ]


def _faults(workspace: Workspace) -> list[str]:
    log = workspace.error_log
    return [f"Faults of xref are kept in {log}."] if log.is_file() else []


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


def _to_json(workspace: Workspace, versions: dict[str, str], found: _Found) -> dict[str, Any]:
    return {
        "workspace": str(workspace.folder),
        "versions": versions,
        "counts": found.counts,
        "documents": [_document_json(document) for document in found.documents],
        "unread_pages": [_page_json(note) for note in found.unread],
        "partly_read_pages": [_page_json(note) for note in found.beside],
        "same_pages": [blocks.same_pages_to_json(pair) for pair in found.same_pages],
        "copies": [{"path": path, "document": name} for path, name in found.copies],
        "remarks": list(found.remarks),
        "troubles": list(found.troubles),
    }


def _page_json(note: PageNote) -> dict[str, Any]:
    return {"document": note.document, "page": note.page, "why": note.why}


def _print(screen: Screen, workspace: Workspace, versions: dict[str, str], found: _Found) -> None:
    screen.line(f"Workspace {workspace.folder}", "bold")
    screen.rows([Row(cells=(name, version)) for name, version in versions.items()])
    if found.counts:
        screen.line()
        screen.rows([Row(cells=(name.replace("_", " "), f"{n:,}")) for name, n in found.counts.items()])
    blocks.block(screen, "DOCUMENTS", [_document_row(document) for document in found.documents])
    copies = [Row(cells=(path, f"is the same file as {name}")) for path, name in found.copies]
    blocks.block(screen, "COPIES, READ ONCE", copies)
    blocks.same_pages(screen, found.same_pages)
    blocks.unread_pages(screen, found.unread)
    blocks.partly_read(screen, found.beside)
    screen.line()
    for remark in found.remarks:
        screen.line(remark)
    for trouble in found.troubles:
        screen.line(trouble, "doubt")
    if not found.troubles:
        screen.line("The index is sound.")


def _document_row(document: Document) -> Row:
    scheme = {"": "undecided", "key": "its own key"}.get(document.scheme, document.scheme)
    pages = counted(document.pages, "page")
    return Row(cells=(document.machine, document.name, pages, f"colours: {scheme}"))
