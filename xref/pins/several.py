"""Headings that name several connectors, or one half of a connector."""

from __future__ import annotations

import re
from itertools import pairwise

from xref.data.heading_words import word_pattern
from xref.pins.designators import DESIGNATOR, whole_token


def all_alike(text: str) -> tuple[str, ...]:
    """Return the connectors of a heading that says its table holds for all (`X5 and X6, both alike`)."""
    found = list(DESIGNATOR.finditer(text))
    between = [text[a.end() : b.start()] for a, b in pairwise(found)]
    listed = all(re.fullmatch(r"\s*(?:[,&/+]|and|und|et|y|e|と|・|、)\s*", b) for b in between)
    return (
        tuple(m.group() for m in found) if listed and between and word_pattern("alike").search(text) else ()
    )


def two_named(text: str) -> tuple[str, str] | None:
    """Return the two connectors of a heading for both, left one first (`X5 (left) and X6 (right)`)."""
    found = list(DESIGNATOR.finditer(text))
    if len(found) != 2:
        return None
    between = re.sub(r"\([^)]*\)", " ", text[found[0].end() : found[1].start()])
    if not re.fullmatch(r"\s*(?:[,&/+]|and|und|et|y|e|と|・)\s*", between):
        return None
    names = (found[0].group(), found[1].group())
    left, right = (word_pattern(side).search(text) for side in ("left", "right"))
    return (names[1], names[0]) if left and right and right.start() < left.start() else names


def mark_behind(text: str, name: str) -> str:
    """Return the short mark right behind a name that says which half it is (`X5 M`, `X5 Bu (cab)`), or ""."""
    _, found, after = text.partition(name)
    match = re.match(r"[\s(/.-]*([A-Z][A-Za-z]?|[A-Z]{3})(?=\W|$)", after) if found else None
    return match.group(1) if match else ""


def stem_of_halves(text: str) -> str:
    """Return the name that two designators share which differ in a half's mark only, "" for any others."""
    names = (whole_token(m, text).name for m in DESIGNATOR.finditer(text))
    found = [re.fullmatch(r"(.*\d)[-/.]?([A-Z])", name) for name in names]
    if len(found) != 2 or found[0] is None or found[1] is None:
        return ""
    (one, a), (other, b) = found[0].groups(), found[1].groups()
    return one if one == other and a != b else ""
