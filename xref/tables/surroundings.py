"""What stands around a table and may name its connector: lines above, caption below, key/value heads."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import islice
from statistics import median

from xref.data.words import REMEMBERED, fold, words_of
from xref.pages.content import PageContent, Word
from xref.records import Box
from xref.tables.lines import Line, box_of, join_words, line_to_chunks, words_to_lines
from xref.tables.spaced import respaced
from xref.tables.table import Around, Band, Table

#: How many lines above, below and beside are noted.
MOST_ABOVE = 8
MOST_BELOW = 2
MOST_BESIDE = 4
#: Lines further above than this (points) do not belong to the table; head blocks are that high.
FURTHEST_ABOVE = 170.0
FURTHEST_BELOW = 40.0
#: The heading of the section stands above so much text, too, when its type is so much larger than the text's.
HEADING = 1.2
#: Height of the strip at the head of the page that holds page headers, share of the page.
HEAD_STRIP = 0.09
#: Roles whose words may stand as a key in a connector's head.
HEAD_ROLES = (
    "connector", "component", "harness", "location", "gender", "ways", "housing", "view", "function",
    "color", "half", "inline", "signal",
)  # fmt: skip
#: A key and its value, printed `Key: value` or `Key = value`.
KEY_VALUE = re.compile(r"\s*([^:=：]{2,40}?)(?:\s*[:：]\s*|\s+=\s+|(?<=\S)=(?=\S))(.+)")
#: A line of the page's head belongs to the block under it when the blank is at most so many of its heights.
HEAD_PITCH = 3.0
#: Lines of one block are so many of their heights apart at most.
BLOCK_PITCH = 1.2
#: A number in a text, or a word in small letters before a name in capitals at its end, is no key.
NAMED_KEY = re.compile(r"\d|[a-zà-ÿ].*\s[A-Z]{1,4}(?:-[A-Z]{1,2})?$")
#: Lines of a title are so many font sizes apart at most.
TITLE_PITCH = 1.5
#: Texts further apart than this (font sizes) are no key and value: they stand at the two edges of a page.
APART = 30.0
#: A value printed close to its key is at most this many words.
LONGEST_VALUE = 5
#: Words this short, in small letters, end no value (`der`, `am`): the text is a sentence.
LITTLE = 3
#: Texts apart from tables that may name what a page shows are no longer than this, and no more than that.
LONGEST_APART = 40
MOST_APART = 40
#: Two pairs at least make a head; one alone counts when its key is a word for connector.
FEWEST_PAIRS = 2


def lines_around(
    table: Table, boxes: Sequence[Box], lines: Sequence[Line], page: PageContent
) -> tuple[Around, ...]:
    """Return the lines near a table, nearest first; text beyond another table belongs to that one."""
    ceiling = max(
        (b.bottom for b in boxes if b.bottom <= table.box.top + 2 and _beside(b, table.box)), default=0.0
    )
    floor = min(
        (b.top for b in boxes if b.top >= table.box.bottom - 2 and _beside(b, table.box)),
        default=page.height,
    )
    above: list[Around] = []
    below: list[Around] = []
    heads: list[Around] = []
    beside: list[Around] = []
    for line in lines:
        part = _part_over(line, table.box, boxes)
        if part is None or _in_another(part.box, table.box, boxes):
            continue
        part = respaced(part)
        over, under = table.box.top - part.box.bottom, part.box.top - table.box.bottom
        if part.box.bottom < HEAD_STRIP * page.height and over >= -2:
            heads.append(Around(line=part, where="page", gap=over))
        elif over >= -2 and part.box.top >= ceiling - 2:
            above.append(Around(line=part, where="above", gap=over))
        elif -2 <= under <= FURTHEST_BELOW and part.box.bottom <= floor + 2:
            below.append(Around(line=part, where="below", gap=under))
        elif over < -2 and under < -2:
            beside += _left_of(part, table.box) or _right_of(part, table.box)
    above.sort(key=lambda a: a.gap)
    below.sort(key=lambda a: a.gap)
    near = [a for n, a in enumerate(above) if n == 0 or a.gap <= FURTHEST_ABOVE][:MOST_ABOVE]
    return (
        *near,
        *_heading_beyond(above, near),
        *below[:MOST_BELOW],
        *heads,
        *_wrapped(beside)[:MOST_BESIDE],
    )


def _heading_beyond(above: Sequence[Around], near: Sequence[Around]) -> list[Around]:
    """Return the nearest line over those near a table that is set as a heading over their text."""
    if not near:
        return []
    size = median(a.line.size for a in near)
    larger = (a for a in above[len(near) :] if a.line.size > HEADING * size)
    return list(islice(larger, 0 if any(a.line.size > HEADING * size for a in near) else 1))


def texts_apart(page: PageContent, tables: Sequence[Table]) -> tuple[tuple[str, Box], ...]:
    """Return the short texts with a digit that stand in no table, as in a drawing's title block."""
    boxes = [t.box for t in tables if t.has_header]
    found: list[tuple[str, Box]] = []
    for line in words_to_lines(page.words) if tables else ():
        for chunk in line_to_chunks(line):
            text, box = join_words(chunk), box_of(chunk)
            middle = (box.top + box.bottom) / 2
            within = any(b.top < middle < b.bottom and b.x0 < box.x1 and box.x0 < b.x1 for b in boxes)
            if len(text) <= LONGEST_APART and any(c.isdigit() for c in text) and not within:
                found.append((text, box))
    return tuple(found[:MOST_APART])


