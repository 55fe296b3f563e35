"""What is odd about circuits over a whole document: no doubt about the reading, but worth a look."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from xref.data.potentials import potential
from xref.pins.build import Made
from xref.pins.terminals import terminal_numbers
from xref.records import Pin

#: Letters and digits that are taken for each other.
ALIKE = str.maketrans({"O": "0", "Q": "0", "I": "1", "L": "1", "B": "8", "S": "5", "Z": "2", "G": "6"})

Found = Iterator[tuple[int, str]]


def check_potentials(made: Sequence[Made]) -> tuple[list[tuple[int, str]], list[tuple[int, str]]]:
    """Return the rows whose circuit names a voltage, with the notice, and the undecided, with the doubt."""
    numbers = terminal_numbers(m.pin for m in made)
    notices: list[tuple[int, str]] = []
    doubts: list[tuple[int, str]] = []
    for i, m in enumerate(made):
        kind = potential(m.pin.circuit) if m.pin.circuit else "no"
        if kind == "always" or (kind == "terminal numbers" and numbers is True):
            notices.append((i, "potential-name"))
        elif kind == "terminal numbers" and numbers is None:
            doubts.append((i, "potential-undecided"))
    return notices, doubts


def check_oddities(made: Sequence[Made]) -> Found:
    """Yield what is odd about a circuit's rows taken together: row and notice."""
    circuits: dict[str, list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        if m.pin.circuit and potential(m.pin.circuit) == "no":
            circuits[m.pin.circuit].append(i)
    for rows in circuits.values():
        pins = [made[i].pin for i in rows]
        for notice in _changes(pins):
            yield from ((i, notice) for i in rows)
    yield from _twins(made, circuits)


def _changes(pins: Sequence[Pin]) -> Iterator[str]:
    """Yield what changes along one circuit. Wires of other options are other wires."""
    if len({p.option for p in pins}) > 1:
        return
    colors = {(p.base_color, p.stripe_color) for p in pins if p.base_color}
    if any(stripe and base != stripe and (stripe, base) in colors for base, stripe in colors):
        yield "reversed-colors-elsewhere"
    elif len(colors) > 1:
        yield "color-changes"
    if len({p.size_mm2 for p in pins if p.size_mm2 is not None}) > 1:
        yield "size-changes"


def _twins(made: Sequence[Made], circuits: dict[str, list[int]]) -> Found:
    """Circuits that look alike and have the same colours: one may be the other, misprinted or misread."""
    alike: dict[str, list[str]] = defaultdict(list)
    for name in circuits:
        alike[name.upper().translate(ALIKE).lstrip("0")].append(name)
    for names in alike.values():
        if len(names) < 2:
            continue
        codes = Counter(
            color
            for name in names
            for color in {
                (made[i].pin.base_color, made[i].pin.stripe_color)
                for i in circuits[name]
                if made[i].pin.base_color
            }
        )
        for i in (i for name in names for i in circuits[name]):
            if codes[(made[i].pin.base_color, made[i].pin.stripe_color)] > 1:
                yield i, "near-twin-circuit"
