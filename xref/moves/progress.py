"""What is left of a plan: its lines and the marks of what was done, put together. Changes nothing.

A line is known by its wire ends, so what was done stays with it when the plan changes; what was done and is
no longer in the plan is named, never dropped.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from xref.moves.progress_lines import ALL_STEPS, LAST, Line, lines_of_plan
from xref.moves.readings import is_open, why_no_continuity
from xref.moves.records import Plan, PlannedNet
from xref.store.work_progress import Kind, LineKey, Mark, Step

#: Zeros before a whole number.
_PADDING = re.compile(r"(?<![\d.,])0+(?=\d)")
#: Steps that are done anew when the plan says something else than it did then.
_HOLDS_WHILE_SAID = ("labelled", "joined")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineState:
    """A line and what was done at it."""

    line: Line
    marks: tuple[Mark, ...] = ()  #: those that hold, in the order they were made
    waits_for: tuple[str, ...] = ()  #: cuts that must be cut first and are not
    late: bool = False  #: it was cut without having been metered, which cannot be made good

    def last(self, step: Step) -> Mark | None:
        """Return the last mark of a step."""
        return next((mark for mark in reversed(self.marks) if mark.step == step), None)

    def was(self, step: Step) -> bool:
        """Whether a step was done, by what this or an earlier plan said."""
        return self.last(step) is not None

    def done(self, step: Step) -> bool:
        """Whether a step is done as the plan says now; of readings the last one counts."""
        mark = self.last(step)
        if mark is None:
            return False
        if step == "metered":
            return bool(self.readings) and not self.bad_reading
        return step not in _HOLDS_WHILE_SAID or _same(mark.said, self.line.said.get(step, ""))

    @property
    def readings(self) -> tuple[Mark, ...]:
        """The readings that prove something: of a cut those made before it, of a joint those after it."""
        metered = [mark for mark in self.marks if mark.step == "metered"]
        if self.line.kind == "cut":
            cut = next((mark for mark in self.marks if mark.step == "cut"), None)
            return tuple(mark for mark in metered if cut is None or mark.id < cut.id)
        joined = self.last("joined") if self.line.kind == "join" else None
        return tuple(mark for mark in metered if joined is None or mark.id > joined.id)

    @property
    def bad_reading(self) -> str:
        """The last reading with what it shows instead of continuity; "" where it shows that, or none is told.

        A mark that says no more than that it was metered takes no reading back.
        """
        value = next((mark.value for mark in reversed(self.readings) if mark.value), "")
        if self.line.kind == "cut":
            why = why_no_continuity(value) if value else ""
        else:  # a joint may be to a supply of the new vehicle, which is metered in volts
            why = "it is open" if is_open(value) else ""
        return f"{value}, {why}" if why else ""

    @property
    def left(self) -> tuple[Step, ...]:
        """The steps that are to be done yet, in their order."""
        return tuple(
            step for step in self.line.steps if not self.done(step) and not (self.late and step == "metered")
        )

    @property
    def next(self) -> Step | None:
        """The next step, None where nothing is left."""
        return self.left[0] if self.left else None

    @property
    def finished(self) -> bool:
        """Whether its work on the wire is done: cut, joined or capped."""
        return self.was(LAST[self.line.kind])

    @property
    def makes_whole(self) -> bool:
        """Whether it leaves none of its stubs open: a joint of one stub with nothing leaves it open."""
        return self.finished and not self.line.to_nothing

    @property
    def remarks(self) -> tuple[str, ...]:
        """What a person must know about it, in sentences."""
        found = []
        for step in _HOLDS_WHILE_SAID:
            mark = self.last(step)  # type: ignore[arg-type]
            now = self.line.said.get(step, "")
            if mark is not None and step in self.line.steps and not _same(mark.said, now):
                found.append(f"was {step} as “{mark.said}”; the plan now says “{now}”")
        if self.bad_reading:
            found.append(f"the last reading shows no continuity: {self.bad_reading}")
        if self.line.to_nothing:
            found.append("the plan names one stub only: joined with nothing, its wire lies open")
        found += [f"marked {m.step} although {m.anyway}" for m in self.marks if m.anyway]
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class StopPoint:
    """Plugs that are worked off together: when all their lines are done, the machine is whole there."""

    connectors: tuple[str, ...]
    lines: tuple[str, ...]
    left: int  #: lines with something left to do
    open: tuple[str, ...]  #: cuts whose wire lies open now

    @property
    def reached(self) -> bool:
        """Whether all its lines are done."""
        return not self.left and not self.open


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A net that must run between places and does not yet."""

    net: int
    name: str
    places: tuple[str, ...]
    joined: int
    of: int  #: extensions the plan lists; 0 where it proposes none
    why: str = ""  #: why it proposes none


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLongerAsked:
    """What was done and the plan no longer asks for."""

    line: str  #: its id when it was marked last
    key: LineKey
    kind: Kind
    steps: tuple[Step, ...]
    marks: tuple[Mark, ...]
    open: bool  #: a cut wire that is joined by nothing
    here: tuple[str, ...]  #: lines of the plan in the same cavities


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """A plan with what was done of it."""

    plan: str
    machine: str
    lines: tuple[LineState, ...]  #: in the order of work
    stops: tuple[StopPoint, ...]
    crossing: tuple[Crossing, ...]
    no_longer_asked: tuple[NoLongerAsked, ...]
    counts: Mapping[Step, tuple[int, int]]  #: step -> how many lines have it done, and left

    @property
    def left(self) -> tuple[LineState, ...]:
        """Lines with something left to do."""
        return tuple(state for state in self.lines if state.next is not None)

    @property
    def open(self) -> tuple[str, ...]:
        """Cuts whose wires lie open now, those the plan no longer asks for too."""
        gone = tuple(item.line for item in self.no_longer_asked if item.open)
        return tuple(id_ for stop in self.stops for id_ in stop.open) + gone

    @property
    def whole(self) -> bool:
        """Whether no wire lies open."""
        return not self.open


