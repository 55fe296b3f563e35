"""The words of the project as frozen records. Imports nothing of ours.

Text fields hold "" where the page is blank; numbers hold None. A record never holds a guess
that is not named in its `flags`.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Literal

Role = Literal["component", "inline", "splice", "ground", "fuse", "unknown"]
Status = Literal["used", "unused", "not stated"]

#: Every doubt there is: a named reason why a row may have been misread.
DOUBTS: dict[str, str] = {
    "column-guessed": "a column has its meaning from its content, no header names it",
    "column-unread": "a column that may say what the wire is was not understood",
    "row-assembled": "the row was put together from lines whose belonging is not certain",
    "heading-uncertain": "the connector's name was taken over or read from weak evidence",
    "half-unmarked": "no mark says which half this is: A and B are counted from the left",
    "table-half-read": "a header was recognised, but few of the rows under it could be read",
    "under-watermark": "a watermark or stamp crosses the text of this row",
    "text-guessed": "a picture hides the text: a program guessed it from the picture",
    "unmapped-characters": "the PDF does not say which characters these are",
    "color-unknown": "the colour code is in no key and no scheme of this document",
    "color-undecided": "the code means different colours in different schemes and none is decided",
    "color-odd": "the colours are joined in another way than elsewhere in this document",
    "color-missing": "the row names no colour where the others of its table do",
    "color-repeated": "base and stripe are the same colour",
    "size-undecided": "the number may be mm² or AWG and the column does not settle it",
    "cavity-repeated": "this cavity stands more than once in its connector",
    "cavity-gap": "the cavity breaks the sequence, or the one before it is missing",
    "cavity-odd": "the cavity's name has another form than the others of its connector",
    "cavity-over-stated": "more cavities than the housing is said to have",
    "unused-but-filled": "the row says not used, and yet names a wire",
    "ditto-assumed": "a blank or ditto mark was read as 'same as above'",
    "cells-merged": "the value stands in a cell merged over several rows",
    "role-undecided": "what kind of connector this is could not be decided",
    "circuit-odd": "the circuit has another form than the circuits of this document",
    "function-missing": "the row says no function where the others of its table do",
    "circuit-missing": "the row names no circuit where the others of its table do",
    "text-overfull": "a text holds what looks like a circuit or a colour that has no column of its own",
    "potential-undecided": "the circuit may be a number or the name of a voltage",
    "readings-disagree": "a second, independent reading of the table gave something else",
    "neighbours-doubtful": "several other rows of this table do not bear the checks",
    "mates-disagree": "the other end of this wire, or the other half, says something else",
    "correction-unconfirmed": "the person's decision was made on another edition or reading of this row",
}

#: Every notice there is: an oddity of what the manual says, no doubt about the reading.
NOTICES: dict[str, str] = {
    "potential-name": "the circuit text names a voltage or the like, not a wire; it joins nothing by itself",
    "signal-as-circuit": "the manual prints no circuit numbers; the signal name stands for it",
    "circuit-once": "this circuit appears only once in the documents",
    "near-twin-circuit": "a circuit that looks nearly alike has the same colours elsewhere",
    "color-changes": "this circuit has other colours elsewhere in the document",
    "size-changes": "this circuit has another size elsewhere in the document",
    "reversed-colors-elsewhere": "this circuit stands elsewhere with base and stripe reversed",
    "same-color-in-connector": "another wire of this connector has the same colours",
    "reversed-colors-in-connector": "another wire of this connector has these colours reversed",
    "splice-listed": "the row is about a splice as a whole and no wire of it",
    "splice-wires": "so many wires are said to meet in this splice",
    "duplicate-page": "the same row stands on another page or in another document too",
    "accepted-by-person": "accepted by the person",
    "corrected-by-person": "corrected by the person",
    "number-by-person": "the circuit is a number and no voltage's name: said by the person",
    "potential-by-person": "the circuit names a voltage and is no number: said by the person",
}

#: What can be odd about two mated cavities: what changes from the one half to the other.
MATE_DIFFERENCES: dict[str, str] = {
    "number-changes": "the circuit has another number beyond it",
    "color-changes": "the wire has another colour beyond it",
    "size-changes": "the wire has another size beyond it",
    "unused-beyond": "the other half says that this cavity is not used",
    "pairing-doubtful": "the halves say different things in most cavities: they may not belong together",
}

#: What can be odd about a net: why it may hold too much, or why some of it is missing.
NET_FLAGS: dict[str, str] = {
    "circuit-contradicts": "its number stands on wires of other base colours, no in-line or splice between",
    "cavity-contradicts": "tables put different wires into one cavity of it",
    "fuse-between": "its number stands on both sides of a fuse; which end is on which side is not stated",
    "options-open": "parts of it belong to different options: which are fitted decides what is joined",
    "end-missing": "fewer than two of its ends are in these documents",
    "mate-missing": "what lies beyond an in-line cavity of it is not in these documents",
    "splice-one-leg": "only one leg of a splice is in these documents",
    "splice-listed": "a splice of it is only listed: its wires are in rows that name it or its number",
    "splice-contradicts": "a row goes to a splice that is said to join another circuit",
    "splice-unseen": "three ends or more, and no splice in these documents: where they join is not known",
    "joint-not-stated": "a component has several cavities on it: joined inside or outside, not stated",
    "pins-in-doubt": "a row of it may have been misread",
}

#: Between the name of a notice and the time of the person's decision: `accepted-by-person@2026-11-25T14:03Z`.
DECIDED_AT = "@"
#: Between the name of a notice and the number the page prints: `splice-wires=4`.
NUMBERED = "="


def notice_name(notice: str) -> str:
    """Return the name of a notice, one of NOTICES, without what it carries."""
    return notice.partition(DECIDED_AT)[0].partition(NUMBERED)[0]


def notice_words(notice: str) -> str:
    """Return a notice in words, with its number; a decision of the person is said with its time (UTC)."""
    name, _, number = notice.partition(NUMBERED)
    if number:
        return f"{NOTICES.get(name, name)} ({number})"
    name, _, at = notice.partition(DECIDED_AT)
    words = NOTICES.get(name, name)
    return f"{words} ({at.replace('T', ' ').replace('Z', ' UTC')})" if at else words


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle on a page, in points from the top left of the page as displayed."""

    x0: float
    top: float
    x1: float
    bottom: float

    @property
    def width(self) -> float:
        """Width in points."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Height in points."""
        return self.bottom - self.top

    def union(self, other: Box) -> Box:
        """Return the smallest box that holds both."""
        return Box(
            x0=min(self.x0, other.x0),
            top=min(self.top, other.top),
            x1=max(self.x1, other.x1),
            bottom=max(self.bottom, other.bottom),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One PDF of the manual set, as it was read."""

    machine: str
    name: str  #: what answers call it: the file's name, made unique in the workspace
    path: str  #: where it lay when it was read; may have moved since
    sha256: str
    pages: int
    reader: str  #: version of the reader that read it
    scheme: str = ""  #: colour scheme chosen by evidence, "key" for its own key, "" undecided
    scheme_why: str = ""  #: one line: the evidence for the scheme, or why it is undecided
    color_key: tuple[tuple[str, str], ...] = ()  #: its own key, code and colour; a code may stand twice


@dataclass(frozen=True, slots=True, kw_only=True)
class PageNote:
    """What became of one page: read, skipped with a reason, or unreadable with a reason."""

    document: str
    page: int
    page_label: str
    outcome: Literal["read", "skipped", "unread"]  #: unread: nobody can know what stands there
    why: str
    machine: str = ""


#: What the reason of a page says where a table on it looks like a pinout and gave no row.
TABLE_UNREAD = "; nothing was read of the table under "


def table_unread(heading: str) -> str:
    """Return what the reason of a page adds for a table that was passed over, by the heading over it."""
    return f"{TABLE_UNREAD}“{heading}”, which looks like a pinout"


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector:
    """A housing with cavities (or one half of an in-line), with its head as printed."""

    machine: str
    connector: str
    half: str = ""
    role: Role = "unknown"
    component: str = ""
    connector_name: str = ""
    harness: str = ""
    color: str = ""
    location: str = ""
    gender: str = ""
    cavities_stated: int | None = None
    cavities_read: int = 0
    view: str = ""  #: as printed; "" means the manual does not state it
    document: str
    pages: tuple[int, ...] = ()
    flags: tuple[str, ...] = ()
    role_why: str = ""  #: the evidence that decided the role


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One row of the normalised table: one wire end in one cavity, or one cavity said to be empty.

    Field order is the column order of every export. `color_code` and `circuit` are as printed,
    after folding white space, soft hyphens and footnote marks.
    """

    machine: str = ""
    connector: str
    half: str = ""
    cavity: str
    color_code: str = ""
    circuit: str = ""
    function: str = ""
    size: str = ""
    base_color: str = ""
    stripe_color: str = ""
    ring_color: str = ""
    size_mm2: float | None = None
    status: Status = "used"
    option: str = ""
    goes_to: str = ""
    role: Role = "unknown"
    component: str = ""
    connector_name: str = ""
    harness: str = ""
    document: str
    page: int
    page_label: str = ""
    table_no: int = 1
    row_no: int = 1
    x0: float = 0.0
    top: float = 0.0
    x1: float = 0.0
    bottom: float = 0.0
    flags: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()

    @property
    def box(self) -> Box:
        """Where the row stands on its page."""
        return Box(x0=self.x0, top=self.top, x1=self.x1, bottom=self.bottom)


#: Columns of the normalised table, in their fixed order.
COLUMNS: tuple[str, ...] = tuple(f.name for f in fields(Pin))
