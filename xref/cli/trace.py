"""`xref trace FROM TO`: by which ways two places are joined, hop by hop."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import typer

from xref.cli import blocks
from xref.cli.complete import complete_place
from xref.cli.options import (
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
from xref.cli.terminal import Row, Screen, Style, results, talk, write_json
from xref.cli.text import counted
from xref.cli.ways import NOT_STATED, PARTLY_STATED
from xref.harness.answers import TraceAnswer
from xref.harness.routes import Between, Route
from xref.harness.size_words import size_words
from xref.records import Pin

_PLACE_HELP = "CONNECTOR:CAVITY, a connector, a component, or a circuit."
FromArgument = Annotated[str, typer.Argument(metavar="FROM", help=_PLACE_HELP, autocompletion=complete_place)]
ToArgument = Annotated[str, typer.Argument(metavar="TO", help=_PLACE_HELP, autocompletion=complete_place)]

_BETWEEN: dict[Between, str] = {
    "wire": "↓ wire",
    "plug": "⇅ plugged together",
    "splice": "• splice",
    "component": "┆ inside the component, if it joins them there: not stated",
    "not stated": "┆ the same circuit; which end is wired to which is not stated",
}

#: What the hops beside each other show by themselves.
_SEEN_ON_THE_WAY = frozenset({"color-changes", "size-changes"})


def run(
    ctx: typer.Context,
    start: FromArgument,
    end: ToArgument,
    machine: MachineOption = "",
    as_json: JsonOption = False,
    output: DrawingOption = None,
    picture: PictureOption = None,
    password: PasswordOption = "",
    strict: StrictOption = False,
) -> int:
    """Show every way from one place to another, hop by hop.

    Names each in-line half and splice on it, says what is not stated and what is missing; -o draws it.
    """
    from xref.harness.lookup import answer_trace
    from xref.store.index import Index

    check_drawing(output)
    session = session_of(ctx)
    with Index.open(session.workspace) as index:
        answer = answer_trace(index, start, end, machine_asked(index, machine))
        hops = list(dict.fromkeys(pin for route in answer.paths for pin in route.hops))

        def pictures() -> None:
            save_pictures(index, hops, picture, talk(session.quiet), password)
            if output is not None:
                from xref.sheets.net_files import write_trace_drawing

                say_drawn(write_trace_drawing(answer, output), output, talk(session.quiet))

        deliver(lambda: _show(answer, as_json), pictures, as_json)
    return exit_code(bool(answer.paths), hops, strict)


def _show(answer: TraceAnswer, as_json: bool) -> None:
    if as_json:
        from xref.harness.json_answers import trace_to_json

        write_json(trace_to_json(answer))
    else:
        print_trace(results(), answer)


def print_trace(screen: Screen, answer: TraceAnswer) -> None:
    """Write every way, one after the other, then what is missing or odd."""
    number = 0
    for machine, routes in _by_machine(answer.paths).items():
        if number:
            screen.line()
        head = f"From {answer.start} to {answer.end}{blocks.machine_words(machine)} – "
        screen.line(head + counted(len(routes), "way"), "bold")
        for route in routes:
            number += 1
            screen.line()
            which = f"WAY {number} of {len(answer.paths)}" if len(answer.paths) > 1 else "WAY"
            screen.line(f"{which} – {_order_words(route)}", "bold")
            screen.rows(_rows(route))
    if not answer.paths:
        screen.line(f"No way from {answer.start} to {answer.end} is in the pages that were read.", "bold")
    for title, said in (("MISSING:", answer.missing), ("Note:", answer.notices)):
        for text in said:
            screen.line()
            screen.line(f"{title} {text}", "doubt" if title == "MISSING:" else "")
    blocks.near_names(screen, "Did you mean:", answer.near)
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)


def _order_words(route: Route) -> str:
    """Return what is stated of a way; no more than what stands between its hops says."""
    if route.order != "stated":
        return NOT_STATED.upper()
    return "order stated by the manual" if "not stated" not in route.between else PARTLY_STATED.upper()


def _by_machine(routes: tuple[Route, ...]) -> dict[str, list[Route]]:
    found: dict[str, list[Route]] = {}
    for route in routes:
        found.setdefault(route.hops[0].machine, []).append(route)
    return found


def _rows(route: Route) -> list[Row]:
    between: list[Between | None] = [*route.between, None]
    return [_hop(pin, after) for pin, after in zip(route.hops, between, strict=True)]


def _hop(pin: Pin, after: Between | None) -> Row:
    role = {"inline": "in-line", "unknown": "", "component": ""}.get(pin.role, pin.role)
    of = " · ".join(dict.fromkeys(filter(None, (pin.component, pin.connector_name))))
    parts = (
        role if role not in of.lower() else "",
        of,
        f"harness {pin.harness}" if pin.harness and pin.harness not in of else "",
        f"size {size_words(pin)}" if pin.size else "",
        f"only {pin.option}" if pin.option else "",
        blocks.page_of(pin),
    )
    notes: list[tuple[str, Style]] = [(" · ".join(part for part in parts if part), "")]
    notes += blocks.remarks(replace(pin, notices=tuple(n for n in pin.notices if n not in _SEEN_ON_THE_WAY)))
    if after is not None:
        notes.append((_BETWEEN[after], "bold"))
    circuit = f"circuit {pin.circuit}" if pin.circuit else "no circuit"
    return Row(
        cells=(blocks.where(pin), pin.color_code or "–", circuit, blocks.color_words(pin)), notes=notes
    )
