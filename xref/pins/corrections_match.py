"""Which rows of a document a decision is about: by place in the same file, by text in a changed one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import PurePath

from xref.pins.corrections_records import (
    Decision,
    HeadDecision,
    Region,
    RowAsRead,
    RowDecision,
    row_line,
    texts_of,
)
from xref.records import Box, Document, Pin

#: Two boxes of one page are the same row when they share this much of the smaller one, each way. A
#: newer reader may draw a box a little wider or higher; the next row shares nothing.
_SAME_BOX = 0.6
#: A table of a changed document is the one decided about when this share of its rows stood in it.
_SAME_TABLE = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """A row a decision is about. `certain`: same file, same place; else found by its text."""

    place: int  #: index among the document's rows as read
    certain: bool
    same_texts: bool  #: False: only connector and cavity are those of the decision


@dataclass(slots=True, kw_only=True)
class RowFinder:
    """The rows of a document as read, found by place and by text."""

    sha256: str
    name: str
    pins: Sequence[Pin]
    wires: Sequence[int]
    _by_cavity: dict[tuple[int, str, int], list[int]] = field(default_factory=lambda: defaultdict(list))
    _by_texts: dict[tuple[str, ...], list[int]] = field(default_factory=lambda: defaultdict(list))
    _by_place: dict[tuple[str, str, str], list[int]] = field(default_factory=lambda: defaultdict(list))

    def __post_init__(self) -> None:
        for i, (pin, wire) in enumerate(zip(self.pins, self.wires, strict=True)):
            self._by_cavity[pin.page, pin.cavity, wire].append(i)
            self._by_texts[texts_of(pin)].append(i)
            self._by_place[pin.connector, pin.half, pin.cavity].append(i)

    def row(self, asked: RowAsRead) -> Matched | None:
        """Return the row a decision is about, or None where there is none, or none that is the only one.

        In a document of another name nothing but the same texts will do: any may print that cavity.
        """
        if asked.sha256 == self.sha256:
            here = self._by_cavity.get((asked.page, asked.cavity, asked.wire), [])
            shares = [(share(self.pins[i].box, asked.box), i) for i in here]
            best = max(shares, default=(0.0, -1))
            if best[0] >= _SAME_BOX:
                return Matched(place=best[1], certain=True, same_texts=True)
        alike = self._by_texts.get(asked.texts, [])
        if alike:
            near = min(
                alike, key=lambda i: (abs(self.pins[i].page - asked.page), self.wires[i] != asked.wire)
            )
            return Matched(place=near, certain=False, same_texts=True)
        there = self._by_place.get((asked.connector, asked.half, asked.cavity), [])
        if not self.is_named(asked):
            return None
        return Matched(place=there[0], certain=False, same_texts=False) if len(there) == 1 else None

    def is_named(self, kept: RowAsRead | Region) -> bool:
        """Say whether a decision was made on this content, or on a document of this one's name."""
        return kept.sha256 == self.sha256 or file_name(kept.document) == file_name(self.name)

    def table(self, region: Region) -> tuple[list[int], bool]:
        """Return the rows of a region and whether that is certain: the same file, the same place."""
        if region.sha256 == self.sha256:
            return [
                i for i, p in enumerate(self.pins) if p.page == region.page and _in(p.box, region.box)
            ], True
        known = set(region.rows)
        tables: dict[tuple[int, int], list[int]] = defaultdict(list)
        for i, pin in enumerate(self.pins):
            tables[pin.page, pin.table_no].append(i)
        for members in tables.values():
            alike = sum(row_line(self.pins[i]) in known for i in members)
            if known and alike >= _SAME_TABLE * len(members):
                return members, False
        return [], False


def share(one: Box, other: Box) -> float:
    """Return how much of the smaller box both have in common, the lesser of width and height (0–1)."""
    wide = min(one.x1, other.x1) - max(one.x0, other.x0)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    least_wide, least_high = min(one.width, other.width), min(one.height, other.height)
    if least_wide <= 0 or least_high <= 0:  # rows without extent are the same where they are equal
        return 1.0 if one == other else 0.0
    return max(0.0, min(wide / least_wide, high / least_high))


def _in(box: Box, region: Box) -> bool:
    x, y = (box.x0 + box.x1) / 2, (box.top + box.bottom) / 2
    return region.x0 <= x <= region.x1 and region.top <= y <= region.bottom


def decisions_for(
    document: Document, decisions: Iterable[Decision], indexed: Iterable[Document]
) -> list[Decision]:
    """Return the decisions that concern a document, in the order they were made.

    Those made on its very content; those of its machine's connectors; and those made on a file that is no
    longer indexed under the name this one has, or under a name that nothing indexed has: it was changed.
    """
    others = list(indexed)
    contents = {d.sha256 for d in others} | {document.sha256}
    names = {file_name(d.name) for d in others if d.machine == document.machine}
    found = []
    for decision in decisions:
        if isinstance(decision, HeadDecision) and decision.region is None:
            concerned = decision.machine == document.machine
        else:
            of = _kept_by(decision)
            name = file_name(of.document)
            adrift = of.sha256 not in contents and of.machine == document.machine
            renamed = name == file_name(document.name) or name not in names
            concerned = of.sha256 == document.sha256 or (adrift and renamed)
        if concerned:
            found.append(decision)
    return sorted(found, key=lambda d: d.id)


def _kept_by(decision: Decision) -> RowAsRead | Region:
    if isinstance(decision, HeadDecision):
        if decision.region is None:
            raise ValueError("a decision about a whole machine is kept by no document")
        return decision.region
    return decision.row if isinstance(decision, RowDecision) else decision.region


def file_name(name: str) -> str:
    """Return the name of a file without its folder, to be compared."""
    return PurePath(name).name.casefold()
