"""The texts of a row to what a wire has: colour code, circuit, size, function; combined cells parted."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from xref.colors.recognise import color_likeness, split_cavity_color, split_combined
from xref.rows.content import (
    COLOR,
    circuits_listed,
    clean_cavity,
    is_dash,
    is_unused,
    listed,
    size_and_color,
    without_footnote,
)
from xref.rows.roles import LONGEST_CODE
from xref.rows.row import Row

#: A hyphen as typesetters print it (U+2010, U+2011, the minus U+2212) is the one on a keyboard.
HYPHENS = str.maketrans("\u2010\u2011\u2212", "---")
#: Two wires in one cell are joined by these.
TWO_WIRES = re.compile(r"\s*(?:[&;]|\bund\b|\band\b|\bet\b)\s*")


#: A footnote's mark before a text.
MARKED = re.compile(r"([*†‡§]{1,3})\s+(.*\w.*)", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """What one row says of one wire end, as printed."""

    cavity: str
    color: str = ""
    circuit: str = ""
    size: str = ""
    function: str = ""
    signal: str = ""
    goes_to: str = ""
    option: str = ""
    component: str = ""
    harness: str = ""
    rating: str = ""
    location: str = ""


#: A blank behind the sign within a code, and none before it: the code was set wide, or ran on below.
_BROKEN_CODE = re.compile(r"(?<=[^\W\d_])(?<!\bw)([/-])\s(?=[^\W\d_]{1,3}(?:$|[/-]))")


def row_to_wires(row: Row) -> list[Wire]:
    """Return the wires of a row: one, or several where a cell names several."""
    values = {role: _clean(text) for role, text in row.values.items() if not role.startswith("other_")}
    mark, function = _marked(values.get("function", ""))
    wire = Wire(
        cavity=_cavity(row.cavity),
        color=_BROKEN_CODE.sub(r"\1", values.get("color", "")),
        circuit=values.get("circuit", ""),
        size=values.get("size", ""),
        function=_said(function),
        signal=_said(values.get("signal", "")),
        goes_to=_said(values.get("goes_to", "")),
        option=values.get("option", "") or mark,
        component=_said(values.get("component", "")),
        harness=_said(values.get("harness", "")),
        rating=_said(values.get("rating", "")),
        location=_said(values.get("location", "")),
    )
    return [_parted(w) for w in _several(wire)]


def _clean(text: str) -> str:
    text = without_footnote(text)
    return text if text.isascii() else text.translate(HYPHENS)


def _marked(text: str) -> tuple[str, str]:
    """Part a footnote's mark from the text it stands before: it tells for which machines a row holds."""
    found = MARKED.fullmatch(text)
    return (found.group(1), found.group(2)) if found else ("", text)


def _said(text: str) -> str:
    return "" if is_dash(text) else text


def _cavity(text: str) -> str:
    colored = split_cavity_color(text)
    return colored[0] if colored else clean_cavity(text)


def _several(wire: Wire) -> list[Wire]:
    """Part `BK & BK/WH` into two wires when every piece is a colour; circuits likewise if as many."""
    if not wire.color:
        return [wire]
    circuits, colors = listed(wire.circuit), listed(wire.color)
    if (
        1 < len(circuits) == len(colors)
        and all(_is_code(c) for c in colors)
        and circuits_listed(wire.circuit)
    ):
        return [replace(wire, color=p, circuit=c) for p, c in zip(colors, circuits, strict=True)]
    pieces = TWO_WIRES.split(wire.color)
    clear = any(color_likeness(p) >= COLOR for p in pieces)
    if len(pieces) < 2 or not clear or not all(p and _is_code(p) for p in pieces):
        return [wire]
    circuits = [p for p in re.split(r"\s*(?:[&;+,/]|\s)\s*", wire.circuit) if p]
    if len(circuits) != len(pieces):
        circuits = [wire.circuit] * len(pieces)
    return [replace(wire, color=p, circuit=c) for p, c in zip(pieces, circuits, strict=True)]


def _is_code(text: str) -> bool:
    """A colour, or a short text without figures that stands where its circuit's colour must."""
    return color_likeness(text) >= COLOR or (
        len(text) <= LONGEST_CODE and not any(c.isdigit() for c in text) and text.isascii()
    )


def _parted(wire: Wire) -> Wire:
    """Part combined cells: `0.5 BU/YE` in the colour's column, `1440A 0.5 BU/YE` in the circuit's."""
    size, color = size_and_color(wire.color)
    if size:
        wire = replace(wire, color=color, size=wire.size or size)
    elif wire.color and color_likeness(wire.color) < COLOR:
        found = split_combined(wire.color)
        if found and found.color:
            wire = replace(
                wire,
                color=found.color,
                size=wire.size or found.size,
                circuit=wire.circuit or found.circuit,
            )
    for name in ("circuit", "size"):
        text = getattr(wire, name)
        if not wire.color and " " in text:
            found = split_combined(text)
            if found and found.color:
                wire = replace(
                    wire, color=found.color, size=found.size, circuit=found.circuit or wire.circuit
                )
                if name == "size" and not found.size:
                    wire = replace(wire, size="")
    return wire


def color_in_cavity(row: Row) -> str:
    """Return the colour printed inside the cavity's cell (`1(red)`), or ""."""
    found = split_cavity_color(row.cavity)
    return found[1] if found else ""


def blank_if_none(text: str) -> str:
    """Return "" for dashes and words that say that nothing is there."""
    return "" if is_dash(text) or is_unused(text) else text
