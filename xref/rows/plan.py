"""Which column means what: header words first, then what the cells look like; blocks side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from xref.data.words import fold, words_of
from xref.rows.cavities import lists_places, names_places
from xref.rows.columns import Column, column_texts
from xref.rows.combined import Order
from xref.rows.content import is_cavity, own_prefix
from xref.rows.evidence import column_evidence, sure_cavities, sure_colors
from xref.rows.fusesides import with_fuse_sides
from xref.rows.listheading import names_a_splice, under_a_splice, with_list_named
from xref.rows.matrix import matrix_columns
from xref.rows.options import NONE, Options, option_columns, without_options
from xref.rows.pinout import is_pinout
from xref.rows.roles import table_to_columns
from xref.rows.splicelist import with_counts
from xref.rows.textcolumns import texts_of_list
from xref.tables.table import Table
from xref.tables.vocabulary import DESIGNATOR, best_role, header_roles

#: Names of cavities on a face are no longer than this.
LONGEST_ON_FACE = 4
#: A column without role may hold what the plan lacks when its cells speak for it by so much.
UNREAD = 0.2
#: A header names a fact beside another from this score on.
NAMED = 0.15
#: Filled columns with a header for one of these say something of the wire, whatever it is.
HEADED = frozenset({"color", "circuit", "size"})
#: Share of rows in which both halves of an in-line carry the same colour or circuit.
PAIRED = 0.4

Kind = Literal["pins", "pair", "ends", "splice", "ground", "fuse"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How one block of columns is read.

    `columns` maps a role to the index of its column; `other` the same for the second half of an in-line
    pair or the far end of a from/to list. `name` is a connector named by the header itself.
    """

    kind: Kind
    columns: dict[str, int]
    other: dict[str, int]
    name: str = ""
    halves: tuple[str, str] = ("", "")
    guessed: tuple[str, ...] = ()
    first: int = 0
    last: int = 0
    unread: tuple[int, ...] = ()  #: columns that nobody understood and that may say what the wire is
    prefix: str = ""  #: the connector that every cavity repeats before a dash
    places: bool = False  #: the cells of its cavities name a connector, too (`X5/3`, `H1-29, H2-4`)
    sparse: bool = False  #: a blank cell says that the connector has no such cavity (matrices)
    anchors: tuple[int, ...] = ()  #: a text in any of these begins a row, where no single column does
    orders: tuple[tuple[str, Order], ...] = ()  #: roles whose cells hold several facts, with their order
    told: bool = False  #: the person said what its cells hold: one that holds something else is in doubt
    options: Options = NONE  #: columns of variants of the machine

    @property
    def facts(self) -> frozenset[str]:
        """What the rows say: the roles of the columns, and what their cells hold beside."""
        return frozenset(self.columns) | {fact for _, order in self.orders for fact in order}

    @property
    def texts(self) -> dict[str, int]:
        """Every column whose texts are read, by role; those of a second half and of variants have names."""
        return self.columns | {f"other_{r}": j for r, j in self.other.items()} | self.options.columns


def table_to_plans(table: Table) -> list[Plan]:
    """Return a plan for each block of a table; none when it is no pinout."""
    if is_face(table):
        return []
    options = option_columns(table)
    if options == NONE:
        return _plans(table)
    return [_with_options(p, options) for p in _plans(without_options(table, options))]


def _with_options(plan: Plan, options: Options) -> Plan:
    """Add the columns of variants within a block; where its rows cannot hold them, they are unread."""
    own = options.within(plan.first, plan.last)
    varies = all(plan.columns.get(role) == of[0][1] for role, of in own.varying)
    if plan.kind != "pins" or "option" in plan.columns or not varies:
        own = own.doubted()
    doubtful = own.doubtful if plan.kind == "pair" and len(plan.other) == 1 else ()
    return replace(plan, options=own, unread=(*plan.unread, *own.unclear, *doubtful))


def _plans(table: Table) -> list[Plan]:
    headed = names_a_splice(table)
    columns = under_a_splice(table_to_columns(table)) if headed else table_to_columns(table)
    columns = with_fuse_sides(table, with_list_named(table, columns))
    columns = texts_of_list(table, with_counts(table, columns))
    matrix = matrix_columns(table, columns)
    if matrix:
        wires = tuple(c.index for _, _, own in matrix for c in own if c.role == "cavity")
        return [_matrix_plan(name, side, own, wires) for name, side, own in matrix]
    blocks = _split_blocks(columns)
    if len(blocks) == 2 and _same_cavities(table, blocks):
        plan = _pair_of_blocks(table, blocks)
        if plan is not None:
            return [plan]
    shared = _shared_rows(columns)
    plans = [_block_to_plan(table, block, headed) for block in shared or blocks]
    return [_completed(table, columns, p) for p in plans if p is not None]


