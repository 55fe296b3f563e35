"""Circuits and codes against those of the whole document: their forms, where one is missing or swallowed."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from xref.colors.recognise import color_likeness
from xref.data.potentials import potential
from xref.pins.build import Made
from xref.pins.check_cavities import form_of
from xref.rows.content import is_dash

#: So many different circuits show how a document forms them.
FEWEST = 8
#: A form is usual when it has this share of the different circuits, and two of them at least.
USUAL = 0.06
#: A circuit that is one of a shape this usual but for a hyphen was hyphenated at the end of a line.
MAIN = 0.4
#: A shape that this share has may be told at the end of a text, where none should stand.
SOME = 0.15
#: A value is missing in a row when this share of its table's rows has one, and so many rows at least.
MOST = 0.5
FEWEST_ROWS = 3
#: So many codes of two colours show how a document joins the two; a way of fewer than this share is odd.
FEWEST_JOINED = 6
ODD_JOINT = 0.12
#: A token of this length at least may be a swallowed circuit: `5 V` begins with a shorter one.
FIGURES = 3

#: A size's unit alone is no text.
UNIT = re.compile(r"mm²?|AWG|sq\.?")
#: A circuit's figures with letters of two characters at least behind them, that may be a colour from this
#: likeness on.
GLUED = re.compile(r".*\d([^\W\d_]{2,}(?:[-–/][^\W\d_]+)?)")
CLEAR = 0.75
#: What a code is made of, but for what stands between the colours.
JOINT = re.compile(r"[^\W\d_]{2,}|(?<![^\W\d_])[^\W\d_](?![^\W\d_])")

Found = Iterator[tuple[int, str]]


def check_circuits(made: Sequence[Made]) -> Found:
    """Yield what is doubtful about the circuits of a document: row and doubt."""
    named = [i for i, m in enumerate(made) if _counts(m) and _by_header(m)]
    forms = usual_forms({made[i].pin.circuit for i in named})
    shapes = _main_shapes({made[i].pin.circuit for i in named})
    stems = Counter(map(_stem, {m.pin.circuit for m in made}))
    for i, m in enumerate(made):
        circuit = m.pin.circuit
        # `2210A` beside `2210` or `2210B` is a leg of one circuit.
        leg = _stem(circuit) != circuit and stems[_stem(circuit)] > 1
        odd = bool(forms) and form_of(circuit) not in forms and not leg
        hyphened = "-" in circuit and shape_of(circuit.replace("-", "")) in shapes
        if _counts(m) and (odd or hyphened):
            yield i, "circuit-odd"
    yield from ((i, "circuit-odd") for i, m in enumerate(made) if _holds_color(m))
    yield from _missing(made, "circuit")
    yield from _missing(made, "color")
    yield from _missing(made, "function")
    yield from _missing(made, "signal")
    yield from _swallowed(made, _main_shapes({made[i].pin.circuit for i in named}, SOME))
    yield from _odd_joints(made)


def _holds_color(m: Made) -> bool:
    """True for a circuit with a colour's code behind it (`L31-10GN–BN`) in a row that names no colour."""
    glued = GLUED.fullmatch(m.pin.circuit) if not m.pin.color_code else None
    return glued is not None and color_likeness(glued.group(1)) >= CLEAR


def _stem(circuit: str) -> str:
    """Return a circuit without the letter at its end."""
    return circuit[:-1] if len(circuit) > 2 and circuit[-1].isalpha() and circuit[-2].isdecimal() else circuit


def shape_of(text: str) -> str:
    """Return a text with A, a and 0 for each letter and digit."""
    return "".join("0" if c.isdecimal() else "A" if c.isupper() else "a" if c.islower() else c for c in text)


def _main_shapes(circuits: set[str], share: float = MAIN) -> frozenset[str]:
    counts = Counter(map(shape_of, circuits))
    return frozenset(s for s, n in counts.items() if n >= FEWEST_ROWS and n >= share * len(circuits))


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


def _value(m: Made, role: str) -> str:
    pin = m.pin
    said = pin.function or (pin.circuit if "signal-as-circuit" in pin.notices else "")
    return {"circuit": pin.circuit, "color": pin.color_code}.get(role, said)


def _missing(made: Sequence[Made], role: str) -> Found:
    """A used row without circuit (or colour) in a table where most others have one."""
    tables: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        if m.pin.status == "used" and role in m.part.plan.columns:
            tables[(m.pin.page, m.pin.table_no)].append(i)
    for rows in tables.values():
        blank = [i for i in rows if not _value(made[i], role)]
        if len(rows) < FEWEST_ROWS or len(blank) > (1 - MOST) * len(rows):
            continue
        for i in blank:
            if not is_dash(made[i].row.values.get(role, "")):
                yield i, f"{'function' if role == 'signal' else role}-missing"


def _swallowed(made: Sequence[Made], shapes: frozenset[str]) -> Found:
    """A text that holds a colour's code, a circuit or a unit that belongs into a column of its own."""
    known = {m.pin.circuit for m in made if _counts(m) and len(m.pin.circuit) >= FIGURES}
    circuits = {c for c in known if any(map(str.isdecimal, c))}
    codes = Counter(m.pin.color_code for m in made if m.pin.color_code)
    for i, m in enumerate(made):
        tokens = m.pin.function.split()
        if m.pin.status != "used" or not tokens:
            continue
        numbers = [t for t in tokens if t in circuits and t != m.pin.circuit]
        numbers += [t for t in (tokens[0], tokens[-1]) if len(t) > FIGURES and shape_of(t) in shapes]
        colored = [
            t for t in tokens if codes[t] > 1 and len(t) > 1 and not (t.isalpha() and len(t) > FIGURES)
        ]
        if (numbers and len(tokens) > 1) or colored or UNIT.fullmatch(m.pin.function):
            yield i, "text-overfull"


def _odd_joints(made: Sequence[Made]) -> Found:
    """Two colours joined in another way than those of the document: two cells that ran together."""
    joined: dict[int, str] = {}
    for i, m in enumerate(made):
        marks = JOINT.sub("", m.pin.color_code.strip())
        if marks:
            joined[i] = marks
    counts = Counter(joined.values())
    if len(joined) < FEWEST_JOINED:
        return
    for i, marks in joined.items():
        if counts[marks] < ODD_JOINT * len(joined):
            yield i, "color-odd"