def _left_of(line: Line, box: Box) -> list[Around]:
    """Return what stands left of a table in a line that runs into it."""
    words = [w for chunk in line_to_chunks(line) if box_of(chunk).x1 <= box.x0 + 1 for w in chunk]
    if not words:
        return []
    own = Line(words=tuple(words), box=box_of(words), size=median(w.size for w in words))
    return [Around(line=own, where="beside", gap=max(0.0, box.x0 - own.box.x1))]


def _right_of(line: Line, box: Box) -> list[Around]:
    """Return what stands right of a table in a line that runs out of it."""
    words = [w for chunk in line_to_chunks(line) if box_of(chunk).x0 >= box.x1 - 1 for w in chunk]
    if not words:
        return []
    own = Line(words=tuple(words), box=box_of(words), size=median(w.size for w in words))
    return [Around(line=own, where="beside", gap=max(0.0, own.box.x0 - box.x1))]


def _wrapped(beside: Sequence[Around]) -> list[Around]:
    """Put the lines of a title together that is set bold beside a table, in several lines."""
    out: list[Around] = []
    for near in beside:
        last = out[-1].line if out else None
        line = near.line
        if last is not None and last.bold and line.bold and _goes_on_below(last, line):
            words = (*last.words, *line.words)
            whole = Line(words=words, box=box_of(words), size=last.size)
            out[-1] = replace(out[-1], line=whole, gap=min(out[-1].gap, near.gap))
        else:
            out.append(near)
    return out


def _goes_on_below(line: Line, below: Line) -> bool:
    pitch = below.box.bottom - line.box.bottom
    alike = abs(line.size - below.size) < 0.3 and abs(line.box.x0 - below.box.x0) < 0.3 * line.size
    return alike and 0 < pitch <= TITLE_PITCH * line.size


def _in_another(line: Box, own: Box, boxes: Sequence[Box]) -> bool:
    """True for a line of another table: what stands in its cells names nothing but itself."""
    middle = (line.top + line.bottom) / 2
    return any(b.top < middle < b.bottom and _beside(b, line) for b in boxes if b != own)


def _beside(a: Box, b: Box) -> bool:
    return min(a.x1, b.x1) - max(a.x0, b.x0) > 0


def _part_over(line: Line, box: Box, boxes: Sequence[Box]) -> Line | None:
    """Return the chunks of a line over this table, where several tables stand side by side."""
    rivals = [b for b in boxes if b != box and not _beside(b, box) and abs(b.top - box.top) < 60]
    if not rivals:
        return line
    words: list[Word] = []
    for chunk in line_to_chunks(line, gap=1.5):
        own = box_of(chunk)
        middle = (own.x0 + own.x1) / 2
        nearest = min([box, *rivals], key=lambda b: max(b.x0 - middle, middle - b.x1, 0.0))
        if nearest == box:
            words.extend(chunk)
    return Line(words=tuple(words), box=box_of(words), size=line.size) if words else None