def _completed(table: Table, columns: Sequence[Column], plan: Plan) -> Plan:
    at = plan.columns.get("cavity", -1)
    if at < 0 or plan.kind != "pins":
        return replace(plan, unread=_unread(table, columns, plan))
    texts = column_texts(table, at)
    sides = [plan.columns[r] for r in ("circuit", "color") if r in plan.columns]
    return replace(
        plan,
        unread=_unread(table, columns, plan),
        prefix=own_prefix(texts),
        places=names_places(texts),
        anchors=tuple(sides) if lists_places(texts) else (),
    )


def is_face(table: Table) -> bool:
    """True for the picture of a housing: rows of cavities, no header, nothing else."""
    if table.has_header or table.taught:
        return False
    texts = [c.text for b in table.bands for c in b.cells if c.text and c.first]
    return bool(texts) and all(is_cavity(t) and len(t) <= LONGEST_ON_FACE for t in texts)


def _unread(table: Table, columns: Sequence[Column], plan: Plan) -> tuple[int, ...]:
    """Return the columns of a block without role whose cells look like what the plan lacks of a wire."""
    read = [j for r, j in (*plan.columns.items(), *plan.other.items()) if r != "distractor"]
    used = {*plan.columns.values(), *plan.other.values()}
    lacking = {"color", "circuit", "size"} - plan.facts
    colored = plan.columns.get("color", -1)
    out = [
        c.index
        for c in columns
        if c.role == "distractor" and c.index not in read and abs(c.index - colored) == 1
        if sure_colors(column_texts(table, c.index))  # one code cut in two
    ]
    out += [c.index for c in columns if c.index in used and _says_more(c, lacking)]
    if plan.kind == "fuse":
        lacking |= {"circuit"}  # a fuse parts two wires: a second column of circuits is its other side
        out += [c.index for c in _within(columns, plan) if c.role in HEADED and c.index not in used]
    for c in _within(columns, plan):
        if c.index in used or c.role:
            continue
        evidence = column_evidence(column_texts(table, c.index))
        alone = not {"color", "circuit", "signal", "function"} & plan.facts
        named = best_role(c.text)[0] in HEADED and bool(evidence)
        if named or any(evidence.get(r, -1.0) > UNREAD for r in lacking) or (alone and evidence):
            out.append(c.index)
    return tuple(out)


def _within(columns: Sequence[Column], plan: Plan) -> list[Column]:
    return [c for c in columns if plan.first <= c.index <= plan.last]


def _says_more(column: Column, lacking: set[str]) -> bool:
    """True where a header names several facts (`Colour / Size / Function`) and its cells were not parted."""
    roles = header_roles(column.text)
    return column.role in ("function", "signal") and any(roles.get(r, 0.0) >= NAMED for r in lacking)


def _matrix_plan(name: str, side: Sequence[Column], own: Sequence[Column], wires: tuple[int, ...]) -> Plan:
    columns = {c.role: c for c in (*side, *own)}
    plan = _plan("pins", columns, {}, own[0].index, own[-1].index, name=name)
    return replace(plan, sparse=True, anchors=wires)


def _shared_rows(columns: Sequence[Column]) -> list[list[Column]]:
    """Cavity columns side by side that each name a connector share the other columns: a matrix."""
    cavities = [c for c in columns if c.role == "cavity"]
    names = {_name_in_header(c) for c in cavities}
    if len(cavities) < 2 or len(names) < len(cavities) or "" in names:
        return []
    if cavities[-1].index - cavities[0].index != len(cavities) - 1:
        return []
    rest = [c for c in columns if c.role != "cavity"]
    return [sorted([c, *rest], key=lambda x: x.index) for c in cavities]


