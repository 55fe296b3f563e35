"""What names the connector of a page: a block at the edge of a drawing sheet, or a name in one place."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from xref.pins.designators import shape_of
from xref.pins.heading import Head, parse_heading
from xref.pins.naming import CERTAIN, POSSIBLE, Naming
from xref.pins.pinouts import Pinout
from xref.tables.page import PageReading
from xref.tables.surroundings import is_key
from xref.tables.table import Table

#: A block has no more lines than this under its keys.
MOST_LINES = 3
#: So many pages with such a block make it a habit.
FEWEST_PAGES = 2
#: A place holds names where this share of its texts are, of few forms, on this share of the pages.
SHARE_NAMES = 0.8
SHARE_PAGES = 0.3

#: The form of a number that is a name by itself.
BARE_NUMBER = "9"

Place = tuple[str, int, int]


def blocks_of_pages(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> dict[int, Naming]:
    """Return what the block of each page says, where there is one and it names one connector.

    It is certain where several pages have one and the page holds one table only.
    """
    tables: dict[int, set[int]] = defaultdict(set)
    for pinout in pinouts:
        tables[pinout.table.page].add(pinout.table.number)
    found: dict[int, Head] = {}
    for reading in readings:
        own = tables.get(reading.page, set())
        heads = [h for t in reading.tables if own and t.number not in own for h in _named(t)]
        if len({h.connector for h in heads}) == 1:
            found[reading.page] = heads[0]
    usual = len(found) >= FEWEST_PAGES
    if not found:
        open_pages = {p.table.page for p in pinouts if not p.listed}  # rows of lists name their own
        found, usual = _in_one_place([r for r in readings if r.page in open_pages])
    whole = {page for page in tables if _goes_on_across([p for p in pinouts if p.table.page == page])}
    return {
        page: Naming(head=head, score=CERTAIN if usual and page in whole else CERTAIN - 0.1, where="page")
        for page, head in found.items()
    }


def with_page_name(namings: Sequence[Naming], page: Naming | None, shapes: frozenset[str]) -> list[Naming]:
    """Add the name of the page where nothing at the table names it.

    Where the page's name is certain, a title, or a name of another form than such names have, is behind it.
    """
    if page is None:
        return list(namings)
    usual = (shapes - {BARE_NUMBER}) | {shape_of(page.head.connector)}
    named = [n for n in namings if n.score >= POSSIBLE]
    if named and (page.score < CERTAIN or any(shape_of(n.head.connector) in usual for n in named)):
        return list(namings)
    return [*(replace(n, score=min(n.score, POSSIBLE)) for n in namings), page]


def _goes_on_across(pinouts: Sequence[Pinout]) -> bool:
    """True for one table, or several that have no cavity in common."""
    return not any(set(a.cavities) & set(b.cavities) for a, b in combinations(pinouts, 2))


def _in_one_place(readings: Sequence[PageReading]) -> tuple[dict[int, Head], bool]:
    """Return the names that stand in the same place of many pages, and whether it is the only such place.

    They differ from page to page; numbers that count the pages are labels.
    """
    places: dict[Place, dict[int, Head]] = defaultdict(dict)
    texts: Counter[Place] = Counter()
    for reading in readings:
        headings = {a.line.text.strip() for t in reading.tables for a in t.around if a.where != "page"}
        for text, box in reading.apart:
            head = parse_heading(text)
            if text.strip() in headings:
                continue  # it stands at one table: the others of the page have names of their own
            for place in (
                ("left", round(box.x0), round(box.top)),
                ("right", round(box.x1), round(box.top)),
                ("middle", round((box.x0 + box.x1) / 2), round(box.top)),
            ):
                texts[place] += 1
                if head.designator and (head.worded or _ends(text, head.connector)):
                    places[place].setdefault(reading.page, head)
    named = [
        found
        for place, found in places.items()
        if len(found) >= max(FEWEST_PAGES, SHARE_PAGES * len(readings))
        and len(found) >= SHARE_NAMES * texts[place]
        and _are_names(found)
    ]
    best = max(named, key=len, default={})
    agree = all(
        _of_one(best[page].connector, h.connector) for f in named for page, h in f.items() if page in best
    )
    return best, agree


def _of_one(name: str, other: str) -> bool:
    """True for the same name, and for a connector and one of its halves (`X127`, `X127.F`)."""
    return name == other or bool(re.fullmatch(re.escape(name) + r"[./_ -]?[A-Z]", other))


def _ends(text: str, name: str) -> bool:
    return text.strip().startswith(name) or text.strip().endswith(name)


def _are_names(found: dict[int, Head]) -> bool:
    """True for names of few forms, several of them, that do not count with the pages."""
    names = {h.connector for h in found.values()}
    shapes = Counter(map(shape_of, names))
    numbers = {
        page: int(digits[-1]) for page, h in found.items() if (digits := re.findall(r"\d+", h.connector))
    }
    counting = len({number - page for page, number in numbers.items()}) == 1
    alike = sum(n for n in shapes.values() if n >= FEWEST_PAGES)
    return len(names) >= FEWEST_PAGES and alike >= SHARE_NAMES * len(names) and not counting


def _named(table: Table) -> Iterator[Head]:
    """Yield the connectors that stand under a word for connector in a small table."""
    if len(table.bands) > MOST_LINES:
        return
    rows = [table.header, *(tuple(c.text for c in b.cells) for b in table.bands)]
    for n, row in enumerate(rows[:-1]):
        for column, key in enumerate(row):
            if not key or is_key(key) != "connector":
                continue
            value = next((r[column] for r in rows[n + 1 :] if r[column]), "")
            head = parse_heading(value)
            if head.designator and head.connector == value.strip():
                yield replace(head, worded=True)
