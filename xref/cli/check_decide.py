"""`xref check show|accept|correct|set|not-a-pinout`: what the person says about rows and connectors."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.check_session import ListedRow, again, at_work, decide, draw_rows, row_json, row_words
from xref.cli.options import JsonOption, MachineOption, PasswordOption, machine_asked, session_of
from xref.cli.terminal import results, write_json
from xref.cli.text import counted, listed
from xref.errors import UsageError

if TYPE_CHECKING:
    from xref.pins.corrections_records import CircuitIs
    from xref.records import Connector
    from xref.store.index import Index
    from xref.store.work import Work
    from xref.store.work_deciding import FoundRow

RowsArgument = Annotated[
    list[str], typer.Argument(metavar="ROW...", help="Rows by their numbers (D12) or as CONNECTOR:CAVITY.")
]
RowArgument = Annotated[
    str, typer.Argument(metavar="ROW", help="Row by its number (D12) or as CONNECTOR:CAVITY.")
]
TableOption = Annotated[
    bool, typer.Option("--table", help="All rows of the table it stands in.", show_default=False)
]


def _field(option: str, what: str) -> typer.models.OptionInfo:
    info: typer.models.OptionInfo = typer.Option(option, metavar="TEXT", help=what, show_default=False)
    return info


def show(
    ctx: typer.Context,
    rows: RowsArgument,
    folder: Annotated[
        Path | None, typer.Option("--into", metavar="DIR", help="Draw the pictures into this folder.")
    ] = None,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    password: PasswordOption = "",
) -> int:
    """Show rows with each doubt in words, and draw them on their pages."""
    from xref.harness.doubts_words import look_at, means
    from xref.store.work_deciding import rows_asked

    session = session_of(ctx)
    with at_work(session) as (index, work):
        found = rows_asked(index, work, rows, machine_asked(index, machine))
        drawn = draw_rows(index, session, found, folder, password)
    listed_rows = [ListedRow(found=row, picture=drawn.get(row.number)) for row in found]
    if as_json:
        write_json({"rows": [row_json(row) for row in listed_rows]})
        return 0
    screen = results()
    for row in listed_rows:
        screen.rows([row_words(row, with_doubts=False)])
        pin = row.found.pin
        screen.line(f"{pin.document} p. {pin.page}, table {pin.table_no}, row {pin.row_no}", "", 6)
        for flag in pin.flags:
            screen.line(f"DOUBT {flag}: {means(flag)}. {look_at(flag)}", "doubt", 6)
        if row.found.row.pin is None:
            screen.line("Put aside by the person: no pinout.", "", 6)
    return 0


def accept(
    ctx: typer.Context,
    rows: RowsArgument,
    table: TableOption = False,
    said: Annotated[
        str,
        typer.Option(
            "--as",
            metavar="WHAT",
            help="Of a circuit such as 31: number (its rows are joined by it) or potential (a voltage's "
            "name: nothing joins).",
            show_default=False,
        ),
    ] = "",
    circuit: Annotated[
        bool,
        typer.Option(
            "--circuit",
            help="--as also of the other rows of their circuits; those are not accepted by it.",
            show_default=False,
        ),
    ] = False,
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Say that rows are right as they stand: compared with the page, every cell.

    Their doubts are gone from every answer; that you accepted them, and when, is shown there. One stays until
    you say --as: whether a circuit such as 31 is a number or the name of a voltage.
    """
    from xref.store import work_deciding as deciding

    session = session_of(ctx)
    asked: list[FoundRow] = []
    others: list[FoundRow] = []
    kind = _circuit_is(said)
    if circuit and not kind:
        raise UsageError("--circuit goes with --as number or --as potential.")

    def make(index: Index, work: Work) -> None:
        for row in deciding.rows_asked(index, work, rows, machine_asked(index, machine)):
            asked.extend(deciding.table_of(index, work, row) if table else [row])
        if gone := [row.name for row in asked if row.row.pin is None]:
            raise UsageError(
                f"{listed(gone)}: put aside as no pinout, so there is nothing to accept.",
                hint="xref check decisions lists what can be taken back with xref check undo.",
            )
        deciding.accept(work, asked, kind)
        if circuit:
            others.extend(deciding.open_circuits(index, work, asked))
            deciding.take_circuit_as(work, others, kind)

    decide(session, make)
    _say("accepted", again(session, [row.number for row in asked]), as_json, len(others), kind)
    return 0


def _circuit_is(text: str) -> CircuitIs:
    """Return what --as says that a circuit is; raises UsageError where it is neither."""
    folded = text.strip().casefold()
    if folded not in ("", "number", "potential"):
        raise UsageError(
            f"--as {text}: a circuit is a number or a potential.", hint="--as number or --as potential."
        )
    return "number" if folded == "number" else "potential" if folded else ""


