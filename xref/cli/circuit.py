"""`xref circuit NUMBER`: every appearance of a circuit, grouped by what it appears at."""

from __future__ import annotations

from collections.abc import Sequence

import typer

from xref.cli import blocks
from xref.cli.options import (
    CircuitArgument,
    DrawingOption,
    JsonOption,
    MachineOption,
    PasswordOption,
    PictureOption,
    StrictOption,
    check_drawing,
    deliver,
    exit_code,
    machine_asked,
    session_of,
)
from xref.cli.pictures import save_pictures, say_drawn
from xref.cli.terminal import Row, Screen, results, talk, write_json
from xref.cli.text import counted
from xref.cli.ways import print_ways
from xref.harness.answers import CircuitAnswer, Continuation, PassThrough
from xref.harness.same import rows_once
from xref.harness.sentences import as_sentence
from xref.records import Pin


def run(
    ctx: typer.Context,
    number: CircuitArgument,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    output: DrawingOption = None,
    picture: PictureOption = None,
    password: PasswordOption = "",
    strict: StrictOption = False,
) -> int:
    """Show where else a circuit appears.

    Grouped: ends, in-line pass-throughs, splices, grounds, fuses; then its way. Similar numbers are listed
    apart. -o draws the whole net.
    """
    from xref.harness.lookup import answer_circuit
    from xref.store.index import Index

    check_drawing(output)
    session = session_of(ctx)
    with Index.open(session.workspace) as index:
        answer = answer_circuit(index, number, machine_asked(index, machine))

        def pictures() -> None:
            save_pictures(index, answer.appearances, picture, talk(session.quiet), password)
            if output is not None:
                from xref.sheets.net_files import write_circuit_drawing

                say_drawn(write_circuit_drawing(answer, output), output, talk(session.quiet))

        deliver(lambda: show(answer, as_json), pictures, as_json)
    return exit_code(bool(answer.appearances), answer.appearances, strict)


def show(answer: CircuitAnswer, as_json: bool) -> None:
    """Write the answer to stdout, as JSON or for a person."""
    if as_json:
        from xref.harness.json_answers import circuit_to_json

        write_json(circuit_to_json(answer))
    else:
        print_circuit(results(), answer)


def print_circuit(screen: Screen, answer: CircuitAnswer) -> None:
    """Write a circuit's answer as a person reads it, one machine after the other."""
    if not answer.appearances:
        what = "" if ":" in answer.circuit else "As a circuit, "
        screen.line(f"{what}{answer.circuit} stands nowhere in the pages that were read.", "bold")
    for number, (machine, pins) in enumerate(blocks.by_machine(answer.appearances)):
        if number:
            screen.line()
        _print_machine(screen, answer, machine, pins)
    for notice in answer.notices:
        screen.line()
        screen.line(f"Note: {notice}")
    found = bool(answer.appearances)
    title = "WRITTEN MUCH ALIKE, NOT THE SAME (spelling joins nothing):" if found else "Did you mean:"
    blocks.near_names(screen, title, answer.near)
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)


def _print_machine(screen: Screen, answer: CircuitAnswer, machine: str, pins: Sequence[Pin]) -> None:
    rows = [pin for pin, _ in rows_once(pins)]
    doubtful = sum(bool(pin.flags) for pin in rows)
    # a cavity asked for may hold no circuit; its place stands in the circuit's stead
    kind = "Circuit" if any(pin.circuit for pin in pins) else "Cavity"
    head = f"{kind} {answer.circuit}{blocks.machine_words(machine)} – {counted(len(rows), 'row')} found"
    screen.line(head + (f", {doubtful} DOUBTFUL" if doubtful else ""), "bold")

    # both halves of an in-line, or two wires of a cavity, were asked for: which is whose must be seen
    several = len({pin.circuit for pin in pins}) > 1

    def here(group: Sequence[Pin]) -> list[Row]:
        return blocks.appearances((pin for pin in group if pin.machine == machine), with_circuit=several)

    ends = here(answer.ends)
    blocks.block(screen, f"ENDS ({len(ends)})", ends)
    throughs = [item for item in answer.pass_throughs if item.machine == machine]
    beyond = [item for item in answer.continues_as if item.at.machine == machine]
    _print_throughs(screen, throughs, [item for item in beyond if item.at.role != "splice"])
    blocks.block(screen, "SPLICES", here(answer.splices))
    for item in beyond:
        if item.at.role == "splice":
            screen.line(f"→ {continues(item)}", "bold", 6)
    blocks.block(screen, "GROUNDS", here(answer.grounds))
    blocks.block(screen, "FUSES", here(answer.fuses))
    print_ways(screen, [net for net in answer.nets if net.machine == machine])


def _print_throughs(screen: Screen, throughs: Sequence[PassThrough], beyond: Sequence[Continuation]) -> None:
    if throughs:
        screen.line()
        passes = any(pin.circuit for through in throughs for pin in through.halves)
        title = "PASSES THROUGH" if passes else "NOTHING PASSES THROUGH"
        screen.line(f"{title} ({counted(len(throughs), 'in-line cavity', 'in-line cavities')})", "bold")
    left = list(beyond)
    for through in throughs:
        screen.rows(blocks.appearances(through.halves, with_circuit=True))
        if through.missing_half:
            known = f"the other half of {through.connector} is not in the documents"
            said = through.likely or known
            screen.line(as_sentence(said), "doubt", 6)
        for item in [item for item in left if item.at in through.halves]:
            screen.line(f"→ {continues(item)}", "bold", 6)
            left.remove(item)
    for item in left:
        screen.line(f"→ {continues(item)}", "bold", 2)


def continues(item: Continuation) -> str:
    """Return `continues as 1452 beyond X5 cavity 12`, or `beyond splice S3`."""
    if item.at.role == "splice":
        return f"continues as {item.circuit} beyond splice {item.at.connector}"
    return f"continues as {item.circuit} beyond {item.at.connector} cavity {item.at.cavity}"
