"""Numbers that are names because the title of nearly every table begins with one, however it is set."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from xref.pins.designators import end_tokens, shape_of
from xref.pins.naming import CLOSE, Naming

#: Numbers over so many tables, and over this share of all, are no accident.
FEWEST_NUMBERED = 4
SHARE_NUMBERED = 0.7
#: Each names another connector, but for one that stands at two parts of a table.
SHARE_DISTINCT = 0.8
#: Numbers that count the tables (this share of the steps is one) are those of sections or figures.
SHARE_COUNTING = 0.5
#: The name of a connector has no more figures.
LONGEST_NUMBER = 4


def numbers_before_titles(found: Sequence[Sequence[Naming]]) -> frozenset[str]:
    """Return the form of numbers where the nearest titles of most tables begin with one (`95 Room lamp`).

    `found` are the namings of each table. Titles of one document are set in several ways: in boxes over
    large tables, in lines over small ones.
    """
    numbers = [number for namings in found if (number := _number(namings))]
    enough = max(FEWEST_NUMBERED, SHARE_NUMBERED * len(found))
    if len(numbers) < enough or len(set(numbers)) < SHARE_DISTINCT * len(numbers):
        return frozenset()
    steps = [int(b) - int(a) for a, b in pairwise(numbers)]
    if sum(step in (0, 1) for step in steps) > SHARE_COUNTING * len(steps):
        return frozenset()
    return frozenset({shape_of(numbers[0])})


def _number(namings: Sequence[Naming]) -> str:
    """Return the number with which the nearest title that has one begins; words follow it."""
    near = [n for n in namings if n.near is not None and n.where in ("title", "above")]
    for naming in sorted(near, key=lambda n: n.near.gap if n.near else 0.0):
        text = naming.head.text.strip()
        first = next(iter(end_tokens(text)), None)
        if naming.near is None or naming.near.gap > CLOSE or first is None or first.start:
            continue
        words = any(c.isalpha() for c in text[first.end :].split("(")[0])
        if first.name.isdecimal() and len(first.name) <= LONGEST_NUMBER and words:
            return first.name
    return ""
