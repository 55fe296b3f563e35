"""Lists of splices and ground points whose heading says what they are, where no header over the names does.

`Ref.`, `Bez.`, `Point` over names tells nothing; `Ground points` over the whole list does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.data.words import fold, words_of
from xref.rows.cavities import connectors_listed
from xref.rows.columns import Column
from xref.rows.content import is_dash
from xref.tables.table import Table
from xref.tables.vocabulary import DESIGNATOR, best_role

KINDS = ("splice", "ground")
#: A heading of so many words at most; it stands this close over its list, points.
MOST_WORDS = 6
NEAR = 40.0
MOST_WORDS_OF_ONE = 12
#: Signs that may stand before or behind a name in a line.
_AROUND_NAMES = ":,;.–—-()[]"
#: A word for it may be the end of a longer word (`Potentialverteiler`) from so many letters on.
LONG_WORD = 6
#: A table with one of these says by itself whose its rows are.
NAMED = frozenset({"cavity", "connector", "goes_from", "fuse", *KINDS})
#: Roles of headers that may as well stand over the names of a list.
OPEN = frozenset({"", "function", "distractor", "component", "signal", "circuit", "cavity"})
#: So many names with so many wires each show that a list is one of splices.
FEWEST = 2
#: A header counts from this score on.
KNOWN = 0.45


def with_list_named(table: Table, columns: Sequence[Column]) -> list[Column]:
    """Return the columns, that of the names with the role `splice` or `ground` where the heading says so."""
    names = next((c for c in columns[:2] if c.role in OPEN and are_names(table, c.index)), None)
    circuits = [c.index for c in columns if c.role == "circuit" and c is not names]
    if names is None or not circuits or {c.role for c in columns if c is not names} & NAMED:
        return list(columns)
    kind = _kind(table) if _is_weak(names) else ""
    kind = kind or ("splice" if _joins(table, names.index, circuits[-1]) else "")
    if not kind:
        return list(columns)
    return [replace(c, role=kind, score=1.0) if c is names else c for c in columns]


def names_a_splice(table: Table) -> bool:
    """True where the line over a table with a header is about one splice: `Splice S102 - left sill`.

    Or about splices, each named in a line of its own over its rows.
    """
    if table.has_header and 0 in names_alone(table) and _kind(table) == "splice":
        return True
    titles = [a for a in table.around if a.where in ("title", "above") and a.gap <= NEAR]
    if not table.has_header or not titles:
        return False
    text = min(titles, key=lambda a: a.gap).line.text
    tokens = text.split()
    named = [n for n, t in enumerate(tokens) if DESIGNATOR.fullmatch(t.strip(_AROUND_NAMES))]
    if len(named) != 1 or len(tokens) > MOST_WORDS_OF_ONE:
        return False
    before, behind = " ".join(tokens[: named[0]]), " ".join(tokens[named[0] + 1 : named[0] + 2])
    return fold(before) in words_of("splice") or (not before and fold(behind) in words_of("splice"))


def names_alone(table: Table) -> dict[int, str]:
    """Return the names that stand alone in a cell as wide as several columns, over the rows of a table."""
    found = {}
    for n, band in enumerate(table.bands):
        filled = [c for c in band.cells if c.text and c.first]
        if len(filled) == 1 and filled[0].col_span > 1 and DESIGNATOR.fullmatch(filled[0].text):
            found[n] = filled[0].text
    return found


def under_a_splice(columns: Sequence[Column]) -> list[Column]:
    """Return the columns of a table under the name of a splice: what `To` stands over are far ends."""
    return [
        replace(c, role="goes_to") if c.role == "cavity" and best_role(c.text)[0] == "goes_to" else c
        for c in columns
    ]


def _is_weak(column: Column) -> bool:
    """True for a column of weak meaning, or one whose cells alone made it one of cavities (`GS1`, `GS2`)."""
    return column.role != "cavity" or column.score < KNOWN


def _joins(table: Table, names: int, circuits: int) -> bool:
    """True where under each name stand several wires of one circuit: what is called so joins them.

    No connector holds two wires of the same circuit in every one of its cavities.
    """
    joined: dict[str, list[str]] = {}
    name = ""
    for band in table.bands:
        name = band.cells[names].text.strip() or name
        circuit = band.cells[circuits].text.strip()
        if name and circuit:
            joined.setdefault(name, []).append(circuit)
    wires = joined.values()
    return len(joined) >= FEWEST and all(len(w) >= FEWEST and len(set(w)) == 1 for w in wires)


def _kind(table: Table) -> str:
    """Return what the heading over a table says is listed; "" where it says neither, or both."""
    said = {kind for kind in KINDS if says_kind(table, kind)}
    return said.pop() if len(said) == 1 else ""


def says_kind(table: Table, kind: str) -> bool:
    """True where the heading over a table says that this kind is listed."""
    texts = [a.line.text for a in table.around if a.where in ("title", "above", "page") and a.gap <= NEAR]
    return any(_says(text, kind) for text in texts[:2])


def _says(text: str, kind: str) -> bool:
    tokens = fold(text).split()
    if len(tokens) > MOST_WORDS:
        return False
    joined = f" {' '.join(tokens)} "
    words = words_of(kind)
    ends = any(t.endswith(w) for t in tokens for w in words if len(w) >= LONG_WORD)
    return ends or any(f" {w} " in joined for w in words)


def are_names(table: Table, column: int) -> bool:
    """True for designators, several of them or one, each with its rows under it."""
    texts = [t for b in table.bands if (t := b.cells[column].text.strip()) and not is_dash(t)]
    return bool(texts) and all(DESIGNATOR.fullmatch(t) and not connectors_listed(t) for t in texts)
