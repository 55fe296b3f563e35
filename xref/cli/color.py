"""`xref color CODE`: what a colour code means, scheme by scheme, and which scheme the documents use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.options import JsonOption, MachineOption, Session, exit_code, machine_asked, session_of
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import listed
from xref.colors.words import in_words
from xref.errors import NoIndex
from xref.records import Document

if TYPE_CHECKING:
    from xref.colors.decode import Reading


def run(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(metavar="CODE", help="Colour code as printed, such as BU/YE.")],
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Say what a colour code means, scheme by scheme.

    Names the scheme each document uses, too.
    """
    from xref.colors.answer import color_readings

    documents = _documents(session_of(ctx), machine)
    readings = (*_by_keys(code, documents), *color_readings(code))
    if as_json:
        write_json(_to_json(code, readings, documents))
        return exit_code(bool(readings))
    screen = results()
    if readings:
        screen.line(f"Colour code {code}", "bold")
        screen.rows(
            [
                Row(
                    cells=("own key" if r.scheme == "key" else r.scheme, in_words(r.base, r.stripe, r.ring)),
                    notes=[(f"source: {r.source}", "")],
                )
                for r in readings
            ]
        )
    else:
        keys = " and no key of your documents" if any(d.color_key for d in documents) else ""
        screen.line(f"No scheme known here{keys} has the colour code {code}.", "bold")
    _print_documents(screen, documents)
    return exit_code(bool(readings))


def _by_keys(code: str, documents: Sequence[Document]) -> list[Reading]:
    """Return what the documents' own keys say of a code, each meaning once with all that give it."""
    from xref.colors.answer import key_readings

    given: dict[Reading, list[str]] = {}
    for document in documents:
        for reading in key_readings(code, document.color_key):
            given.setdefault(replace(reading, source=""), []).append(document.name)
    return [
        replace(reading, source=f"the key of {listed(list(dict.fromkeys(names)))}")
        for reading, names in given.items()
    ]


def _to_json(code: str, readings: Sequence[Reading], documents: Sequence[Document]) -> dict[str, object]:
    return {
        "code": code,
        "readings": [
            {"scheme": r.scheme, "base": r.base, "stripe": r.stripe, "ring": r.ring, "source": r.source}
            for r in readings
        ],
        "here": {document.name: document.scheme for document in documents},
    }


def _documents(session: Session, machine: str) -> list[Document]:
    from xref.store.index import Index

    try:
        with Index.open(session.workspace) as index:
            return index.documents(machine_asked(index, machine))
    except NoIndex:
        return []  # a code can be asked for before anything is indexed


def _print_documents(screen: Screen, documents: list[Document]) -> None:
    if not documents:
        return
    screen.line()
    screen.line("IN YOUR DOCUMENTS (a document's own key comes before every scheme)", "bold")
    for document in documents:
        scheme = {"": "undecided", "key": "its own key"}.get(document.scheme, document.scheme)
        screen.rows([Row(cells=(document.name, scheme))])
        if document.scheme_why:
            screen.line(document.scheme_why, "", 6)
