"""Fuse and relay boxes with the wire on either side of each fuse: which columns are of which side.

A fuse parts the circuits left and right of it. `Input circuit` and `Output circuit` are two cavities of
it (`F1 in`, `F1 out`), never two halves of an in-line and never one wire.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.data.fuse_sides import SIDES, Side, place_words, side_cavity
from xref.data.potentials import potential
from xref.data.words import fold
from xref.rows.columns import Column, column_texts
from xref.rows.content import circuit_share, circuits_listed, is_dash
from xref.rows.evidence import filled_texts
from xref.rows.listheading import says_kind
from xref.rows.row import Row
from xref.tables.lines import box_of, join_words, line_to_chunks
from xref.tables.sidewords import side_of
from xref.tables.table import Table
from xref.tables.vocabulary import DESIGNATOR, LITTLE_WORDS, best_role

#: What each side of a fuse may have of its own.
WIRE = ("circuit", "color", "size")
#: This share of the texts under a side's word alone (`Feed`) must be circuits or names of voltages.
CIRCUITS = 0.8
#: Under `Input circuit` so many are enough: the words say it, too.
WORDED = 0.5
#: A header counts from this score on.
KNOWN = 0.45
#: A line with words for both sides stands this close over its header, points.
OVER = 12.0
#: Roles that a column without a side has not beside such columns.
NOT_BESIDE = frozenset({"fuse", "cavity", "goes_from", "goes_to", "circuit", "color", "size", "half"})


def with_fuse_sides(table: Table, columns: Sequence[Column]) -> list[Column]:
    """Return the columns, those of the two sides of each fuse with their side and role, if there are such."""
    names = _names(table, columns) if table.has_header else []
    if not names:
        return list(columns)
    # `fuse, in, out | fuse, in, out`: each block repeats what stands before its name, too
    before = names[0] - columns[0].index
    apart = names[1:] and names[1] - names[0] > before
    cuts = [0, *(n - before if apart else n for n in names[1:]), len(columns)]
    blocks = [columns[a:b] for a, b in pairwise(cuts)]
    found = [_with_sides(table, block, set(names)) for block in blocks]
    if all(found):
        return [c for block in found for c in block]
    return list(columns)


def _with_sides(table: Table, columns: Sequence[Column], names: set[int]) -> list[Column]:
    """Return the columns of one block with their sides; [] where not both sides have circuits."""
    told = {c.index: _told(table, c) for c in columns if c.index not in names}
    sided = {j: found for j, found in told.items() if found}
    sided = _beside(columns, sided or _over(table, columns))
    if any(("circuit", side) not in sided.values() for side in SIDES):
        return []
    out = []
    for c in columns:
        role, side = sided.get(c.index, (c.role, ""))
        if c.index in names:
            out.append(replace(c, role="fuse", score=1.0, guessed=False))
        elif side:
            out.append(replace(c, role=role, side=side, score=1.0, guessed=False, order=()))
        else:
            # what else may be called a cavity, an end or a circuit here is none of a pinout
            out.append(replace(c, role="" if role in NOT_BESIDE else role, order=()))
    return out


def _names(table: Table, columns: Sequence[Column]) -> list[int]:
    """Return the columns of the fuses' names; none where nothing says that these are fuses or relays."""
    found = [c for c in columns if c.role == "fuse"]
    rated = any(c.role == "rating" for c in columns) or says_kind(table, "fuse")
    if not found and rated:
        found = [c for c in columns if fold(c.text) in place_words()]
    if not found and rated:
        found = [c for c in columns if c.role in ("", "cavity") and _are_numbered(table, c.index)]
    return [c.index for c in found if c.text == found[0].text]


def _are_numbered(table: Table, j: int) -> bool:
    texts = [t for t in column_texts(table, j) if t]
    return bool(texts) and all(DESIGNATOR.fullmatch(t) or t.isdecimal() for t in texts)


def _told(table: Table, column: Column) -> tuple[str, Side] | None:
    """Return the role and the side of a column, by its header or the one over it."""
    texts = filled_texts(column_texts(table, column.index))
    for text, own in ((f"{column.group} {column.text}", ""), (column.text, ""), (column.group, column.text)):
        found = side_of(text) if text.strip() else None
        if found is None or not texts:
            continue
        said = own or found[0]
        if all(t in LITTLE_WORDS for t in said.split()):
            said = ""
        role, score = best_role(said)
        if said and (score < KNOWN or role not in WIRE):
            continue
        role = role or "circuit"
        if role == "circuit" and _circuits(texts) < (WORDED if said else CIRCUITS):
            continue
        return role, found[1]
    return None


def _circuits(texts: Sequence[str]) -> float:
    named = sum(potential(t) != "no" for t in texts) / len(texts)
    return max(circuit_share(texts), named)


_Sided = dict[int, tuple[str, Side]]


def _over(table: Table, columns: Sequence[Column]) -> _Sided:
    """Return the sides that two words in a line over the header give to the two circuits under them."""
    circuits = [c.index for c in columns if c.role == "circuit"]
    lines = [a.line for a in table.around if a.where in ("title", "above") and a.gap <= OVER]
    for line in lines if len(circuits) == len(SIDES) else ():
        said = [(side_of(join_words(chunk)), box_of(chunk)) for chunk in line_to_chunks(line)]
        words = [(found[1], box) for found, box in said if found and not found[0]]
        if [side for side, _ in words] not in (list(SIDES), list(SIDES[::-1])):
            continue
        middles = [(table.edges[j] + table.edges[j + 1]) / 2 for j in circuits]
        nearest = [min((0, 1), key=lambda n: abs((words[n][1].x0 + words[n][1].x1) / 2 - x)) for x in middles]
        if nearest == [0, 1]:
            return {j: ("circuit", side) for j, (side, _) in zip(circuits, words, strict=True)}
    return {}


def _beside(columns: Sequence[Column], sided: _Sided) -> _Sided:
    """Add the columns without a side of their own where each side has one beside what is known to be its.

    One colour for two wires is nobody's: it may be the output's, the input's or the fuse's own.
    """
    found = dict(sided)
    for known in WIRE:
        at = {side: j for j, (role, side) in sided.items() if role == known}
        if len(at) < len(SIDES):
            continue
        first, second = sorted(at.items(), key=lambda item: item[1])
        for role in WIRE:
            own = [c.index for c in columns if c.role == role and c.index not in found]
            if len(own) != len(SIDES) or any(said == role for said, _ in found.values()):
                continue
            a, b = own
            if first[1] < a < second[1] < b or a < first[1] < b < second[1]:
                found |= {a: (role, first[0]), b: (role, second[0])}
    return found


def sides_of(row: Row, name: str) -> list[Row]:
    """Part a row of such a table into the two sides of its fuse; a side without a wire gives none."""
    common = {r: t for r, t in row.values.items() if r not in WIRE and not r.startswith("other_")}
    rows = []
    for side, prefix in zip(SIDES, ("", "other_"), strict=True):
        own = {r: text for r in WIRE if (text := row.values.get(f"{prefix}{r}", "")) and not is_dash(text)}
        if "circuit" not in own and "color" not in own:
            continue
        part = replace(row, cavity=side_cavity(name, side), unused=False)
        several = [] if "color" in own else circuits_listed(own["circuit"])
        for circuit in several or [own.get("circuit", "")]:
            rows.append(replace(part, values=common | own | ({"circuit": circuit} if circuit else {})))
    return rows
