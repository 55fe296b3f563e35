"""What `xref plan todo` and `xref plan done` share: the plan worked out, and progress in words."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from xref.cli.text import counted, listed

if TYPE_CHECKING:
    from xref.moves.progress import Progress
    from xref.moves.records import Plan
    from xref.store.work_progress import Mark, MarkEnd
    from xref.workspace import Workspace


#: The steps as they are said before they are done; typed so, they are meant the same.
STEP_WORDS: dict[str, str] = {
    "": "",
    "labelled": "label",
    "metered": "meter",
    "cut": "cut",
    "joined": "join",
    "capped": "cap",
}

#: Open wires named in one line.
_MOST_NAMED = 12


def worked_plan(workspace: Workspace, file: Path) -> Plan:
    """Read a plan file and work it out. Raises PlanError."""
    from xref.moves.plan_file import read_plan
    from xref.moves.work_out import work_out
    from xref.store.index import Index

    said = read_plan(file)
    with Index.open(workspace) as index:
        return work_out(index, said)


def open_words(progress: Progress) -> str:
    """Say whether the machine is whole, and which wires lie open if it is not."""
    if progress.whole:
        return "No wire lies open: the machine is whole now."
    names = list(progress.open)
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    verb = "wire lies" if len(names) == 1 else "wires lie"
    return f"NOT WHOLE: {len(names):,} {verb} open: {', '.join(names[:_MOST_NAMED])}{more}."


def done_words(mark: Mark) -> str:
    """Return a mark without its id and time: `metered 0.3 ohm · 2312 B16:3 · note`."""
    return " · ".join(filter(None, (f"{mark.step} {mark.value}".strip(), places_words(mark), mark.note)))


def places_words(mark: Mark) -> str:
    """Return the circuits and wire ends of a mark: `2312 B16:3`."""
    circuits = listed(list(dict.fromkeys(end.circuit for end in mark.ends if end.circuit)))
    return f"{circuits} {', '.join(dict.fromkeys(end_words(end) for end in mark.ends))}".strip()


def end_words(end: MarkEnd) -> str:
    """Return a wire end: `X5:12 half A`."""
    half = f" half {end.half}" if end.half else ""
    return f"{end.connector}:{end.cavity}{half}"


def time_words(at: str) -> str:
    """Return a time as people read it: `2026-03-01 14:05:09 UTC`."""
    return at.replace("T", " ").replace("Z", " UTC")


def lines_words(number: int) -> str:
    """Return `1 line`, `7 lines`."""
    return counted(number, "line")
