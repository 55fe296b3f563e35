"""Circuits against the circuits of the whole document: their forms, where they are missing or swallowed."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from xref.data.potentials import potential
from xref.pins.build import Made
from xref.pins.check_cavities import form_of
from xref.rows.content import is_dash

#: So many different circuits show how a document forms them.
FEWEST = 8
#: A form is usual when it has this share of the different circuits, and two of them at least.
USUAL = 0.06
#: Nearly every used row names a circuit: in its table, and in so many rows at least.
NEARLY_ALL = 0.8
FEWEST_ROWS = 4
#: A token of this length at least may be a swallowed circuit: `5 V` begins with a shorter one.
FIGURES = 3

Found = Iterator[tuple[int, str]]


def check_circuits(made: Sequence[Made]) -> Found:
    """Yield what is doubtful about the circuits of a document: row and doubt."""
    named = [i for i, m in enumerate(made) if _counts(m) and _by_header(m)]
    forms = usual_forms({made[i].pin.circuit for i in named})
    for i, m in enumerate(made):
        if forms and _counts(m) and form_of(m.pin.circuit) not in forms:
            yield i, "circuit-odd"
    yield from _missing(made)
    yield from _swallowed(made, forms)


def _counts(m: Made) -> bool:
    """True for a row with a circuit that is neither a voltage's name nor a signal's."""
    pin = m.pin
    return bool(pin.circuit) and "signal-as-circuit" not in pin.notices and potential(pin.circuit) == "no"


def _by_header(m: Made) -> bool:
    plan = m.part.plan
    return "circuit" in plan.columns and "circuit" not in plan.guessed


def usual_forms(circuits: set[str]) -> frozenset[str]:
    """Return the forms circuits of this document have; none where too few show it."""
    if len(circuits) < FEWEST:
        return frozenset()
    counts = Counter(map(form_of, circuits))
    return frozenset(f for f, n in counts.items() if n >= 2 and n >= USUAL * len(circuits))


def _missing(made: Sequence[Made]) -> Found:
    """A used row without circuit in a table where nearly all others have one."""
    tables: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        if m.pin.status == "used" and "circuit" in m.part.plan.columns:
            tables[(m.pin.page, m.pin.table_no)].append(i)
    for rows in tables.values():
        blank = [i for i in rows if not made[i].pin.circuit]
        if len(rows) >= FEWEST_ROWS and 0 < len(blank) <= (1 - NEARLY_ALL) * len(rows):
            for i in blank:
                if not is_dash(made[i].row.values.get("circuit", "")):
                    yield i, "circuit-missing"


def _swallowed(made: Sequence[Made], forms: frozenset[str]) -> Found:
    """A text that begins or ends with a circuit's number, where the row has none."""
    known = Counter(m.pin.circuit for m in made if m.pin.circuit)
    for i, m in enumerate(made):
        tokens = m.pin.function.split()
        if m.pin.circuit or len(tokens) < 2:
            continue
        for token in (tokens[0], tokens[-1]):
            numbered = any(c.isdecimal() for c in token) and len(token) >= FIGURES
            if numbered and (token in known or form_of(token) in forms):
                yield i, "text-overfull"
