"""Each row held against the text as the PDF's engine itself parts it: nothing missing, nothing left over.

This reading knows no words, cells or headers of the first one; it takes the strip of the page where the
row stands, and asks whether the texts of the row are there as whole tokens, and whether something is left
that looks like a colour, a circuit or a size.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from statistics import median

from xref.data.potentials import potential
from xref.data.words import REMEMBERED
from xref.pages.printed import Printed, PrintedText
from xref.pins.build import Made
from xref.pins.check_circuits import shape_of
from xref.records import Box
from xref.rows.content import is_ditto, is_unused

#: A code that so many rows of the document carry is one of its codes.
FEWEST_ROWS = 2
#: A shape that so many different circuits have is one that circuits have here.
FEWEST_SHAPED = 3
#: A token belongs to a strip when its middle lies so far inside, points.
INSIDE = 0.5
#: Letters this many times as high as those of the row are a stamp's.
LARGE = 1.7
#: A word in this share of a table's rows is a label (`Pin 1`).
LABELS = 0.5
#: Where texts are missing in this share of a table's rows, they stand elsewhere: over a matrix, for one.
MATRIX = 0.8
#: A word has so many letters.
FEWEST_LETTERS = 2
#: Leftover numbers that count on from row to row are the rows' own numbers, in this share of the rows.
COUNTING = 0.6
#: A strip with more tokens than this is no row.
MOST_TOKENS = 120
#: Ways to put a text together from tokens that are looked at before the text counts as missing.
MOST_TRIES = 400
#: Figures of a size without unit: `0.75`, `1,5`.
DECIMAL = re.compile(r"\d{1,2}[.,]\d{1,2}")
#: What parts values that are printed without blank: `1(red)`.
BRACKETS = re.compile(r"[()\[\];]")
#: What stands between the colours of a code.
PARTING = re.compile(r"[/.-]")

Found = Iterator[tuple[int, str]]

_ALIKE = str.maketrans(
    {
        **dict.fromkeys("-–—−‐‑¹²³⁴⁵⁶⁷⁸⁹⁰*†‡\u00ad\u200b"),
        "ﬁ": "fi",
        "ﬂ": "fl",
        "ﬀ": "ff",
        "’": "'",
        "“": '"',
        "”": '"',
        "，": ",",
        "：": ":",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kinds:
    """What the values of this document look like, to know one that was left over."""

    colors: frozenset[str]
    parts: frozenset[str]  #: what codes are made of: `BU`, `YE` of `BU/YE`
    circuits: frozenset[str]
    shapes: frozenset[str]
    sizes: frozenset[str]

    def typed(self, printed: str) -> bool:
        """True when a token looks like a colour, a circuit or a size of this document."""
        token = plain(printed)
        if token in self.colors or token in self.circuits or token in self.sizes:
            return True
        if self.parts and set(PARTING.split(printed)) <= self.parts:
            return True
        return shape_of(printed) in self.shapes or bool(self.sizes and DECIMAL.fullmatch(token))


def document_kinds(made: Sequence[Made]) -> Kinds:
    """Learn the codes, circuits and sizes of a document from rows of columns that a header names."""
    colors: Counter[str] = Counter()
    circuits: Counter[str] = Counter()
    sizes: Counter[str] = Counter()
    for m in made:
        guessed = m.part.plan.guessed
        colors[plain(m.pin.color_code)] += "color" not in guessed
        signal = "signal-as-circuit" in m.pin.notices or potential(m.pin.circuit) != "no"
        circuits[plain(m.pin.circuit)] += not signal and "circuit" not in guessed
        sizes[plain(m.pin.size)] += "size" not in guessed
    known = {c for c, n in circuits.items() if c and n}
    coded = Counter(m.pin.color_code for m in made if "color" not in m.part.plan.guessed)
    parts = {c for code, n in coded.items() if n >= FEWEST_ROWS for c in PARTING.split(code) if len(c) > 1}
    named = {m.pin.circuit for m in made if plain(m.pin.circuit) in known}
    shapes = Counter(map(shape_of, named))
    return Kinds(
        colors=frozenset(c for c, n in colors.items() if c and n >= FEWEST_ROWS),
        parts=frozenset(parts),
        circuits=frozenset(c for c in known if len(c) > 2),
        shapes=frozenset(s for s, n in shapes.items() if n >= FEWEST_SHAPED and "0" in s and len(s) > 2),
        sizes=frozenset(s for s, n in sizes.items() if len(s) > 2 and n >= FEWEST_ROWS),
    )


@lru_cache(maxsize=REMEMBERED)
def plain(text: str) -> str:
    """Return a text as it is compared: without blanks, hyphens, brackets and raised marks.

    Whether a hyphen belongs to a value or ends a line is a question of the first reading alone.
    """
    return BRACKETS.sub("", "".join(text.translate(_ALIKE).split()))


@lru_cache(maxsize=2)
def _by_height(printed: PrintedText) -> tuple[list[float], list[tuple[int, Printed]]]:
    """Return a page's tokens from top to bottom, each with its place in print, and their heights."""
    tokens = sorted(enumerate(printed.tokens()), key=lambda t: t[1].middle)
    return [t.middle for _, t in tokens], tokens


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """The rows that stand on one strip of the page, and what the strip holds."""

    rows: tuple[int, ...]
    missing: frozenset[int]  #: rows with a text of their own that is not there
    left: tuple[Printed, ...]  #: tokens that look like a value and belong to no row
    lost: tuple[Printed, ...]  #: words that belong to no row
    right: float  #: edge of the table; what stands beyond was not taken into it
    edge: float  #: its left edge


