"""Two connectors whose names differ by a half's mark and that mirror each other are one in-line."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from xref.data.words import fold, words_of
from xref.pins.build import Made
from xref.pins.heading import mark_behind

#: Marks of halves at the end of a designator: `X5-A`, `X5/B`, `C12M`, `C12-F`.
HALF_MARK = re.compile(r"(.*\d)\s*[-/. ]?([ABMF])")
#: Marks that belong together.
PARTNERS = {"A": "B", "B": "A", "M": "F", "F": "M"}
#: Two halves carry the same circuit in this share of the cavities both have, and in two at least.
MIRRORED = 0.6
FEWEST = 2


def join_halves(made: Sequence[Made]) -> list[Made]:
    """Name `X5-A` and `X5-B` connector X5, halves A and B, where their cavities carry the same circuits.

    A mark alone proves nothing: a component may well have connectors called A and B.
    """
    contents: dict[str, dict[str, str]] = defaultdict(dict)
    for m in made:
        if not m.pin.half:
            contents[m.pin.connector].setdefault(m.pin.cavity, m.pin.circuit)
    split = {}
    for name in contents:
        match = HALF_MARK.fullmatch(name)
        if not match:
            continue
        stem, mark = match.groups()
        for other in contents:
            partner = HALF_MARK.fullmatch(other)
            if (
                partner
                and partner.groups() == (stem, PARTNERS[mark])
                and _mirrored(contents[name], contents[other])
            ):
                split[name] = (stem, mark)
    if not split:
        return list(made)
    out = []
    for m in made:
        if m.pin.half or m.pin.connector not in split:
            out.append(m)
            continue
        stem, mark = split[m.pin.connector]
        pin = replace(m.pin, connector=stem, half=mark, role="inline")
        out.append(replace(m, pin=pin, role_why="two halves with one designator carry the same circuits"))
    return out


def join_genders(made: Sequence[Made]) -> list[Made]:
    """Name two tables of one designator, one headed male and one female, the halves of an in-line connector.

    They must hold the same cavities; the half is the word of the heading.
    """
    sides: dict[str, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for m in made:
        if not m.pin.half and m.head.connector == m.pin.connector:
            sides[m.pin.connector][_gender(m.head.text, m.pin.connector)].add(m.pin.cavity)
    split = {
        name
        for name, found in sides.items()
        if set(found) == {"male", "female"} and _alike(found["male"], found["female"])
    }
    why = "two tables of one designator are headed male and female"
    return [
        replace(m, pin=replace(m.pin, half=_word(m.head.text, m.pin.connector), role="inline"), role_why=why)
        if m.pin.connector in split and not m.pin.half
        else m
        for m in made
    ]


def join_marked(made: Sequence[Made]) -> list[Made]:
    """Name two tables of one designator the halves of an in-line where a mark of each stands behind it.

    `X5 Bu` and `X5 St` must hold the same cavities.
    """
    sides: dict[str, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for m in made:
        if m.head.connector == m.pin.connector:
            mark = "" if m.pin.half else mark_behind(m.head.text, m.pin.connector)
            sides[m.pin.connector][mark].add(m.pin.cavity)
    split = {
        name
        for name, found in sides.items()
        if len(found) == 2 and "" not in found and _alike(*found.values())
    }
    why = "two tables of one designator are marked as its halves"
    return [
        replace(
            m,
            pin=replace(m.pin, half=mark_behind(m.head.text, m.pin.connector), role="inline"),
            role_why=why,
        )
        if m.pin.connector in split
        else m
        for m in made
    ]


def _alike(a: set[str], b: set[str]) -> bool:
    return len(a & b) >= FEWEST and len(a & b) >= MIRRORED * len(a | b)


def _gender(heading: str, name: str) -> str:
    word = fold(_word(heading, name))
    return "male" if word in words_of("male") else "female" if word in words_of("female") else ""


def _word(heading: str, name: str) -> str:
    """Return the last word of a heading that says which contacts the housing holds."""
    known = words_of("male") | words_of("female")
    return next((t for t in reversed(re.findall(r"\w+", heading)) if fold(t) in known and t != name), "")


def _mirrored(a: dict[str, str], b: dict[str, str]) -> bool:
    shared = [c for c in a if c in b and a[c] and b[c]]
    same = sum(a[c] == b[c] for c in shared)
    return same >= FEWEST and same >= MIRRORED * len(shared)