def correct(
    ctx: typer.Context,
    row: RowArgument,
    connector: Annotated[str | None, _field("--connector", "Its connector's name.")] = None,
    half: Annotated[str | None, _field("--half", "The half of an in-line.")] = None,
    cavity: Annotated[str | None, _field("--cavity", "The cavity.")] = None,
    color: Annotated[str | None, _field("--color", "The colour code as printed; decoded anew.")] = None,
    circuit: Annotated[str | None, _field("--circuit", "The circuit.")] = None,
    function: Annotated[str | None, _field("--function", "What it is for.")] = None,
    size: Annotated[str | None, _field("--size", "The wire size as printed.")] = None,
    status: Annotated[str | None, _field("--status", "used, unused or 'not stated'.")] = None,
    option: Annotated[str | None, _field("--option", "The option the row belongs to.")] = None,
    goes_to: Annotated[str | None, _field("--goes-to", "Where the wire goes, as printed.")] = None,
    component: Annotated[str | None, _field("--component", "What the connector plugs into.")] = None,
    accepted: Annotated[
        bool, typer.Option("--accept", help="All the rest of the row is right.", show_default=False)
    ] = False,
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Say what stands in a row; "" makes a field blank.

    Doubts about the fields you give are settled; the others stay until you accept the row (--accept).
    """
    from xref.store import work_deciding as deciding

    session = session_of(ctx)
    given = {
        **{"connector": connector, "half": half, "cavity": cavity, "color_code": color, "circuit": circuit},
        **{"function": function, "size": size, "status": status, "option": option, "goes_to": goes_to},
        "component": component,
    }
    changes = {name: value for name, value in given.items() if value is not None}

    def make(index: Index, work: Work) -> int:
        found = deciding.rows_asked(index, work, [row], machine_asked(index, machine))[0]
        deciding.correct(work, found, changes)
        if accepted:  # what is accepted is the row as it is with the correction
            deciding.accept(work, deciding.rows_asked(index, work, [found.name]))
        return found.number

    number = decide(session, make)
    _say("corrected", again(session, [number]), as_json)
    return 0


def set_connector(
    ctx: typer.Context,
    name: Annotated[
        str,
        typer.Argument(metavar="NAME|ROW", help="Connector, or a row (D12): then only that row's table."),
    ],
    role: Annotated[
        str | None, _field("--role", "component, inline, splice, ground, fuse or unknown.")
    ] = None,
    new_name: Annotated[str | None, _field("--name", "Its name (designator) as printed.")] = None,
    half: Annotated[str | None, _field("--half", "Which half of an in-line it is.")] = None,
    title: Annotated[str | None, _field("--title", "Its title as printed.")] = None,
    component: Annotated[str | None, _field("--component", "What it plugs into.")] = None,
    harness: Annotated[str | None, _field("--harness", "The harness it belongs to.")] = None,
    mates: Annotated[
        str | None, _field("--mates", "The connector (or half, X5-B) it is plugged into, n to n.")
    ] = None,
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Say what a connector is: its role, name, half, title, component, harness, mate.

    A name for a row's table moves that table alone; the same name confirms its heading.
    """
    from xref.store import work_deciding as deciding

    session = session_of(ctx)
    given = {
        **{"role": role, "connector": new_name, "half": half, "connector_name": title},
        **{"component": component, "harness": harness},
    }
    changes = {field: value for field, value in given.items() if value is not None}
    if not changes and mates is None:
        raise UsageError("Nothing to set was given.", hint="Say what it is: --role, --name, --harness …")

    def make(index: Index, work: Work) -> list[str]:
        asked = machine_asked(index, machine)
        if name[:1] in "dD" and name[1:].isdigit() and not index.connectors(asked, name=name):
            return _set_table(index, work, name, asked, changes)
        heads = _heads(index, name, asked)
        if half is not None:
            _one_half(heads, name, "one half cannot be both")
        if mates is not None:
            one, other = _one_half(heads, name), _one_half(_heads(index, mates, heads[0].machine), mates)
            deciding.set_mates(work, heads[0].machine, one, other)
        for head in heads if changes else ():
            deciding.set_head(work, head.machine, head.connector, head.half, changes, None)
        return [f"{head.connector} {head.half}".strip() for head in heads]

    said = decide(session, make)
    if as_json:
        write_json({"set": said, "changes": changes, "mates": mates or ""})
    else:
        results().line(f"Set: {listed(said)}.", "bold")
    return 0


def _set_table(
    index: Index, work: Work, name: str, machine: str | None, changes: dict[str, str]
) -> list[str]:
    """Set what the connector of a row's table is, in that table alone; return it in words."""
    from xref.pins.corrections_records import region_of
    from xref.store import work_deciding as deciding

    if not changes:
        raise UsageError(
            f"{name} is a row; mates are named by connectors.", hint="xref check set X5-A --mates …"
        )
    row = deciding.rows_asked(index, work, [name], machine)[0]
    pin = row.pin
    table = [r for r in deciding.table_of(index, work, row) if _half(r) == (pin.connector, pin.half)]
    if not table:
        raise UsageError(f"{name}: its table is put aside as no pinout.")
    region = region_of([r.row.read for r in table], row.document.sha256)
    deciding.set_head(work, pin.machine, pin.connector, pin.half, changes, region)
    return [f"{counted(len(table), 'row')} of {pin.document} p. {pin.page}, table {pin.table_no}"]


def not_a_pinout(
    ctx: typer.Context,
    row: Annotated[
        str, typer.Argument(metavar="ROW|DOCUMENT", help="A row of the table (D12), or a document.")
    ],
    page: Annotated[
        int, typer.Argument(metavar="[PAGE]", help="With a document: the page.", show_default=False)
    ] = 0,
    table: Annotated[int, typer.Option("--table-no", metavar="N", help="With a page: only its table N.")] = 0,
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Say that a table is no pinout: its rows vanish from every answer.

    A document with a page puts aside all that was read on that page.
    """
    from xref.cli.check_teach import document_named
    from xref.store import work_deciding as deciding
    from xref.store.work_laying import laid_rows

    session = session_of(ctx)

    def make(index: Index, work: Work) -> tuple[str, int]:
        asked = machine_asked(index, machine)
        if not page:
            found = deciding.rows_asked(index, work, [row], asked)[0]
            rows = deciding.table_of(index, work, found)
            document, number = found.document, found.row.read.page
        else:
            document, number = document_named(index, row, asked), page
            here = [r for r in laid_rows(index, work, document).rows if r.read.page == page and r.pin]
            rows = deciding.numbered(
                work, document, [r for r in here if not table or r.read.table_no == table]
            )
        if not rows:
            raise UsageError(f"No row was read there: {document.name} p. {number}.", hint="See xref doctor.")
        deciding.put_aside(work, document, rows, whole_page=bool(page) and not table)
        return f"{document.name} p. {number}", len(rows)

    place, count = decide(session, make)
    if as_json:
        write_json({"put_aside": place, "rows": count})
    else:
        results().line(f"{counted(count, 'row')} of {place} put aside: no pinout.", "bold")
    return 0


def _half(row: FoundRow) -> tuple[str, str]:
    return (row.pin.connector, row.pin.half)


def _heads(index: Index, name: str, machine: str | None) -> list[Connector]:
    """Return one record per half of the one connector a name stands for."""
    from xref.harness.connector import connectors_named

    found = {(c.machine, c.connector, c.half): c for c in connectors_named(index, name, machine)}
    names = sorted({f"{c.connector} ({c.machine})" if c.machine else c.connector for c in found.values()})
    if not names:
        raise UsageError(
            f"No connector {name} stands in the pages that were read.", hint="See xref connector."
        )
    if len(names) > 1:
        raise UsageError(f"{name} stands for several: {listed(names)}.", hint="Name one (and its --machine).")
    return list(found.values())


def _one_half(heads: list[Connector], name: str, why: str = "") -> tuple[str, str]:
    """Return connector and half where a name stands for one half only; raises UsageError for several."""
    halves = {(c.connector, c.half) for c in heads}
    if len(halves) > 1:
        named = sorted(half or "without a name" for _, half in halves)
        one = min(half for _, half in halves if half)
        raise UsageError(
            f"{name} has the halves {listed(named)}{f': {why}' if why else ''}.",
            hint=f"Name one: {halves.pop()[0]}-{one}.",
        )
    return halves.pop()


def _say(what: str, rows: list[ListedRow], as_json: bool, others: int = 0, kind: CircuitIs = "") -> None:
    """Write what was decided about rows, and what it leaves open."""
    from xref.pins.corrections_potential import UNDECIDED

    undecided = [row.found for row in rows if UNDECIDED in row.found.pin.flags]
    if as_json:
        said = {"circuit_is": kind, "other_rows": others, "undecided": [found.name for found in undecided]}
        write_json({"decided": what, "rows": [row_json(row) for row in rows], **said})
        return
    screen = results()
    screen.line(f"{counted(len(rows), 'row')} {what}.", "bold")
    screen.rows([row_words(row) for row in rows])
    if others:
        screen.line(
            f"Their circuits are taken so in {counted(others, 'other row')} too; accepted are only these."
        )
    if undecided:
        circuits = listed(list(dict.fromkeys(found.pin.circuit for found in undecided)))
        screen.line(
            f"Still open: whether {circuits} is a number or the name of a voltage. Nothing joins by it.",
            "doubt",
        )
        example = f"xref check accept {undecided[0].name} --as"
        screen.line(
            f"Settle it: {example} number, or {example} potential; with --circuit for all rows of it.", "", 2
        )
