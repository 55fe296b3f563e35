"""Whose a table is: its own heading, judged by the document's habits, or on evidence the one before."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.data.heading_words import word_pattern
from xref.pins.designators import DESIGNATOR, shape_of
from xref.pins.habits import Habits, fits, is_titled, learn_habits, stands_alone, use_of
from xref.pins.halflines import with_half
from xref.pins.heading import Head, is_ambiguous, parse_heading, parse_pairs, without_number
from xref.pins.lines import leads_back, stands_out
from xref.pins.naming import (
    CERTAIN,
    POSSIBLE,
    Naming,
    goes_on,
    head_naming,
    near_cavities,
    says_nothing,
    table_to_namings,
    with_facts,
)
from xref.pins.overleaf import (
    Owner,
    goes_on_overleaf,
    heading_before,
    inherits,
    may_go_on,
    named_overleaf,
    part_before,
    same_columns,
)
from xref.pins.pageblock import blocks_of_pages, with_page_name
from xref.pins.pinouts import Pinout
from xref.pins.several import all_alike, mark_behind, stem_of_halves, two_named
from xref.pins.subconnectors import chapter_of, with_chapters
from xref.pins.under import Under, headings_under
from xref.tables.lines import Line, box_of, line_to_chunks
from xref.tables.page import PageReading
from xref.tables.surroundings import FURTHEST_ABOVE
from xref.tables.table import Table

#: What the habit of the document adds to a line set like the other headings.
HABIT = 0.15
#: A designator of another form than the document's speaks less, where another line has the usual form.
ODD_FORM = 0.15
#: Under a heading that stands below its table nothing that it could name follows within this, points.
CLEAR_BELOW = 25.0
#: A name with something against it: just below certain.
DOUBTFUL = CERTAIN - 0.05
#: A name in the margin stands no further from its table than this, points.
FURTHEST_BESIDE = 110.0
#: Two names with scores this close leave a doubt.
MARGIN = 0.1
#: A line this much nearer to the table above than to its own, and right under it, is a note to that one.
NEARER = 4.0
RIGHT_UNDER = 25.0

UNCERTAIN = ("heading-uncertain",)


def attribute(readings: Sequence[PageReading], pinouts: Sequence[Pinout]) -> list[Owner | None]:
    """Return whose each table is; None where no connector can be named and no wire either."""
    habits = learn_habits(readings, pinouts)
    under = headings_under(pinouts, habits.shapes)
    blocks = blocks_of_pages(readings, pinouts)
    owners: list[Owner | None] = []
    chapters: list[str] = []
    done: list[tuple[Pinout, Owner]] = []
    by_caption: list[bool] = []
    for n, (before, pinout) in enumerate(zip([None, *pinouts], pinouts, strict=False)):
        namings = [_beyond_another(x, pinout, before) for x in _namings(pinout, before, habits)]
        namings = _with_under(namings, pinout, n, under)
        if max((n.score for n in namings), default=0.0) < POSSIBLE:
            namings += _lines_for_two(pinout, habits) or heading_before(pinout, before, habits)
        namings = with_page_name(namings, blocks.get(pinout.page.page), habits.shapes)
        best = max(namings, key=lambda n: n.score, default=None)
        last = part_before(pinout, done)
        owner = with_half(_owner(pinout, namings, last, habits), pinout, best, last)
        owners.append(owner)
        chapters.append(chapter_of(best, namings) or (chapters[-1] if chapters else ""))
        if owner is not None:
            done.append((pinout, owner))
        by_caption.append(best is not None and best.where == "below")
    owners = named_overleaf(owners, pinouts, by_caption, habits)
    heads = with_chapters([o.heads if o else () for o in owners], chapters, [p.content for p in pinouts])
    return [replace(o, heads=h) if o else None for o, h in zip(owners, heads, strict=True)]


def _owner(
    pinout: Pinout, namings: Sequence[Naming], last: tuple[Pinout, Owner] | None, habits: Habits
) -> Owner | None:
    blocks = len(pinout.blocks)
    best = max(namings, key=lambda n: n.score, default=None)
    if pinout.listed:
        head = best.head if best else Head(text="")
        shared = replace(head, connector="", half="", ways=None, color="", gender="")
        return Owner(heads=(shared,) * blocks)
    alike = all_alike(best.head.text) if best is not None and best.score >= POSSIBLE else ()
    if best is not None and alike and not _side_by_side(pinout) and not _overlap(pinout):
        heads = [replace(best.head, connector=name, name="") for name in alike]
        return Owner(heads=(heads[0],) * blocks, alike=tuple(heads[1:]))
    beside = _block_heads(pinout, habits) or _two_heads(pinout, best)
    if beside:
        return Owner(heads=tuple(beside))
    if last is not None and last[1].heads[-1].connector and inherits(pinout, best, last[0]):
        return Owner(heads=(last[1].heads[-1],) * blocks, doubts=last[1].doubts)
    plain = best is None or not (best.head.designator or best.score >= CERTAIN)
    last = last if last is not None and last[1].heads[-1].connector else None
    if last is not None and plain and habits.established and goes_on_overleaf(pinout, last[0]):
        return Owner(heads=(last[1].heads[-1],) * blocks, doubts=UNCERTAIN)
    if best is not None and best.score >= POSSIBLE:
        certain = best.score >= CERTAIN and not _rival(best, namings, habits) and not _several(best.head)
        certain = certain and (best.head.designator or not pinout.joined) and not _overlap(pinout)
        head = best.head if best.where == "head" else with_facts(best, pinout.table)
        return Owner(heads=(head,) * blocks, doubts=() if certain else UNCERTAIN)
    if last is not None and may_go_on(pinout, last[0]):
        return Owner(heads=(last[1].heads[-1],) * blocks, doubts=UNCERTAIN)
    if not any({"color", "circuit"} & set(plan.columns) for plan, _ in pinout.blocks):
        return None
    table = pinout.table
    unnamed = Head(text="", connector=f"unnamed (page {table.page}, table {table.number})")
    return Owner(heads=(unnamed,) * blocks, doubts=UNCERTAIN)


def _namings(pinout: Pinout, before: Pinout | None, habits: Habits) -> list[Naming]:
    """Return what may name a pinout, with what the habits of the document say for and against it."""
    table = pinout.table
    cavities = near_cavities((*(before.cavities if before else ()), *pinout.cavities))
    lines = [
        _weighed(n, pinout, habits)
        for n in table_to_namings(table, habits.shapes, cavities)
        if fits(n, habits.directions) and not says_nothing(n.head) and not _of_another(n, pinout)
    ]
    if any(n.head.designator and shape_of(n.head.connector) in habits.shapes for n in lines):
        lines = [_odd(n, habits) for n in lines]
    lines = [_within_run(n, pinout, before, habits) for n in lines]
    lines = [_behind(n, lines, habits) for n in lines]
    pairs = parse_pairs(table.head) if table.head else None
    if pairs is not None:
        lines.append(head_naming(pairs, max(lines, key=lambda n: n.score, default=None)))
    return lines


def _with_under(namings: Sequence[Naming], pinout: Pinout, own: int, under: dict[int, Under]) -> list[Naming]:
    """Add the heading under a table that is its own, and leave out those of other tables."""
    others = [u for n, u in under.items() if n != own]
    page = pinout.page.page
    kept = [n for n in namings if n.near is None or not any(u.holds(page, n.near.line.box) for u in others)]
    if own not in under:
        return kept
    score = CERTAIN + HABIT if under[own].sure else DOUBTFUL
    return [*(n for n in kept if n.where != "below"), replace(under[own].naming, score=score)]


def _weighed(naming: Naming, pinout: Pinout, habits: Habits) -> Naming:
    naming = _of_both_halves(_without_chance(naming, habits))
    score = naming.score
    under = naming.where == "below" and is_titled(naming)
    usual = naming.style in habits.usual and (score > 0 or under)
    if usual:
        score += HABIT
        near_enough = naming.head.designator or naming.where != "page"
        if near_enough and (is_titled(naming) or naming.head.caption):
            score = max(score, CERTAIN + HABIT)
    title = not naming.head.designator and not usual
    lettered = not naming.head.designator and (habits.established or naming.style in habits.lettered)
    margin = naming.where == "beside" and not usual and not _in_margin(naming, pinout)
    beyond = pinout.borrowed and naming.where == "above" and not (usual and naming.head.designator)
    several = not naming.head.designator and bool(word_pattern("several").search(naming.head.text))
    if _only_below(naming, pinout):
        score = max(score, CERTAIN)
    far = naming.near is not None and naming.near.gap > FURTHEST_ABOVE and not usual
    if title or lettered or margin or beyond or several or far or is_ambiguous(naming.head.text):
        score = min(score, DOUBTFUL)
    sure_side = _first_of_all(naming, pinout) or _only_below(naming, pinout)
    if not habits.directions.get(use_of(naming.style), "down") and not sure_side:
        score = min(score, DOUBTFUL)
    return replace(naming, score=min(score, 1.0))


def _without_chance(naming: Naming, habits: Habits) -> Naming:
    """A bare number within a title is no name where other titles set alike hold none (`Injector 1`)."""
    head = naming.head
    within = not without_number(head.text).startswith(head.connector)
    chance = head.connector.isdecimal() and not head.worded and within
    if not chance or naming.style in habits.lettered:
        return naming
    plain = parse_heading(head.text)
    return replace(naming, head=plain, score=min(naming.score, CERTAIN - HABIT)) if plain != head else naming


def _of_both_halves(naming: Naming) -> Naming:
    """A line that names both halves of one connector (`X5-A Cab  X5-B Frame`) names that connector."""
    stem = stem_of_halves(naming.head.text)
    return replace(naming, head=replace(naming.head, connector=stem, name="")) if stem else naming


def _in_margin(naming: Naming, pinout: Pinout) -> bool:
    """True for bold type in the margin left of a table, near enough to be no other column's heading."""
    near = naming.near
    left = near is not None and near.line.box.x1 <= pinout.table.box.x0 + 1
    return near is not None and left and near.line.bold and near.gap <= FURTHEST_BESIDE


