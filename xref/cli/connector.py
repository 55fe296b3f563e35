"""`xref connector NAME[:CAVITY]`: a connector's head and pinout, or what is in one of its cavities."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Annotated

import typer

from xref.cli import blocks
from xref.cli.circuit import show as show_circuit
from xref.cli.options import (
    ConnectorArgument,
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
from xref.cli.terminal import Row, Screen, Style, results, talk, write_json
from xref.cli.text import page_ranges
from xref.harness.answers import ConnectorAnswer, ConnectorView, Neighbor
from xref.harness.same import destinations, same_pins
from xref.harness.size_words import size_words
from xref.harness.stops import LISTED
from xref.records import Connector, Pin

if TYPE_CHECKING:
    from xref.store.index import Index


def run(
    ctx: typer.Context,
    name: ConnectorArgument,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    picture: PictureOption = None,
    password: PasswordOption = "",
    strict: StrictOption = False,
    neighbors: Annotated[
        bool,
        typer.Option(
            "--neighbors",
            help="Show instead what it is wired to, by how many circuits, through which in-lines.",
            show_default=False,
        ),
    ] = False,
) -> int:
    """Show a connector's head and pinout.

    With :CAVITY, show where the circuit in that cavity appears.
    """
    from xref.harness.lookup import answer_cavity, answer_connector
    from xref.store.index import Index

    session = session_of(ctx)
    with Index.open(session.workspace) as index:
        asked = machine_asked(index, machine)
        answer = answer_connector(index, name, asked)
        if answer.connectors or ":" not in name:
            pins = [pin for view in answer.connectors for pin in view.rows]
            around = _neighbors(index, answer) if neighbors else None
            show = partial(_show_connector, answer, as_json, around)
        else:
            connector, _, cavity = name.rpartition(":")
            in_cavity = answer_cavity(index, connector, cavity, asked)
            pins = list(in_cavity.appearances)
            show = partial(show_circuit, in_cavity, as_json)
        deliver(
            show,
            lambda: save_pictures(index, pins, picture, talk(session.quiet), password),
            as_json,
        )
    return exit_code(bool(pins) or bool(answer.connectors), pins, strict)


def _neighbors(index: Index, answer: ConnectorAnswer) -> tuple[Neighbor, ...]:
    from xref.harness.neighbors import neighbors_of

    return neighbors_of(index, [view.connector for view in answer.connectors])


def _show_connector(answer: ConnectorAnswer, as_json: bool, around: Sequence[Neighbor] | None) -> None:
    if as_json:
        from xref.harness.json_answers import connector_to_json

        found = connector_to_json(answer)
        if around is not None:
            from xref.harness.json_nets import neighbors_to_json

            found["neighbors"] = neighbors_to_json(around)
        write_json(found)
    elif around is not None and answer.connectors:
        print_neighbors(results(), answer, around)
    else:
        print_connector(results(), answer)


def print_neighbors(screen: Screen, answer: ConnectorAnswer, around: Sequence[Neighbor]) -> None:
    """Write what a module is wired to, most circuits first; what talks only to it is marked."""
    for number, machine in enumerate(dict.fromkeys(view.connector.machine for view in answer.connectors)):
        own = dict.fromkeys(
            v.connector.connector for v in answer.connectors if v.connector.machine == machine
        )
        if number:
            screen.line()
        screen.line(f"{answer.name} ({', '.join(own)}){blocks.machine_words(machine)} is wired to", "bold")
        here = [neighbor for neighbor in around if neighbor.machine == machine]
        if not here:
            screen.line("nothing that was read.", "", 2)
            continue
        screen.rows([_neighbor_row(neighbor) for neighbor in here])
    if any(neighbor.only for neighbor in around):
        screen.line()
        screen.line("ONLY: talks to nothing but this and others so marked; think of moving them together.")
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)


def _neighbor_row(neighbor: Neighbor) -> Row:
    kind = {"ground": "ground ", "fuse": "fuse "}.get(neighbor.role, "")
    names = [name for name in neighbor.connectors if name != neighbor.component]
    cells = (
        f"{neighbor.count}×",
        f"{kind}{neighbor.component}",
        "ONLY" if neighbor.only else "",
        ", ".join(names),
        f"through {', '.join(neighbor.through)}" if neighbor.through else "",
        ", ".join(circuit or "(no number)" for circuit in neighbor.circuits),
    )
    doubt: list[tuple[str, Style]] = [("a row of these circuits may have been misread: xref check", "doubt")]
    return Row(cells=cells, notes=doubt if neighbor.doubtful else [])


def print_connector(screen: Screen, answer: ConnectorAnswer) -> None:
    """Write what a name stands for: the head as printed, then the pinout."""
    if not answer.connectors:
        screen.line(f"No connector {answer.name} stands in the pages that were read.", "bold")
    for number, view in enumerate(answer.connectors):
        if number:
            screen.line()
        _print_head(screen, view)
        _print_pins(screen, view)
    found = bool(answer.connectors)
    title = "WRITTEN MUCH ALIKE, NOT THE SAME:" if found else "Did you mean:"
    blocks.near_names(screen, title, answer.near)
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)


def _print_head(screen: Screen, view: ConnectorView) -> None:
    head = view.connector
    half = f" half {head.half}" if head.half else ""
    screen.line(f"Connector {head.connector}{half}{blocks.machine_words(head.machine)}", "bold")
    facts = (
        ("name", head.connector_name),
        ("plugs into", head.component),
        ("kind", _role_words(head)),
        ("colour", head.color),
        ("location", head.location),
        ("gender", head.gender),
        ("harness", head.harness),
        ("view", head.view or "not stated (which side the numbers are seen from: look at the housing)"),
        ("pages", _pages(view)),
        ("cavities", _count_words(view)),
    )
    screen.rows([Row(cells=(label, text)) for label, text in facts if text])
    for line, style in blocks.doubts(head.flags):
        screen.line(line, style, 2)


def _role_words(head: Connector) -> str:
    words = {
        "component": "component connector",
        "inline": "in-line connector",
        "splice": "splice",
        "ground": "ground",
        "fuse": "fuse or relay holder",
        "unknown": "not known",
    }[head.role]
    return f"{words} ({head.role_why})" if head.role_why else words


def _count_words(view: ConnectorView) -> str:
    if view.pins and all(LISTED in pin.notices for pin in view.pins):
        return "none: a splice that is only listed; its wires are those of rows that name it or its number"
    stated = view.connector.cavities_stated
    parts = [
        f"{stated} stated" if stated is not None else "number not stated",
        f"{len({pin.cavity for pin in view.pins})} read",
        f"MISSING: {', '.join(view.missing)}" if view.missing else "none seen to be missing",
    ]
    return ", ".join(parts)


def _print_pins(screen: Screen, view: ConnectorView) -> None:
    if not view.pins:
        screen.line("No cavity of it was read.", "doubt", 2)
        return
    screen.line()
    screen.rows([_pin_row(group, _marks(view, group[0].cavity)) for group in same_pins(view.rows)])
    if view.same_color or view.reversed_color:
        screen.line()
    for group in view.same_color:
        screen.line(f"= {blocks.cavities(group)} have the same colours: go by the number.", "doubt", 2)
    for pair in view.reversed_color:
        screen.line(f"~ {blocks.cavities(pair)} have the same two colours, reversed.", "doubt", 2)


def _marks(view: ConnectorView, cavity: str) -> str:
    same = any(cavity in group for group in view.same_color)
    reversed_ = any(cavity in pair for pair in view.reversed_color)
    return ("=" if same else "") + ("~" if reversed_ else "")


def _pin_row(group: Sequence[Pin], marks: str) -> Row:
    pin = group[0]
    # several documents print a cavity: their doubts are all said, each once
    notes = list(dict.fromkeys(remark for row in group for remark in blocks.remarks(row)))
    if pin.status == "unused":
        options = dict.fromkeys(f"only {row.option}" for row in group if row.option)
        why = " · ".join(filter(None, (pin.function, *options)))
        return Row(cells=(pin.cavity, "", "", "", "not used", why), notes=notes)
    codes = dict.fromkeys(row.color_code for row in group if row.color_code)
    said = (
        "" if pin.status == "used" else "(not stated)",
        blocks.function_of(group),
        *(f"size {size_words(row)}" for row in group if row.size),
        *(f"only {row.option}" for row in group if row.option),
        *(f"goes to {text}" for text in destinations(group)),
    )
    cells = (
        pin.cavity,
        marks,
        pin.circuit or "–",
        ", ".join(codes) or "–",
        blocks.color_words(pin),
        " · ".join(dict.fromkeys(text for text in said if text)),
    )
    return Row(cells=cells, notes=notes)


def _pages(view: ConnectorView) -> str:
    return "; ".join(
        f"{name} p. {page_ranges(numbers)}".removesuffix(" p. ") for name, numbers in view.documents
    )