@lru_cache(maxsize=REMEMBERED)
def is_key(text: str) -> str:
    """Return the head role a key text stands for ("Housing colour" is housing), or ""."""
    folded = fold(text)
    for role in HEAD_ROLES:
        if folded in words_of(role):
            return role  # `Half A` too
    if NAMED_KEY.search(text.strip()):
        return ""  # a designator stands in it: a heading, not a key
    tokens = folded.split()
    for role in ("ways", "housing", "harness", "location", "gender", "view", "component", "connector"):
        words = words_of(role)
        if len(tokens) <= 4 and any(t in words for t in tokens if len(t) > 3):
            return role
    return ""


def pairs_of_grid(bands: Sequence[Band]) -> tuple[tuple[str, str], ...]:
    """Read a small grid as a connector's head: keys and values side by side, or () if it is none."""
    pairs: list[tuple[str, str]] = []
    texts = 0
    for band in bands:
        cells = _whole([c.text for c in band.cells if c.text and c.first])
        texts += len(cells)
        at = 0
        while at < len(cells):
            glued = glued_pairs(cells[at])
            if glued:
                pairs += glued
                at += 1
            elif at + 1 < len(cells) and is_key(cells[at].rstrip(":：")) and not is_word(cells[at + 1]):
                pairs.append((cells[at].rstrip(":： "), cells[at + 1]))
                at += 2
            else:
                at += 1
    used = 2 * len(pairs)
    return tuple(pairs) if len(pairs) >= FEWEST_PAIRS and used >= 0.5 * texts else ()


def _whole(cells: list[str]) -> list[str]:
    """Put texts together that a slash joins over a column's border (`Connettore /`, `Connector`)."""
    whole: list[str] = []
    for text in cells:
        if whole and (whole[-1].endswith("/") or text.startswith("/")):
            whole[-1] = f"{whole[-1]} {text}"
        else:
            whole.append(text)
    return whole


def is_word(text: str) -> bool:
    """True for a word that is a key itself and no value, as in heads of two languages."""
    folded = fold(text)
    return any(folded in words_of(role) for role in ("connector", "component", "ways", "harness"))


def pairs_of_table(table: Table) -> tuple[tuple[str, str], ...]:
    """Read a small table as a connector's head: keys beside their values, or one row of values under them."""
    pairs = pairs_of_grid(table.bands)
    rows = [table.header] if table.has_header else []
    rows += [tuple(c.text for c in band.cells) for band in table.bands]
    if pairs or len(rows) != 2:
        return pairs
    under = tuple((key, text) for key, text in zip(*rows, strict=True) if text)
    keys = [is_key(key) for key, _ in under]
    whole = len(under) >= FEWEST_PAIRS and all(keys) and len(set(keys)) == len(keys)
    return under if whole and "connector" in keys else ()


def pairs_of_lines(around: Sequence[Around]) -> tuple[tuple[str, str], ...]:
    """Read the lines `Key: value` right above a table as a connector's head, top to bottom.

    The block ends at the first line above it that is none of its kind.
    """
    found: list[list[tuple[str, str]]] = []
    lines = [a for a in around if a.where == "above" or (a.where == "page" and a.gap >= 0)]
    below = 0.0
    for near in sorted(lines, key=lambda a: a.gap):
        pairs = pairs_of_line(near.line)
        if near.where == "page" and near.gap - below > HEAD_PITCH * near.line.box.height:
            break
        if found and not pairs:
            if _other_fact(near, below):
                below = near.gap + near.line.box.height
                continue
            break
        if pairs:
            found.append(pairs)
            below = near.gap + near.line.box.height
    block = [pair for pairs in reversed(found) for pair in pairs]
    keys = [is_key(k) for k, _ in block]
    return tuple(block) if len(block) >= FEWEST_PAIRS or "connector" in keys else ()