def _only_below(naming: Naming, pinout: Pinout) -> bool:
    """True for a heading right under a table that nothing above names, with no table under the heading."""
    near, table = naming.near, pinout.table
    if near is None or naming.where != "below" or not naming.head.designator or near.gap > RIGHT_UNDER:
        return False
    if table.head or any(a.where in ("above", "title", "beside") for a in table.around):
        return False
    if not (naming.head.worded or stands_out(near.line, table)):
        return False
    box = near.line.box
    return not any(
        -2 <= t.box.top - box.bottom <= CLEAR_BELOW and min(t.box.x1, box.x1) > max(t.box.x0, box.x0)
        for t in pinout.page.tables
    )


def _beyond_another(naming: Naming, pinout: Pinout, before: Pinout | None) -> Naming:
    """A line of the page's head names the first pinout under it; a second one is its own only perhaps."""
    if naming.where != "page" or before is None or before.page.page != pinout.page.page:
        return naming
    a, b = before.table.box, pinout.table.box
    if min(a.x1, b.x1) <= max(a.x0, b.x0):
        return naming  # side by side
    return replace(naming, score=min(naming.score, DOUBTFUL))


def _first_of_all(naming: Naming, pinout: Pinout) -> bool:
    """True for a line over a table with no other table or text close above it: it can mean only this one."""
    if naming.near is None or naming.where != "above" or not stands_alone(pinout.table, naming):
        return False
    top = naming.near.line.box.top
    return not any(t.box.bottom <= top + 2 for t in pinout.page.tables)


