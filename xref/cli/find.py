"""`xref find TEXT…`: free text over functions, names and connectors."""

from __future__ import annotations

from typing import Annotated

import typer

from xref.cli import blocks
from xref.cli.options import (
    JsonOption,
    MachineOption,
    PasswordOption,
    PictureOption,
    StrictOption,
    deliver,
    exit_code,
    machine_asked,
    session_of,
)
from xref.cli.pictures import save_pictures
from xref.cli.terminal import Screen, results, talk, write_json
from xref.cli.text import counted
from xref.harness.answers import FindAnswer


def run(
    ctx: typer.Context,
    text: Annotated[list[str], typer.Argument(metavar="TEXT...", help="Words to look for.")],
    machine: MachineOption = "",
    as_json: JsonOption = False,
    picture: PictureOption = None,
    password: PasswordOption = "",
    strict: StrictOption = False,
) -> int:
    """Find rows by words of function, component, connector.

    The best match comes first.
    """
    from xref.harness.lookup import answer_find
    from xref.store.index import Index

    session = session_of(ctx)
    with Index.open(session.workspace) as index:
        asked = machine_asked(index, machine)
        answer = answer_find(index, session.workspace, " ".join(text), asked)
        pins = [hit.pin for hit in answer.hits]
        deliver(
            lambda: _show(answer, as_json),
            lambda: save_pictures(index, pins, picture, talk(session.quiet), password),
            as_json,
        )
    return exit_code(bool(pins), pins, strict)


def _show(answer: FindAnswer, as_json: bool) -> None:
    if as_json:
        from xref.harness.json_answers import find_to_json

        write_json(find_to_json(answer))
    else:
        print_found(results(), answer)


def print_found(screen: Screen, answer: FindAnswer) -> None:
    """Write the rows found, best first, one machine after the other."""
    if not answer.hits:
        screen.line(f"Nothing that was read holds “{answer.text}”.", "bold")
    for machine, pins in blocks.by_machine(hit.pin for hit in answer.hits):
        title = f"{counted(len(pins), 'row')} for “{answer.text}”{blocks.machine_words(machine)}"
        blocks.block(screen, title, blocks.appearances(pins, with_circuit=True))
    blocks.near_names(screen, "Did you mean:", answer.near)
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)
