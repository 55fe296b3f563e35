"""`xref plan new COMPONENT… -o PLAN.toml`: a plan file with what the index knows, places left open."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli.complete import complete_connector
from xref.cli.options import JsonOption, MachineOption, machine_asked, session_of
from xref.cli.terminal import Row, Screen, results, write_json
from xref.cli.text import counted, listed

if TYPE_CHECKING:
    from xref.moves.start import PlanStart


def run(
    ctx: typer.Context,
    components: Annotated[
        list[str],
        typer.Argument(
            metavar="COMPONENT...",
            help="Module, component or connector that moves.",
            autocompletion=complete_connector,
        ),
    ],
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="PLAN.toml", help="The plan file to write.")
    ],
    force: Annotated[
        bool, typer.Option("--force", help="Write over a file that is there.", show_default=False)
    ] = False,
    machine: MachineOption = "",
    as_json: JsonOption = False,
) -> int:
    """Start a plan: the modules that move, with what the index knows about them.

    The places are left open; the plan is shown once they are filled in.
    """
    from xref.moves.start import start_plan
    from xref.sheets.plan_toml import write_plan_start
    from xref.store.index import Index

    with Index.open(session_of(ctx).workspace) as index:
        start = start_plan(index, components, machine_asked(index, machine), "xref plan new")
    write_plan_start(start, output, force=force)
    if as_json:
        write_json(_to_json(start, output))
    else:
        print_start(results(), start, output)
    return 0


def print_start(screen: Screen, start: PlanStart, output: Path) -> None:
    """Write what the plan holds, what is to be filled in and what to type next."""
    screen.line(f"Plan started: {output}", "bold")
    rows = [
        Row(cells=(module.name, f"plugs {listed([name for name, _ in module.connectors])}"))
        for module in start.modules
    ]
    screen.rows(rows)
    for module in start.modules:
        if module.not_named:
            screen.line(
                f"! {module.name}: {listed(module.not_named)} of the same component not named.", "doubt"
            )
    for net in start.refused:
        screen.line(f"! {net.name} is never cut by a plan: {net.refused}.", "doubt")
    if start.only:
        names = listed([neighbor.component for neighbor in start.only])
        screen.line(f"Offered to move along, since they talk to nothing else: {names}.")
    if start.safety:
        screen.line(
            f"{counted(len(start.safety), 'safety circuit')} to read first: see [safety] in the plan."
        )
    screen.line(f"Fill in the places left open in it, then: xref plan show {output}")


def _to_json(start: PlanStart, output: Path) -> dict[str, object]:
    return {
        "plan": str(output),
        "machine": start.machine,
        "modules": [
            {
                "name": module.name,
                "connectors": [name for name, _ in module.connectors],
                "not_named": list(module.not_named),
            }
            for module in start.modules
        ],
        "only": [neighbor.component for neighbor in start.only],
        "inlines": [item.connector for item, _ in start.inlines],
        "host": [f"{need.pin.connector}:{need.pin.cavity}" for need, _ in start.host],
        "safety": [net.name for net in start.safety],
        "refused": [net.name for net in start.refused],
    }
