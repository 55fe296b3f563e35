"""What a document does throughout: the forms of its designators, how it sets headings, where captions stand.

One table alone may be understood in several ways; all of them together seldom may.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise
from typing import Literal

from xref.pins.designators import TOKEN, end_tokens, shape_of, spaced_tokens
from xref.pins.halfmarks import said_of_half
from xref.pins.heading import SECTION, Head, parse_heading
from xref.pins.lines import is_title, stands_out
from xref.pins.naming import (
    CERTAIN,
    POSSIBLE,
    Naming,
    Style,
    table_to_namings,
)
from xref.pins.numbered import numbers_before_titles
from xref.pins.pinouts import Pinout
from xref.tables.page import PageReading
from xref.tables.table import Around, Table

#: A form of designators is usual when so many names have it, and this share of all.
FEWEST_ALIKE = 2
SHARE_ALIKE = 0.2
#: A style is the habit of a document when lines of it name so many tables, and this share of all.
FEWEST_NAMED = 2
FEWEST_TITLES = 3
SHARE_NAMED = 0.5
#: Marks in bold type by themselves are names from so many on, even in a part of the document only.
FEWEST_MARKS = 4
#: The form of a bare number.
BARE = shape_of("1")
#: Titles share a form of name when so many of them do.
SHARE_ODD = 0.8
#: Names with designators are the rule where this share of the tables has one.
SHARE_LETTERED = 0.4
#: A caption has nothing on one side when the next text there is this many times as far as on the other.
FURTHER = 2.0
#: A line names a table whose cavities begin anew; gaps this much apart tell nothing, points.
ALIKE_GAPS = 2.0

Direction = Literal["up", "down", ""]
#: What a line is set like, wherever it stands: kind of caption, bold, size.
Use = tuple[str, bool, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """The ways of one document."""

    shapes: frozenset[str] = frozenset()  #: usual forms of designators (`A9.9`)
    established: bool = False  #: names with designators are the rule here
    directions: dict[Use, Direction] = field(default_factory=dict)  #: "up": the table above is meant
    usual: frozenset[Style] = frozenset()  #: styles whose lines name tables, each another one
    lettered: frozenset[Style] = frozenset()  #: those of them whose lines have designators


def use_of(style: Style) -> Use:
    """Return how a line is set. Captions are one use for each kind, however they are set."""
    return (style.caption, False, 0.0) if style.caption else ("", style.bold, style.size)


def learn_habits(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> Habits:
    """Return what the tables and the lines around them have in common."""
    numbers = {(p.table.page, p.table.number) for p in pinouts}
    directions = _directions(readings, numbers)
    found = _found(pinouts)
    shapes, established = _shapes(pinouts, found)
    if not established and (beginning := numbers_before_titles(found)):
        shapes |= beginning
        found = _found(pinouts, shapes)
    usual, lettered = _usual(found, directions)
    odd = _odd_shapes(found, usual - lettered)
    odd -= {BARE} if established else frozenset()  # chapters are numbered, and connectors have other names
    if usual - lettered:
        # Once it is known what titles are set like, their place is looked at, too.
        shapes |= odd
        uses = {use_of(s) for s in usual - lettered if s.where == "above"}
        directions = _directions(readings, numbers, shapes, uses)
        found = _found(pinouts, shapes)
        usual, lettered = _usual(found, directions)
    return Habits(
        shapes=shapes, established=established, directions=directions, usual=usual, lettered=lettered
    )


def _found(pinouts: Sequence[Pinout], shapes: frozenset[str] = frozenset()) -> list[list[Naming]]:
    """Return the namings of each table, a line of the page's head only at the table that is nearest to it."""
    own = [(p.table, table_to_namings(p.table, shapes)) for p in pinouts if not p.listed]
    nearest: dict[tuple[int, float, float], float] = {}
    for table, namings in own:
        for n in namings:
            if n.near is not None and n.near.where == "page":
                place = (table.page, n.near.line.box.x0, n.near.line.box.top)
                nearest[place] = min(n.near.gap, nearest.get(place, n.near.gap))

    def holds(table: Table, near: Around | None) -> bool:
        if near is None or near.where != "page":
            return True
        return near.gap <= nearest[table.page, near.line.box.x0, near.line.box.top]

    return [[n for n in namings if holds(table, n.near)] for table, namings in own]


