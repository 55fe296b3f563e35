"""The same move made one module at a time, each left working before the next: its cuts and joins."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from xref.harness.netmap import NetMap
from xref.moves.fates import Places
from xref.moves.lines import NetLines
from xref.moves.plan_file import PlanFile
from xref.moves.records import DROPPED, Inlines
from xref.moves.safety import Verdict
from xref.moves.wiregraph import WireGraph

if TYPE_CHECKING:
    from xref.moves.work_out import Worked


def counted_one_by_one(
    plan: PlanFile,
    maps: Mapping[int, NetMap],
    flags: Mapping[int, tuple[str, ...]],
    verdicts: Mapping[int, Verdict],
    graphs: dict[int, WireGraph],
    places: Places,
    worked: Worked,
) -> dict[str, int]:
    """Return the cuts and joins of the move made module by module, in the order of the plan file.

    After each module every line is made that the move so far needs. A wire end that was cut before is not
    cut again where it stays joined as it is; where a later module changes what it is joined to, the joint is
    cut off again, and made anew, or the wire is joined as it was. Never fewer than the plan's, since the last
    step's lines are the plan's.
    """
    from xref.moves.work_out import all_lines, planned

    cuts, joins = 0, 0
    made: dict[int, tuple[frozenset[object], frozenset[object]]] = {}
    dropped = {name: where for name, where in places.of.items() if where == DROPPED}
    so_far: dict[str, str] = dict(dropped)
    steps = _steps(places)
    at: dict[str, set[int]] = defaultdict(set)  #: connector -> the nets that come to it
    for number in worked.lines:
        for place in maps[number].stops:
            at[place[0]].add(number)
    for connector in dropped:  # what is dropped is gone from the first step on
        steps[0].setdefault(connector, DROPPED)
    for step, last in zip(steps, (*[False] * (len(steps) - 1), True), strict=True):
        so_far |= step
        # only these change with this step; with the last one the in-lines go, which changes any
        touched = worked.lines.keys() if last else {n for connector in step for n in at[connector]}
        if last:
            lines = worked.lines
        else:
            here = replace(places, of=dict(so_far))
            nets = {
                n: planned("", n, maps[n], flags[n], verdicts[n], here, graphs[n]) for n in sorted(touched)
            }
            lines = all_lines(plan, nets, graphs, Inlines(fitted=worked.fitted))
        for net in touched:
            found = lines.get(net, NetLines())
            cut, joined = made.get(net, (frozenset(), frozenset()))
            now_cut: frozenset[object] = frozenset(found.cuts)
            now_joined: frozenset[object] = frozenset((j.stubs, j.between, j.host) for j in found.joins)
            cuts += len(now_cut - cut) + len(joined - now_joined)
            joins += len(now_joined - joined) + len(cut - now_cut)
            made[net] = (now_cut, now_joined)
    return {"cuts": cuts, "joins": joins}


def _steps(places: Places) -> list[dict[str, str]]:
    """Return the connectors each step moves: those of one line of the plan that go to one place together."""
    steps: dict[object, dict[str, str]] = {}
    for connector, where in places.of.items():
        if where != DROPPED:
            steps.setdefault(places.line.get(connector, connector), {})[connector] = where
    return list(steps.values()) or [{}]