def _other_fact(near: Around, below: float) -> bool:
    """True for a line of a head whose key is of no use here: `Part no.: 12 34`, or both parts apart."""
    close = near.gap - below <= BLOCK_PITCH * near.line.box.height
    return close and (bool(KEY_VALUE.fullmatch(near.line.text)) or len(line_to_chunks(near.line)) % 2 == 0)


def pairs_of_line(line: Line) -> list[tuple[str, str]]:
    """Return the keys and values printed in one line, none for any other line."""
    pairs: list[tuple[str, str]] = []
    parts = line_to_chunks(line)
    chunks = [join_words(c) for c in parts]
    at = 0
    while at < len(chunks):
        glued = glued_pairs(chunks[at])
        close = at + 1 < len(chunks) and parts[at + 1][0].box.x0 - parts[at][-1].box.x1 < APART * line.size
        if glued:
            pairs += glued
        elif close and is_key(chunks[at].rstrip(":： ")) and len(chunks) % 2 == 0:
            pairs.append((chunks[at].rstrip(":： "), chunks[at + 1]))
            at += 1
        at += 1
    if not any(KEY_VALUE.fullmatch(c) or is_key(c.rstrip(":： ")) for c in chunks):
        pairs += _scan_pairs(line.text)
    return pairs


def glued_pairs(text: str) -> list[tuple[str, str]]:
    """Read `Key: value`, also several in one text (`Component: Pump Connector: X5`); [] for any other."""
    first = KEY_VALUE.fullmatch(text)
    if not first or not is_key(first.group(1)):
        return []
    pairs: list[tuple[str, str]] = []
    key, rest = first.group(1), first.group(2)
    while (colon := re.search(r"\s*[:=：]\s*", rest)) is not None:
        before = rest[: colon.start()].split()
        length = next((n for n in (4, 3, 2, 1) if n < len(before) and _exact_key(before[-n:], n)), 0)
        if not length:
            break
        pairs.append((key, " ".join(before[:-length])))
        key, rest = " ".join(before[-length:]), rest[colon.end() :]
    return [*pairs, (key, rest)] if rest else pairs


def _scan_pairs(text: str) -> list[tuple[str, str]]:
    """Read keys and values that stand close in one line (`Housing black Ways 12`); [] for any other line."""
    if re.search(r"[,;()–—]", text):
        return []
    tokens = text.split()
    places: list[tuple[int, int]] = []
    at = 0
    while at < len(tokens):
        length = next((n for n in (4, 3, 2, 1) if _exact_key(tokens[at : at + n], n)), 0)
        if length:
            places.append((at, at + length))
        at += length or 1
    if len(places) < FEWEST_PAIRS or places[0][0] != 0:
        return []
    ends = [start for start, _ in places[1:]] + [len(tokens)]
    pairs = [
        (" ".join(tokens[a:b]), " ".join(tokens[b:end])) for (a, b), end in zip(places, ends, strict=True)
    ]
    roles = {is_key(key) for key, _ in pairs}
    short = all(len(value.split()) <= LONGEST_VALUE for _, value in pairs)
    whole = all(v and (is_key(key) in ("color", "housing") or not _little(v)) for key, v in pairs)
    return pairs if short and whole and len(roles) == len(pairs) else []


def _little(value: str) -> bool:
    last = value.split()[-1]
    return last.isalpha() and last.islower() and len(last) <= LITTLE


def _exact_key(tokens: Sequence[str], length: int) -> bool:
    return len(tokens) == length and any(fold(" ".join(tokens)) in words_of(role) for role in HEAD_ROLES)


def grid_above(
    table: Table, grids: Sequence[tuple[Box, tuple[tuple[str, str], ...]]], boxes: Sequence[Box]
) -> tuple[tuple[str, str], ...]:
    """Return the key/value grid that stands above a table with no other table between."""
    best: tuple[float, tuple[tuple[str, str], ...]] | None = None
    for box, pairs in grids:
        beside = min(box.x1, table.box.x1) - max(box.x0, table.box.x0) > 0
        if not beside or box.bottom > table.box.top + 2:
            continue
        between = any(box.bottom <= b.top and b.bottom <= table.box.top + 2 and b != table.box for b in boxes)
        if not between and (best is None or box.bottom > best[0]):
            best = (box.bottom, pairs)
    return best[1] if best else ()
