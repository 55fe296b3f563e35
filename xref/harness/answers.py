"""What a look-up answers, as frozen records. `to_json` of each is in `json_answers.py`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from xref.harness.routes import Route
from xref.harness.steps import Step
from xref.records import Connector, PageNote, Pin


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A circuit or name that resembles the asked one, and in which way."""

    name: str
    why: str
    machine: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outdated:
    """A document whose file is gone or was changed since its rows were read."""

    machine: str
    document: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PassThrough:
    """An in-line cavity a circuit goes through: the pins of both halves as far as they were read."""

    machine: str
    connector: str
    halves: tuple[Pin, ...]
    missing_half: bool = False  #: only one half is known
    likely: str = ""  #: a sentence: which the other may be, where only likeness says so


@dataclass(frozen=True, slots=True, kw_only=True)
class Continuation:
    """Beyond an in-line cavity, or on another leg of a splice, the circuit has another number."""

    circuit: str
    at: Pin  #: the pin that carries the asked circuit there


@dataclass(frozen=True, slots=True, kw_only=True)
class NetView:
    """A net as a person follows it: its ends, and its wires as a tree of steps."""

    net: int
    machine: str
    flags: tuple[str, ...]  #: names of NET_FLAGS
    ends: tuple[Pin, ...]  #: one row of each cavity that is no in-line's and no splice's
    tops: tuple[Step, ...]  #: more than one: how its parts are joined is not stated
    order: Literal["stated", "not stated"]
    missing: tuple[str, ...] = ()  #: sentences
    notices: tuple[str, ...] = ()  #: sentences


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitAnswer:
    """Where a circuit appears, grouped. Every appearance stands in exactly one of the groups."""

    circuit: str
    appearances: tuple[Pin, ...]
    ends: tuple[Pin, ...] = ()
    pass_throughs: tuple[PassThrough, ...] = ()
    splices: tuple[Pin, ...] = ()
    grounds: tuple[Pin, ...] = ()
    fuses: tuple[Pin, ...] = ()
    continues_as: tuple[Continuation, ...] = ()
    nets: tuple[NetView, ...] = ()  #: the nets of what was asked for
    near: tuple[Near, ...] = ()
    notices: tuple[str, ...] = ()  #: sentences
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorView:
    """One connector (half) with its pins and what was found odd in it."""

    connector: Connector
    pins: tuple[Pin, ...]  #: a row that several documents print alike stands once
    repeats: tuple[Pin, ...] = ()  #: rows left out of `pins`, which another document prints alike
    documents: tuple[tuple[str, tuple[int, ...]], ...] = ()  #: where it is printed: document and its pages
    missing: tuple[str, ...] = ()  #: cavities of the stated sequence that were not read
    same_color: tuple[tuple[str, ...], ...] = ()  #: groups of cavities whose wires have the same colours
    reversed_color: tuple[tuple[str, str], ...] = ()  #: pairs of cavities with base and stripe exchanged

    @property
    def rows(self) -> tuple[Pin, ...]:
        """Every row that prints one of its cavities."""
        return self.pins + self.repeats


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorAnswer:
    """Connectors a name stands for."""

    name: str
    connectors: tuple[ConnectorView, ...]
    near: tuple[Near, ...] = ()
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One row found by free text, with its rank score (higher is better)."""

    pin: Pin
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FindAnswer:
    """Rows found by free text."""

    text: str
    hits: tuple[Hit, ...]
    near: tuple[Near, ...] = ()  #: "did you mean"
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceAnswer:
    """The ways from one cavity, connector or circuit to another."""

    start: str
    end: str
    paths: tuple[Route, ...]
    missing: tuple[str, ...] = ()  #: sentences: what of these nets is not in the documents
    notices: tuple[str, ...] = ()  #: sentences
    near: tuple[Near, ...] = ()
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NetAnswer:
    """One net: its number in the index, names of NET_FLAGS, and every row that is part of it."""

    net: int
    flags: tuple[str, ...]
    pins: tuple[Pin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbor:
    """A component (ground stud, fuse holder) that a module's circuits reach."""

    machine: str
    component: str  #: the connector's name where no component is known
    role: str
    connectors: tuple[str, ...]  #: its connectors that are reached
    circuits: tuple[str, ...]  #: by which, as printed at the module; "" for wires without one
    count: int  #: nets that reach it
    through: tuple[str, ...]  #: in-lines on the way
    only: bool  #: talks to nothing but this module and others that talk only to it
    doubtful: bool  #: a row of these nets may have been misread


@dataclass(frozen=True, slots=True, kw_only=True)
class InlineCavity:
    """One cavity of an in-line: the rows of both halves, and names of MATE_DIFFERENCES."""

    cavity: str
    one: tuple[Pin, ...]
    other: tuple[Pin, ...]
    differences: tuple[str, ...] = ()

    @property
    def use(self) -> Literal["both", "one", "nothing"]:
        """Whether it carries a wire on both halves, on one only, or on none."""
        sides = [any(carries_wire(pin) for pin in side) for side in (self.one, self.other)]
        return "both" if all(sides) else "one" if any(sides) else "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class InlineView:
    """One in-line with what it carries and joins; one half only where the other was not found."""

    machine: str
    halves: tuple[Connector, ...]
    how: str  #: evidence that the halves belong together, "" for one half alone
    cavities: tuple[InlineCavity, ...]
    components: tuple[tuple[str, int], ...]  #: reached by its circuits, with the number of nets
    differences: tuple[str, ...] = ()  #: sentences about the whole of it
    likely: str = ""  #: of one half alone, a sentence: which the other may be
    doubtful: bool = False

    @property
    def names(self) -> str:
        """The designator, or both where the halves have two: `C11 / D7`."""
        return " / ".join(dict.fromkeys(half.connector for half in self.halves))

    def count(self, use: str) -> int:
        """Return how many cavities are used so: `both`, `one` or `nothing`."""
        return sum(cavity.use == use for cavity in self.cavities)

    @property
    def both(self) -> int:
        """How many cavities carry something on both halves."""
        return self.count("both")


@dataclass(frozen=True, slots=True, kw_only=True)
class InlineAnswer:
    """The in-lines of a machine, or those a name stands for."""

    name: str
    inlines: tuple[InlineView, ...]
    near: tuple[Near, ...] = ()
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()


def carries_wire(pin: Pin) -> bool:
    """Say whether a row puts a wire into its cavity, as far as it says what wire."""
    return pin.status != "unused" and bool(pin.circuit or pin.color_code)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One cavity of the module that moves, with everything the sheet prints about it."""

    pin: Pin
    rows: tuple[Pin, ...] = ()  #: every row that prints this pin, where several do
    others: CircuitAnswer | None  #: the rest of the circuit; None for an unused or unnumbered cavity
    feeding: tuple[Pin, ...] = ()  #: fuse pins on this circuit, rating in `function` or `size` as printed


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """One connector of the module on its sheet."""

    view: ConnectorView
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleSheet:
    """The cross-reference sheet of a module (one or several components or connectors asked for)."""

    asked: tuple[str, ...]
    parts: tuple[SheetPart, ...]
    taken: tuple[tuple[str, str], ...]  #: (connector, why it was taken as this module)
    not_taken: tuple[Near, ...]  #: near names that were not taken, each with why
    neighbors: tuple[Neighbor, ...] = ()  #: what the module is wired to
    unread_pages: tuple[PageNote, ...] = ()
    outdated: tuple[Outdated, ...] = ()