def _shapes(pinouts: Sequence[Pinout], found: Sequence[Sequence[Naming]]) -> tuple[frozenset[str], bool]:
    """Learn the forms of designators from sure headings, and from what rows name."""
    blocks = [(plan.kind in ("splice", "ground"), rows) for p in pinouts for plan, rows in p.blocks]
    names, listed = (
        {r.connector for is_list, rows in blocks if is_list is kind for r in rows if r.connector}
        for kind in (False, True)
    )
    named = 0
    for namings in found:
        sure = [n for n in namings if n.head.designator and n.score >= CERTAIN and n.where != "page"]
        if sure:
            names.add(max(sure, key=lambda n: n.score).head.connector)
            named += 1
    named += sum(any(r.connector for _, rows in p.blocks for r in rows) for p in pinouts)
    usual: set[str] = set()
    for group in (names, listed):  # however many splices there are, connectors have their own form
        counts = Counter(shape_of(name) for name in group)
        usual |= {s for s, n in counts.items() if n >= FEWEST_ALIKE and n >= SHARE_ALIKE * len(group)}
    return frozenset(usual), named >= FEWEST_NAMED and named >= SHARE_LETTERED * len(pinouts)


def _usual(
    found: Sequence[Sequence[Naming]], directions: dict[Use, Direction]
) -> tuple[frozenset[Style], frozenset[Style]]:
    """Return the styles whose nearest lines name most tables, each another one, and those with designators.

    Titles without designator or word for connector must be more of them: any table has a title.
    """
    names: dict[Style, list[Head]] = defaultdict(list)
    for namings in found:
        seen: set[Style] = set()
        for naming in namings:
            style = naming.style
            plain = naming.head.designator or naming.head.caption or is_titled(naming)
            if style in seen or not plain or naming.head.continued or not fits(naming, directions):
                continue
            seen.add(style)
            names[style].append(naming.head)
    usual, lettered = set(), set()
    for style, heads in names.items():
        known = all(h.designator or h.worded for h in heads) or any(h.designator for h in heads)
        enough = max(FEWEST_NAMED if known else FEWEST_TITLES, SHARE_NAMED * len(found))
        each_another = len({(h.connector, said_of_half(h.text, h.connector).best()) for h in heads}) == len(
            heads
        )
        if each_another and (len(heads) >= enough or (style.bold and _are_marks(heads))):
            usual.add(style)
        if sum(h.designator for h in heads) >= SHARE_LETTERED * len(heads):
            lettered.add(style)
    return frozenset(usual), frozenset(lettered)


def _are_marks(heads: Sequence[Head]) -> bool:
    """True for bold lines that hold nothing but a mark of one form each, and do not count their tables."""
    marks = [h.text.strip() for h in heads]
    if len(marks) < FEWEST_MARKS or not all(TOKEN.fullmatch(m) for m in marks):
        return False
    counted = [int(m) for m in marks if m.isdecimal()]
    counting = len(counted) == len(marks) and all(b - a == 1 for a, b in pairwise(counted))
    shapes = Counter(map(shape_of, marks))
    return not counting and shapes.most_common(1)[0][1] >= SHARE_ODD * len(marks)


def is_titled(naming: Naming) -> bool:
    """True for a title: by its words, or by its place in a table or in a box over it."""
    return naming.where == "title" or is_title(naming.head.text)


def _odd_shapes(found: Sequence[Sequence[Naming]], styles: frozenset[Style]) -> frozenset[str]:
    """Learn names of no usual form (`12`, `CN-12`): all titles begin, or all end, with one, each another."""
    learned: set[str] = set()
    for style in styles:
        lines = [n.head.connector for namings in found for n in namings if n.style == style]
        titles = {t for t in lines if ":" not in t}
        numbered = [n.head.text for namings in found for n in namings if n.style == style]
        if shape := _numbers_as_names(numbered):
            learned.add(shape)
            continue
        for end in (0, -1):
            names = {t: name for t in titles if (name := _name_at(t, end))}
            shapes = Counter(shape_of(name) for name in set(names.values()))
            shape, count = shapes.most_common(1)[0] if shapes else ("", 0)
            if end and shape == "9" and any(n != t for t, n in names.items()):
                continue  # a number at the end counts or measures something
            if count >= FEWEST_TITLES and count >= SHARE_ODD * len(titles):
                learned.add(shape)
                break
    return frozenset(learned)


def _numbers_as_names(titles: Sequence[str]) -> str:
    """Return the form of numbers as of sections that do not count up: they are names (`31.4 Pump`)."""
    found = [m.group().strip().rstrip(".") for t in dict.fromkeys(titles) if (m := SECTION.match(t))]
    shapes = set(map(shape_of, found))
    if len(found) < max(FEWEST_TITLES, SHARE_ODD * len(set(titles))) or len(shapes) != 1:
        return ""
    counted = [tuple(int(n) for n in re.findall(r"\d+", text)) for text in found]
    each_another = len(set(counted)) == len(counted)
    return shapes.pop() if each_another and counted != sorted(counted) else ""


def _name_at(title: str, end: int) -> str:
    """Return what may be the name at the begin (0) or end (-1) of a title, "" for words only."""
    spaced = [t for t in spaced_tokens(title) if t.start == 0 or title[t.end :].strip(" )]") == ""]
    tokens = spaced or end_tokens(title)
    return tokens[end].name if tokens and (tokens[end].start == 0 or end) else ""


