"""A module's sheet put into words: every line, head, count, warning and caution the formats print."""

from __future__ import annotations

import tomllib
from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import cache
from importlib import resources

from xref.harness.answers import ConnectorView, ModuleSheet, Neighbor, SheetLine, SheetPart
from xref.harness.same import destinations, wires_stated
from xref.harness.size_words import size_words
from xref.records import DOUBTS, Pin, notice_words
from xref.sheets.places import ends_of, fed_by, on_the_way
from xref.sheets.printed import PrintedLine, PrintedNeighbor, PrintedPart, PrintedSheet
from xref.sheets.texts import on_one_line
from xref.sheets.wires import wire_of

#: Said beside the cavities concerned, so it need not be repeated as a note.
_SAID_ELSEWHERE = {"same-color-in-connector", "reversed-colors-in-connector"}


def sheet_in_words(sheet: ModuleSheet) -> PrintedSheet:
    """Return all that the sheet says. Texts of the manual are on one line and fit for any file."""
    letters = _letters(sheet)
    own = frozenset(
        (part.view.connector.machine, part.view.connector.connector, part.view.connector.half)
        for part in sheet.parts
    )
    machines = dict.fromkeys(on_one_line(part.view.connector.machine) for part in sheet.parts)
    words = cautions()
    return PrintedSheet(
        title=on_one_line(", ".join(sheet.asked)),
        machine=", ".join(name for name in machines if name),
        documents=tuple((letter, on_one_line(name)) for name, letter in letters.items()),
        cautions=tuple(words["text"]),
        caution_short=str(words["short"]),
        taken=tuple((on_one_line(name), on_one_line(why)) for name, why in sheet.taken),
        not_taken=tuple((on_one_line(near.name), on_one_line(near.why)) for near in sheet.not_taken),
        unread=tuple(
            on_one_line(f"{note.document}, page {note.page}: {note.why}") for note in sheet.unread_pages
        ),
        parts=tuple(_part(part, own, letters) for part in sheet.parts),
        neighbors=tuple(_neighbor(neighbor) for neighbor in sheet.neighbors),
    )


def _neighbor(neighbor: Neighbor) -> PrintedNeighbor:
    kind = {"ground": "ground ", "fuse": "fuse "}.get(neighbor.role, "")
    names = [name for name in neighbor.connectors if name != neighbor.component]
    marks = ("ONLY" if neighbor.only else "", "IN DOUBT" if neighbor.doubtful else "")
    return PrintedNeighbor(
        count=str(neighbor.count),
        name=on_one_line(kind + neighbor.component),
        connectors=on_one_line(", ".join(names)),
        through=on_one_line(", ".join(neighbor.through)),
        circuits=on_one_line(", ".join(circuit or "(no number)" for circuit in neighbor.circuits)),
        mark=" ".join(filter(None, marks)),
    )


@cache
def cautions() -> dict[str, list[str]]:
    """Return what every sheet says before anything else: its `text`, and a `short` line for a foot."""
    text = resources.files("xref.data").joinpath("cautions.toml").read_text(encoding="utf-8")
    words: dict[str, list[str]] = tomllib.loads(text)["sheet"]
    return words


