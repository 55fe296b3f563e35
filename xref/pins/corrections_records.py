"""What the person decided, as records: rows accepted or corrected, connectors set, tables put aside.

A decision is never changed; a later one is laid over it, and one that is undone is no longer handed out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from xref.records import Box, Pin

#: Fields by which a row of a changed document is found again; "cavity" stands in the key as well.
TEXT_FIELDS = (
    *("connector", "half", "cavity", "circuit", "color_code", "function", "size", "status", "option"),
    "goes_to",
)
#: Fields of a row the person may correct.
CORRECTABLE = (
    *("connector", "half", "cavity", "color_code", "circuit", "function", "size", "status", "option"),
    *("goes_to", "component"),
)
#: Fields of a connector the person may set; `connector` is its name as printed.
SETTABLE = ("connector", "half", "role", "component", "connector_name", "harness")

#: What the person says a circuit such as 31 is; "" where nothing was said.
CircuitIs = Literal["", "number", "potential"]
Changes = tuple[tuple[str, str], ...]  #: (field, what the person says stands there)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAsRead:
    """A row as it was read when the person decided about it: where it stood, and its texts."""

    sha256: str
    document: str
    machine: str
    page: int
    x0: float
    top: float
    x1: float
    bottom: float
    wire: int = 1  #: which of the rows of this box and cavity, from 1
    connector: str = ""
    half: str = ""
    cavity: str = ""
    circuit: str = ""
    color_code: str = ""
    function: str = ""
    size: str = ""
    status: str = "used"
    option: str = ""
    goes_to: str = ""

    @property
    def box(self) -> Box:
        """Where the row stood on its page."""
        return Box(x0=self.x0, top=self.top, x1=self.x1, bottom=self.bottom)

    @property
    def texts(self) -> tuple[str, ...]:
        """What is compared when the document has changed."""
        return tuple(str(getattr(self, name)) for name in TEXT_FIELDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A table (or a whole page) as it was read when the person decided about it."""

    sha256: str
    document: str
    machine: str
    page: int
    x0: float
    top: float
    x1: float
    bottom: float
    rows: tuple[str, ...] = ()  #: one text per row, to know the table again in a changed document

    @property
    def box(self) -> Box:
        """The part of the page it covers."""
        return Box(x0=self.x0, top=self.top, x1=self.x1, bottom=self.bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowDecision:
    """The person corrected a row, accepted it, said what its circuit is, or several of these.

    `shown` is what was accepted.
    """

    id: int
    at: str  #: UTC, `2026-11-25T14:03Z`
    row: RowAsRead
    changes: Changes = ()
    accepted: bool = False
    circuit_is: CircuitIs = ""
    shown: tuple[str, ...] = ()  #: the row's texts when it was accepted, in the order of TEXT_FIELDS


@dataclass(frozen=True, slots=True, kw_only=True)
class PutAside:
    """The person says that a table is no pinout."""

    id: int
    at: str
    region: Region


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadDecision:
    """The person set what a connector (half) is: everywhere in its machine, or in one table only."""

    id: int
    at: str
    machine: str
    connector: str
    half: str
    changes: Changes
    region: Region | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MateDecision:
    """The person says that two connectors (halves) are plugged together, cavity n to cavity n."""

    id: int
    at: str
    machine: str
    connector_a: str
    half_a: str
    connector_b: str
    half_b: str


Decision = RowDecision | PutAside | HeadDecision


def texts_of(pin: Pin) -> tuple[str, ...]:
    """Return the texts of a pin by which it is found again."""
    return tuple(str(getattr(pin, name)) for name in TEXT_FIELDS)


def wires_of(pins: Iterable[Pin]) -> list[int]:
    """Number the rows of one box and cavity, in printed order: two wires, both halves, both ends."""
    seen: Counter[tuple[object, ...]] = Counter()
    numbers = []
    for pin in pins:
        key = (pin.page, pin.box, pin.cavity)
        seen[key] += 1
        numbers.append(seen[key])
    return numbers


def row_as_read(pin: Pin, sha256: str, wire: int) -> RowAsRead:
    """Return the record by which a decision about this row is kept."""
    return RowAsRead(
        sha256=sha256,
        document=pin.document,
        machine=pin.machine,
        page=pin.page,
        x0=pin.x0,
        top=pin.top,
        x1=pin.x1,
        bottom=pin.bottom,
        wire=wire,
        **dict(zip(TEXT_FIELDS, texts_of(pin), strict=True)),
    )


def region_of(pins: Sequence[Pin], sha256: str) -> Region:
    """Return the region that rows of one table (there must be one at least) cover."""
    box = pins[0].box
    for pin in pins[1:]:
        box = box.union(pin.box)
    first = pins[0]
    return Region(
        sha256=sha256,
        document=first.document,
        machine=first.machine,
        page=first.page,
        x0=box.x0,
        top=box.top,
        x1=box.x1,
        bottom=box.bottom,
        rows=tuple(row_line(pin) for pin in pins),
    )


def row_line(pin: Pin) -> str:
    """Return the texts of a row as one line, without its connector's name."""
    return "|".join((pin.cavity, pin.circuit, pin.color_code, pin.function, pin.size))
