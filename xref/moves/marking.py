"""Which marks may be made or taken back, and why not: a wire is labelled and metered before it is cut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from xref.errors import UsageError
from xref.moves.line_ids import ids_meant, near_ids
from xref.moves.progress import LineState, states_of
from xref.moves.progress_lines import LAST, STEPS, Line, lines_of_plan
from xref.moves.records import Plan
from xref.store.work_progress import LineKey, Mark, Step

#: How each kind of line is called.
KIND_WORDS = {"cut": "a cut", "join": "a joint", "cap": "a cap"}
_MOST_NAMED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What the person says was done."""

    ids: tuple[str, ...]
    step: Step | None = None
    value: str = ""
    note: str = ""
    anyway: bool = False


@dataclass(slots=True, kw_only=True)
class Made:
    """New marks, and lines at which nothing new was said."""

    marks: list[Mark] = field(default_factory=list)
    already: list[Mark] = field(default_factory=list)


def marks_wanted(plan: Plan, marks: Sequence[Mark], wanted: Wanted) -> Made:
    """Return the marks that `wanted` comes to, in the order of its ids; each is judged after those before it.

    Raises UsageError for an id the plan does not have, a step a line does not have, one reading for several
    lines, and a step whose turn has not come unless the person insists.
    """
    lines = {line.id: line for line in lines_of_plan(plan)}
    asked = [lines[id_] for id_ in _ids(plan, wanted.ids, lines, marks)]
    if wanted.value and len(asked) > 1:
        raise UsageError(
            f"One reading cannot be that of {len(asked)} lines.", hint="Give each line its own --value."
        )
    made = Made()
    for line in asked:
        step = wanted.step or ("metered" if wanted.value else LAST[line.kind])
        _check_step(line, step, wanted)
        now = _numbered([*(mark for mark in marks if mark.holds), *made.marks])
        states = {state.line.id: state for state in states_of(tuple(lines.values()), now)}
        state = states[line.id]
        last = state.last(step)
        if last is not None and state.done(step) and not wanted.value and not wanted.note:
            made.already.append(last)
            continue
        missing = missing_before(state, step)
        if missing and not wanted.anyway:
            raise UsageError(
                f"{line.id} cannot be marked {step} yet: {'; '.join(missing)}.",
                hint=f"Nothing was marked. {_what_to_do(state, step)}",
            )
        made.marks.append(_mark(plan, line, step, wanted, "; ".join(missing)))
    return made


def _what_to_do(state: LineState, step: Step) -> str:
    """Return what to do about a step whose turn has not come."""
    if step == "cut" and state.bad_reading:
        undo = f"{state.line.id} --undo --step metered"
        return f"Find out why and meter again (--value); was the reading a mistake, take it back: {undo}."
    return "Do that first, or say --anyway if it was done so."


def missing_before(state: LineState, step: Step) -> tuple[str, ...]:
    """Return what must be done before a step and is not, in words."""
    line = state.line
    found = []
    if step == "cut":
        if not state.was("labelled"):
            found.append("its two labels are not marked")
        elif not state.done("labelled"):
            found.append("its two labels bear another text than the plan prints now")
        if not state.readings:
            found.append("it was not metered")
        elif state.bad_reading:
            found.append(f"its last reading shows no continuity: {state.bad_reading}")
    if step in ("joined", "capped"):
        found += [f"{id_} is not cut" for id_ in state.waits_for]
    if step == "metered" and line.kind == "join" and not state.was("joined"):
        found.append("it is not joined, so a reading proves nothing")
    if line.twins > 1:
        found.append(
            f"it stands for {line.twins} wires of one circuit in one cavity, and a mark says it of them all"
        )
    return tuple(found)


def marks_to_undo(plan: Plan, marks: Sequence[Mark], wanted: Wanted) -> list[Mark]:
    """Return the last mark of each line asked for, of one step where it is named.

    Also of lines the plan no longer has. Raises UsageError where nothing is marked, and where what was done
    later rests on it unless the person insists.
    """
    lines = {line.id: line for line in lines_of_plan(plan)}
    holding = [mark for mark in marks if mark.holds]
    taken: list[Mark] = []
    for id_ in _ids(plan, wanted.ids, lines, holding, gone_too=True):
        key = lines[id_].key if id_ in lines else None
        own = [m for m in holding if (m.key == key or m.line == id_) and wanted.step in (None, m.step)]
        own = [mark for mark in own if mark not in taken]
        if not own:
            what = f"marked {wanted.step}" if wanted.step else "marked"
            raise UsageError(f"{id_} is not {what}: there is nothing to take back.")
        taken.append(own[-1])
    if not wanted.anyway:
        _check_undo(holding, taken)
    return taken