def _behind(naming: Naming, lines: Sequence[Naming], habits: Habits) -> Naming:
    """A title gives way to a line with a designator, and a heading to a nearer one that stands out too."""
    near, head = naming.near, naming.head
    if near is None:
        return naming
    for other in lines:
        if other is naming or other.near is None or other.score < CERTAIN or not other.head.designator:
            continue
        gives_way = naming.style not in habits.usual or other.style in habits.usual
        if not head.designator and gives_way and other.where != "page":
            return replace(naming, score=min(naming.score, POSSIBLE))
        nearer = other.where == "above" == naming.where and other.near.gap < near.gap - 1
        if nearer and _as_strong(other, naming) and other.head.connector != head.connector:
            return replace(naming, score=min(naming.score, DOUBTFUL))
    return naming


def _as_strong(other: Naming, naming: Naming) -> bool:
    """True for a line that is as much a heading as another: bold, a designator alone, or set no smaller."""
    if other.near is None or naming.near is None:
        return False
    line, against = other.near.line, naming.near.line
    alone = line.text.strip() == other.head.connector
    return line.bold or alone or (not against.bold and line.size >= against.size)


def _odd(naming: Naming, habits: Habits) -> Naming:
    odd = naming.head.designator and shape_of(naming.head.connector) not in habits.shapes
    return replace(naming, score=naming.score - ODD_FORM) if odd else naming


def _within_run(naming: Naming, pinout: Pinout, before: Pinout | None, habits: Habits) -> Naming:
    """A plain word of an unusual form between rows that count on is hardly a heading."""
    near, head = naming.near, naming.head
    if near is None or before is None or head.worded or stands_out(near.line, pinout.table):
        return naming
    usual = not habits.shapes or shape_of(head.connector) in habits.shapes
    if usual or naming.where not in ("title", "above") or before.page.page != pinout.page.page:
        return naming
    runs_on = goes_on(before.cavities, pinout.cavities) and same_columns(pinout.table, before.table)
    return replace(naming, score=min(naming.score, DOUBTFUL)) if runs_on else naming


