"""What is kept together in a move, as frozen records: bus pairs, and the feeds and grounds of modules."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from xref.records import Pin

#: What becomes of a feed or ground of a moved module.
After = Literal["crosses", "travels", "stays", "host", "open", "refused"]
#: Where a module is on a bus.
Part = Literal["trunk", "stub", "not stated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trunk:
    """The modules of a bus in the order the documents state, from one end of its trunk to the other."""

    modules: tuple[str, ...]  #: in no order where it is not stated
    stubs: tuple[str, ...] = ()  #: modules beside the trunk
    ends: tuple[str, ...] = ()  #: two, or none where not stated
    stated: bool = False  #: whether the order of `modules` is
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminator:
    """A terminator the documents name."""

    name: str
    places: tuple[str, ...]  #: where it will be: one place, or several where the plan parts its connectors
    moves: bool
    lives: bool
    at_end_before: bool | None  #: None: not stated
    at_end_after: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Longer:
    """A module whose way to the bus grows, and by how much of each wire."""

    module: str
    part: Part
    metres: float | None  #: None: the route is not given


@dataclass(frozen=True, slots=True, kw_only=True)
class BusPair:
    """The two wires of a bus, before and after the move."""

    name: str
    family: str  #: `CAN`, `LIN` …, "" where not named
    high: int  #: net
    low: int
    rule: str  #: "" where the rule of two terminators holds, else why it does not
    same: bool  #: both wires have one fate and the same places
    fates: tuple[str, str]
    trunk: Trunk
    terminators: tuple[Terminator, ...] = ()
    gone: tuple[str, ...] = ()  #: modules that come along nowhere
    leaving: tuple[str, ...] = ()  #: modules that leave while something of the bus stays elsewhere
    through: tuple[str, ...] = ()  #: those of them with two cavities of each wire
    circuits: tuple[str, ...] = ()  #: one of each wire, as `[bridge]` names it
    bridged: bool = False  #: modules that go pass both wires on inside, and these are joined past them
    told: bool = False  #: the plan names both wires as passed on inside
    longer: tuple[Longer, ...] = ()
    ohms_before: float | None = None  #: of the known terminators alone; None: none is known
    ohms_after: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyLine:
    """One feed or ground of a moved module."""

    net: int
    pin: Pin
    kind: Literal["feed", "ground"]
    ground: str  #: `power`, `signal`, `shield` or `case`; "" where not stated, and of feeds
    before: str  #: fuse with its rating as printed, or stud; "" where the documents name none
    after: After
    answer: str = ""  #: what the new vehicle gives
    parallel: tuple[str, ...] = ()  #: cavities of the module on the same net or the same fuse


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleSupplies:
    """All feeds and grounds of one moved module."""

    module: str
    lines: tuple[SupplyLine, ...]

    def count(self, kind: str, *, after: bool = False) -> int:
        """Return how many feeds or grounds it has, or will have by what the plan says so far."""
        kept = ("crosses", "travels", "stays", "host")
        return sum(line.kind == kind and (not after or line.after in kept) for line in self.lines)