def fits(naming: Naming, directions: dict[Use, Direction]) -> bool:
    """True when the line can mean this table by where lines of its kind stand to their tables."""
    direction = directions.get(use_of(naming.style), "" if naming.head.caption else "down")
    if naming.where == "below":
        return direction == "up" or (direction == "" and bool(naming.head.caption))
    return direction != "up"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """A line of a page with the blank between it and the tables above and below it; None without one."""

    use: Use
    name: str
    up: float | None
    down: float | None
    alone: bool  #: no other text stands close above it
    needed: bool  #: the table above has no other name


def _directions(
    readings: Sequence[PageReading],
    pinouts: Container[tuple[int, int]],
    shapes: frozenset[str] = frozenset(),
    titles: Container[Use] = (),
) -> dict[Use, Direction]:
    """Learn where lines of each kind stand to their tables; only a pinout above can be meant."""
    votes: dict[Use, list[_Seen]] = defaultdict(list)
    for reading in readings:
        for seen in _lines_of_page(reading.tables, pinouts, shapes, titles):
            votes[seen.use].append(seen)
    out: dict[Use, Direction] = {}
    for use, lines in votes.items():
        direction = _direction(lines, caption=bool(use[0]))
        if use[0] or direction != "down":
            out[use] = direction
    return out


def _direction(lines: Sequence[_Seen], *, caption: bool) -> Direction:
    """Lines with a table on one side only decide; then the smaller blank, if it is so throughout."""
    gaps = [s.down - s.up for s in lines if s.up is not None and s.down is not None]
    up = [s for s in lines if s.up is not None and s.down is None]
    down = [s for s in lines if s.down is not None and s.up is None and s.alone]
    if not caption:
        needed = {s.name for s in lines if s.needed and s.up is not None}
        if not needed or not up or any(s.up is None for s in lines):
            return "down"
        nearer = bool(gaps) and all(g > ALIKE_GAPS for g in gaps)
        return "up" if nearer or len(needed) >= FEWEST_NAMED else ""
    if bool(up) != bool(down):
        return "up" if up else "down"
    if up and down:
        return ""
    if gaps and all(g > ALIKE_GAPS for g in gaps):
        return "up"
    return "down" if gaps and all(g < -ALIKE_GAPS for g in gaps) else ""


def _lines_of_page(
    tables: Sequence[Table],
    pinouts: Container[tuple[int, int]],
    shapes: frozenset[str],
    titles: Container[Use],
) -> Iterator[_Seen]:
    """Return every caption, title and line with a designator that stands near a table of a page."""
    found: list[tuple[tuple[int, int, str], Table, Naming]] = []
    for table in tables:
        for n in table_to_namings(table, shapes):
            titled = use_of(n.style) in titles and is_title(n.head.text)
            named = n.head.caption or n.head.designator or titled
            if n.near is not None and n.where in ("above", "below") and named:
                box = n.near.line.box
                found.append(((round(box.top), round(box.x0), n.head.text), table, n))
    for _, group in groupby(sorted(found, key=lambda f: f[0]), key=lambda f: f[0]):
        members = list(group)
        naming = members[0][2]
        over = [
            (t, n)
            for _, t, n in members
            if n.where == "below"
            and n.near
            and ((n.head.caption and t.has_header) or (t.page, t.number) in pinouts)
        ]
        needed = bool(over) and not any(_has_name(t) for t, _ in over)
        below = [(t, n) for _, t, n in members if n.where != "below" and n.near and not _hidden(t, n)]
        up = min((n.near.gap for _, n in over if n.near), default=None)
        down = min((n.near.gap for _, n in below if n.near), default=None)
        alone = all(stands_alone(t, n) for t, n in below)
        yield _Seen(
            use=use_of(naming.style),
            name=naming.head.connector,
            up=up,
            down=down,
            alone=alone,
            needed=needed and is_title(naming.head.text),
        )


def _has_name(table: Table) -> bool:
    namings = table_to_namings(table)
    return bool(table.head) or any(n.where != "below" and n.score >= POSSIBLE for n in namings)


def _hidden(table: Table, naming: Naming) -> bool:
    """True when a nearer line is the table's heading: the farther one is not its own."""
    near = naming.near
    for other in table.around:
        if near is None or other.where != "above" or other.gap >= near.gap:
            continue
        head = parse_heading(other.line.text)
        heading = head.designator or stands_out(other.line, table)
        if heading and head.connector and head.connector != naming.head.connector and is_title(head.text):
            return True
    return False


def stands_alone(table: Table, naming: Naming) -> bool:
    """True when the blank over a line is clearly larger than the one to its table."""
    near = naming.near
    if near is None:
        return False
    line = near.line
    over = [a.line.box.bottom for a in table.around if a.line.box.bottom <= line.box.top + 1]
    blank = line.box.top - max(over) if over else line.box.top
    return blank >= FURTHER * max(near.gap, 4.0)
