"""What a plan says on paper, in plain words and in order, before any format lays it out."""

from __future__ import annotations

from dataclasses import dataclass

from xref.sheets.printed import Wire

#: A cell of a list: a text, or a wire whose colours are drawn.
ListCell = str | Wire

#: Steps that are ticked off at every cut, in the order they are done: no wire is cut before it was metered.
#: What is read after the joint stands on the sheet of readings.
PLAN_TICKS = ("labelled", "metered", "cut", "joined")

#: Column heads of a connector's cuts.
CUT_HEADS = (
    "Cavity",
    "Circuit",
    "Colour",
    "Cut it",
    "Meter first",
    "Labels: plug side, loom side",
    "Then: plug side, loom side",
    "Manual",
)
#: What stands beside the field a reading is written into.
READS = "reads"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedFigure:
    """One count, with that of the move made one module at a time, and how it was got."""

    title: str
    figure: str
    one_by_one: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCut:
    """One cut with all that is done at it."""

    id: str
    cavity: str
    circuit: str
    wire: Wire | None
    size: str
    does: str
    where: str
    meter: tuple[str, ...]
    labels: tuple[str, str]
    plug: str
    loom: str
    extensions: tuple[str, ...]
    source: str  #: letter of the document and page
    document: str
    page: str
    safety: str = ""  #: kinds of safety circuit the person has accepted


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStation:
    """A connector that is worked at."""

    name: str
    component: str
    going: str
    checks: tuple[str, ...]
    cuts: tuple[PrintedCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A list under a heading; `shares` are the widths of its columns, `ticks` boxes at the end of each line.

    A column whose head ends in "…" is left free to be written into.
    """

    kind: str
    title: str
    heads: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[ListCell, ...], ...]
    note: str = ""
    ticks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPlan:
    """The whole plan."""

    title: str
    machine: str
    documents: tuple[tuple[str, str], ...]  #: (letter, file name)
    cautions: tuple[str, ...]
    caution_short: str
    unread: tuple[str, ...]
    figures: tuple[PrintedFigure, ...]
    questions: tuple[
        tuple[str, tuple[tuple[str, str], ...]], ...
    ]  #: heading, then (question, what settles it)
    stations: tuple[PrintedStation, ...]
    listings: tuple[Listing, ...]
    nothing: str = ""  #: said where nothing is cut


#: Heads of the table of figures.
FIGURE_HEADS = ("What", "This plan", "One by one", "How it was got")
SUMMARY_TITLE = "Open"
QUESTIONS_TITLE = "Open: settle these before anything is cut"
UNREAD_TITLE = "Pages nobody could read: what stands there is not in this plan"
NO_QUESTIONS = "No question is open."
WORK_TITLE = "Work, connector by connector"


def letters_of(names: list[str]) -> dict[str, str]:
    """Give every document a letter, in the order of appearance (A … Z, A2 …)."""
    unique = list(dict.fromkeys(names))
    return {name: chr(65 + n % 26) + (str(n // 26 + 1) if n >= 26 else "") for n, name in enumerate(unique)}
