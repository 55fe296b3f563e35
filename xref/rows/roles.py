"""A table's columns to their roles: what the header says and what the cells are, weighed together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from xref.rows.cavities import connectors_listed, expand
from xref.rows.columns import Column, column_texts
from xref.rows.combined import combined_order
from xref.rows.content import DESIGNATED, size_share
from xref.rows.ends import ENDS, with_ends
from xref.rows.evidence import (
    column_evidence,
    filled_texts,
    in_words,
    names_of_signals,
    sure_cavities,
    sure_colors,
)
from xref.rows.runnames import names_of_runs
from xref.rows.shared import without_shared
from xref.rows.textcolumns import are_marks, beside_names, is_bare, with_texts
from xref.rows.wireplaces import places_column
from xref.tables.repeated import counterparts
from xref.tables.table import Table
from xref.tables.vocabulary import facts_named, header_roles

#: A header text counts from this score on.
KNOWN = 0.45
#: From this score on the words alone say what a column is.
SURE = 0.9
#: How much the cells weigh beside the header's words.
CONTENT = 0.6
#: A column without header words gets its role by content from this evidence on.
GUESS = {"cavity": 0.8, "color": 0.4, "circuit": 0.45, "size": 0.75, "function": 0.1}
#: Cells that speak so much against a header's role overrule it.
AGAINST = -0.4
#: Header words for these say only roughly what the cells are; content may turn one into another.
LOOSE = frozenset({"circuit", "function", "signal", "goes_to", "color", "component", "location"})
#: A header that is only like a word for one of these may as well be one for colour.
MISREAD = frozenset({"location", "component", "function", "rating", "option", "distractor", "harness"})
#: Facts that may share a cell, and the roles of columns whose cells may hold several.
FACTS = frozenset({"cavity", "circuit", "size", "color", "function"})
COMBINING = frozenset({"", "cavity", "circuit", "size", "color", "function", "signal", "component"})
#: Roles of a combined column's header that are none of the facts in its cells and are kept.
NAMING = frozenset({"signal", "component"})
#: A colour code is at most this long (`LT GRN/WHT`), full words apart.
LONGEST_CODE = 11
#: So many different names in a column show that they are names of signals.
FEWEST_NAMES = 3
#: Roles of headers that do not keep a run of cavities from being cavities.
WEAK_OVER_CAVITIES = frozenset({"", "ways", "rating", "distractor", "connector"})
#: Roles of a column whose names may be those of connectors.
CARRYING = frozenset({"", "component", "location", "function", "distractor", "harness", "fuse"})
#: In these tables a further column of numbers is no circuit.
NO_CIRCUITS = frozenset({"expected", "rating", "goes_from"})


def table_to_columns(table: Table) -> list[Column]:
    """Return each column of a table with its role, "" where nothing tells."""
    evidence = [column_evidence(column_texts(table, j)) for j in range(table.columns)]
    table = _grouped(table)
    columns = [_by_header(table, j, evidence[j]) for j in range(table.columns)]
    columns = _cavities(table, with_ends(table, columns), evidence)
    columns = _colors(table, _repeated(columns, evidence), evidence)
    columns = _combined(table, _repeated(columns, evidence))
    if not any(c.role in ("cavity", *ENDS) for c in columns):
        return columns
    columns = _sizes(table, columns, evidence)
    columns = _circuits(table, columns, evidence)
    columns = beside_names(table, _connectors(table, columns))
    return _repeated(with_texts(table, columns, evidence), evidence)


def _connectors(table: Table, columns: list[Column]) -> list[Column]:
    """Without a column of connectors, one of names that change where the cavities begin anew is taken."""
    cavities = [c for c in columns if c.role == "cavity"]
    if len(cavities) != 1 or any(c.role in ("connector", *ENDS[:1]) for c in columns):
        return columns
    under = [b.cells[cavities[0].index].text for b in table.bands]
    for c in columns[: cavities[0].index] if table.has_header else ():
        names = [b.cells[c.index].text for b in table.bands]
        if c.role in CARRYING and names_of_runs(names, under):
            return [replace(o, role="connector", score=1.0) if o is c else o for o in columns]
    return columns


def _repeated(columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    """Give a column without role that of its counterpart in another block, if its cells allow it."""
    same = counterparts([c.text for c in columns])
    out = list(columns)
    for c in columns if same else ():
        known = next((columns[k] for k in same[c.index] if columns[k].role), None)
        if not c.role and known and evidence[c.index].get(known.role, 0.0) > AGAINST:
            out[c.index] = replace(c, role=known.role, score=known.score, guessed=known.guessed)
    return out


def _grouped(table: Table) -> Table:
    """Move the words that tell the halves of a pair apart from the headers to the groups over them."""
    if any(table.groups):
        return table
    parted = without_shared(table.header)
    if not any(rest for _, rest in parted):
        return table
    return replace(table, header=tuple(t for t, _ in parted), groups=tuple(rest for _, rest in parted))


def _by_header(table: Table, j: int, evidence: Mapping[str, float]) -> Column:
    """Return the role the header words give a column, if its cells do not speak against it."""
    text, group = table.header[j], table.groups[j] if table.groups else ""
    roles = dict(header_roles(text))
    if not roles and group:
        roles = {r: 0.8 * s for r, s in header_roles(group).items()}
    if roles.get("half", 1.0) < 1.0:
        del roles["half"]  # "Color side A" is a colour
    blank = Column(index=j, role="", score=0.0, text=text, group=group)
    if not roles:
        return blank
    role = max(roles, key=lambda r: roles[r] + CONTENT * evidence.get(r, 0.0) * (r in evidence))
    score = roles[role]
    against = evidence.get(role, 0.0) <= AGAINST
    against = against and not (role == "color" and score > KNOWN and _letters(table, j))
    if role == "goes_to" and _signals(table, j):
        return replace(blank, role="signal", score=score)  # "Connected to" over CAN_H, !RESET
    if role in ("function", "signal") and are_marks(table, j):
        return blank  # "Note" over figures and letters that lead elsewhere
    if against and role in ("cavity", "size"):
        return blank  # "Terminal" over contact sizes, "Pin" over torques
    if role == "goes_from" and evidence.get("goes_to", 0.0) <= AGAINST and evidence["function"] <= AGAINST:
        return blank  # the "de" of "Color de cable" over codes
    if against and role in LOOSE:
        other = max(("color", "circuit", "function"), key=lambda r: evidence[r])
        if evidence[other] > 0.0:
            role = other
        elif role not in ("function", "signal"):
            role = ""
    return replace(blank, role=role if score >= KNOWN else "", score=score)


def _combined(table: Table, columns: list[Column]) -> list[Column]:
    """Find columns whose cells hold several facts, of those that no other column holds."""
    out = list(columns)
    for c in columns:
        if c.role not in COMBINING:
            continue
        taken = {o.role for o in out if o.index != c.index} | {f for o in out for f in o.order}
        taken |= {"cavity"} if taken & set(ENDS) else set()  # the ends of a wire name their cavities
        headed = facts_named(c.text) & FACTS
        order = combined_order(column_texts(table, c.index), FACTS - taken, headed=headed)
        if c.role == "cavity" and order[:1] != ("cavity",):
            continue
        if order:
            heads = [r for r in header_roles(c.text) if r in order]
            kept = c.role if c.role in order or c.role in NAMING else ""
            role = kept or next(iter(heads), "cavity" if order[0] == "cavity" else order[-1])
            out[c.index] = replace(c, role=role, order=order)
    return out


def _letters(table: Table, j: int) -> bool:
    """True for short texts without figures: under a colour's header, codes of some scheme unknown here."""
    texts = filled_texts(column_texts(table, j))
    texts = [piece for t in texts for piece in (t.split() if len(t) > LONGEST_CODE else [t])]
    return sum(not any(c.isdigit() for c in t) and len(t) <= LONGEST_CODE for t in texts) >= 0.8 * len(texts)