def check_second(made: Sequence[Made]) -> Found:
    """Yield rows that the second reading does not bear out, with the doubt."""
    kinds = document_kinds(made)
    tables: dict[tuple[int, int], dict[tuple[int, ...], list[int]]] = defaultdict(lambda: defaultdict(list))
    for i, m in enumerate(made):
        if m.part.page.printed:
            box = m.row.box
            at = (m.part.block, *(round(x) for x in (box.x0, box.top, box.x1, box.bottom)))
            tables[(m.pin.page, m.pin.table_no)][at].append(i)
    for strips in tables.values():
        everyone = [i for rows in strips.values() for i in rows]
        found = [s for rows in strips.values() if (s := _compare(made, rows, everyone, kinds)) is not None]
        serial = _serial(found)
        labels = _labels(found)
        elsewhere = sum(bool(s.missing) for s in found) >= MATRIX * len(found) and len(found) > 1
        for strip in found:
            for i in strip.rows:
                left = any(id(t) not in serial for t in strip.left)
                missing = i in strip.missing and not elsewhere
                if missing or left or any(id(t) not in labels for t in strip.lost):
                    yield i, "readings-disagree"


def _labels(strips: Sequence[_Strip]) -> set[int]:
    """Return the lost words that stand in most rows of a table: labels, and texts of a column not understood.

    What stands in most rows beside the table is no such column: the table was cut too soon.
    """
    alike: dict[object, list[tuple[int, Printed]]] = defaultdict(list)
    for n, strip in enumerate(strips):
        for token in strip.lost:
            alike[token.text].append((n, token))
            if strip.edge <= token.x0 and token.x1 <= strip.right:
                # Columns are set to the left, to the right or centred.
                for x in (token.x0, token.x1, (token.x0 + token.x1) / 2):
                    alike[round(x / 4)].append((n, token))
    return {
        id(token)
        for found in alike.values()
        if len(found) > 1 and len({n for n, _ in found}) >= LABELS * len(strips)
        for _, token in found
    }


