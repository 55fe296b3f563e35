"""What a module's sheet says, in plain words and in order, before any format lays it out."""

from __future__ import annotations

from dataclasses import dataclass

from xref.records import Pin


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A wire's colours: the code as printed, in words, and what is drawn ("" where there is none)."""

    code: str
    words: str
    base: str = ""  #: colours as "#rrggbb"
    stripe: str = ""
    ring: str = ""
    names: tuple[str, str, str] = ("", "", "")  #: base, stripe and ring in words


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place on a circuit: `at` is connector and cavity, `what` the component, `page` where it stands."""

    at: str
    what: str = ""
    page: str = ""

    def __str__(self) -> str:
        """Return the place on one line."""
        page = f"({self.page})" if self.page else ""
        return " ".join(part for part in (self.at, self.what, page) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedLine:
    """One line of the sheet: a cavity with one wire, an empty one, or one that was not read."""

    cavity: str
    circuit: str = ""
    wire: Wire | None = None
    function: str = ""
    size: str = ""
    ends: tuple[Place, ...] = ()
    ends_note: str = ""  #: stands where there are no ends
    through: tuple[str, ...] = ()
    fed_by: tuple[str, ...] = ()
    source: tuple[str, ...] = ()  #: letters of the documents with their pages
    places: tuple[tuple[str, str], ...] = ()  #: each document that prints it, with the page
    doubts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    empty: bool = False  #: no wire is to be expected here
    unread: bool = False  #: the cavity should exist, but no row of it was read
    pin: Pin | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPart:
    """One connector: its name, its head as pairs of label and text, its counts, warnings and lines."""

    name: str
    component: str
    head: tuple[tuple[str, str], ...]
    counts: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...]
    lines: tuple[PrintedLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedNeighbor:
    """A component the module is wired to, in words."""

    count: str  #: circuits that reach it
    name: str
    connectors: str
    through: str  #: in-lines on the way
    circuits: str
    mark: str  #: ONLY where it talks to nothing else; IN DOUBT where a row may have been misread


#: Title of the list of neighbours, its column heads, and what its marks mean.
NEIGHBORS_TITLE = "What it is wired to"
NEIGHBOR_HEADS = ("Circuits", "Component", "Connectors", "Through", "By circuit", "")
NEIGHBORS_NOTE = "ONLY: talks to nothing but this module and others so marked; think of moving them together."


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSheet:
    """The whole sheet."""

    title: str
    machine: str
    documents: tuple[tuple[str, str], ...]  #: (letter, file name)
    cautions: tuple[str, ...]
    caution_short: str
    taken: tuple[tuple[str, str], ...]
    not_taken: tuple[tuple[str, str], ...]
    unread: tuple[str, ...]
    parts: tuple[PrintedPart, ...]
    neighbors: tuple[PrintedNeighbor, ...] = ()


#: Notes that begin so are printed bold: read over, they lead to the wrong wire.
LOUD = ("SAME COLOURS", "COLOURS REVERSED", "TABLES DIFFER", "THE OPTION DECIDES")
#: Steps that are ticked off for every wire, in the order they are done.
TICKS = ("cut", "labelled", "joined", "tested")
#: Ruled lines left free per connector for wires found in the plug but not printed.
FREE_LINES = 4
FREE_TITLE = "Found in the plug, but not printed in the manual"
