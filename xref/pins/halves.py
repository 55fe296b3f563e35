"""Tables of one connector, or of two whose names differ by a mark, that are the halves of an in-line."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace

from xref.data.words import fold
from xref.pins.build import Made
from xref.pins.halfmarks import FEWEST, FIELDS, Said, said_of_half, share_cavities, two_halves
from xref.pins.several import mark_behind

#: Marks of halves at the end of a designator: `X5-A`, `X5/B`, `C12M`, `C12-F`, `XK9.S`.
HALF_MARK = re.compile(r"(.*\d)\s*[-/. ]?([A-Z])")
#: Marks that belong together.
PARTNERS = {"A": "B", "B": "A", "M": "FH", "F": "M", "H": "M"}
#: Two halves carry the same circuit in this share of the cavities both have, and in two at least.
MIRRORED = 0.6


def join_halves(made: Sequence[Made]) -> list[Made]:
    """Name the two halves of each in-line connector, however their tables tell them apart."""
    return _join_columns(_join_headings(_join_names(made)))


def _join_names(made: Sequence[Made]) -> list[Made]:
    """Name `X5-A` and `X5-B` connector X5, halves A and B, where their cavities carry the same circuits.

    A mark alone proves nothing: a component may well have connectors called A and B. Two harnesses beside the
    names do, where both have the same cavities.
    """
    contents: dict[str, dict[str, str]] = defaultdict(dict)
    harnesses: dict[str, str] = {}
    for m in made:
        if not m.pin.half:
            contents[m.pin.connector].setdefault(m.pin.cavity, m.pin.circuit)
            harnesses.setdefault(m.pin.connector, fold(m.pin.harness))
    split = {}
    stems = Counter(found.group(1) for name in contents if (found := HALF_MARK.fullmatch(name)))
    for name in contents:
        match = HALF_MARK.fullmatch(name)
        if not match:
            continue
        stem, mark = match.groups()
        for other in contents:
            partner = HALF_MARK.fullmatch(other)
            if not partner or partner.group(1) != stem or other == name:
                continue
            a, b = contents[name], contents[other]
            looms = harnesses[name], harnesses[other]
            if partner.group(2) not in PARTNERS.get(mark, ""):
                if stems[stem] == 2 and _mirrored(a, b) and share_cavities(a, b):
                    split[name] = (stem, mark)  # `XK9.B` and `XK9.S`: letters for words of some language
            elif _mirrored(a, b) or (all(looms) and looms[0] != looms[1] and share_cavities(a, b)):
                split[name] = (stem, mark)
    why = "two halves with one designator carry the same circuits"
    out = []
    for m in made:
        if m.pin.half or m.pin.connector not in split:
            out.append(m)
            continue
        stem, mark = split[m.pin.connector]
        out.append(replace(m, pin=replace(m.pin, connector=stem, half=mark, role="inline"), role_why=why))
    return out


def _join_headings(made: Sequence[Made]) -> list[Made]:
    """Name two tables of one designator the halves that their headings say: `X5 male`, `X5 Bu`.

    They must hold the same cavities; where only their harnesses differ, the same wires, too.
    """
    tables: dict[str, dict[Said, list[Made]]] = defaultdict(lambda: defaultdict(list))
    for m in made:
        if m.head.connector == m.pin.connector:
            tables[m.pin.connector][_said(m)].append(m)
    halves: dict[tuple[str, Said], str] = {}
    for name, found in tables.items():
        for told in FIELDS:
            parted = _parted(found, told)
            if parted is not None and _belong(*parted.values(), mirrored=told == "harness"):
                halves |= {(name, said): getattr(said, told) for said in found}
                break
    joined = "two tables of one designator are headed as its halves"
    out = []
    for m in made:
        half = halves.get((m.pin.connector, _said(m)), "") if m.head.connector == m.pin.connector else ""
        if half:
            why = m.role_why if m.pin.half else joined
            m = replace(m, pin=replace(m.pin, half=half, role="inline"), role_why=why)
        out.append(m)
    return out


def _said(m: Made) -> Said:
    """Return what the heading of a pin says of a half, blank where its row does."""
    if m.row.half:
        return Said()
    text = m.head.text
    said = said_of_half(text, m.pin.connector)
    under = said_of_half(m.head.half_text, m.pin.connector) if m.head.half_text else Said()
    short = said.short or mark_behind(text, m.pin.connector)
    return Said(
        mark=under.mark or m.head.half or said.mark,
        short=under.short or short,
        gender=under.gender or said.gender,
        harness=under.harness or said.harness,
    )


def _parted(found: dict[Said, list[Made]], told: str) -> dict[str, list[Made]] | None:
    """Return the pins of both halves as one field tells them apart; None where it does not."""
    parted: dict[str, list[Made]] = defaultdict(list)
    for said, members in found.items():
        parted[fold(getattr(said, told))] += members
    return parted if len(parted) == 2 and "" not in parted else None


def _belong(one: Sequence[Made], other: Sequence[Made], *, mirrored: bool) -> bool:
    """True for the same cavities; `mirrored`: and in them the same circuits, or wires for the same."""
    circuits = [{m.pin.cavity: m.pin.circuit for m in members} for members in (one, other)]
    functions = [{m.pin.cavity: m.pin.function for m in members} for members in (one, other)]
    alike = share_cavities(*circuits)
    return alike and (not mirrored or _mirrored(*circuits) or _mirrored(*functions))


def _join_columns(made: Sequence[Made]) -> list[Made]:
    """Name the halves of a table that has a row for each of them, and a column that says for which."""
    tables: dict[tuple[int, int, int, str], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        if not m.pin.half and m.part.plan.kind == "pins":
            tables[m.pin.page, m.pin.table_no, m.part.block, m.pin.connector].append(i)
    out = list(made)
    for members in tables.values():
        for role in ("half", "harness"):
            texts = {i: made[i].row.values.get(role, "").strip() for i in members}
            sides = list(dict.fromkeys(texts.values()))
            if len(sides) != 2 or "" in sides:
                continue
            cavities = [{made[i].pin.cavity for i in members if texts[i] == side} for side in sides]
            if not share_cavities(*cavities):
                continue
            marks = dict(zip(sides, _marks(sides, made[members[0]].pin.connector), strict=True))
            for i in members:
                pin = replace(made[i].pin, half=marks[texts[i]], role="inline")
                out[i] = replace(made[i], pin=pin, role_why="a column names both halves")
            break
    return out


def _marks(sides: Sequence[str], connector: str) -> tuple[str, str]:
    one, other = two_halves(*(said_of_half(text, connector) for text in sides))
    return (one, other) if one else (sides[0], sides[1])


def _mirrored(a: dict[str, str], b: dict[str, str]) -> bool:
    shared = [c for c in a if c in b and a[c] and b[c]]
    same = sum(a[c] == b[c] for c in shared)
    return same >= FEWEST and same >= MIRRORED * len(shared)