def _serial(strips: Sequence[_Strip]) -> set[int]:
    """Return the leftover numbers of a table that only count its rows."""
    columns: dict[int, list[Printed]] = defaultdict(list)
    for strip in strips:
        for token in strip.left:
            if token.text.isdecimal():
                columns[round(token.x1 / 4)].append(token)
    counting: set[int] = set()
    for tokens in columns.values():
        steps = sum(int(b.text) - int(a.text) == 1 for a, b in pairwise(tokens))
        if len(tokens) > 2 and steps >= COUNTING * (len(tokens) - 1):
            counting |= {id(t) for t in tokens}
    return counting


def _strip(m: Made, others: Iterable[Box]) -> list[Printed]:
    """Return the tokens on the row's strip of the page by lines, as far as no other table stands there."""
    box = m.row.box
    left, right = _reach(m)
    if any(_beside(box, other) for other in others):
        left, right = max(left, box.x0), min(right, box.x1)
    heights, tokens = _by_height(m.part.page.printed)
    level = tokens[bisect_left(heights, box.top + INSIDE) : bisect_right(heights, box.bottom - INSIDE)]
    found = [t for _, t in sorted(level) if left <= (t.x0 + t.x1) / 2 <= right]
    usual = median(t.bottom - t.top for t in found) if found else 0.0
    lines = sorted(
        (t for t in found if t.bottom - t.top <= LARGE * usual), key=lambda t: (round(t.middle / 3), t.x0)
    )
    return [t._replace(text=piece) for t in lines for piece in BRACKETS.split(t.text) if piece]


def _reach(m: Made) -> tuple[float, float]:
    """Return how far to both sides text can belong to the row: to the next block or table."""
    table, plan = m.part.table, m.part.plan
    left, right = 0.0, 1e6
    if plan.last > plan.first:
        if plan.first > 0:
            left = table.edges[plan.first]
        if plan.last + 1 < len(table.edges) - 1:
            right = table.edges[plan.last + 1]
    for other in m.part.page.tables:
        if other.number == table.number or not _level(other.box, m.row.box):
            continue
        if other.box.x1 <= table.box.x0 + 2:
            left = max(left, other.box.x1)
        elif other.box.x0 >= table.box.x1 - 2:
            right = min(right, other.box.x0)
    return left, right


def _level(a: Box, b: Box) -> bool:
    return min(a.bottom, b.bottom) > max(a.top, b.top)


def _compare(made: Sequence[Made], rows: Sequence[int], table: Sequence[int], kinds: Kinds) -> _Strip | None:
    """Hold the rows of one strip against its tokens; None where there is nothing to hold against."""
    tokens = _strip(made[rows[0]], [made[i].row.box for i in table])
    if not tokens or len(tokens) > MOST_TOKENS:
        return None
    texts = [plain(t.text).rstrip(",:;") for t in tokens]
    seen: set[int] = set()
    missing: set[int] = set()
    listed = len({made[i].pin.cavity for i in rows}) > 1
    above = any(is_ditto(t.text) for t in tokens)
    for i in rows:
        own = set(filter(None, map(plain, _own_texts(made[i], listed=listed))))
        for text in sorted(own, key=len, reverse=True):
            taken = put_together(text, texts, seen)
            seen |= taken or set()
            if above or taken or put_together(text, texts, set()) or _elsewhere(made, i, text, table):
                continue
            # What a row of a matrix shares with those beside it stands at the beginning of the line.
            if not put_together(text, [plain(t.text) for t in _strip(made[i], ())], set()):
                missing.add(i)
    here = made[rows[0]].row.box
    for i in (j for j in table if _overlap(made[j].row.box, here)):
        for text in sorted(filter(None, map(plain, _other_texts(made[i]))), key=len, reverse=True):
            seen |= put_together(text, texts, seen) or _scattered(text, texts)
    over = [k for k in range(len(tokens)) if k not in seen]
    left = tuple(tokens[k] for k in over if kinds.typed(tokens[k].text))
    lost = tuple(tokens[k] for k in over if _says_something(tokens[k].text))
    box = made[rows[0]].part.table.box
    return _Strip(
        rows=tuple(rows), missing=frozenset(missing), left=left, lost=lost, edge=box.x0, right=box.x1
    )


