"""The lines around a table as names of its connector, each with how much speaks for it."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from xref.pins.heading import Head, parse_heading, parse_pairs, without_number
from xref.pins.lines import (
    LONGEST_PHRASE,
    SHORT_TITLE,
    is_column,
    is_row,
    is_title,
    leading_lines,
    leads_over,
    prose_lines,
    reads_as_row,
    stands_apart,
    stands_out,
    within_words,
)
from xref.pins.wordings import has_word
from xref.tables.lines import join_words, line_to_chunks
from xref.tables.surroundings import is_key, pairs_of_line
from xref.tables.table import Around, Table

#: A heading from this score on names the table without doubt; from the lower one with doubt.
CERTAIN = 0.55
POSSIBLE = 0.3
#: Running text: longer than this many words, or ending like a sentence.
LONGEST_HEADING = 14
SHORT_SENTENCE = 4
#: A number by itself, over a line of few words that says the ways, close under it (in heights of the number).
PLATE = re.compile(r"\d{2,5}[A-Z]?")
PLATE_HIGH = 2.5
PLATE_GAP = 1.5
PLATE_WORDS = 4
#: A title without designator stands this close over its table, points.
CLOSE = 60.0
#: A line of the page's head stands right over a table up to this gap, points.
RIGHT_OVER = 36.0
#: Distance costs this for each point beyond the first ones, and never more than the whole: a picture may
#: stand between heading and table.
PER_POINT = 0.0016
FAR = 0.3
#: What stands before an item of a list.
BULLETS = ("•", "●", "▪", "■", "‣", "◦", "○", "–", "—", "- ", "*")
#: Dots that lead to a page number, as in a table of contents.
LEADERS = re.compile(r"(?:\.\s?){4,}")

Where = Literal["title", "above", "below", "page", "beside", "head"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a line is set and where it stands: lines of one style have one use in a document."""

    where: Where  #: "above" for the page's head too: headings stand there as elsewhere
    caption: str
    bold: bool
    size: float  #: rounded to half points


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """A line with what it says of a connector and how much speaks for its naming the table (0–1)."""

    head: Head
    score: float
    where: Where
    near: Around | None = None  #: None where a block of keys and values names the connector

    @property
    def style(self) -> Style:
        """How the line is set."""
        line = self.near.line if self.near else None
        return Style(
            where="above" if self.where == "page" else self.where,
            caption=self.head.caption,
            bold=bool(line and line.bold),
            size=round(2 * line.size) / 2 if line else 0.0,
        )


def table_to_namings(
    table: Table, shapes: frozenset[str] = frozenset(), cavities: Container[str] = ()
) -> list[Naming]:
    """Return what may name a table, as printed around it, in the order of `around`.

    `shapes` are the forms designators have in this document, `cavities` the cavities of this table and
    the one before: neither a row nor a face's cavity is a heading.
    """
    prose = prose_lines(table.around)
    leading = leading_lines(table.around)
    found = []
    for near in (*table.around, *leading):
        naming = _naming(near, table, shapes, cavities, prose=id(near) in prose)
        if naming is not None:
            found.append(naming)
    return found


def name_table(table: Table) -> Naming | None:
    """Return the best naming a table has by itself; None when nothing near it names a connector."""
    pairs = parse_pairs(table.head) if table.head else None
    namings = [n for n in table_to_namings(table) if n.where != "below" or n.head.caption]
    best = max(namings, key=lambda n: n.score, default=None)
    if pairs is not None:
        return head_naming(pairs, best)
    if best is None or best.score < POSSIBLE:
        return None
    return replace(best, head=with_facts(best, table))


def head_naming(pairs: Head, best: Naming | None) -> Naming:
    """Return the naming by a block of keys and values, with what the best line says of the same connector."""
    if best is not None and best.head.connector == pairs.connector:
        pairs = fill(pairs, best.head)
    return Naming(head=pairs, score=1.0, where="head")


def _naming(
    near: Around, table: Table, shapes: frozenset[str], cavities: Container[str], *, prose: bool
) -> Naming | None:
    text = near.line.text.strip()
    head = _number_over_ways(near, table) or parse_heading(text, shapes)
    unreadable = _touches_unknown(text, head.connector) or not re.search(r"\w", head.connector)
    if unreadable or LEADERS.search(text) or _is_row(near, head, table, cavities):
        return None
    keys = {is_key(key) for key, _ in pairs_of_line(near.line)}
    if keys and not keys & {"connector", "inline"}:
        return None  # facts of a connector that is named elsewhere
    where = _where(near, table)
    return Naming(head=head, score=_score(near, where, head, table, prose=prose), where=where, near=near)


