"""Column borders from the header: one between each two header words, where the body leaves most white."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from xref.pages.content import PageContent, Word
from xref.tables.headerline import Segment
from xref.tables.lines import Line
from xref.tables.rivers import lines_to_rivers

#: A word that a border would cut costs this much, in font sizes of white beside it.
CUT = 3.0
#: A border through a header word costs as much as through this many words of the body's lines (share).
HEADER_CUT = 0.25
#: White wider than this many font sizes is no better than this.
WIDE = 3.0
#: How much a border's distance from the gap between its headers costs, for each font size.
AWAY = 0.12
#: Gaps up to this many font sizes may be blanks; how wide a blank is the body itself shows.
WIDEST_BLANK = 0.8
USUAL_BLANK = 0.3
#: Words nearer than this many of the body's blanks are parted by a blank only.
BLANKS = 1.35
#: A border may touch a word's edge by this much, points.
TOUCH = 0.4
#: Drawn verticals count when they cover this share of a body's height.
DRAWN = 0.6


def header_seams(segments: Sequence[Segment], body: Sequence[Line]) -> list[float]:
    """Return the outer and inner borders of as many columns as there are header segments.

    Each inner border lies between the left end of one header and the right end of the next, where it cuts
    the fewest words and has most white around it.
    """
    words = [w for line in body for w in line.words]
    size = median(line.size for line in body)
    inner: list[float] = []
    for before, after in pairwise(segments):
        low = max(before.x0 + 1.0, inner[-1] + 1.0 if inner else before.x0 + 1.0)
        high = max(after.x1 - 1.0, low + 1.0)
        inner.append(_best_seam(words, before, after, (low, high), size, len(body)))
    left = min([segments[0].x0, *[w.box.x0 for w in words]]) - 1.0
    right = max([segments[-1].x1, *[w.box.x1 for w in words]]) + 1.0
    return [left, *inner, right]


def _best_seam(
    words: Sequence[Word],
    before: Segment,
    after: Segment,
    span: tuple[float, float],
    size: float,
    lines: int,
) -> float:
    low, high = span
    gap = (before.x1 + after.x0) / 2
    best, best_cost = min(max(gap, low), high), float("inf")
    for x in _places(words, low, high, gap):
        cost = _cost(x, words, before, after, size, lines) + AWAY * abs(x - gap) / size
        if cost < best_cost:
            best, best_cost = x, cost
    return best


def _places(words: Sequence[Word], low: float, high: float, gap: float) -> list[float]:
    """Return where a border may be: the middles of white, and just beside words."""
    ends = sorted({low, high, *[e for w in words for e in (w.box.x0, w.box.x1) if low < e < high]})
    middles = [(a + b) / 2 for a, b in pairwise(ends)]
    return [gap, *[m for m in middles if low <= m <= high]] if low <= gap <= high else middles or [low]


def _cost(x: float, words: Sequence[Word], before: Segment, after: Segment, size: float, lines: int) -> float:
    """Return what a border at x costs: words cut, header words cut, and white that is missing."""
    cut = sum(1 for w in words if w.box.x0 + TOUCH < x < w.box.x1 - TOUCH)
    header = any(s.x0 + TOUCH < x < s.x1 - TOUCH for s in (before, after))
    left = max([w.box.x1 for w in words if w.box.x1 <= x + TOUCH], default=x - WIDE * size)
    right = min([w.box.x0 for w in words if w.box.x0 >= x - TOUCH], default=x + WIDE * size)
    white = min(right - left, WIDE * size) / size
    return CUT * cut + HEADER_CUT * header * lines - white


def drawn_edges(page: PageContent, body: Sequence[Line], segments: Sequence[Segment]) -> list[float]:
    """Return borders drawn as lines through the body, with its outer ends; [] below two of them."""
    top, bottom = body[0].box.top, body[-1].box.bottom
    left = min([s.x0 for s in segments] + [line.box.x0 for line in body]) - 1.0
    right = max([s.x1 for s in segments] + [line.box.x1 for line in body]) + 1.0
    drawn: list[float] = []
    for rule in sorted(page.rules, key=lambda r: r.x0):
        shared = min(rule.bottom, bottom) - max(rule.top, top)
        x = (rule.x0 + rule.x1) / 2
        if rule.horizontal or shared < DRAWN * (bottom - top) or not left + 3 < x < right - 3:
            continue
        if not drawn or x - drawn[-1] > 3.0:
            drawn.append(x)
    return [left, *drawn, right] if len(drawn) >= 2 else []


def split_shares(body: Sequence[Line], edges: Sequence[float]) -> tuple[float, ...]:
    """Return for each inner border the share of lines it cuts between words that only a blank parts."""
    gaps = [(b.box.x0 - a.box.x1) / line.size for line in body for a, b in pairwise(line.words)]
    blanks = [g for g in gaps if 0 < g < WIDEST_BLANK]
    blank = BLANKS * (median(blanks) if len(blanks) > 2 else USUAL_BLANK)
    shares = []
    for x in edges[1:-1]:
        split = 0
        for line in body:
            for left, right in pairwise(line.words):
                beside = left.box.x1 <= x + TOUCH and right.box.x0 >= x - TOUCH
                split += beside and right.box.x0 - left.box.x1 < blank * line.size
        shares.append(split / len(body))
    return tuple(shares)


def edges_of_sparse(edges: Sequence[float], body: Sequence[Line], segments: Sequence[Segment]) -> list[float]:
    """Add borders that headers ask for: where only a narrow river runs, or a column holds next to nothing."""
    out = list(edges)
    inner = edges[1:-1]
    narrow = lines_to_rivers(body, evidence=0.0)
    words = [w.box for line in body for w in line.words]
    for before, seg in pairwise(segments):
        left, right = (before.x0 + before.x1) / 2, (seg.x0 + seg.x1) / 2
        if any(left <= e <= right for e in inner):
            continue
        between = [r for r in narrow if left < (r.x0 + r.x1) / 2 < right]
        if between:
            widest = max(between, key=lambda r: r.x1 - r.x0)
            out.append((widest.x0 + widest.x1) / 2)
            continue
        x = seg.x0 - 1.5
        if x > before.x1 and any(b.x0 >= x for b in words) and not any(b.x0 < x < b.x1 for b in words):
            out.append(x)
    return _without_empty(sorted(out), body)


def _without_empty(edges: Sequence[float], body: Sequence[Line]) -> list[float]:
    """Take out borders that close a column without a single word."""
    out = [edges[0]]
    for left, right in pairwise(edges):
        filled = any(left <= (w.box.x0 + w.box.x1) / 2 < right for line in body for w in line.words)
        if filled or len(out) < 2:
            out.append(right)
        else:
            out[-1] = right if right == edges[-1] else (left + right) / 2
    return out
