"""Marks that tell the halves of an in-line apart, from `half_marks.csv`: `A` and `B`, `male` and `female`."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files

#: A mark of one letter is one only behind a figure or a separator: `C210M`, `X5-A`, not `HORN`.
_LETTER = re.compile(r"(?P<stem>.*(?:\d|[\s_./-]))(?P<mark>[A-Za-z])")
#: A mark in words stands apart: `X5 male`, `C210 (Buchse)`, `C210-F`.
_WORD = re.compile(r"(?P<stem>.*?\S)[\s_./(-]+(?P<mark>[^\W\d_]{2,}(?: side)?)\)?")


def are_opposite(one: str, other: str) -> bool:
    """Say whether two half marks belong to each other: `A` and `B`, `plug` and `socket`."""
    return frozenset((one.casefold(), other.casefold())) in _pairs()


def is_mark(text: str) -> bool:
    """Say whether a text is a half mark at all."""
    return text.casefold() in _marks()


def parted_name(name: str) -> tuple[str, str]:
    """Return a connector's name without the half mark at its end, and the mark: `X5-A` is `X5`, `A`.

    Without such a mark the name itself and "" are returned.
    """
    for pattern in (_WORD, _LETTER):
        found = pattern.fullmatch(name.strip())
        if found and is_mark(found["mark"]):
            return found["stem"].rstrip(" _./-("), found["mark"]
    return name.strip(), ""


@cache
def _pairs() -> frozenset[frozenset[str]]:
    text = files("xref.data").joinpath("half_marks.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return frozenset(frozenset((row["one"].casefold(), row["other"].casefold())) for row in rows)


@cache
def _marks() -> frozenset[str]:
    return frozenset(mark for pair in _pairs() for mark in pair)
