"""Which connector a table belongs to: the best of what stands around it, or, on evidence, the one before."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from xref.pins.heading import Head, parse_heading, parse_pairs
from xref.tables.table import Around, Table

#: A heading from this score on names the table without doubt; from the lower one with doubt.
CERTAIN = 0.55
POSSIBLE = 0.3
#: Running text: longer than this many words, or ending like a sentence.
LONGEST_HEADING = 14


#: A title without designator is at most this many words and stands this close over its table, points.
SHORT_TITLE = 6
CLOSE = 60.0
#: Distance alone never costs more than this: a picture may stand between heading and table.
FAR = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """The head chosen for a table and how sure it is (0–1)."""

    head: Head
    score: float
    where: str


def name_table(table: Table) -> Naming | None:
    """Return the best naming from what stands around a table; None when nothing names a connector."""
    choices = [c for c in (_score(a, table) for a in table.around) if c is not None]
    best = max(choices, key=lambda c: c.score, default=None)
    pairs = parse_pairs(table.head) if table.head else None
    if pairs is not None:
        if best is not None and best.head.connector == pairs.connector:
            pairs = _fill(pairs, best.head)
        return Naming(head=pairs, score=1.0, where="head")
    if best is None or best.score < POSSIBLE:
        return None
    return replace(best, head=_with_facts(_with_title(best, table), table))


def _with_facts(head: Head, table: Table) -> Head:
    """Add what a key/value head states of a connector it does not name (ways, colour, location)."""
    if not table.head:
        return head
    facts = parse_pairs([("Connector", head.connector), *table.head])
    return _fill(facts, head) if facts is not None else head


def _fill(head: Head, other: Head) -> Head:
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
        beside = near.where in ("above", "title") or other.caption
        if near.line.text != head.text and other.connector == head.connector and beside:
            head = _fill(head, other)
    own = next((a.gap for a in table.around if a.line.text == head.text), 0.0)
    for near in table.around:
        if near.where == "above" and near.gap < own:
            head = _facts_of_line(head, near.line.text)
    if head.name or not head.designator:
        return head
    size = naming.score
    for near in table.around:
        other = parse_heading(near.line.text)
        short = len(near.line.words) <= 8 and not near.line.text.rstrip().endswith((".", ":", ";"))
        bigger = near.line.bold or near.line.size > 1.15 * table.size
        if near.where == "above" and short and bigger and not other.designator and size and other.name:
            return replace(head, name=other.name)
    return head


def _facts_of_line(head: Head, text: str) -> Head:
    """A line between heading and table that states ways, colour or gender is about this connector."""
    other = parse_heading(text)
    if other.ways is None and not other.color and not other.gender:
        return head
    facts = replace(other, name="", half="", kinds=(), continued=False)
    return _fill(head, facts)


def _score(near: Around, table: Table) -> Naming | None:
    """Score one line as the heading of a table."""
    text = near.line.text.strip()
    head = parse_heading(text)
    if not head.connector or not re.search(r"\w", head.connector):
        return None
    words = text.split()
    score = 0.0
    if head.designator:
        starts = text.lstrip("(-").startswith(head.connector.lstrip("-"))
        score += 0.45 + (0.15 if starts or head.worded else 0.0)
    if head.worded:
        score += 0.15
    if near.line.bold or near.line.size > 1.12 * table.size:
        score += 0.2
    if head.ways or head.kinds:
        score += 0.1
    score += {"title": 0.35, "above": 0.15, "below": 0.0, "page": -0.1}[near.where]
    if near.where == "below":
        score += 0.35 if head.caption else -0.6  # without "Table 3" it is the next table's heading
    if near.where == "above" and head.caption:
        score += 0.15
    if near.where == "page" and head.continued:
        score += 0.2
    score -= min(FAR, 0.0016 * max(0.0, near.gap - 6.0) * (0.4 if near.where == "page" else 1.0))
    if len(words) > LONGEST_HEADING or (text.endswith((".", ";")) and len(words) > 7 and not head.caption):
        score -= 0.5
    title_like = len(words) <= SHORT_TITLE and not text.endswith((".", ":", ";", ","))
    if not head.designator and title_like and near.where == "above" and near.gap <= CLOSE:
        score += 0.2
    elif not head.designator and not head.worded and not head.caption:
        score -= 0.1
    if head.worded and len(words) <= SHORT_TITLE and near.where == "above":
        score += 0.1
    if not head.designator and len(words) > 7:
        score -= 0.2
    return Naming(head=head, score=min(score, 1.0), where=near.where)


def goes_on(before: Sequence[str], after: Sequence[str]) -> bool:
    """True when the cavities of one table run on in the next (… 11, 12 | 13, 14 …)."""
    if not before or not after:
        return False
    last, first = _split(before[-1]), _split(after[0])
    if last is None or first is None:
        return False
    same_letters = last[0] == first[0]
    step = first[1] - last[1]
    if same_letters and (step in (1, 2) or step == 0):
        return True
    next_letter = len(last[0]) == len(first[0]) == 1 and 1 <= ord(first[0]) - ord(last[0]) <= 2
    return next_letter and first[1] == 1


def _split(cavity: str) -> tuple[str, int] | None:
    match = re.fullmatch(r"([A-Z]*)-?(\d+)[a-z]?", cavity.strip(), re.IGNORECASE)
    return (match.group(1).upper(), int(match.group(2))) if match else None
