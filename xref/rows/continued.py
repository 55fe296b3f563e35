"""Tables that run on overleaf without a header take the columns of the table before, on evidence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.rows.assemble import table_to_rows
from xref.rows.cavities import names_places
from xref.rows.content import cavity_share, color_share
from xref.rows.evidence import WORD, filled_texts
from xref.rows.plan import Plan, is_face
from xref.tables.cells import line_to_cells
from xref.tables.table import Band, Table

#: Column borders of a continued table may lie this far apart from the first part's, points.
EDGE_APART = 14.0
#: Of the columns' types (cavity, colour), how alike both parts must be.
TYPES_ALIKE = 0.5

#: So many cavities may be left out between both parts.
MOST_MISSING = 6


def continue_table(table: Table, before: Table, plans: Sequence[Plan]) -> Table | None:
    """Return a headerless table with the header and columns of the one before; None if it is another.

    The outer borders must agree (or the columns, for ruled tables), and the cells must be of the same
    kinds: cavities where cavities were, colours where colours were.
    """
    if table.has_header or not plans or is_face(table) or (table.kind == "list") != (before.kind == "list"):
        return None
    headed = replace(table, header=before.header, groups=before.groups, header_score=before.header_score)
    if table.columns == before.columns and _counts_on(headed, before, plans):
        return headed
    if table.kind == "ruled":
        same = table.columns == before.columns and all(
            abs(a - b) <= EDGE_APART for a, b in zip(table.edges, before.edges, strict=True)
        )
        if not same:
            return None
        joined = headed
    else:
        if abs(table.edges[0] - before.edges[0]) > 3 * EDGE_APART:
            return None
        bands = tuple(_recut(band, before.edges) for band in table.bands)
        joined = replace(headed, edges=before.edges, bands=bands)
    if not all(_types_agree(joined, before, p) for p in plans) or _starts_anew(joined, before, plans):
        return None
    return joined


def _counts_on(table: Table, before: Table, plans: Sequence[Plan]) -> bool:
    """True when the first cavity comes right after the last one before, and all columns agree in kind.

    Without its header a table is set narrower: the columns themselves lie elsewhere then, though it
    begins at the same place, or is centred on it.
    """
    left = abs(table.edges[0] - before.edges[0]) <= EDGE_APART
    middle = abs(sum(table.edges[:: len(table.edges) - 1]) - sum(before.edges[:: len(before.edges) - 1]))
    if not left and middle > 2 * EDGE_APART:
        return False
    if not all(_types_agree(table, before, p) for p in plans):
        return False
    last = [r.cavity for p in plans for r in table_to_rows(before, p)]
    here = [r.cavity for p in plans for r in table_to_rows(table, p)]
    return _whole(last, here) and min(map(int, here)) == max(map(int, last)) + 1


def _starts_anew(table: Table, before: Table, plans: Sequence[Plan]) -> bool:
    """True when its cavities are whole numbers that do not come after those before: a table by itself."""
    if any("connector" in p.columns or "cavity" not in p.columns for p in plans):
        return False
    last = [[r.cavity for r in table_to_rows(before, p)] for p in plans]
    here = [[r.cavity for r in table_to_rows(table, p)] for p in plans]
    pairs = [(max(map(int, a)), min(map(int, b))) for a, b in zip(last, here, strict=True) if _whole(a, b)]
    if not pairs:
        return False
    ends = [*pairs, (max(a for a, _ in pairs), min(b for _, b in pairs))]
    return not any(0 < b - a <= MOST_MISSING for a, b in ends)


def _whole(*names: Sequence[str]) -> bool:
    return all(part and all(name.isdecimal() for name in part) for part in names)


def _recut(band: Band, edges: Sequence[float]) -> Band:
    words = [w for cell in band.cells for w in cell.words]
    cells = line_to_cells(words, edges, band.box.top, band.box.bottom)
    return replace(band, cells=tuple(cells))


def _types_agree(table: Table, before: Table, plan: Plan) -> bool:
    def texts(of: Table, role: str) -> list[str]:
        return [b.cells[plan.columns[role]].text for b in of.bands if b.cells[plan.columns[role]].first]

    if "cavity" in plan.columns:
        here = [t for t in texts(table, "cavity") if t]
        if not here or cavity_share(here) < TYPES_ALIKE * cavity_share(
            [t for t in texts(before, "cavity") if t]
        ):
            return False
        if names_places(here) and not plan.places:
            return False  # each names its connector, as no cavity before did: another table
    if "color" in plan.columns:
        return color_share(texts(table, "color")) >= TYPES_ALIKE * color_share(texts(before, "color"))
    if "function" in plan.columns:
        return _words(texts(table, "function")) >= TYPES_ALIKE * _words(texts(before, "function"))
    return True


def _words(texts: Sequence[str]) -> float:
    """Return the share of texts with a word in them, of those that say something."""
    filled = filled_texts(texts)
    return sum(bool(WORD.search(t)) for t in filled) / len(filled) if filled else 1.0
