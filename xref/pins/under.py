"""Headings that stand under their tables: each heading names one table, and each table needs one.

A heading right under a table that nothing above names is that table's, unless the table below it, or the
first one of the next page, would then have no name. Tables in one column are judged together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from xref.pins.lines import is_title, leads_back, stands_out
from xref.pins.naming import POSSIBLE, Naming, Style, goes_on, table_to_namings
from xref.pins.pinouts import Pinout
from xref.pins.wordings import has_word
from xref.records import Box

#: A heading under its table stands this close to it, points; so far below it no other table begins.
RIGHT_UNDER = 25.0
CLEAR_BELOW = 25.0
#: So many headings under tables of one page are set alike: it is how they are set.
FEWEST_ALIKE = 2
#: A table below is not meant when it is this many times as far away as the one above.
FURTHER = 2.0
#: A heading that all but touches its table, points.
TOUCHING = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Under:
    """The heading under a table, and whether its place alone makes it certain."""

    naming: Naming
    page: int
    sure: bool

    @property
    def box(self) -> Box:
        """Where the heading stands."""
        return self.naming.near.line.box if self.naming.near else Box(x0=0, top=0, x1=0, bottom=0)

    def holds(self, page: int, box: Box) -> bool:
        """True for a line, or a part of one, that is this heading."""
        own = self.box
        across = min(own.x1, box.x1) > max(own.x0, box.x0)
        return page == self.page and across and abs(own.top - box.top) < 0.5 * own.height


def headings_under(pinouts: Sequence[Pinout], shapes: frozenset[str]) -> dict[int, Under]:
    """Return the pinouts (by their place in the sequence) that the heading under them names."""
    namings = {n: table_to_namings(p.table, shapes) for n, p in enumerate(pinouts) if not p.listed}
    found: dict[int, Under] = {}
    pages: dict[int, list[int]] = defaultdict(list)
    for n in namings:
        pages[pinouts[n].page.page].append(n)
    for page, members in pages.items():
        after = next((n for n in pages.get(page + 1, [])), None)
        waiting = after is not None and not _named_above(pinouts[after], namings[after], [])
        waiting = (
            waiting and _line_under(pinouts[after], namings[after]) is None if after is not None else False
        )
        for chain in _columns(members, pinouts):
            found |= _chain(chain, pinouts, namings, page, waiting=waiting)
        found |= _that_say_so([n for n in members if n not in found], pinouts, namings, page)
    return _settled(found)


def _that_say_so(
    members: Sequence[int], pinouts: Sequence[Pinout], namings: dict[int, list[Naming]], page: int
) -> dict[int, Under]:
    """Return the tables under which a line says that it means the one above (`Above: plug 2`)."""
    found: dict[int, Under] = {}
    for n in members:
        line = _line_under(pinouts[n], namings[n])
        if line is not None and leads_back(line.head.text):
            named = _named_above(pinouts[n], namings[n], list(found.values()))
            found[n] = Under(naming=line, page=page, sure=not named)
    return found


def _settled(found: dict[int, Under]) -> dict[int, Under]:
    """Headings set alike under several tables of a page bear each other out."""
    styles: dict[tuple[int, Style], set[str]] = defaultdict(set)
    for under in found.values():
        styles[under.page, under.naming.style].add(under.naming.head.connector)
    return {
        n: Under(
            naming=u.naming,
            page=u.page,
            sure=u.sure or len(styles[u.page, u.naming.style]) >= FEWEST_ALIKE,
        )
        for n, u in found.items()
    }


def _columns(members: Sequence[int], pinouts: Sequence[Pinout]) -> list[list[int]]:
    """Return the pinouts of a page in columns, each from top to bottom."""
    columns: list[list[int]] = []
    for n in sorted(members, key=lambda n: pinouts[n].table.box.top):
        box = pinouts[n].table.box
        own = next((c for c in columns if _across(pinouts[c[-1]].table.box, box)), None)
        if own is None:
            columns.append([n])
        else:
            own.append(n)
    return columns


def _across(a: Box, b: Box) -> bool:
    return min(a.x1, b.x1) > max(a.x0, b.x0)


def _chain(
    chain: Sequence[int],
    pinouts: Sequence[Pinout],
    namings: dict[int, list[Naming]],
    page: int,
    *,
    waiting: bool,
) -> dict[int, Under]:
    """Return the tables at the head of a column that only headings under them name.

    None, if a table would be left over without a heading.
    """
    found: dict[int, Under] = {}
    for n in chain:
        pinout = pinouts[n]
        line = _line_under(pinout, namings[n])
        if _goes_on_from(n, pinouts) or _named_above(pinout, namings[n], list(found.values())):
            break
        if line is None:
            return {}  # the heading over it would be taken from it
        found[n] = Under(naming=line, page=page, sure=_stands_free(pinout, line))
    if not found or (waiting and len(found) == len(chain)):
        return {}
    last = next(reversed(found))
    return found if _clear_below(pinouts[last], found[last].naming) else {}


def _goes_on_from(n: int, pinouts: Sequence[Pinout]) -> bool:
    """True for a table that may be the rest of the one before, on the page before."""
    before = pinouts[n - 1] if n else None
    if before is None or before.page.page != pinouts[n].page.page - 1:
        return False
    return pinouts[n].joined or goes_on(before.cavities, pinouts[n].cavities)


def _named_above(pinout: Pinout, namings: Sequence[Naming], taken: Sequence[Under]) -> bool:
    """True where a line over a table names it that is not already another's."""
    if pinout.table.head:
        return True
    return any(
        n.near is not None
        and n.where != "below"
        and n.head.designator
        and n.score >= POSSIBLE
        and not any(u.holds(pinout.page.page, n.near.line.box) for u in taken)
        for n in namings
    )


def _line_under(pinout: Pinout, namings: Sequence[Naming]) -> Naming | None:
    """Return the line right under a table that reads as a connector's heading."""
    for n in namings:
        if n.near is None or n.where != "below" or not n.head.designator or n.head.caption:
            continue
        alone = n.near.line.text.strip() == n.head.connector
        heading = stands_out(n.near.line, pinout.table) or bool(has_word(n.head.text, "connector")) or alone
        heading = (heading and is_title(n.head.text)) or leads_back(n.head.text)
        if n.near.gap <= RIGHT_UNDER and heading:
            return n
    return None


def _stands_free(pinout: Pinout, line: Naming) -> bool:
    """True where nothing stands over the table, or the heading touches it or says that it means it."""
    over = any(a.where in ("above", "title", "beside") for a in pinout.table.around)
    touches = line.near is not None and line.near.gap <= TOUCHING
    return not over or touches or leads_back(line.head.text)


def _clear_below(pinout: Pinout, under: Naming) -> bool:
    """True where no other table begins right under a heading, or it is much further away."""
    if under.near is None:
        return False
    line, gap = under.near.line.box, under.near.gap
    return not any(
        -2 <= t.box.top - line.bottom <= min(CLEAR_BELOW, FURTHER * gap) and _across(t.box, line)
        for t in pinout.page.tables
        if t.number != pinout.table.number
    )