def _of_another(naming: Naming, pinout: Pinout) -> bool:
    """True for a line about the table above: it says so, or is plain, right under it and nearer to it."""
    near, table = naming.near, pinout.table
    if near is not None and near.where == "above" and leads_back(near.line.text):
        return True
    if near is None or near.where != "above" or naming.head.caption or stands_out(near.line, table):
        return False
    box = near.line.box
    apart = [
        box.top - t.box.bottom
        for t in pinout.page.tables
        if t.box.bottom <= box.top + 2 and min(t.box.x1, box.x1) > max(t.box.x0, box.x0)
    ]
    return bool(apart) and min(apart) <= RIGHT_UNDER and min(apart) + NEARER < near.gap


def _rival(best: Naming, namings: Sequence[Naming], habits: Habits) -> bool:
    """True when another line names another connector nearly as well, or well enough and from nearer."""
    usual = best.style in habits.usual
    for other in namings:
        if other.head.connector == best.head.connector or not other.head.designator or best.where == "head":
            continue
        nearer = best.near is None or (other.near is not None and best.near.gap < other.near.gap)
        behind = nearer or usual or not _as_strong(other, best)
        least = best.score - MARGIN if behind else CERTAIN
        if other.score >= max(POSSIBLE, least) and (not nearer or best.where == "below"):
            return True
    return False


def _overlap(pinout: Pinout) -> bool:
    """True where blocks side by side hold the same cavities: one name for both is hardly right."""
    cavities = [{r.cavity for r in rows if r.cavity} for _, rows in pinout.blocks]
    return any(2 * len(a & b) > min(len(a), len(b)) for a, b in pairwise(cavities))


def _several(head: Head) -> bool:
    return len(DESIGNATOR.findall(head.connector)) > 1 and " " in head.connector


def _block_heads(pinout: Pinout, habits: Habits) -> list[Head]:
    """Connectors side by side under one rule of columns, each with a heading of its own; [] if not so."""
    table, blocks = pinout.table, pinout.blocks
    cavities = [{r.cavity for r in rows} for _, rows in blocks]
    if len(blocks) < 2 or not any(a & b for a, b in pairwise(cavities)) or any(p.name for p, _ in blocks):
        return []
    heads = []
    for n, (plan, _) in enumerate(blocks):
        left = table.edges[plan.first] if n else -math.inf
        right = table.edges[plan.last + 1] if n + 1 < len(blocks) else math.inf
        around = tuple(replace(a, line=part) for a in table.around if (part := _part(a.line, left, right)))
        narrow = replace(pinout, table=replace(table, around=around, head=()))
        best = max(_namings(narrow, None, habits), key=lambda n: n.score, default=None)
        if best is None or best.score < POSSIBLE or not best.head.designator:
            return []
        heads.append(with_facts(best, narrow.table))
    names = {(h.connector, mark_behind(h.text, h.connector)) for h in heads}
    return heads if len(names) == len(heads) else []


def _two_heads(pinout: Pinout, best: Naming | None) -> list[Head]:
    """The heads of the blocks where one line names two connectors (`X5 (left) and X6 (right)`)."""
    names = two_named(best.head.text) if best is not None and best.score >= CERTAIN else None
    if best is None or names is None:
        return []
    heads = [replace(best.head, connector=name, name="") for name in names]
    cavities = [{r.cavity for r in rows} for _, rows in pinout.blocks]
    if len(cavities) == 2 and cavities[0] & cavities[1]:
        return heads
    around = {a.line.text for a in pinout.table.around}
    rows = [t for t in _side_by_side(pinout) if best.head.text in {a.line.text for a in t.around} | around]
    if len(cavities) != 1 or len(rows) != 1:
        return []
    return [heads[0] if pinout.table.box.x0 < rows[0].box.x0 else heads[1]]


def _side_by_side(pinout: Pinout) -> list[Table]:
    """Return the tables with headers that stand beside a pinout, at its height."""
    box = pinout.table.box
    return [
        t
        for t in pinout.page.tables
        if t.number != pinout.table.number
        and t.has_header
        and min(t.box.bottom, box.bottom) - max(t.box.top, box.top) > 0.5 * (box.bottom - box.top)
    ]


def _lines_for_two(pinout: Pinout, habits: Habits) -> list[Naming]:
    """Return the lines at the table beside that name two connectors: one of them is this table's."""
    around = tuple(a for t in _side_by_side(pinout) for a in t.around if two_named(a.line.text))
    return (
        _namings(replace(pinout, table=replace(pinout.table, around=around)), None, habits) if around else []
    )


def _part(line: Line, left: float, right: float) -> Line | None:
    words = [
        w
        for chunk in line_to_chunks(line)
        if left <= (box_of(chunk).x0 + box_of(chunk).x1) / 2 <= right
        for w in chunk
    ]
    return Line(words=tuple(words), box=box_of(words), size=line.size) if words else None
