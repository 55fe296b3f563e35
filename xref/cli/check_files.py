"""`xref check decisions|undo|export|import`: what was decided, taking it back, taking it along."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.check_session import at_work, at_work_write
from xref.cli.options import JsonOption, PasswordOption, Session, session_of
from xref.cli.terminal import Row, results, write_json
from xref.cli.text import counted, listed

if TYPE_CHECKING:
    from collections.abc import Iterable

    from xref.records import Document
    from xref.store.index import Index
    from xref.store.work import Work
    from xref.store.work_json import Kept, Taught


def decisions(ctx: typer.Context, as_json: JsonOption = False) -> int:
    """List what was decided, with the numbers by which it can be taken back."""
    from xref.store.work import Work

    with Work.open(session_of(ctx).workspace) as work:
        kept = work.kept()
    if as_json:
        write_json({"decisions": [{"decision": d.id, "at": d.at, "what": words_of(d)} for d in kept]})
        return 0 if kept else 1
    screen = results()
    screen.line(f"{counted(len(kept), 'decision')}.", "bold")
    if kept:
        screen.rows([Row(cells=(str(d.id), d.at.replace("T", " "), words_of(d))) for d in kept])
    return 0 if kept else 1


def words_of(decision: Kept) -> str:
    """Return a decision as one line."""
    from xref.pins.corrections_records import HeadDecision, MateDecision, PutAside, RowDecision
    from xref.store.work_json import where

    _, document, _, page = where(decision)
    place = f" – {document} p. {page}" if document else ""
    if isinstance(decision, RowDecision):
        row = decision.row
        said = ", ".join(f"{name} {value or 'blank'}" for name, value in decision.changes)
        taken = {"number": "circuit taken as a number", "potential": "circuit taken as a voltage's name"}
        parts = (
            f"corrected to {said}" if said else "",
            "accepted" * decision.accepted,
            taken.get(decision.circuit_is, ""),
        )
        done = " and ".join(filter(None, parts))
        return f"{row.connector} {row.half}".strip() + f":{row.cavity} {done}{place}"
    if isinstance(decision, PutAside):
        return f"{counted(len(decision.region.rows), 'row')} put aside: no pinout{place}"
    if isinstance(decision, HeadDecision):
        said = ", ".join(f"{name} {value or 'blank'}" for name, value in decision.changes)
        return f"{decision.connector} {decision.half}".strip() + f" set to {said}{place}"
    if isinstance(decision, MateDecision):
        one = f"{decision.connector_a} {decision.half_a}".strip()
        return f"{one} is plugged into {decision.connector_b} {decision.half_b}".rstrip()
    roles = ", ".join(role or "-" for role in decision.layout.roles)
    return f"columns taught: {roles}{place}"


def undo(
    ctx: typer.Context,
    numbers: Annotated[
        list[int], typer.Argument(metavar="N...", help="Numbers as xref check decisions lists them.")
    ],
    as_json: JsonOption = False,
    password: PasswordOption = "",
) -> int:
    """Take decisions back; the rows are again as they were read.

    Where columns were taught, the document is read anew at once; what cannot be read now is said.
    """
    from xref.harness.settle import settle

    session = session_of(ctx)
    with at_work_write(session) as (index, work):
        undone = work.undo(numbers)
        for decision in undone:
            _read_anew(index, decision)
        settle(index, work)
    again = _reread(session, undone, password)
    if as_json:
        read = [{"document": name, "left": why} for name, why in again]
        write_json({"undone": [d.id for d in undone], "read_anew": read})
    else:
        screen = results()
        screen.line(f"{counted(len(undone), 'decision')} taken back.", "bold")
        if undone:
            screen.rows([Row(cells=(str(d.id), words_of(d))) for d in undone])
        for name, why in again:
            if why:
                still = f"The rows of {name} still stand in the columns that were taught: {why}"
                screen.line(f"{still} They go with the next xref index.", "doubt")
            else:
                screen.line(f"{name} was read anew without these columns.", "", 2)
    return 0 if undone else 1


def _reread(session: Session, undone: Iterable[Kept], password: str) -> list[tuple[str, str]]:
    """Read documents anew whose taught columns were taken back; return each with why it could not be read."""
    from xref.errors import XrefError
    from xref.pipeline import index_paths
    from xref.store.index import Index
    from xref.store.work_json import Taught

    with Index.open(session.workspace) as index:
        taught = [decision for decision in undone if isinstance(decision, Taught)]
        concerned = {d for decision in taught for d in _documents_of(index, decision)}
    found = []
    for document in sorted(concerned, key=lambda d: d.name):
        try:
            if not Path(document.path).is_file():
                why = f"{document.path} is not there now."
            else:
                path = [Path(document.path)]
                made = index_paths(path, session.workspace, machine=document.machine, password=password)
                why = " ".join(problem.message for problem in made.problems)
        except XrefError as error:
            why = str(error)
        found.append((document.name, why))
    return found


def export(
    ctx: typer.Context,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A .csv file.")],
    as_json: JsonOption = False,
) -> int:
    """Write all decisions to a CSV file, for a copy or for another computer."""
    from xref.errors import UsageError
    from xref.sheets.table import export_table
    from xref.store.work import Work
    from xref.store.work_csv import COLUMNS, decisions_to_rows

    if file.suffix.lower() != ".csv":
        raise UsageError(f"{file.name}: decisions are written as .csv.", hint="Give a name ending in .csv.")
    with Work.open(session_of(ctx).workspace) as work:
        rows = decisions_to_rows(work.kept())
    export_table("decisions", COLUMNS, rows, file, plain=True)
    if as_json:
        write_json({"file": str(file), "decisions": len(rows)})
    else:
        results().line(f"{counted(len(rows), 'decision')} written to {file}.")
    return 0 if rows else 1


def import_(
    ctx: typer.Context,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A file that xref check export wrote.")],
    machine: Annotated[
        str,
        typer.Option(
            "--machine", metavar="NAME", help="The machine they are for, where it has another name here."
        ),
    ] = "",
    as_json: JsonOption = False,
) -> int:
    """Take over decisions from a CSV file; those that are here already are left out.

    Where a document differs from the one they were made on, rows are found again by their texts, and
    say so until you accept them.
    """
    from xref.harness.doubts import adrift
    from xref.harness.settle import settle
    from xref.store.work_csv import rows_in_file
    from xref.store.work_json import of_machine

    session = session_of(ctx)
    given = rows_in_file(file)
    if machine:
        given = [of_machine(decision, machine) for decision in given]
    with at_work_write(session) as (index, work):
        new = _without_known(work, given)
        added = work.add(new)
        for decision in added:
            _read_anew(index, decision)
        settle(index, work)
    with at_work(session) as (index, work):
        here = {decision.id for decision in added}
        left = [item for item in adrift(index, work) if item.decision.id in here]
    if as_json:
        counts = {"imported": len(added), "known_already": len(given) - len(added)}
        write_json({**counts, "adrift": [{"decision": a.decision.id, "why": a.why} for a in left]})
        return 0
    screen = results()
    screen.line(f"{counted(len(added), 'decision')} imported.", "bold")
    if len(added) < len(given):
        screen.line(f"{len(given) - len(added):,} were here already.", "", 2)
    for item in left:
        screen.line(f"Decision {item.decision.id} fits nothing yet: {item.why}.", "doubt", 2)
    if taught := [d.id for d in added if hasattr(d, "layout")]:
        numbers = listed([str(n) for n in taught])
        screen.line(f"Columns taught ({numbers}) are used with the next xref index.", "", 2)
    return 0


def _without_known(work: Work, given: list[Kept]) -> list[Kept]:
    from dataclasses import replace

    known = {replace(decision, id=0) for decision in work.kept()}
    return [decision for decision in dict.fromkeys(given) if decision not in known]


def _read_anew(index: object, decision: Kept) -> None:
    from xref.store.index import Index
    from xref.store.work_json import Taught

    if isinstance(decision, Taught) and isinstance(index, Index):
        for document in _documents_of(index, decision):
            index.read_anew(document.sha256)


def _documents_of(index: Index, taught: Taught) -> list[Document]:
    """Return the documents that are read in columns taught."""
    return [
        document
        for document in index.documents(taught.machine)
        if taught.sha256 == document.sha256 or taught.document == document.name
    ]
