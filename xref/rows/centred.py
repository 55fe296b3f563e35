"""Wrapped texts that stand around the middle of their row: which line belongs to which cavity."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from xref.rows.plan import Plan
from xref.tables.table import Band, Cell, Table

#: Lines of one row stand no further apart than this many of the table's closest line pitch.
NEAR = 1.6
#: So many rows whose cavity stands beside no text of its own, between lines of text, show the habit.
FEWEST_PROOFS = 1
#: A name stands in the middle of its rows when it is off by less than this part of the closest rows' pitch.
OFF_MIDDLE = 0.3


def centred_owners(table: Table, plan: Plan, key: int) -> dict[int, int]:
    """Return for each line without cavity the band it belongs to; {} where texts begin beside their cavity.

    A row's lines stand evenly over and under its cavity, so the first row settles the second, and so on.
    Where that does not come out, the nearer cavity takes a line.
    """
    filled = [n for n, b in enumerate(table.bands) if any(c.text and c.first for c in _cells_of(b, plan))]
    anchors = [n for n in filled if any(table.bands[n].cells[j].text for j in plan.anchors or (key,))]
    if not anchors or len(anchors) == len(filled) or not _is_centred(table, plan, key, filled, anchors):
        return {}
    even = _evenly(filled, anchors)
    return even if even is not None else _nearest(table, filled, anchors)


def _cells_of(band: Band, plan: Plan) -> Sequence[Cell]:
    """Return the cells of a block; in a matrix of wires every connector's cells are its own."""
    return band.cells if plan.anchors else band.cells[plan.first : plan.last + 1]


def _is_centred(table: Table, plan: Plan, key: int, filled: list[int], anchors: list[int]) -> bool:
    """True when the first line has no cavity, or cavities stand alone between lines of text."""
    first = table.bands[filled[0]]
    if filled[0] not in anchors and not first.ruled:
        return True
    alone = 0
    for n in anchors:
        at = filled.index(n)
        around = filled[at - 1 : at] + filled[at + 1 : at + 2]
        columns = [plan.columns[r] for r in ("function", "signal") if r in plan.columns]
        columns += [key] if plan.anchors and key not in plan.anchors else []
        blank = columns and not any(table.bands[n].cells[j].text for j in columns)
        texts = [m for m in around if any(table.bands[m].cells[j].text for j in columns) and m not in anchors]
        alone += bool(blank) and len(texts) == 2
    return alone >= FEWEST_PROOFS


def _evenly(filled: list[int], anchors: list[int]) -> dict[int, int] | None:
    """Give each cavity as many lines below as it has above; None when that does not come out."""
    owners: dict[int, int] = {}
    at = 0
    above = 0
    for n in anchors:
        place = filled.index(n)
        above = place - at
        for line in filled[at:place]:
            owners[line] = n
        below = filled[place + 1 : place + 1 + above]
        if len(below) < above or any(m in anchors for m in below):
            return None
        for line in below:
            owners[line] = n
        at = place + 1 + above
    return owners if at == len(filled) else None


def _nearest(table: Table, filled: list[int], anchors: list[int]) -> dict[int, int]:
    return {
        n: min(anchors, key=lambda a: abs(_middle(table, a) - _middle(table, n)))
        for n in filled
        if n not in anchors
    }


def names_in_the_middle(table: Table, name: int, circuit: int) -> dict[int, str] | None:
    """Return for each band with a circuit the name that stands in the middle of its group of bands.

    None where names stand in their first row, or rules show how far each reaches; {} where they stand
    elsewhere and no even parting comes out: then nobody can say which name a row has.
    """
    cells = [b.cells[name] for b in table.bands]
    if any(c.row_span > 1 or not c.first for c in cells):
        return None
    rows = [n for n, b in enumerate(table.bands) if b.cells[circuit].text]
    named = [n for n, c in enumerate(cells) if c.text]
    if not rows or not named or (named[0] <= rows[0] and set(named) <= set(rows)):
        return None
    owners: dict[int, str] = {}
    pitch = min((_middle(table, b) - _middle(table, a) for a, b in pairwise(rows)), default=0.0)
    at = 0
    for n in named:
        middles = {
            end: abs((_middle(table, rows[at]) + _middle(table, rows[end])) / 2 - _middle(table, n))
            for end in range(at, len(rows))
        }
        end = min(middles, key=lambda e: middles[e], default=at)
        if not middles or middles[end] > OFF_MIDDLE * pitch:
            return {}
        owners |= {rows[i]: cells[n].text for i in range(at, end + 1)}
        at = end + 1
    return owners if at == len(rows) else {}


def names_above(table: Table, name: int, circuit: int) -> dict[int, str] | None:
    """Return for each band with a circuit the name that stands alone in a band above it; None for others.

    No name stands in the middle of its rows where the first one stands over all of them.
    """
    rows = [n for n, b in enumerate(table.bands) if b.cells[circuit].text]
    named = [n for n, b in enumerate(table.bands) if b.cells[name].text]
    if not rows or not named or named[0] >= rows[0] or set(named) & set(rows):
        return None
    if any(any(c.text for j, c in enumerate(table.bands[n].cells) if j != name) for n in named):
        return None
    return {n: table.bands[max(m for m in named if m < n)].cells[name].text for n in rows}


def _middle(table: Table, n: int) -> float:
    box = table.bands[n].box
    return (box.top + box.bottom) / 2
