"""What the commands share: their options, where the workspace is, how an answer goes out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.complete import complete_circuit, complete_connector, complete_machine
from xref.cli.text import listed
from xref.errors import UsageError
from xref.workspace import Workspace

if TYPE_CHECKING:
    from xref.records import Pin
    from xref.store.index import Index

MachineOption = Annotated[
    str,
    typer.Option(
        "--machine",
        metavar="NAME",
        help="Only this machine's documents.",
        autocompletion=complete_machine,
    ),
]
JsonOption = Annotated[
    bool, typer.Option("--json", help="Answer with one JSON object, for programs.", show_default=False)
]
PictureOption = Annotated[
    Path | None,
    typer.Option(
        "--picture",
        metavar="FILE.png",
        help="Also save the page with the rows marked; further pages as FILE-2.png, FILE-3.png …",
    ),
]
DrawingOption = Annotated[
    Path | None,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="Also draw it: wires in their colours, connectors, splices; .svg, .png or .pdf.",
        show_default=False,
    ),
]
StrictOption = Annotated[
    bool,
    typer.Option("--strict", help="Exit code 1 if a row in the answer carries a doubt.", show_default=False),
]
PasswordOption = Annotated[
    str,
    typer.Option(
        "--password",
        metavar="TEXT",
        envvar="XREF_PASSWORD",
        show_default=False,
        help="Password of encrypted PDFs; never stored. Better given as XREF_PASSWORD.",
    ),
]
CircuitArgument = Annotated[
    str,
    typer.Argument(
        metavar="NUMBER", help="Circuit number or name, as printed.", autocompletion=complete_circuit
    ),
]
ConnectorArgument = Annotated[
    str,
    typer.Argument(
        metavar="NAME[:CAVITY]",
        help="Connector as printed, or one of its cavities.",
        autocompletion=complete_connector,
    ),
]

PlanArgument = Annotated[Path, typer.Argument(metavar="PLAN.toml", help="The plan file.")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """What the global options say."""

    workspace: Workspace
    quiet: bool = False


def session_of(ctx: typer.Context) -> Session:
    """Return the session the global options made."""
    session = ctx.obj
    if not isinstance(session, Session):
        raise TypeError("the command was called without the global options")
    return session


def exit_code(found: bool, pins: Iterable[Pin] = (), strict: bool = False) -> int:
    """Return 0 for found; 1 for nothing found, or for a doubt where `strict` asks."""
    if not found or (strict and any(pin.flags for pin in pins)):
        return 1
    return 0


def check_drawing(output: Path | None) -> None:
    """Raise UsageError, before anything is looked up, where a drawing is asked for in no known format."""
    if output is not None:
        from xref.sheets.files import DRAWING_SUFFIXES, suffix_among

        suffix_among(output, DRAWING_SUFFIXES, "a drawing")


def deliver(answer: Callable[[], None], pictures: Callable[[], None], as_json: bool) -> None:
    """Give the answer and draw its pictures, so that a picture's error does the least harm.

    A person gets the answer first; a program gets exactly one object, the answer or the error.
    """
    for step in (pictures, answer) if as_json else (answer, pictures):
        step()


def machine_asked(index: Index, name: str) -> str | None:
    """Return the machine to ask for, None for all; raises UsageError where the index has no such machine."""
    if not name:
        return None
    known = index.machines()
    if name not in known:
        named = listed([text or "(unnamed)" for text in known]) or "none"
        raise UsageError(f"There is no machine {name} in the index.", hint=f"Machines indexed: {named}.")
    return name