def _says_something(text: str) -> bool:
    """True for a word, as against marks that say `as above` or `nothing`."""
    return sum(map(str.isalpha, text)) >= FEWEST_LETTERS and not (is_ditto(text) or is_unused(text))


def _own_texts(m: Made, *, listed: bool) -> Iterator[str]:
    """Yield the texts of a row that are one wire's own; not the cavity where a cell lists several."""
    pin = m.pin
    if pin.cavity and pin.status == "used" and not listed:
        yield pin.cavity
    yield from (pin.color_code, pin.circuit, pin.size)


def _other_texts(m: Made) -> Iterable[str]:
    pin = m.pin
    own = (pin.cavity, pin.color_code, pin.circuit, pin.size)
    said = (pin.function, pin.goes_to, pin.option, pin.component, pin.harness)
    return (*own, *said, *m.row.values.values())


def _elsewhere(made: Sequence[Made], i: int, text: str, table: Iterable[int]) -> bool:
    """True for a value that the row shares with another: from a merged cell, or by a mark for `as above`."""
    m = made[i]
    if any(plain(m.row.values.get(role, "")) == text for role in m.row.filled):
        return True
    if any(d in m.row.doubts for d in ("cells-merged", "ditto-assumed")):
        return True
    shared = [j for j in table if j != i and made[j].pin.cavity == m.pin.cavity]
    return text == plain(m.pin.cavity) and bool(shared)


def _beside(a: Box, b: Box) -> bool:
    """True where two rows stand side by side: the table lies on its side, or has several blocks."""
    high = min(a.bottom, b.bottom) - max(a.top, b.top)
    return (b.x0 >= a.x1 - INSIDE or b.x1 <= a.x0 + INSIDE) and high > 0.5 * min(a.height, b.height)


def _overlap(a: Box, b: Box) -> bool:
    """True where two rows share a good part of their place on the page."""
    wide = min(a.x1, b.x1) - max(a.x0, b.x0)
    high = min(a.bottom, b.bottom) - max(a.top, b.top)
    return wide > 0 and high > 0.3 * min(a.height, b.height)


def put_together(text: str, tokens: Sequence[str], taken: set[int]) -> set[int] | None:
    """Return the tokens, in order, that make up a text; None where none do.

    A token may hold more than the text where a mark parts the two: `1(red)` holds `1`.
    """
    return _rest(text, 0, text, tokens, taken, [0])


def _rest(
    wanted: str, start: int, text: str, tokens: Sequence[str], taken: set[int], tries: list[int]
) -> set[int] | None:
    """Make up what is still wanted of a text from the tokens from `start` on."""
    if not wanted:
        return set()
    for k in range(start, len(tokens)):
        tries[0] += 1
        if tries[0] > MOST_TRIES:
            return None
        if k in taken:
            continue
        token = tokens[k]
        if token and wanted.startswith(token):
            more = _rest(wanted[len(token) :], k + 1, text, tokens, taken, tries)
            if more is not None:
                return {k} | more
        elif wanted == text and _inside(text, token):
            return {k}
    return None


def _inside(text: str, token: str) -> bool:
    """True when a text stands in a token between marks or ends."""
    place = token.find(text)
    while place >= 0:
        before = token[place - 1] if place else ""
        behind = token[place + len(text) : place + len(text) + 1]
        if not before.isalnum() and not behind.isalnum():
            return True
        place = token.find(text, place + 1)
    return False


def _scattered(text: str, tokens: Sequence[str]) -> set[int]:
    """Return the tokens that stand in a text somewhere: its lines may run in another order."""
    return {k for k, token in enumerate(tokens) if token and token in text}
