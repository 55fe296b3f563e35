"""Pages set in two columns: each column is a page of its own to the search for tables.

Side by side, the lines of two columns would be read as one. They are two columns where a white gutter
parts them, each has a table header of its own, and their lines do not stand at the same heights; those of
one table, or of twin tables under one header, do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pages.content import PageContent, Word
from xref.tables.headers import find_headers
from xref.tables.lines import line_to_chunks, middle, words_to_lines

#: The gutter lies in this part of the page's width, and is this wide at least, points.
BETWEEN = (0.35, 0.65)
NARROWEST = 8.0
#: What stands in a strip at the head or foot of the page may cross the gutter; the smallest that will do.
HEAD_STRIPS = (0.05, 0.09, 0.15, 0.25)
FOOT_STRIP = 0.94
#: The two columns take this share of the page's height at least, with so many lines each.
LOWEST = 0.25
FEWEST_LINES = 6
#: Lines at the same height, points; of two columns no more than this share of the lines stand so.
LEVEL = 1.0
SHARE_LEVEL = 0.5


def page_columns(page: PageContent) -> list[PageContent]:
    """Return the page in its columns, left one first; the page itself where it has one."""
    for share in HEAD_STRIPS:
        gutter = _two_columns(page, share * page.height)
        if gutter is not None:
            return [_side(page, gutter, right=False), _side(page, gutter, right=True)]
    return [page]


def _two_columns(page: PageContent, top: float) -> float | None:
    """Return the middle of the gutter that parts what stands below a height; None without one."""
    body = [w for w in page.words if top < middle(w.box) < FOOT_STRIP * page.height]
    gutter = _gutter(body, page)
    if gutter is None or any(_crosses(r.x0, r.x1, gutter) and r.top > top for r in page.rules):
        return None
    left = [w for w in body if w.box.x1 <= gutter]
    right = [w for w in body if w.box.x0 >= gutter]
    columns = _is_column(left, page) and _is_column(right, page) and not _level(left, right)
    return gutter if columns else None


def _gutter(words: Sequence[Word], page: PageContent) -> float | None:
    """Return the middle of the widest gap that no word stands in, in the middle part of the page."""
    low, high = (share * page.width for share in BETWEEN)
    edges = sorted((w.box.x0, w.box.x1) for w in words)
    best, at, reach = NARROWEST, None, 0.0
    for x0, x1 in edges:
        if reach > 0 and x0 - reach >= best and low <= (x0 + reach) / 2 <= high:
            best, at = x0 - reach, (x0 + reach) / 2
        reach = max(reach, x1)
    return at


def _crosses(x0: float, x1: float, gutter: float) -> bool:
    return x0 < gutter - 1 and x1 > gutter + 1


def _is_column(words: Sequence[Word], page: PageContent) -> bool:
    lines = words_to_lines(words)
    if len(lines) < FEWEST_LINES or lines[-1].box.bottom - lines[0].box.top < LOWEST * page.height:
        return False
    return bool(find_headers(lines))


def _level(left: Sequence[Word], right: Sequence[Word]) -> bool:
    """True where most lines of the side with fewer of them stand beside one of the other."""
    fewer, more = sorted((words_to_lines(left), words_to_lines(right)), key=len)
    heights = [middle(line.box) for line in more]
    beside = sum(any(abs(middle(line.box) - h) <= LEVEL for h in heights) for line in fewer)
    return beside > SHARE_LEVEL * len(fewer)


def _side(page: PageContent, gutter: float, *, right: bool) -> PageContent:
    """Return one column with the lines that stand over both of them."""
    crossing: list[Word] = []
    for line in words_to_lines(page.words):
        for chunk in line_to_chunks(line):
            if _crosses(chunk[0].box.x0, chunk[-1].box.x1, gutter):
                crossing += chunk
    shared = {id(w) for w in crossing}

    def own(x0: float, x1: float) -> bool:
        return _crosses(x0, x1, gutter) or ((x0 + x1) / 2 > gutter) is right

    return replace(
        page,
        words=tuple(w for w in page.words if id(w) in shared or own(w.box.x0, w.box.x1)),
        rules=tuple(r for r in page.rules if own(r.x0, r.x1)),
        fills=tuple(f for f in page.fills if own(f.box.x0, f.box.x1)),
    )
