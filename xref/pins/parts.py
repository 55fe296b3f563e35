"""The tables of a document in order: which are pinouts, how each is read, and whose they are."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from xref.pins.heading import DESIGNATOR, Head
from xref.pins.naming import CERTAIN, Naming, goes_on, name_table
from xref.rows.assemble import table_to_rows
from xref.rows.continued import continue_table
from xref.rows.plan import Plan, table_to_plans
from xref.rows.row import Row
from xref.rows.taught import taught_plans
from xref.tables.lines import Line, box_of, line_to_chunks
from xref.tables.page import PageReading
from xref.tables.table import Table

#: A line of the page's head that comes back on this many pages is a running title, no heading.
RUNNING = 3
#: A headerless table is read by its content only when it has this many rows at least.
FEWEST_ROWS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One block of one table with its rows and the connector they belong to."""

    page: PageReading
    table: Table
    plan: Plan
    rows: tuple[Row, ...]
    head: Head
    doubts: tuple[str, ...] = ()
    block: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Previous:
    page: int
    table: Table
    plans: tuple[Plan, ...]
    head: Head
    doubts: tuple[str, ...]
    cavities: tuple[str, ...]


def readings_to_parts(readings: Sequence[PageReading]) -> list[Part]:
    """Go through a document's tables in order and return what is a pinout, with its connector."""
    running = _running_titles(readings)
    parts: list[Part] = []
    previous: _Previous | None = None
    for reading in readings:
        for original in reading.tables:
            table = _without_running(original, running)
            table, plans, doubts = _plans(table, previous)
            if not plans:
                continue
            blocks = [(plan, table_to_rows(table, plan)) for plan in plans]
            blocks = [(plan, rows) for plan, rows in blocks if rows]
            if not blocks:
                continue
            cavities = [r.cavity for _, rows in blocks for r in rows]
            head, more = _head(table, blocks, previous, cavities)
            if head is None:
                continue
            doubts = (*doubts, *more, *_few_rows(table, blocks))
            heads = _block_heads(table, blocks) or [head] * len(blocks)
            for n, ((plan, rows), own) in enumerate(zip(blocks, heads, strict=True)):
                parts.append(
                    Part(
                        page=reading,
                        table=table,
                        plan=plan,
                        rows=tuple(rows),
                        head=own,
                        doubts=doubts,
                        block=n,
                    )
                )
            previous = _Previous(
                page=reading.page,
                table=table,
                plans=tuple(plans),
                head=head,
                doubts=more,
                cavities=tuple(cavities),
            )
    return parts


def _running_titles(readings: Sequence[PageReading]) -> set[str]:
    counts: Counter[str] = Counter()
    for reading in readings:
        texts = {_shape(a.line.text) for t in reading.tables for a in t.around if a.where == "page"}
        counts.update(texts)
    return {text for text, n in counts.items() if n >= RUNNING}


def _shape(text: str) -> str:
    """A text without its page number."""
    return re.sub(r"^\W*\d{1,4}\W+|\W+\d{1,4}\W*$", "", text).strip()


def _without_running(table: Table, running: set[str]) -> Table:
    around = tuple(a for a in table.around if a.where != "page" or _shape(a.line.text) not in running)
    return replace(table, around=around)


def _plans(table: Table, previous: _Previous | None) -> tuple[Table, list[Plan], tuple[str, ...]]:
    """Return the table (continued, if it is), its plans, and doubts about its columns."""
    if table.taught:
        return table, taught_plans(table), ("correction-unconfirmed",) if table.taught.earlier else ()
    if table.has_header:
        plans = table_to_plans(table)
        guessed = any(r in ("cavity", "color", "circuit") for p in plans for r in p.guessed)
        if guessed and not any({"color", "circuit"} & set(p.columns) for p in plans):
            return table, [], ()  # a numbered list of texts, as in a table of contents
        return table, plans, ("column-guessed",) if guessed else ()
    if previous is not None and table.page - previous.page <= 1:
        joined = continue_table(table, previous.table, previous.plans)
        if joined is not None:
            return joined, list(previous.plans), ()
    if len(table.bands) < FEWEST_ROWS:
        return table, [], ()
    plans = [p for p in table_to_plans(table) if "color" in p.columns or "circuit" in p.columns]
    naming = name_table(table)
    if (naming is None or naming.score < CERTAIN) and not all("color" in p.columns for p in plans):
        return table, [], ()
    return table, plans, ("column-guessed",)


