"""The lines of a plan as work on wire ends, in the order of work, each with its steps."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from xref.moves.records import Cut, Join, Plan
from xref.moves.worklist import LIVE_WORDS
from xref.records import Pin
from xref.store.work_progress import Kind, LineKey, MarkEnd, Step

#: The steps of each kind of line in the order of work, and the one that makes it done.
STEPS: dict[Kind, tuple[Step, ...]] = {
    "cut": ("labelled", "metered", "cut"),
    "join": ("labelled", "joined", "metered"),
    "cap": ("capped",),
}
LAST: dict[Kind, Step] = {"cut": "cut", "join": "joined", "cap": "capped"}
#: In the order in which they are counted.
ALL_STEPS: tuple[Step, ...] = ("labelled", "metered", "cut", "joined", "capped")

#: Wires a joint joins at least.
_LEAST_JOINED = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A cut, joint or cap of a plan, as work on wire ends."""

    id: str
    kind: Kind
    net: int
    circuit: str
    pin: Pin  #: of the cut it is worked at
    ends: tuple[MarkEnd, ...]
    cuts: tuple[str, ...]  #: ids of the cuts that must be cut first; of a cut none
    steps: tuple[Step, ...]
    what: str  #: where it is cut, what is joined where, which stub is capped
    said: Mapping[str, str] = field(default_factory=dict)  #: what a mark of a step holds against
    twins: int = 1  #: wires of this circuit in this cavity that nothing tells apart
    to_nothing: bool = False  #: a joint of one stub with nothing: no wire is whole by it

    @property
    def key(self) -> LineKey:
        """What it is known by."""
        return (self.kind, frozenset(end.key for end in self.ends))


def lines_of_plan(plan: Plan) -> tuple[Line, ...]:
    """Return the lines in the order of work: plug by plug its cuts, then what they make possible."""
    cuts = {cut.id: cut for cut in plan.cuts}
    twins = Counter(cut.id for cut in plan.cuts)
    rank = {id_: n for n, id_ in enumerate(cuts)}
    after: dict[str, list[Line]] = defaultdict(list)
    for cap in plan.caps:
        cut = cuts[cap.cut]
        stub = MarkEnd(**_end(cut), side=cap.side)
        what = f"the stub on the {'cavity' if cap.side == 'plug' else 'loom'}: {LIVE_WORDS[cap.live]}"
        after[cap.cut].append(_line(cap.id, "cap", cut, (stub,), (cap.cut,), what, {}))
    for join in plan.joins:
        last = max(join.cuts, key=lambda id_: rank[id_])
        after[last].append(_join_line(join, cuts, last))
    found: list[Line] = []
    plugs: dict[tuple[str, str], list[Cut]] = defaultdict(list)
    for cut in cuts.values():
        plugs[cut.pin.connector, cut.pin.half].append(cut)
    for own in plugs.values():
        for cut in own:
            said = {"labelled": " | ".join(cut.labels)}
            ends = (MarkEnd(**_end(cut)),)
            found.append(_line(cut.id, "cut", cut, ends, (), cut.where, said, twins[cut.id]))
        found += (line for cut in own for line in after[cut.id])
    return tuple(found)


def _end(cut: Cut) -> dict[str, str]:
    pin = cut.pin
    return {
        "connector": pin.connector,
        "half": pin.half,
        "cavity": pin.cavity,
        "circuit": cut.wire or cut.circuit,
    }


def _line(
    id_: str,
    kind: Kind,
    cut: Cut,
    ends: tuple[MarkEnd, ...],
    cuts: tuple[str, ...],
    what: str,
    said: Mapping[str, str],
    twins: int = 1,
) -> Line:
    steps = tuple(step for step in STEPS[kind] if step != "labelled" or said.get(step))
    return Line(
        id=id_,
        kind=kind,
        net=cut.net,
        circuit=cut.circuit,
        pin=cut.pin,
        ends=ends,
        cuts=cuts,
        steps=steps,
        what=what,
        said=said,
        twins=twins,
    )


def _join_line(join: Join, cuts: Mapping[str, Cut], last: str) -> Line:
    ends = tuple(MarkEnd(**_end(cuts[cut]), side=side) for cut, side in join.stubs)
    where = " · ".join(filter(None, (join.place, join.host)))
    stubs = ", ".join(f"{cut} {side}" for cut, side in join.stubs)
    said = {"joined": where, "labelled": " | ".join(join.labels)}
    line = _line(join.id, "join", cuts[last], ends, join.cuts, f"{where}: {stubs}", said)
    # one stub of wires that were cut together are several, which are joined with each other
    wires = sum(cuts[cut].wires for cut, _ in join.stubs)
    return replace(line, to_nothing=wires < _LEAST_JOINED and not join.host)