def _letters(sheet: ModuleSheet) -> dict[str, str]:
    """Give every document on the sheet a letter, in the order of appearance (A … Z, A2 …)."""
    names: dict[str, None] = {}
    for part in sheet.parts:
        for line in part.lines:
            names.update(dict.fromkeys(pin.document for pin in _rows(line)))
    for part in sheet.parts:
        for line in part.lines:
            for pin in line.others.appearances if line.others else ():
                names.setdefault(pin.document)
            for pin in (*line.others.ends, *line.others.grounds, *line.others.fuses) if line.others else ():
                names.setdefault(pin.document)
    return {name: chr(65 + n % 26) + (str(n // 26 + 1) if n >= 26 else "") for n, name in enumerate(names)}


def _page(pin: Pin) -> str:
    label = on_one_line(pin.page_label)
    return f"p. {pin.page} “{label}”" if label and label != str(pin.page) else f"p. {pin.page}"


def _rows(line: SheetLine) -> tuple[Pin, ...]:
    return line.rows or (line.pin,)


def _part(part: SheetPart, own: frozenset[tuple[str, str, str]], letters: dict[str, str]) -> PrintedPart:
    view = part.view
    connector = view.connector
    shared = _colour_marks(view)
    by_cavity: dict[str, list[SheetLine]] = defaultdict(list)
    seen: Counter[str] = Counter()
    for line in part.lines:
        by_cavity[line.pin.cavity].append(line)
    lines = []
    for line in part.lines:
        cavity = line.pin.cavity
        seen[cavity] += 1
        ordinal = _ordinal(seen[cavity], by_cavity[cavity])
        lines.append(_line(line, own, letters, tuple(filter(None, (ordinal, *shared.get(cavity, ()))))))
    lines += [
        PrintedLine(
            cavity=on_one_line(cavity),
            unread=True,
            doubts=("The housing has this cavity, but no row of it could be read: look in the manual.",),
        )
        for cavity in view.missing
    ]
    name = f"{connector.connector} {connector.half}" if connector.half else connector.connector
    return PrintedPart(
        name=on_one_line(name),
        component=on_one_line(connector.component or connector.connector_name),
        head=_head(view),
        counts=_counts(view, part),
        warnings=_warnings(view),
        lines=tuple(lines),
    )


def _ordinal(number: int, lines: Sequence[SheetLine]) -> str:
    """Return which of several lines of a cavity this is: wires of one table, or tables that differ."""
    if len(lines) < 2:
        return ""
    if all(any(row.option for row in _rows(line)) for line in lines):
        return f"THE OPTION DECIDES what is in this cavity: line {number} of {len(lines)}"
    if wires_stated(pin for line in lines for pin in _rows(line)) == len(lines):
        return f"wire {number} of {len(lines)} in this cavity"
    return f"TABLES DIFFER about this cavity: line {number} of {len(lines)}"


def _line(
    line: SheetLine, own: frozenset[tuple[str, str, str]], letters: dict[str, str], notes: tuple[str, ...]
) -> PrintedLine:
    pin = line.pin
    ends = ends_of(line, own, lambda other: f"{letters[other.document]} {_page(other)}")
    answered = line.others.notices if line.others else ()
    rows = _rows(line)
    notices = [notice_words(name) for row in rows for name in row.notices if name not in _SAID_ELSEWHERE]
    options = [f"only {row.option}" for row in rows if row.option]
    goes_to = [f"printed: goes to {text}" for text in destinations(rows)]
    doubtful = next((row for row in rows if row.flags), pin)
    colored = next((row for row in rows if row.base_color), pin)
    return PrintedLine(
        cavity=on_one_line(pin.cavity),
        circuit=on_one_line(pin.circuit),
        wire=wire_of(colored),
        function=on_one_line(next((row.function for row in rows if row.function), "")),
        size=" / ".join(dict.fromkeys(on_one_line(size_words(row)) for row in rows if row.size)),
        ends=ends,
        ends_note=_ends_note(line) if not ends else "",
        through=on_the_way(line.others),
        fed_by=fed_by(line),
        source=tuple(dict.fromkeys(f"{letters[row.document]} {_page(row)}" for row in rows)),
        places=tuple(
            dict.fromkeys((on_one_line(row.document), _page(row).removeprefix("p. ")) for row in rows)
        ),
        doubts=tuple(
            dict.fromkeys(DOUBTS.get(flag, on_one_line(flag)) for row in rows for flag in row.flags)
        ),
        notes=tuple(dict.fromkeys(on_one_line(t) for t in (*options, *goes_to, *notes, *notices, *answered))),
        empty=pin.status == "unused",
        pin=doubtful,
    )


def _ends_note(line: SheetLine) -> str:
    if line.pin.status == "unused":
        return "not fitted, says the manual"
    if line.others is None:
        return "nothing printed here" if line.pin.status == "not stated" else "no circuit number to follow"
    return "no other end in the documents"


def _colour_marks(view: ConnectorView) -> dict[str, tuple[str, ...]]:
    marks: dict[str, list[str]] = {}
    for group in view.same_color:
        for cavity in group:
            others = ", ".join(on_one_line(other) for other in group if other != cavity)
            marks.setdefault(cavity, []).append(f"SAME COLOURS as cavity {others}")
    for one, other in view.reversed_color:
        marks.setdefault(one, []).append(f"COLOURS REVERSED in cavity {on_one_line(other)}")
        marks.setdefault(other, []).append(f"COLOURS REVERSED in cavity {on_one_line(one)}")
    return {cavity: tuple(said) for cavity, said in marks.items()}


def _head(view: ConnectorView) -> tuple[tuple[str, str], ...]:
    connector = view.connector
    pairs = (
        ("Name", connector.connector_name if connector.component else ""),
        ("Housing", connector.color),
        ("Location", connector.location),
        ("Gender", connector.gender),
        ("Harness", connector.harness),
        ("View", connector.view or "view not stated"),
    )
    return tuple((label, on_one_line(text)) for label, text in pairs if text)


def _counts(view: ConnectorView, part: SheetPart) -> tuple[tuple[str, str], ...]:
    stated = view.connector.cavities_stated
    empty = {line.pin.cavity for line in part.lines if line.pin.status == "unused"}
    return (
        ("cavities stated", "not stated" if stated is None else str(stated)),
        ("read", str(view.connector.cavities_read)),
        ("not fitted", str(len(empty))),
        ("missing", str(len(view.missing))),
    )


def _warnings(view: ConnectorView) -> tuple[str, ...]:
    said = [
        f"Cavities {', '.join(on_one_line(cavity) for cavity in group)} have wires of the same colours: "
        "tell them apart by cavity and meter, not by colour."
        for group in view.same_color
    ]
    said += [
        f"Cavities {on_one_line(one)} and {on_one_line(other)} have the same two colours reversed: "
        "look which is the base and which the stripe."
        for one, other in view.reversed_color
    ]
    said += [
        f"Doubt about this connector: {DOUBTS.get(flag, on_one_line(flag))}." for flag in view.connector.flags
    ]
    return tuple(said)