def _head(
    table: Table,
    blocks: Sequence[tuple[Plan, Sequence[Row]]],
    previous: _Previous | None,
    cavities: Sequence[str],
) -> tuple[Head | None, tuple[str, ...]]:
    """Return the head of a table and the doubts about it; None when no connector can be named."""
    rows = [r for _, found in blocks for r in found]
    naming = name_table(table)
    if all(r.connector for r in rows):
        head = naming.head if naming else Head(text="")
        return replace(head, connector="", half=""), ()
    runs_on = (
        previous is not None
        and table.page - previous.page <= 1
        and goes_on(previous.cavities, cavities)
        and _same_columns(table, previous.table)
    )
    if previous is not None and _may_inherit(naming, runs_on, table):
        return previous.head, previous.doubts
    if naming is not None and naming.score >= CERTAIN:
        several = len(DESIGNATOR.findall(naming.head.connector)) > 1 and " " in naming.head.connector
        return naming.head, ("heading-uncertain",) if several else ()
    if naming is not None:
        return naming.head, ("heading-uncertain",)
    if previous is not None and table.page - previous.page <= 1 and _same_columns(table, previous.table):
        return previous.head, ("heading-uncertain",)
    if not any({"color", "circuit"} & set(plan.columns) for plan, _ in blocks):
        return None, ()
    return Head(text="", connector=f"unnamed (page {table.page}, table {table.number})"), (
        "heading-uncertain",
    )


def _block_heads(table: Table, blocks: Sequence[tuple[Plan, Sequence[Row]]]) -> list[Head]:
    """Connectors side by side under one rule of columns, each with a heading of its own; [] if not so."""
    cavities = [{r.cavity for r in rows} for _, rows in blocks]
    if len(blocks) < 2 or not any(a & b for a, b in pairwise(cavities)) or any(p.name for p, _ in blocks):
        return []
    heads = []
    for plan, _ in blocks:
        left, right = table.edges[plan.first], table.edges[plan.last + 1]
        around = tuple(replace(a, line=part) for a in table.around if (part := _part(a.line, left, right)))
        naming = name_table(replace(table, around=around, head=()))
        if naming is None or not naming.head.designator:
            return []
        heads.append(naming.head)
    return heads if len({h.connector for h in heads}) == len(heads) else []


def _part(line: Line, left: float, right: float) -> Line | None:
    words = [
        w
        for chunk in line_to_chunks(line)
        if left <= (box_of(chunk).x0 + box_of(chunk).x1) / 2 <= right
        for w in chunk
    ]
    return Line(words=tuple(words), box=box_of(words), size=line.size) if words else None


def _may_inherit(naming: Naming | None, runs_on: bool, table: Table) -> bool:
    """The name before holds when the cavities run on and nothing nearer names another connector."""
    if not runs_on:
        return False
    if naming is None:
        return True
    weak = naming.score < CERTAIN or (naming.where == "page" and not naming.head.continued)
    return weak and (table.first_on_page or naming.score < CERTAIN)


def _same_columns(a: Table, b: Table) -> bool:
    return [t.casefold() for t in a.header if t] == [t.casefold() for t in b.header if t]


def _few_rows(table: Table, blocks: Sequence[tuple[Plan, Sequence[Row]]]) -> tuple[str, ...]:
    """A good header with hardly a row under it, though there are lines, is a table half read."""
    bands = sum(1 for b in table.bands if any(c.text for c in b.cells))
    rows = sum(len(rows) for _, rows in blocks)
    return ("table-half-read",) if bands >= 6 and rows < 0.3 * bands else ()
