"""Blank cells filled from the line above where the document itself says that this is what they mean.

A note at the front holds for all tables, one on a page with pinouts for the nearest of them, and for the
pages over which that one runs on. What it may mean beside that is filled and doubted; without a note a blank
says nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref.pins.pinouts import Blocks, Pinout
from xref.records import Box
from xref.rows.content import is_dash, is_unused
from xref.rows.plan import Plan
from xref.rows.row import Row
from xref.tables.page import PageReading

ASSUMED = "ditto-assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rule:
    """Which columns of a table repeat the line above where they are blank, and whether that is certain."""

    roles: frozenset[str]
    sure: bool


def fill_blanks(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> list[Pinout]:
    """Return the pinouts of a document with its blank cells filled as its notes say."""
    if not any(r.blank_notes for r in readings):
        return list(pinouts)
    general = _general(readings, pinouts)
    rules = [_on_page(p, pinouts) or general for p in pinouts]
    for n in range(1, len(pinouts)):
        if pinouts[n].joined:
            rules[n] = rules[n] or rules[n - 1]
    for n in range(len(pinouts) - 1, 0, -1):
        if pinouts[n].joined:
            rules[n - 1] = rules[n - 1] or rules[n]
    return [
        replace(p, blocks=_filled(p.blocks, rule)) if rule else p
        for p, rule in zip(pinouts, rules, strict=True)
    ]


def _general(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> _Rule | None:
    """Return what a note before the first pinout says for the whole document."""
    first = min((p.page.page for p in pinouts), default=0)
    for reading in readings:
        if reading.page < first:
            for note in reading.blank_notes:
                return _Rule(roles=note.roles, sure=note.general and not reading.tables)
    return None


def _on_page(pinout: Pinout, pinouts: Sequence[Pinout]) -> _Rule | None:
    """Return what the notes of its page say for a pinout: the nearest is surely meant."""
    here = [p for p in pinouts if p.page.page == pinout.page.page]
    rules = [
        _Rule(roles=n.roles, sure=_is_nearest(pinout, here, n.box))
        for n in pinout.page.blank_notes
        if n.box is not None
    ]
    return max(rules, key=lambda r: r.sure, default=None)


def _is_nearest(pinout: Pinout, here: Sequence[Pinout], box: Box) -> bool:
    tables = {p.table.number: p.table.box for p in here}
    return min(tables, key=lambda number: _gap(tables[number], box)) == pinout.table.number


def _gap(table: Box, note: Box) -> float:
    """Return how far a note stands from a table, points; one beside it is further away than one under it."""
    up_or_down = max(0.0, table.top - note.bottom, note.top - table.bottom)
    aside = max(0.0, table.x0 - note.x1, note.x0 - table.x1)
    return up_or_down + 2 * aside


def _filled(blocks: Blocks, rule: _Rule) -> Blocks:
    return tuple((plan, _fill_rows(plan, rows, rule)) for plan, rows in blocks)


def _fill_rows(plan: Plan, rows: Sequence[Row], rule: _Rule) -> tuple[Row, ...]:
    """Fill the blank cells of one block; a line that says nothing, or has none above, is doubtful."""
    roles = sorted(rule.roles & plan.facts)
    if plan.kind != "pins" or plan.sparse or not roles:
        return tuple(rows)
    out: list[Row] = []
    above: dict[str, str] = {}
    current: dict[str, str] = {}
    line = 0
    for row in rows:
        if row.row_no != line:
            above, line = current, row.row_no
        filled = row if row.unused else _fill(row, roles, above, sure=rule.sure)
        current = {} if row.unused else {r: t for r in roles if (t := filled.values.get(r, ""))}
        out.append(filled)
    return tuple(out)


def _fill(row: Row, roles: Sequence[str], above: dict[str, str], *, sure: bool) -> Row:
    blank = [r for r in roles if not row.values.get(r, "")]
    if not blank:
        return row
    found = {r: t for r in blank if (t := above.get(r, "")) and not is_dash(t) and not is_unused(t)}
    says = len(blank) < len(roles)
    certain = sure and says and bool(above)
    return replace(
        row,
        values=row.values | found,
        filled=frozenset(found),
        doubts=row.doubts if certain else tuple(dict.fromkeys([*row.doubts, ASSUMED])),
    )