def _check_undo(holding: Sequence[Mark], taken: Sequence[Mark]) -> None:
    """Refuse to make a wire uncut that is marked joined or capped."""
    left = [mark for mark in holding if mark not in taken]
    for mark in taken:
        again = any(other.key == mark.key and other.step == "cut" for other in left)
        if mark.step != "cut" or again:
            continue
        ends = {key[:4] for key in mark.key[1]}
        for other in left:
            if other.step in ("joined", "capped") and any(key[:4] in ends for key in other.key[1]):
                raise UsageError(
                    f"{mark.line} cannot be uncut: {other.line} is marked {other.step}.",
                    hint="Take that back first, or say --anyway.",
                )


def _ids(
    plan: Plan, typed: Iterable[str], lines: Iterable[str], marks: Iterable[Mark], *, gone_too: bool = False
) -> list[str]:
    """Return the ids meant, each once; raises UsageError for those that are none."""
    known = list(lines)
    marked = {mark.line: None for mark in marks if mark.holds}
    found: dict[str, None] = {}
    for text in typed:
        meant = ids_meant(text, known) or (ids_meant(text, marked) if gone_too else [])
        if len(meant) != 1:
            raise _unknown(plan, text, meant, known, ids_meant(text, marked))
        found[meant[0]] = None
    return list(found)


def _unknown(
    plan: Plan, text: str, meant: Sequence[str], known: Sequence[str], gone: Sequence[str]
) -> UsageError:
    if meant:
        return UsageError(
            f"{text} may mean {' or '.join(meant)}.",
            hint="Nothing was marked. Type it as on the label.",
        )
    if gone:
        return UsageError(
            f"The plan {plan.name} no longer asks for {gone[0]}.",
            hint=f"What was done stays listed by xref plan todo; take it back with --undo {gone[0]}.",
        )
    near = near_ids(text, known)
    hint = f"Did you mean {' or '.join(near)}?" if near else ""
    if not near and known:
        more = " …" if len(known) > _MOST_NAMED else ""
        hint = f"Its lines: {', '.join(known[:_MOST_NAMED])}{more}."
    return UsageError(f"There is no line {text} in {plan.name}.", hint=f"Nothing was marked. {hint}".rstrip())


def _check_step(line: Line, step: Step, wanted: Wanted) -> None:
    allowed = dict.fromkeys((*line.steps, "metered"))
    if step not in allowed:
        may = " or ".join(name for name in STEPS[line.kind] if name in line.steps)
        raise UsageError(
            f"{line.id} is {KIND_WORDS[line.kind]}: it cannot be marked {step}.",
            hint=f"Nothing was marked. It is marked {may}.",
        )
    if wanted.value and step != "metered":
        raise UsageError(
            "A --value goes with --step metered.",
            hint="Nothing was marked. Mark reading and step apart.",
        )


def _mark(plan: Plan, line: Line, step: Step, wanted: Wanted, missing: str) -> Mark:
    return Mark(
        machine=plan.machine,
        kind=line.kind,
        line=line.id,
        step=step,
        ends=line.ends,
        value=wanted.value,
        note=wanted.note,
        said=line.said.get(step, ""),
        anyway=missing,
        plan=plan.name,
    )


def _numbered(marks: Sequence[Mark]) -> list[Mark]:
    """Give marks that are not kept yet numbers behind those that are: which came first counts."""
    last = max((mark.id for mark in marks), default=0)
    return [mark if mark.id else replace(mark, id=last + n) for n, mark in enumerate(marks, start=1)]


def plan_keys(plan: Plan) -> frozenset[LineKey]:
    """Return by what the lines of a plan are known."""
    return frozenset(line.key for line in lines_of_plan(plan))
