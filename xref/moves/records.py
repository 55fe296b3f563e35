"""What a plan says, as frozen records. `json_plan.py` writes them for programs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from xref.harness.netmap import NetMap, Place
from xref.moves.kept_records import BusPair, ModuleSupplies
from xref.records import Pin

Fate = Literal["unknown", "needs host", "dies", "stays", "travels", "crosses"]

#: Places that no plan names: where an end stays when nothing moves it, and what is no place any more.
AS_FITTED = "as fitted"
DROPPED = "dropped"
LEFT_BEHIND = "left behind"
GONE = frozenset({DROPPED, LEFT_BEHIND})

#: Which of the two stubs of a cut: the one on the cavity the cut is named by, or the one on the loom.
Side = Literal["plug", "loom"]


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """A cavity a net ends in, and where it will be."""

    place: Place
    pin: Pin
    where: str  #: a place of the plan, AS_FITTED, DROPPED or LEFT_BEHIND

    @property
    def lives(self) -> bool:
        """Whether it has a place or stays as fitted."""
        return self.where not in GONE

    @property
    def moved(self) -> bool:
        """Whether the plan gives it a place."""
        return self.lives and self.where != AS_FITTED


@dataclass(frozen=True, slots=True, kw_only=True)
class SpliceChoice:
    """Crossings of a net when its splices move, stay, or are doubled; None where that is not possible."""

    moves: int | None
    stays: int | None
    doubled: int | None
    chosen: Literal["moves", "stays", "doubled"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedNet:
    """A net and what happens to it."""

    number: int
    machine: str
    circuits: tuple[str, ...]
    net: NetMap  #: only its stops where the plan names none of its connectors
    flags: tuple[str, ...]  #: names of NET_FLAGS
    ends: tuple[End, ...]
    fate: Fate
    reason: str
    crossings: int = 0
    at_least: bool = False  #: an unseen splice: there may be more crossings than counted
    splice: SpliceChoice | None = None
    refused: str = ""  #: why no line is proposed for it, ever
    review: tuple[str, ...] = ()  #: kinds of safety circuit it may be part of
    accepted: bool = True  #: no kind of safety circuit, or the person has read it

    @property
    def rows(self) -> tuple[Pin, ...]:
        """Every row that prints a cavity of it."""
        return self.net.rows

    @property
    def living(self) -> tuple[End, ...]:
        """The ends that live."""
        return tuple(end for end in self.ends if end.lives)

    @property
    def places(self) -> tuple[str, ...]:
        """The places of its living ends, each once."""
        return tuple(dict.fromkeys(end.where for end in self.living))

    def is_source(self, end: End) -> bool:
        """Whether an end is a fuse or a ground stud."""
        stop = self.net.stops[end.place]
        return stop.fuses or stop.role == "ground"

    @property
    def lost_source(self) -> bool:
        """Whether all fuses or all grounds it had are gone, while some end of it lives."""
        stops = self.net.stops
        fuses = [end for end in self.ends if stops[end.place].fuses]
        grounds = [end for end in self.ends if stops[end.place].role == "ground"]
        return any(own and self.living and not any(end.lives for end in own) for own in (fuses, grounds))

    @property
    def touched(self) -> bool:
        """Whether the plan moves or drops one of its ends."""
        return any(end.moved or end.where == DROPPED for end in self.ends)

    @property
    def name(self) -> str:
        """How a person calls it: its circuits, or a cavity of it."""
        if self.circuits:
            return ", ".join(self.circuits)
        stop = next(iter(self.net.stops.values()))
        return f"{stop.pins[0].connector}:{stop.pins[0].cavity}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One place on one wire: at the tail of the cavity named, or just before a half or splice leg."""

    id: str
    net: int
    circuit: str
    wire: str = ""  #: what tells it from others in its cavity: its circuit, and where it leads if need be
    pin: Pin
    to: Pin | None  #: where the wire's other end is; None where the documents do not say
    wires: int  #: cut together: two of one circuit in one cavity, where nobody says which leads where
    where: str  #: in words, where on the wire
    labels: tuple[str, str]  #: of the stub on the cavity, and of the one on the loom
    then: Literal["join", "cap"]
    checks_before: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A wire that is needed."""

    size_mm2: float | None
    color: str  #: the code as printed
    length_m: float | None  #: None where a route was not given
    base_color: str = ""
    stripe_color: str = ""
    ring_color: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Stubs that are joined with each other; with an extension between two places where `wire` is given."""

    id: str
    net: int
    cuts: tuple[str, ...]
    stubs: tuple[tuple[str, Side], ...]
    at: tuple[str, ...]  #: the place of each stub: of an extension it says which end of it the stub is on
    place: str  #: where the joint is made; of an extension "one – other"
    wire: Wire | None
    labels: tuple[str, ...]
    host: str = ""  #: what of the new vehicle it is joined to


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """A stub that ends in nothing any more and is insulated."""

    id: str
    net: int
    cut: str
    side: Side
    live: bool | None  #: None: not known


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """The short way between two moved ends that used to go a long way round."""

    net: int
    start: Pin
    end: Pin
    old_m: float | None = None
    new_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InlineFate:
    """Whether an in-line is needed after the move."""

    connector: str
    fate: Literal["goes", "stays"]
    border: bool
    cavities_used_after: int
    because: str
    held: tuple[str, ...] = ()  #: its cavities that carry what must stay
    free: tuple[str, ...] = ()  #: what would free it, where few cavities hold it
    rejoined: int = 0  #: wires cut out of it and joined again in one place, only since it goes


@dataclass(frozen=True, slots=True, kw_only=True)
class Inlines:
    """The in-lines by what becomes of them, as connectors."""

    going: frozenset[str] = frozenset()
    #: they stay where they are: no crossing wire comes along through them
    fitted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A net no line is proposed for."""

    net: int
    circuit: str
    pins: tuple[Pin, ...]
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HostNeed:
    """What a moved end, or a living net that lost its feed or ground, gets from the new vehicle."""

    net: int
    pin: Pin
    kind: Literal["feed", "ground", "signal", "unknown"]
    answer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What the documents or the plan leave open, and the command, key or page that settles it."""

    about: str
    text: str
    settle: str
    kind: str = ""  #: a key of QUESTION_KINDS, by which questions are grouped


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole move, worked out."""

    name: str
    machine: str
    nets: tuple[PlannedNet, ...]
    cuts: tuple[Cut, ...] = ()
    joins: tuple[Join, ...] = ()
    caps: tuple[Cap, ...] = ()
    links: tuple[Link, ...] = ()
    inlines: tuple[InlineFate, ...] = ()
    refused: tuple[Refused, ...] = ()
    host: tuple[HostNeed, ...] = ()
    buses: tuple[BusPair, ...] = ()
    supplies: tuple[ModuleSupplies, ...] = ()
    counts: dict[str, object] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