def _number_over_ways(near: Around, table: Table) -> Head | None:
    """Return the head of a plate: a number, and under it the ways (and colour) of the housing it is on."""
    text = near.line.text.strip()
    if not PLATE.fullmatch(text):
        return None
    for other in table.around:
        box, own = other.line.box, near.line.box
        close = own.x0 < box.x1 and box.x0 < own.x1 + PLATE_GAP * own.height
        under = 0 < box.top - own.top <= PLATE_HIGH * own.height and close
        facts = parse_heading(other.line.text)
        if under and other is not near and facts.ways and len(other.line.text.split()) <= PLATE_WORDS:
            return replace(facts, text=text, connector=text, name="", designator=True, worded=True)
    return None


def _is_row(near: Around, head: Head, table: Table, cavities: Container[str]) -> bool:
    """A title within the table is set over its columns and yet no row."""
    titled = near.where == "title" and head.designator and not reads_as_row(near.line.text)
    return not titled and is_row(near.line, head, table, cavities)


def _touches_unknown(text: str, name: str) -> bool:
    """True when a character nobody knows stands in a name or right beside it: it may be part of it."""
    at = text.find(name)
    return "\ufffd" in (text[max(at - 1, 0) : at + len(name) + 1] if at >= 0 else text)


def _where(near: Around, table: Table) -> Where:
    """A line of the page's head that stands right over the table is a heading like any other."""
    if near.where != "page" or not -2 <= near.gap <= (CLOSE if table.head else RIGHT_OVER):
        return near.where
    nearer = any(
        a.where == "above"
        and a.gap < near.gap
        and not is_column(a.line.text, any_role=True)
        and not (table.head and pairs_of_line(a.line))
        for a in table.around
    )
    return near.where if nearer else "above"


def _score(near: Around, where: Where, head: Head, table: Table, *, prose: bool) -> float:
    text = near.line.text.strip()
    words = text.split()
    score = {"title": 0.35, "above": 0.15, "below": 0.0, "page": -0.1, "beside": 0.05, "head": 0.0}[where]
    if head.designator:
        starts = without_number(text).lstrip("(-[【").startswith(head.connector.lstrip("-"))
        score += 0.45 + (0.15 if starts or head.worded else 0.0)
    score += 0.1 * (where == "page" and stands_out(near.line, table))
    score += 0.15 * head.worded + 0.2 * stands_out(near.line, table) + 0.1 * bool(head.ways or head.kinds)
    if head.caption:
        score += 0.35 if where == "below" else 0.15
    if where == "page" and head.continued:
        score += 0.2
    score -= min(FAR, PER_POINT * max(0.0, near.gap - 6.0) * (0.4 if where == "page" else 1.0))
    sentence = text.endswith((".", ";")) and len(words) >= SHORT_SENTENCE and not head.caption
    if where == "above" and near.gap <= CLOSE and leads_over(text):
        return min(1.0, max(score, CERTAIN))
    if len(words) > LONGEST_HEADING or sentence or prose:
        score -= 0.5
    if stands_apart(near.line) or (not head.worded and within_words(_piece(near, head), head.connector)):
        score -= 0.3
    title_like = is_title(text)
    if not head.designator and title_like and where == "above" and near.gap <= CLOSE:
        score += 0.2
    elif not head.designator and not head.worded and not head.caption:
        score -= 0.1
    if head.worded and len(words) <= SHORT_TITLE and where == "above":
        score += 0.1
    if not head.designator and len(words) > LONGEST_PHRASE:
        score -= 0.2
    return min(score, 1.0)


def _piece(near: Around, head: Head) -> str:
    """Return the cell of a title row in which the name stands, or a whole line."""
    chunks = [join_words(c) for c in line_to_chunks(near.line)] if near.where == "title" else []
    return next((c for c in chunks if head.connector in c), near.line.text.strip())


def with_facts(naming: Naming, table: Table) -> Head:
    """Return the head with what other lines and a block of keys and values say of the same connector."""
    head = _with_title(naming, table)
    if not table.head:
        return head
    facts = parse_pairs([("Connector", head.connector), *table.head])
    return fill(facts, head) if facts is not None else head


