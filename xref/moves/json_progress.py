"""Progress as JSON objects for programs, and as the rows of the as-built record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set

from xref.harness.json_answers import JsonObject, pin_to_json
from xref.moves.progress import LineState, NoLongerAsked, Progress
from xref.store.work_progress import LineKey, Mark

#: The as-built record: a row per mark and wire end.
COLUMNS: tuple[str, ...] = (
    *("line", "kind", "machine", "connector", "half", "cavity", "side", "circuit"),
    *("step", "value", "at", "note", "done_although", "as_planned", "in_plan", "plan", "undone_at"),
)


def progress_to_json(progress: Progress, *, every: bool = False) -> JsonObject:
    """Return the object `xref plan todo --json` writes; `every`: lines that are done too."""
    lines = progress.lines if every else progress.left
    return {
        "plan": progress.plan,
        "machine": progress.machine,
        "left": len(progress.left),
        "lines": [_line(state) for state in lines],
        "counts": {step: {"done": done, "left": left} for step, (done, left) in progress.counts.items()},
        "whole": progress.whole,
        "open": list(progress.open),
        "stop_points": [
            {
                "connectors": list(stop.connectors),
                "lines": list(stop.lines),
                "left": stop.left,
                "open": list(stop.open),
                "reached": stop.reached,
            }
            for stop in progress.stops
        ],
        "crossing": [
            {
                "net": item.net,
                "name": item.name,
                "places": list(item.places),
                "joined": item.joined,
                "of": item.of,
                "why": item.why,
            }
            for item in progress.crossing
        ],
        "no_longer_asked": [_gone(item) for item in progress.no_longer_asked],
    }


def mark_to_json(mark: Mark) -> JsonObject:
    """Return a mark for programs."""
    return {
        "mark": mark.id,
        "at": mark.at,
        "line": mark.line,
        "kind": mark.kind,
        "step": mark.step,
        "value": mark.value,
        "note": mark.note,
        "as_planned": mark.said,
        "done_although": mark.anyway,
        "ends": [
            {
                "machine": mark.machine,
                "connector": end.connector,
                "half": end.half,
                "cavity": end.cavity,
                "circuit": end.circuit,
                "side": end.side,
            }
            for end in mark.ends
        ],
        "plan": mark.plan,
        "undone_at": mark.undone_at,
    }


def record_rows(marks: Iterable[Mark], asked: Set[LineKey]) -> Iterator[dict[str, str]]:
    """Return the as-built record, a row per mark and wire end; `asked` are the lines of the plan now."""
    for mark in marks:
        for end in mark.ends:
            yield {
                "line": mark.line,
                "kind": mark.kind,
                "machine": mark.machine,
                "connector": end.connector,
                "half": end.half,
                "cavity": end.cavity,
                "side": end.side,
                "circuit": end.circuit,
                "step": mark.step,
                "value": mark.value,
                "at": mark.at,
                "note": mark.note,
                "done_although": mark.anyway,
                "as_planned": mark.said,
                "in_plan": "yes" if mark.key in asked else "no",
                "plan": mark.plan,
                "undone_at": mark.undone_at,
            }


def _line(state: LineState) -> JsonObject:
    line = state.line
    return {
        "id": line.id,
        "kind": line.kind,
        "net": line.net,
        "circuit": line.circuit,
        **pin_to_json(line.pin),
        "what": line.what,
        "next": state.next,
        "left": list(state.left),
        "waits_for": list(state.waits_for),
        "remarks": list(state.remarks),
        "marks": [mark_to_json(mark) for mark in state.marks],
    }


def _gone(item: NoLongerAsked) -> JsonObject:
    return {
        "line": item.line,
        "kind": item.kind,
        "steps": list(item.steps),
        "open": item.open,
        "lines_here": list(item.here),
        "marks": [mark_to_json(mark) for mark in item.marks],
    }