def progress_of(plan: Plan, marks: Iterable[Mark]) -> Progress:
    """Return what is done and what is left of a plan; `marks` are all of its machine."""
    holding = [mark for mark in marks if mark.holds]
    lines = lines_of_plan(plan)
    states = states_of(lines, holding)
    stops = _stops(states)
    done = {step: sum(s.done(step) for s in states if step in s.line.steps) for step in ALL_STEPS}
    left = Counter(step for state in states for step in state.left)
    return Progress(
        plan=plan.name,
        machine=plan.machine,
        lines=states,
        stops=stops,
        crossing=tuple(_crossing(plan, {state.line.id: state for state in states})),
        no_longer_asked=_no_longer_asked(lines, holding),
        counts={step: (done[step], left[step]) for step in ALL_STEPS},
    )


def states_of(lines: Sequence[Line], marks: Iterable[Mark]) -> tuple[LineState, ...]:
    """Return each line with its marks; `marks` are those that hold."""
    own: dict[LineKey, list[Mark]] = defaultdict(list)
    for mark in marks:
        own[mark.key].append(mark)
    is_cut = {
        line.id: any(mark.step == "cut" for mark in own.get(line.key, ()))
        for line in lines
        if line.kind == "cut"
    }
    found = []
    for line in lines:
        state = LineState(
            line=line,
            marks=tuple(own.get(line.key, ())),
            waits_for=tuple(id_ for id_ in line.cuts if not is_cut[id_]),
            late=is_cut.get(line.id, False),
        )
        found.append(state)
    return tuple(found)


def _same(one: str, other: str) -> bool:
    """Whether two texts say the same: a cavity that another document pads changes no label."""
    return _unpadded(one) == _unpadded(other)


def _unpadded(text: str) -> str:
    # signs count: `X1:11` and `X11:1` are two cavities; so do zeros behind a point
    return _PADDING.sub("", text.casefold())