def fill(head: Head, other: Head) -> Head:
    """Return the head with its blanks filled from another."""
    return replace(
        head,
        half=head.half or other.half,
        name=head.name or other.name,
        color=head.color or other.color,
        gender=head.gender or other.gender,
        ways=head.ways if head.ways is not None else other.ways,
        view=head.view or other.view,
        harness=head.harness or other.harness,
        kinds=head.kinds or other.kinds,
        continued=head.continued or other.continued,
    )


def _with_title(naming: Naming, table: Table) -> Head:
    """A line right above or below the naming line may say more of the same connector."""
    head = naming.head
    for near in table.around:
        other = parse_heading(near.line.text)
        beside = near.where in ("above", "title") or bool(other.caption)
        if near.line.text != head.text and other.connector == head.connector and beside:
            head = fill(head, other)
    own = next((a.gap for a in table.around if a.line.text == head.text), 0.0)
    for near in table.around:
        if near.where == "above" and near.gap < own:
            head = _facts_of_line(head, near.line.text)
    if head.name or not head.designator:
        return head
    for near in table.around:
        other = parse_heading(near.line.text)
        short = len(near.line.words) <= 8 and not near.line.text.rstrip().endswith((".", ":", ";", ","))
        bigger = near.line.bold or near.line.size > 1.15 * table.size
        begins = not near.line.text.startswith(BULLETS) and not near.line.text[:1].islower()
        if near.where == "above" and begins and short and bigger and not other.designator and other.name:
            return replace(head, name=other.name)
    return head


def _facts_of_line(head: Head, text: str) -> Head:
    """A line between heading and table that states ways, colour or gender is about this connector."""
    other = parse_heading(text)
    if other.ways is None and not other.color and not other.gender:
        return head
    facts = replace(other, name="", half="", kinds=(), continued=False)
    return fill(head, facts)


def says_nothing(head: Head) -> bool:
    """True for a title that has no designator and names only a kind of thing (`Connectors`)."""
    bare = re.sub(r"[\W\d_]+", " ", head.connector).strip()
    return not head.designator and (not bare or bare.casefold() == has_word(bare, "connector"))


def near_cavities(cavities: Sequence[str]) -> frozenset[str]:
    """Return the cavities with letters, and those that would come next: a swallowed row begins so."""
    split = [m for c in cavities if (m := re.fullmatch(r"([A-Za-z]+)([0-9]+)", c))]
    letters = {m[1] for m in split}
    digits = {int(m[2]) for m in split}
    letters |= {chr(ord(a) + step) for a in letters if len(a) == 1 for step in (-1, 1, 2)}
    numbers = range(0, max(digits, default=0) + 2)
    return frozenset(f"{a}{n}" for a in letters for n in numbers)


def goes_on(before: Sequence[str], after: Sequence[str]) -> bool:
    """True when the cavities of one table run on in the next (… 11, 12 | 13, 14 …)."""
    if not before or not after:
        return False
    last, first = _split(before[-1]), _split(after[0])
    if last is None or first is None:
        return _next_letter(before, after)
    same_letters = last[0] == first[0]
    step = first[1] - last[1]
    if same_letters and (step in (1, 2) or step == 0):
        return True
    next_letter = len(last[0]) == len(first[0]) == 1 and 1 <= ord(first[0]) - ord(last[0]) <= 2
    return next_letter and first[1] == 1


def ascends(before: Sequence[str], after: Sequence[str]) -> bool:
    """True when cavities are of one form and none of the later ones comes before an earlier one."""
    a, b = ([s for c in cavities if (s := _split(c))] for cavities in (before, after))
    if not a or not b or len(a) < len(before) or len(b) < len(after):
        return False
    return bool(a[0][0]) == bool(b[0][0]) and max(a) < min(b)


def _next_letter(before: Sequence[str], after: Sequence[str]) -> bool:
    """… K, L | M, N …: letters alone, of which I, O and Q are often left out."""
    letters = [c for c in (before[-1].strip(), after[0].strip()) if len(c) == 1 and c.isalpha()]
    return len(letters) == 2 and len(before) > 1 and 1 <= ord(letters[1]) - ord(letters[0]) <= 2


def _split(cavity: str) -> tuple[str, int] | None:
    match = re.match(r"([A-Z]*)-?([0-9]+)[a-z]?(?=$|\W)", cavity.strip(), re.IGNORECASE)
    return (match.group(1).upper(), int(match.group(2))) if match else None