def _split_blocks(columns: Sequence[Column]) -> list[list[Column]]:
    """Start a new block at each repeat of the cavity column (twin tables, odd/even halves)."""
    lead = next(
        (c.role for c in columns if c.role in ("cavity", "connector", "fuse", "splice", "ground")), ""
    )
    places = [c.index for c in columns if lead and c.role == lead]
    roles = {c.role for c in columns}
    if len(places) < 2 or {"goes_from", "goes_to"} <= roles:
        return [list(columns)]
    before = places[0]
    repeats = places[1] - places[0] > before  # else mirrored: signal, pin | pin, signal
    starts = [p - before for p in places[1:]] if repeats else places[1:]
    cuts = [0, *starts, len(columns)]
    blocks = [list(columns[a:b]) for a, b in pairwise(cuts)]
    if lead == "cavity" and len(blocks) > 1 and not _repeat(blocks):
        return [list(columns)]  # two ways to number the cavities side by side, one wire in a row
    return blocks


def _repeat(blocks: Sequence[Sequence[Column]]) -> bool:
    """True when each block says something of a wire, and the same things as the block before."""
    told = [{c.role for c in b} - {"cavity", ""} for b in blocks]
    return all(told) and all(a & b for a, b in pairwise(told))


def _same_cavities(table: Table, blocks: Sequence[Sequence[Column]]) -> bool:
    """True when two blocks print the same cavity in each row: both halves of an in-line in one row."""
    places = [next((c.index for c in b if c.role == "cavity"), None) for b in blocks]
    if None in places:
        return False
    a, b = places
    rows = [(r.cells[a].text, r.cells[b].text) for r in table.bands if a is not None and b is not None]
    filled = [(x, y) for x, y in rows if x and y]
    return len(filled) >= 2 and all(x == y for x, y in filled)


def _surer(table: Table, one: Column, other: Column) -> bool:
    """Of two columns called cavity, that is the one whose cells are all there, run on, and do not repeat."""
    a, b = sure_cavities(column_texts(table, one.index)), sure_cavities(column_texts(table, other.index))
    return a and not b if a != b else one.score > other.score + 0.3


def _roles_once(table: Table, block: Sequence[Column]) -> tuple[dict[str, Column], list[Column]]:
    """Return the best column of each role, and the columns of roles that came again."""
    best: dict[str, Column] = {}
    again: list[Column] = []
    for c in block:
        if not c.role:
            continue
        if c.role not in best:
            best[c.role] = c
        elif c.role == "cavity" and _surer(table, c, best["cavity"]):
            best["cavity"] = c
        else:
            again.append(c)
    return best, again


def _pair_of_blocks(table: Table, blocks: Sequence[Sequence[Column]]) -> Plan | None:
    one, _ = _roles_once(table, blocks[0])
    two, _ = _roles_once(table, blocks[1])
    if not ({"color", "circuit"} & set(one) and {"color", "circuit"} & set(two)):
        return None
    told = "circuit" if "circuit" in one and "circuit" in two else "color"
    if told not in one or told not in two or not _is_pair(table, one, {told: two[told]}):
        return None  # two connectors side by side have the same cavities too, but other circuits
    names = (_half_name(blocks[0]), _half_name(blocks[1]))
    return _plan("pair", one, two, blocks[0][0].index, blocks[1][-1].index, halves=names)


def _half_name(block: Sequence[Column]) -> str:
    groups = [c.group for c in block if c.group]
    return groups[0] if groups else ""


def _plan(
    kind: Kind,
    one: dict[str, Column],
    two: dict[str, Column],
    first: int,
    last: int,
    *,
    name: str = "",
    halves: tuple[str, str] = ("", ""),
) -> Plan:
    guessed = tuple(r for r, c in one.items() if c.guessed)
    return Plan(
        kind=kind,
        columns={r: c.index for r, c in one.items()},
        other={r: c.index for r, c in two.items()},
        name=name,
        halves=halves,
        guessed=guessed,
        first=first,
        last=last,
        orders=tuple((r, c.order) for r, c in one.items() if c.order),
    )