def _signals(table: Table, j: int) -> bool:
    """True for names of signals: several different ones, of which not all name a connector or its cavity."""
    texts = filled_texts(column_texts(table, j))
    names = {t for t in texts if not DESIGNATED.search(t)}
    return len(names) >= FEWEST_NAMES and len(names) >= 0.5 * len(set(texts)) and names_of_signals(texts)


def _cavities(table: Table, columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    """Without a cavity's header, columns of cavities that run on in order are taken."""
    every = [[b.cells[j].text for b in table.bands] for j in range(table.columns)]
    places = places_column(every, [c.role for c in columns])
    if places >= 0:
        return [replace(c, role="cavity", score=1.0) if c.index == places else c for c in columns]
    if any(c.role == "cavity" for c in columns):
        return columns
    out = list(columns)
    for c in columns if table.kind == "list" else ():
        texts = column_texts(table, c.index)
        if all(connectors_listed(t) for t in texts) or (c.index == 0 and all(expand(t) for t in texts)):
            out[c.index] = replace(c, role="cavity", score=0.0, guessed=not connectors_listed(texts[0]))
            return out
    for c in columns:
        weak = c.role in WEAK_OVER_CAVITIES or c.score < KNOWN
        texts = column_texts(table, c.index)
        if not weak or len(filled_texts(texts)) < 2 or evidence[c.index]["cavity"] < GUESS["cavity"]:
            continue
        if "distractor" in header_roles(c.text) and not _has_colors(out, table):
            continue
        sure = sure_cavities(texts) and _has_colors(out, table)
        out[c.index] = replace(c, role="cavity", score=0.0, guessed=not sure)
        if table.has_header:
            break
    return out


def _has_colors(columns: Sequence[Column], table: Table) -> bool:
    return any(
        c.role == "color"
        or (not c.role and sure_colors(column_texts(table, c.index)))
        or _beside_circuits(table, c)
        for c in columns
    )


def _beside_circuits(table: Table, column: Column) -> bool:
    """True where a header names circuit and colour, and its cells hold both (`102 RD/WH`)."""
    headed = facts_named(column.text) & FACTS
    if not {"circuit", "color"} <= headed:
        return False
    return "color" in combined_order(column_texts(table, column.index), FACTS - {"cavity"}, headed=headed)


def _colors(table: Table, columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    """Without a colour's header, a column of colours is taken; in a headerless table each one."""
    if any(c.role == "color" for c in columns):
        return columns
    sides = [c for c in columns if _names_side(c) and sure_colors(column_texts(table, c.index))]
    if len(sides) == len(ENDS):
        # `Main harness side` and `Sub-harness side` over colours: an in-line connector with its two halves.
        return [replace(c, role="color", score=1.0, group=c.text) if c in sides else c for c in columns]
    out = list(columns)
    for c in columns:
        texts = column_texts(table, c.index)
        misprint = (c.role == "goes_from" or (c.role in MISREAD and c.score < 1.0)) and sure_colors(texts)
        if (
            (c.role and not misprint)
            or len(filled_texts(texts)) < 2
            or evidence[c.index].get("color", -1.0) < GUESS["color"]
        ):
            continue
        words = bool(c.text) and in_words(texts)  # of seals and lamps, more often than of wires
        out[c.index] = replace(c, role="color", score=0.0, guessed=words or not sure_colors(texts))
        if table.has_header:
            break
    return out


def _names_side(column: Column) -> bool:
    """True for a header that names a half, or the harness on its side."""
    roles = header_roles(column.text)
    return roles.get("half", 0.0) + roles.get("harness", 0.0) >= KNOWN


def _sizes(table: Table, columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    if any(c.role in ("size", "rating", "expected") for c in columns):
        return columns
    out = list(columns)
    for c in columns:
        decimal = any("." in t or "," in t for t in filled_texts(column_texts(table, c.index)))
        if not c.role and decimal and evidence[c.index].get("size", -1.0) >= GUESS["size"]:
            out[c.index] = replace(c, role="size", score=0.0)
            break
    return out


def _circuits(table: Table, columns: list[Column], evidence: Sequence[Mapping[str, float]]) -> list[Column]:
    """The one column under an unknown header that holds circuits, where no other does: taken, and doubted."""
    roles = {c.role for c in columns}
    several = sum(c.role == "cavity" for c in columns) > 1
    if ("circuit" in roles and not several) or roles & NO_CIRCUITS:
        return columns
    likely = []
    for c in columns:
        texts = filled_texts(column_texts(table, c.index))
        open_header = not c.role and (bool(c.text) or is_bare(table))
        if not open_header or len(texts) < 2 or size_share(texts) >= GUESS["size"]:
            continue
        if evidence[c.index].get("circuit", -1.0) >= GUESS["circuit"]:
            likely.append(c)
    if len(likely) != 1 and not is_bare(table):
        return columns
    out = list(columns)
    for c in likely if several else likely[:1]:
        out[c.index] = replace(c, role="circuit", score=0.0, guessed=True)
    return out