def _stops(states: Sequence[LineState]) -> tuple[StopPoint, ...]:
    """Return plugs that joints hold together, in the order in which their lines end."""
    of_cut = {s.line.id: (s.line.pin.connector, s.line.pin.half) for s in states if s.line.kind == "cut"}
    group: dict[tuple[str, str], set[tuple[str, str]]] = {plug: {plug} for plug in of_cut.values()}
    for state in states:
        plugs = {of_cut[id_] for id_ in state.line.cuts}
        if len(plugs) > 1:
            merged = set().union(*(group[plug] for plug in plugs))
            group |= dict.fromkeys(merged, merged)
    lines: dict[int, list[LineState]] = {}
    for state in states:
        plug = of_cut[state.line.cuts[0] if state.line.cuts else state.line.id]
        lines.setdefault(id(group[plug]), []).append(state)
    served = {id_ for s in states for id_ in s.line.cuts}
    unfinished = {id_ for s in states if not s.makes_whole for id_ in s.line.cuts}
    unfinished |= {id_ for id_ in of_cut if id_ not in served}  # no joint, no cap: the plan leaves it open
    last = {state.line.id: n for n, state in enumerate(states)}
    found = []
    for own in sorted(lines.values(), key=lambda own: last[own[-1].line.id]):
        names = dict.fromkeys(
            " half ".join(filter(None, of_cut[s.line.id])) for s in own if s.line.kind == "cut"
        )
        found.append(
            StopPoint(
                connectors=tuple(names),
                lines=tuple(state.line.id for state in own),
                left=sum(state.next is not None for state in own),
                open=tuple(
                    s.line.id for s in own if s.line.kind == "cut" and s.finished and s.line.id in unfinished
                ),
            )
        )
    return tuple(found)


def _crossing(plan: Plan, states: Mapping[str, LineState]) -> Iterable[Crossing]:
    extensions: dict[int, list[str]] = defaultdict(list)
    for join in plan.joins:
        if join.wire is not None:
            extensions[join.net].append(join.id)
    for net in plan.nets:
        if net.fate != "crosses":
            continue
        own = extensions[net.number]
        joined = sum(states[id_].done("joined") and states[id_].makes_whole for id_ in own)
        if joined < len(own) or not own:
            yield Crossing(
                net=net.number,
                name=net.name,
                places=net.places,
                joined=joined,
                of=len(own),
                why="" if own else _no_line(net),
            )


def _no_line(net: PlannedNet) -> str:
    if net.refused:
        return f"no line is proposed, {net.refused}"
    if not net.accepted:
        return f"may be a safety circuit ({', '.join(net.review)}): no line until [safety] names it"
    return "no line is proposed"


def _no_longer_asked(lines: Sequence[Line], marks: Sequence[Mark]) -> tuple[NoLongerAsked, ...]:
    asked = {line.key for line in lines}
    at: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for line in lines:
        for end in line.ends:
            at[end.key[:3]].append(line.id)
    groups: dict[LineKey, list[Mark]] = defaultdict(list)
    for mark in marks:
        groups[mark.key].append(mark)
    joined = [mark.key[1] for mark in marks if mark.step == "joined"]
    found = []
    for key, own in groups.items():
        if key in asked:
            continue
        steps = tuple(step for step in ALL_STEPS if any(mark.step == step for mark in own))
        stubs = {(*end[:4], side) for end in key[1] for side in ("plug", "loom")}
        found.append(
            NoLongerAsked(
                line=own[-1].line,
                key=key,
                kind=own[-1].kind,
                steps=steps,
                marks=tuple(own),
                open=own[-1].kind == "cut" and "cut" in steps and not any(stubs <= ends for ends in joined),
                here=tuple(dict.fromkeys(id_ for end in own[-1].ends for id_ in at[end.key[:3]])),
            )
        )
    return tuple(found)
