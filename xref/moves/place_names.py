"""Places of a plan that are written nearly alike: one place misprinted makes two, with wires between them."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

from xref.data.fuzzy import likeness
from xref.data.words import fold
from xref.moves.plan_file import PlanFile
from xref.moves.records import AS_FITTED, Question

#: Words this much alike (0–100) may be one misprinted: a letter in ten is left out, added or another.
_ALIKE = 80.0
#: Shorter words of other letters are other words (`left`, `lift`; `bay A`, `bay B`).
_SHORTEST = 5


def alike_places(plan: PlanFile) -> list[Question]:
    """Ask about places whose names may be one name, misprinted; numbers and short words tell places apart."""
    count = Counter(plan.place.values())
    known = [*count, *([] if AS_FITTED in count else [AS_FITTED])]
    found = []
    for one, other in combinations(known, 2):
        if not _may_be_one(one, other):
            continue
        meant = other if other == AS_FITTED or count[other] > count[one] else one
        odd = one if meant == other else other
        found.append(
            Question(
                about=odd,
                text=f"The plan's place names {odd} and {meant}, which are written nearly alike. "
                "As two places, wires are cut to run from one to the other.",
                settle=f"Did you mean {meant}? Then write it so in every line; two places may stay.",
            )
        )
    return found


def _may_be_one(one: str, other: str) -> bool:
    if fold(one).replace(" ", "") == fold(other).replace(" ", ""):
        return True
    words, others = fold(one).split(), fold(other).split()
    if len(words) != len(others):
        return False
    return all(a == b or _misprinted(a, b) for a, b in zip(words, others, strict=True))


def _misprinted(word: str, other: str) -> bool:
    long = min(len(word), len(other)) >= _SHORTEST and word.isalpha() and other.isalpha()
    return long and likeness(word, other) >= _ALIKE
