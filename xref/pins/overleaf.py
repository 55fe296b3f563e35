"""Tables that go on: the name before holds on evidence, and the name under a rest for what came before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref.pins.habits import Habits, use_of
from xref.pins.heading import Head
from xref.pins.naming import CERTAIN, Naming, ascends, goes_on, table_to_namings
from xref.pins.pinouts import Pinout
from xref.tables.table import Table

#: Tables whose upper edges differ by no more than this begin at one height, points.
ALIKE_TOPS = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """The head of a pinout (one for each of its blocks), with the doubts about it."""

    heads: tuple[Head, ...]
    doubts: tuple[str, ...] = ()
    alike: tuple[Head, ...] = ()  #: further connectors for which the table holds


def inherits(pinout: Pinout, best: Naming | None, before: Pinout) -> bool:
    """The name before holds on evidence, and never against a heading of the table's own."""
    if not _follows(pinout, before):
        return False
    if best is not None and best.score >= CERTAIN:
        page_head = best.where == "page" and not best.head.continued
        if not (page_head and _turned(pinout, before)):
            return False
    runs_on = _runs_on(pinout, before)
    overleaf = pinout.joined and _turned(pinout, before) and ascends(before.cavities, pinout.cavities)
    return (runs_on or overleaf) and not set(pinout.cavities[1:]) & set(before.cavities)


def part_before(pinout: Pinout, done: Sequence[tuple[Pinout, Owner]]) -> tuple[Pinout, Owner] | None:
    """Return the table that this one goes on: the one at its left, or one that ends a column overleaf.

    The last one in the order of reading is it as a rule; in pages of several columns another one may be.
    """
    if not done or _runs_on(pinout, done[-1][0]):
        return done[-1] if done else None
    page, box = pinout.page.page, pinout.table.box
    beside = [
        (p, owner)
        for p, owner in done
        if p.page.page == page
        and abs(p.table.box.top - box.top) <= ALIKE_TOPS
        and p.table.box.x1 <= box.x0 + 1
        and _runs_on(pinout, p)
    ]
    if beside:
        return max(beside, key=lambda d: d[0].table.box.x1)
    if any(t.box.bottom <= box.top + 2 and t.has_header for t in pinout.page.tables):
        return done[-1]
    ended = [(p, o) for p, o in done if p.page.page == page - 1 and _ends_column(p) and _runs_on(pinout, p)]
    return ended[0] if len(ended) == 1 else done[-1]


def _runs_on(pinout: Pinout, before: Pinout) -> bool:
    return goes_on(before.cavities, pinout.cavities) and same_columns(pinout.table, before.table)


def _ends_column(pinout: Pinout) -> bool:
    """True for a table with no other one under it on its page."""
    box = pinout.table.box
    return not any(
        t.box.top >= box.bottom - 2 and min(t.box.x1, box.x1) > max(t.box.x0, box.x0)
        for t in pinout.page.tables
    )


def goes_on_overleaf(pinout: Pinout, before: Pinout) -> bool:
    """True for a table whose cavities come after those of the one that ends the page before."""
    later = ascends(before.cavities, pinout.cavities)
    return later and may_go_on(pinout, before) and pinout.page.page == before.page.page + 1


def may_go_on(pinout: Pinout, before: Pinout) -> bool:
    """True for a table that may be the rest of another: the same columns, and not the same cavities again."""
    again = set(pinout.cavities) & set(before.cavities)
    return _follows(pinout, before) and same_columns(pinout.table, before.table) and not again


def _turned(pinout: Pinout, before: Pinout) -> bool:
    """True when one table ends a page and the other begins the next."""
    overleaf = pinout.page.page == before.page.page + 1
    return overleaf and pinout.table.first_on_page and before.table.last_on_page


def _follows(pinout: Pinout, before: Pinout) -> bool:
    return pinout.page.page - before.page.page <= 1


def same_columns(a: Table, b: Table) -> bool:
    """True for tables under the same header."""
    return [t.casefold() for t in a.header if t] == [t.casefold() for t in b.header if t]


def named_overleaf(
    owners: Sequence[Owner | None], pinouts: Sequence[Pinout], under: Sequence[bool], habits: Habits
) -> list[Owner | None]:
    """Give a table without name, at the end of a page, the name that stands under its rest overleaf.

    `under` says for each table whether the line that names it stands below it. Where nothing is left but
    the caption, it stands at the head of the next page.
    """
    out = list(owners)
    for n in range(len(pinouts) - 2, -1, -1):
        own, before, after = out[n], pinouts[n], pinouts[n + 1]
        overleaf = before.table.last_on_page and after.page.page == before.page.page + 1
        if (own is not None and not own.doubts) or not overleaf:
            continue
        rest = out[n + 1]
        head = _caption_left(after, habits)
        if rest is not None and not rest.doubts and under[n + 1] and _is_rest(after, before):
            head = rest.heads[-1]
        if head is not None:
            out[n] = Owner(heads=(head,) * len(before.blocks))
    return out


def heading_before(pinout: Pinout, before: Pinout | None, habits: Habits) -> list[Naming]:
    """Return the heading that was left at the foot of the page before, for a table that begins a page.

    It is set as headings are in this document, and the last line under a table that has a name of its own.
    """
    if before is None or pinout.page.page != before.page.page + 1 or not pinout.table.first_on_page:
        return []
    own = {a.line.text for a in before.table.around if a.where in ("above", "title")}
    uses = {use_of(style) for style in habits.usual if style.where == "above"}
    under = [
        n
        for n in table_to_namings(before.table, habits.shapes)
        if n.where == "below" and use_of(n.style) in uses and not n.head.caption and n.head.text not in own
    ]
    last = max((a.gap for a in before.table.around if a.where == "below"), default=0.0)
    headed = before.table.head or own
    return [
        replace(n, score=CERTAIN, where="page", near=None)
        for n in under
        if headed and n.near is not None and n.near.gap >= last
    ]


def _is_rest(pinout: Pinout, before: Pinout) -> bool:
    same = pinout.joined or same_columns(before.table, pinout.table)
    return same and _turned(pinout, before) and goes_on(before.cavities, pinout.cavities)


def _caption_left(pinout: Pinout, habits: Habits) -> Head | None:
    """Return the caption over the first table of a page where captions stand under their tables."""
    table = pinout.table
    if any(t.box.bottom <= table.box.top + 2 for t in pinout.page.tables if t.number != table.number):
        return None
    for naming in table_to_namings(table, habits.shapes):
        up = habits.directions.get(use_of(naming.style)) == "up"
        if naming.where in ("above", "page") and naming.head.caption and naming.head.designator and up:
            return naming.head
    return None