def _block_to_plan(table: Table, block: Sequence[Column], headed: bool = False) -> Plan | None:
    """Return how a block is read; `headed` says that the heading over it names a splice."""
    first, last = block[0].index, block[-1].index
    if any(c.side for c in block):
        fed, _ = _roles_once(table, [c for c in block if c.side != "out"])
        feeds, _ = _roles_once(table, [c for c in block if c.side == "out"])
        return _plan("fuse", fed, feeds, first, last)
    best, again = _roles_once(table, block)
    roles = set(best) | {fact for c in best.values() for fact in c.order}
    wire = roles & {"color", "circuit", "size"}
    if "goes_from" in best and "goes_to" in best and (wire or "function" in best):
        two = {"end": best["goes_to"], **{f"far_{c.role}": c for c in again if c.role == "cavity"}}
        return _plan("ends", best, two, first, last)
    if headed or "splice" in best:
        legs = _legs_with_ends(best, first, last, headed)
        if legs is not None:
            return legs
    listed = next((k for k in ("splice", "ground") if k in best and "connector" not in best), "")
    if "cavity" not in best or (listed and best[listed].index < best["cavity"].index):
        for kind in ("splice", "ground", "fuse"):
            if kind in best and "circuit" in best:
                return _plan(kind, best, {}, first, last)
        return _plan("splice", best, {}, first, last) if headed and _says_of_wires(best) else None
    pair = {c.role: c for c in again if c.role in ("color", "circuit", "size", "function")}
    if pair and ("color" in pair or "circuit" in pair) and _is_pair(table, best, pair):
        names = _pair_names(best, pair)
        return _plan("pair", best, pair, first, last, halves=names)
    if not is_pinout(table, best):
        return None
    twice = tuple(r for r in ("color", "circuit") if r in pair)
    plan = _plan("pins", best, {}, first, last, name=_name_in_header(best["cavity"]))
    return replace(plan, guessed=(*plan.guessed, *twice))


def _legs_with_ends(best: dict[str, Column], first: int, last: int, headed: bool) -> Plan | None:
    """Return the plan of a list that has connector and cavity of each far end of a splice's wires."""
    if not {"connector", "cavity", "circuit"} <= best.keys():
        return None
    ends = {"end": best["connector"], "cavity": best["cavity"]}
    before = headed if "splice" not in best else best["splice"].index < best["connector"].index
    if not before or best["connector"].index >= best["cavity"].index:
        return None
    legs = {role: c for role, c in best.items() if role not in ("connector", "cavity", "goes_to")}
    return _plan("splice", legs, ends, first, last)


def _says_of_wires(best: dict[str, Column]) -> bool:
    """True where a table without names has a circuit in each row, and something else of the wire."""
    return "circuit" in best and bool({"color", "size", "goes_to", "function"} & best.keys())


def _is_pair(table: Table, best: dict[str, Column], pair: dict[str, Column]) -> bool:
    """Two halves in one row: colour and circuit twice, headers over each half, or mostly equal cells."""
    if {"color", "circuit"} <= set(pair) and {"color", "circuit"} <= set(best):
        return True
    shared = [r for r in ("color", "circuit") if r in pair and r in best]
    groups = [(best[r].group, pair[r].group) for r in shared if best[r].group and pair[r].group]
    if any(a != b and not (DESIGNATOR.fullmatch(a) and DESIGNATOR.fullmatch(b)) for a, b in groups):
        return True  # two halves by their words; two names may as well be two connectors side by side
    if _are_halves(*_pair_names(best, pair)):
        return True
    equal = total = 0
    for role in shared:
        for band in table.bands:
            one, two = band.cells[best[role].index].text, band.cells[pair[role].index].text
            total += bool(one or two)
            equal += bool(one) and one == two
    return total > 0 and equal >= PAIRED * total


def _are_halves(one: str, other: str) -> bool:
    """True for the marks of two halves: `(M)` and `(F)`, `male` and `female`, `A` and `B`."""
    a, b = (fold(text).strip("() ") for text in (one, other))
    words = words_of("male") | words_of("female") | words_of("half")
    marks = [len(t) == 1 or t in words for t in (a, b)]
    return bool(a) and bool(b) and a != b and all(marks)


def _pair_names(best: dict[str, Column], pair: dict[str, Column]) -> tuple[str, str]:
    role = "color" if "color" in pair else "circuit"
    one, two = best.get(role), pair[role]
    if one is None:
        return "", ""
    if one.group or two.group:
        return one.group, two.group
    names = _rest(one.text, role), _rest(two.text, role)
    return names if names[0] != names[1] else ("", "")


def _rest(text: str, role: str) -> str:
    """Return what a header text says besides its role word ("Color side A" gives "side A")."""
    tokens = text.split()
    known = words_of(role)
    return " ".join(t for t in tokens if fold(t) not in known and fold(t) not in ("wire", "no"))


def _name_in_header(column: Column) -> str:
    """A header such as "U6 pins" names the connector itself."""
    tokens = column.text.split()
    rest = [
        t for t in tokens if fold(t) not in words_of("cavity") and fold(t) not in ("no", "nr", "number", "n°")
    ]
    name = " ".join(rest)
    return name if re.search(r"\d", name) and re.search(r"[A-Za-z]", name) and len(rest) <= 2 else ""
