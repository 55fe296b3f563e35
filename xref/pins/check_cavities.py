"""Cavities against each other: their forms, their order, and how many there should be."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from xref.pins.build import Made

#: The form of a connector's cavities is known from so many on, when this share of them has it.
FEWEST = 4
USUAL = 0.75
#: Up to this share of a connector's rows may stand out of order and be misread; more are an order of its own.
FEW_ASTRAY = 0.25
#: A number this many times as high as there are cavities, and this far above the one before, was not meant.
FAR = 2.0
LEAP = 10
#: A circuit has so many letters and figures at least; where more than this share of a connector's cavities
#: are circuits, they are no cavities.
FIGURES = 3
OTHER_KIND = 0.5
#: Letters, digits and what joins them: anything else was glued to a cavity.
PLAIN = re.compile(r"[^\W_]+(?:[-./:+ ][^\W_]+)*[+-]?", re.UNICODE)
#: Terminals of relays and of ignition (DIN 72552): they count nothing.
TERMINALS = frozenset({"15", "30", "31", "50", "85", "86", "87", "87a", "87b"})

Found = Iterator[tuple[int, str]]


def check_cavities(made: Sequence[Made], members: Sequence[int]) -> Found:
    """Yield what is doubtful about the cavities of one connector (or half): row and doubt."""
    named = [i for i in members if made[i].pin.cavity and not made[i].second]
    names = {made[i].pin.cavity for i in named}
    if made[members[0]].pin.role in ("splice", "ground", "fuse") or names <= TERMINALS:
        return
    for i in named:
        if not PLAIN.fullmatch(made[i].pin.cavity):
            yield i, "cavity-odd"
    yield from _odd_forms(made, named)
    yield from _circuits(made, named)
    if not _listed(made, named):
        yield from _astray(made, named)
        yield from _holes(made, named)


def _circuits(made: Sequence[Made], named: Sequence[int]) -> Found:
    """Cavities of which most are circuits that other rows print as such: a column was taken for another."""
    known = {m.pin.circuit for m in made if m.pin.circuit}
    long = [i for i in named if len(made[i].pin.cavity) >= FIGURES and made[i].pin.cavity in known]
    if len(long) > OTHER_KIND * len(named):
        yield from ((i, "cavity-odd") for i in named)


def _listed(made: Sequence[Made], named: Sequence[int]) -> bool:
    """True where rows need not be in the order of cavities: a wire list, or cells that list several."""
    if any(made[i].row.connector or made[i].pin.goes_to for i in named):
        return True
    rows = Counter(
        (made[i].pin.page, made[i].pin.table_no, made[i].row.row_no, made[i].part.block)
        for i in named
        if made[i].pin.status == "used"
    )
    return any(n > 1 for n in rows.values())


def form_of(name: str) -> str:
    """Return the form of a name: letters as A or a, digits as 0, runs of them as one."""
    return "".join(
        "0" if c.isdecimal() else ("A" if c.isupper() else "a" if c.islower() else c)
        for n, c in enumerate(name)
        if n == 0 or kind(c) != kind(name[n - 1]) or kind(c) == "mark"
    )


def kind(c: str) -> str:
    """Return what a character is: digit, upper, lower or mark."""
    return "digit" if c.isdecimal() else "upper" if c.isupper() else "lower" if c.islower() else "mark"


def _odd_forms(made: Sequence[Made], named: Sequence[int]) -> Found:
    forms = {i: form_of(made[i].pin.cavity) for i in named}
    counts = Counter(forms.values())
    usual, most = counts.most_common(1)[0] if counts else ("", 0)
    if len(named) < FEWEST or most < USUAL * len(named):
        return
    for i in named:
        # `87a` beside `87`: a terminal's second contact has its number.
        if forms[i] != usual and forms[i].rstrip("aA") != usual:
            yield i, "cavity-odd"


def parted(name: str) -> tuple[str, int | None]:
    """Return the letters and the number of a cavity's name; no number where it does not end with one."""
    match = re.fullmatch(r"(.*?)(\d{1,4})", name)
    return (match.group(1), int(match.group(2))) if match else (name, None)


def _runs(made: Sequence[Made], named: Sequence[int]) -> list[tuple[list[int], list[int]]]:
    """Return the rows of each table's block and row of cavities, with their numbers, in printed order."""
    runs: dict[tuple[int, int, int, str], list[int]] = defaultdict(list)
    for i in named:
        letters, number = parted(made[i].pin.cavity)
        part = made[i].part
        if number is not None:
            runs[(made[i].pin.page, part.table.number, part.block, letters)].append(i)
    return [(rows, [parted(made[i].pin.cavity)[1] or 0 for i in rows]) for rows in runs.values()]


def _astray(made: Sequence[Made], named: Sequence[int]) -> Found:
    """Numbers that break the order of their column: `5, 61, 7`."""
    for rows, numbers in _runs(made, named):
        if len(rows) < FEWEST:
            continue
        up, down = _rising(numbers), _rising(numbers[::-1])
        kept = up if len(up) >= len(down) else [len(numbers) - 1 - k for k in down]
        out = set(range(len(rows))) - set(kept)
        if out and len(out) <= max(1, FEW_ASTRAY * len(rows)):
            for k in out:
                yield rows[k], "cavity-gap"
        ends = [numbers[k] for k in sorted(kept, key=lambda k: numbers[k])]
        if ends[-1] > FAR * len(rows) and ends[-1] - ends[-2] > LEAP:
            yield rows[numbers.index(ends[-1])], "cavity-gap"


def _rising(numbers: Sequence[int]) -> list[int]:
    """Return the places of a longest run of numbers that never falls (patience sorting)."""
    tails: list[int] = []
    at: list[int] = []
    back: list[int] = []
    for k, number in enumerate(numbers):
        place = bisect_right(tails, number)
        back.append(at[place - 1] if place else -1)
        if place == len(tails):
            tails.append(number)
            at.append(k)
        else:
            tails[place], at[place] = number, k
    found = []
    k = at[-1] if at else -1
    while k >= 0:
        found.append(k)
        k = back[k]
    return found[::-1]


def _holes(made: Sequence[Made], named: Sequence[int]) -> Found:
    """A hole in a list that names its empty cavities too, or has as many as the housing: one was not read."""
    by_letters: dict[str, dict[int, int]] = defaultdict(dict)
    for i in named:
        letters, number = parted(made[i].pin.cavity)
        if number is not None:
            by_letters[letters].setdefault(number, i)
    empty = any(made[i].pin.status != "used" for i in named)
    if len(by_letters) != 1 or not empty:
        return
    ((_, numbers),) = by_letters.items()
    if len(numbers) < FEWEST:
        return
    ordered = sorted(numbers)
    for before, number in zip([0, *ordered], ordered, strict=False):
        if number - before > 1:
            yield numbers[number], "cavity-gap"
