"""Wrapped texts that stand around the middle of their row: which line belongs to which cavity."""

from __future__ import annotations

from xref.rows.plan import Plan
from xref.tables.table import Table

#: Lines of one row stand no further apart than this many of the table's closest line pitch.
NEAR = 1.6
#: So many rows whose cavity stands beside no text of its own, between lines of text, show the habit.
FEWEST_PROOFS = 1


def centred_owners(table: Table, plan: Plan, key: int) -> dict[int, int]:
    """Return for each line without cavity the band it belongs to; {} where texts begin beside their cavity.

    A row's lines stand evenly over and under its cavity, so the first row settles the second, and so on.
    Where that does not come out, the nearer cavity takes a line.
    """
    filled = [
        n
        for n, b in enumerate(table.bands)
        if any(c.text and c.first for c in b.cells[plan.first : plan.last + 1])
    ]
    anchors = [n for n in filled if table.bands[n].cells[key].text]
    if not anchors or len(anchors) == len(filled) or not _is_centred(table, plan, key, filled, anchors):
        return {}
    even = _evenly(filled, anchors)
    return even if even is not None else _nearest(table, filled, anchors)


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
    def height(n: int) -> float:
        box = table.bands[n].box
        return (box.top + box.bottom) / 2

    return {n: min(anchors, key=lambda a: abs(height(a) - height(n))) for n in filled if n not in anchors}
