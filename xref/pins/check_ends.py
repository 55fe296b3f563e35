"""Both ends of one wire, and both halves of one in-line, where the document prints the two; and odd names."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from xref.data.potentials import potential
from xref.pins.build import Made
from xref.pins.check_cavities import parted
from xref.pins.check_circuits import shape_of

#: Ends that can be compared in a document before one that differs is odd, and the share that must agree.
FEWEST = 5
AGREE = 0.8
#: A cut-off text this short tells nothing: `ge` may be meant beside `swge`.
SHORTEST = 3
#: A circuit's shape is known from so many circuits, a designator's from so many connectors.
FEWEST_CIRCUITS = 3
FEWEST_NAMES = 2

Found = Iterator[tuple[int, str]]


def check_ends(made: Sequence[Made]) -> Found:
    """Yield rows whose other end says something else, in a document where ends agree: row and doubt."""
    for pairs in (_by_text(made), _by_halves(made)):
        for field in ("circuit", "color_code"):
            both = [(i, j) for i, j in pairs if _has(made, i, field) and _has(made, j, field)]
            texts = {pair: [getattr(made[i].pin, field) for i in pair] for pair in both}
            differ = [pair for pair, (one, other) in texts.items() if one != other]
            if len(both) >= FEWEST and len(differ) <= (1 - AGREE) * len(both):
                for pair in differ:
                    if misread(*texts[pair], cut=field == "circuit"):
                        yield from ((i, "mates-disagree") for i in pair)


def misread(one: str, other: str, *, cut: bool = True) -> bool:
    """True where two texts differ as a misread one does: in one character, or (`cut`) by what was cut off.

    Numbers and colours that change altogether on the way through an in-line are what the manual says.
    """
    if len(one) == len(other):
        differ = [(a, b) for a, b in zip(one, other, strict=True) if a != b]
        return len(differ) == 1 and not all(c.isdecimal() for c in differ[0])
    short, long = sorted((one, other), key=len)
    return cut and len(short) >= SHORTEST and (long.startswith(short) or long.endswith(short))


def _has(made: Sequence[Made], i: int, field: str) -> bool:
    text = getattr(made[i].pin, field)
    return bool(text) and (field != "circuit" or potential(text) == "no")


def _by_text(made: Sequence[Made]) -> list[tuple[int, int]]:
    """Pairs of rows of which each says that its wire goes to the other's cavity."""
    places: dict[tuple[str, str], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        places[(m.pin.connector, m.pin.cavity)].append(i)
    names = {m.pin.connector for m in made}
    found = []
    for i, m in enumerate(made):
        far = _end(m.pin.goes_to, names)
        for j in places.get(far, ()) if far else ():
            back = _end(made[j].pin.goes_to, names)
            if i < j and back == (m.pin.connector, m.pin.cavity):
                found.append((i, j))
    # A cavity with two wires goes to two places: nothing tells which end is whose.
    times = Counter(i for pair in found for i in pair)
    return [(i, j) for i, j in found if times[i] == times[j] == 1]


def _end(text: str, names: set[str]) -> tuple[str, str] | None:
    """Return the connector and cavity a text names: `X5:3`, `X5 / 3`, `X5 pin 3`."""
    match = re.fullmatch(r"(.+?)\s*(?:[:/.,-]|\s)\s*(?:[^\W\d]+\.?\s*)?(\w{1,4})", text.strip())
    if not match or match.group(1).strip() not in names:
        return None
    return match.group(1).strip(), match.group(2)


def _by_halves(made: Sequence[Made]) -> list[tuple[int, int]]:
    """Pairs of rows in the same cavity of both halves of an in-line."""
    halves: dict[tuple[str, str], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        if m.pin.half and m.pin.status == "used":
            halves[(m.pin.connector, m.pin.cavity)].append(i)
    return [
        (rows[0], rows[1])
        for rows in halves.values()
        if len(rows) == 2 and made[rows[0]].pin.half != made[rows[1]].pin.half
    ]


def check_names(made: Sequence[Made]) -> Found:
    """Yield the rows of a connector that is named like this document's circuits, or like its own cavities."""
    circuits = Counter(shape_of(c) for c in {m.pin.circuit for m in made if m.pin.circuit})
    names = {m.pin.connector for m in made}
    shapes = Counter(map(shape_of, names))
    odd = {
        n
        for n in names
        if circuits[shape_of(n)] >= FEWEST_CIRCUITS
        and circuits[shape_of(n)] > shapes[shape_of(n)]
        and any(s >= FEWEST_NAMES for shape, s in shapes.items() if shape != shape_of(n))
    }
    cavities: dict[str, set[str]] = defaultdict(set)
    for m in made:
        cavities[m.pin.connector].add(m.pin.cavity)
    odd |= {n for n, own in cavities.items() if _missing_in(n, own)}
    odd |= {n for n in names if _ran_together(n)}
    for i, m in enumerate(made):
        if m.pin.connector in odd:
            yield i, "heading-uncertain"


def _ran_together(name: str) -> bool:
    """True for two names of one kind (`X381 X128`); `M7 X3` is a connector of a component."""
    parts = [parted(part) for part in name.split()]
    letters = {letters for letters, number in parts if number is not None}
    return len(parts) == 2 and len(letters) == 1 and all(a and n is not None for a, n in parts)


def _missing_in(name: str, cavities: set[str]) -> bool:
    """True for `A1` over the cavities A2, A3 and B1: it is the first of them."""
    letters, number = parted(name)
    if not letters or number is None or name in cavities:
        return False
    return f"{letters}{number + 1}" in cavities
