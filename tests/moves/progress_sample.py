"""A small invented harness and the plan of a move, for the tests of the work that is done by it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.moves.plan_file import parse_plan
from xref.moves.progress_lines import Line, lines_of_plan
from xref.moves.records import Plan
from xref.moves.work_out import work_out
from xref.records import Pin
from xref.store.index import Index
from xref.store.work_progress import Mark, Step
from xref.workspace import Workspace

#: The controller moves, the horn goes: 100 and 200 cross, 300 ends, 400 is nobody's to cut before it is read.
PLAN = """
[place]
"Lift controller" = "locker"
[drop]
components = ["Horn"]
"""


def pins() -> list[Pin]:
    """Make the harness: a controller with a sensor, a horn with its switch, and a brake light switch."""
    controller = {"component": "Lift controller", "role": "component"}
    horn = {"component": "Horn", "role": "component"}
    return [
        pin("A1", "1", "100", row_no=1, function="Height signal", **controller),
        pin("A1", "2", "200", row_no=2, function="Height supply", **controller),
        pin("A1", "4", "400", row_no=3, function="Brake light switch", **controller),
        pin("B1", "1", "100", row_no=4, function="Height signal", component="Sensor", role="component"),
        pin("B1", "02", "200", row_no=5, function="Height supply", component="Sensor", role="component"),
        pin("S9", "1", "400", row_no=6, function="Brake light switch", component="Switch", role="component"),
        pin("H1", "1", "300", row_no=7, function="Horn", **horn),
        pin("S4", "1", "300", row_no=8, function="Horn", component="Button", role="component"),
    ]


def workspace(folder: Path, rows: Iterable[Pin] | None = None) -> Workspace:
    """Put the harness into the index of a folder."""
    return filled(folder, *(pins() if rows is None else rows))


def worked(folder: Path, text: str = PLAN) -> Plan:
    """Work a plan out from the index of a folder."""
    with Index.open(Workspace(folder)) as index:
        return work_out(index, parse_plan(text, "plan.toml"))


def line_of(plan: Plan, circuit: str, kind: str = "cut") -> Line:
    """Return the line of a circuit."""
    (found,) = (line for line in lines_of_plan(plan) if (line.circuit, line.kind) == (circuit, kind))
    return found


def marked(
    plan: Plan, circuit: str, *steps: Step, kind: str = "cut", first: int = 1, value: str = ""
) -> list[Mark]:
    """Make the marks of steps that were done at a line, numbered from `first`."""
    line = line_of(plan, circuit, kind)
    return [
        Mark(
            id=first + n,
            at="2026-01-01T00:00:00Z",
            machine=plan.machine,
            kind=line.kind,
            line=line.id,
            step=step,
            ends=line.ends,
            value=value if step == "metered" else "",
            said=line.said.get(step, ""),
        )
        for n, step in enumerate(steps)
    ]
