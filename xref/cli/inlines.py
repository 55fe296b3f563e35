"""`xref inlines [NAME]`: every in-line, what its cavities carry, and which components it joins."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from xref.cli import blocks
from xref.cli.complete import complete_connector
from xref.cli.options import JsonOption, MachineOption, StrictOption, machine_asked, session_of
from xref.cli.terminal import Row, Screen, Style, results, write_json
from xref.cli.text import counted, listed
from xref.harness.answers import InlineAnswer, InlineCavity, InlineView
from xref.harness.sentences import as_sentence
from xref.records import MATE_DIFFERENCES, Pin

#: Components named in the list of all in-lines; one asked for by name names them all.
_MOST_COMPONENTS = 4

_HOW = {
    "person": "you said so",
    "designator": "two halves of one name",
    "marks": "names that differ by a half mark",
    "mirrored": "cavity lists that mirror each other",
}


def run(
    ctx: typer.Context,
    name: Annotated[
        str,
        typer.Argument(
            metavar="[NAME]", help="Only this in-line, cavity by cavity.", autocompletion=complete_connector
        ),
    ] = "",
    machine: MachineOption = "",
    as_json: JsonOption = False,
    strict: StrictOption = False,
) -> int:
    """Show every in-line connector: what passes through it, and what it joins.

    With NAME, its cavities one by one, both halves side by side, with what changes between them.
    """
    from xref.harness.inlines import answer_inlines
    from xref.store.index import Index

    with Index.open(session_of(ctx).workspace) as index:
        answer = answer_inlines(index, name, machine_asked(index, machine))
    if as_json:
        from xref.harness.json_nets import inlines_to_json

        write_json(inlines_to_json(answer))
    else:
        print_inlines(results(), answer)
    doubtful = any(view.doubtful or view.differences for view in answer.inlines)
    return 1 if not answer.inlines or (strict and doubtful) else 0


def print_inlines(screen: Screen, answer: InlineAnswer) -> None:
    """Write the in-lines, one machine after the other; one asked for by name cavity by cavity."""
    if not answer.inlines:
        of = f" {answer.name}" if answer.name else ""
        screen.line(f"No in-line connector{of} stands in the pages that were read.", "bold")
    machines = dict.fromkeys(view.machine for view in answer.inlines)
    for number, machine in enumerate(machines):
        views = [view for view in answer.inlines if view.machine == machine]
        if number:
            screen.line()
        if answer.name:
            for view in views:
                _print_view(screen, view)
        else:
            title = f"{counted(len(views), 'in-line connector')}{blocks.machine_words(machine)}"
            screen.line(title, "bold")
            screen.rows([_row(view) for view in views])
    if answer.inlines:
        screen.line()
        screen.line("Whether one may go is decided by the plan: every wire through it must move or end.")
    blocks.near_names(screen, "Did you mean:" if not answer.inlines else "WRITTEN MUCH ALIKE:", answer.near)
    blocks.outdated(screen, answer.outdated)
    blocks.unread_pages(screen, answer.unread_pages)


def _row(view: InlineView) -> Row:
    changed = sum(bool(cavity.differences) for cavity in view.cavities)
    notes: list[tuple[str, Style]] = [(text, "doubt") for text in view.differences]
    if changed:
        notes.append((f"changes on the way in {counted(changed, 'cavity', 'cavities')}", ""))
    if view.doubtful:
        notes.append(("a row of its nets may have been misread: xref check", "doubt"))
    return Row(
        cells=(view.names, _use_words(view), f"joins {_component_words(view, _MOST_COMPONENTS)}"), notes=notes
    )


def _use_words(view: InlineView) -> str:
    parts = [f"{view.both} through"]
    if one := view.count("one"):
        parts.append(f"{one} on one half only")
    if nothing := view.count("nothing"):
        parts.append(f"{nothing} empty")
    return ", ".join(parts)


def _component_words(view: InlineView, most: int | None) -> str:
    named = [f"{name} ({number})" for name, number in view.components[:most]]
    left = len(view.components) - len(named)
    return listed(named) + (f" and {left} more" if left else "") if named else "nothing that was read"


def _print_view(screen: Screen, view: InlineView) -> None:
    screen.line(f"In-line {view.names}{blocks.machine_words(view.machine)}", "bold")
    facts = [
        (
            f"half {half.half}" if half.half else half.connector,
            _half_words(half.harness, half.gender, half.location),
        )
        for half in view.halves
    ]
    facts += [("paired by", _HOW.get(view.how, "")), ("cavities", _use_words(view))]
    facts.append(("joins", _component_words(view, None)))
    screen.rows([Row(cells=fact) for fact in facts if fact[1]])
    for text in view.differences:
        screen.line(f"! {as_sentence(text)}", "doubt", 2)
    screen.line()
    absent = "not decided" if view.likely else "not in the documents"
    screen.rows([_cavity_row(cavity, absent) for cavity in view.cavities])


def _half_words(*parts: str) -> str:
    return " · ".join(filter(None, parts)) or "nothing more is said of it"


def _cavity_row(cavity: InlineCavity, absent: str) -> Row:
    notes: list[tuple[str, Style]] = [(MATE_DIFFERENCES[name], "doubt") for name in cavity.differences]
    notes += [line for pin in (*cavity.one, *cavity.other) for line in blocks.doubts(pin.flags)]
    same = cavity.use == "both" and not cavity.differences
    cells = (
        cavity.cavity,
        _side_words(cavity.one, absent),
        "=" if same else "|",
        _side_words(cavity.other, absent),
    )
    return Row(cells=cells, notes=list(dict.fromkeys(notes)))


def _side_words(pins: Sequence[Pin], absent: str) -> str:
    if not pins:
        return absent
    wires = [pin for pin in pins if pin.status != "unused" and (pin.circuit or pin.color_code)]
    if not wires:
        return "not used" if any(pin.status == "unused" for pin in pins) else "nothing stated"
    said = dict.fromkeys(
        f"{pin.circuit or 'no number'} {blocks.color_words(pin) or pin.color_code}".strip() for pin in wires
    )
    return ", ".join(said)
