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
#: Letters before or behind the number that two halves share, or a 1 and a 2 behind their name.
_TWINS = (
    re.compile(r"[-+=]?(?P<mark>[A-Za-z]{1,2})[-. ]?(?P<shared>\d+[A-Za-z]?)"),
    re.compile(r"(?P<shared>\d+)[-. ]?(?P<mark>[A-Za-z]{1,2})"),
    re.compile(r"(?P<shared>.*\d[-./])(?P<mark>[12])"),
)


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


def are_twins(one: str, other: str) -> bool:
    """Say whether two names may be those of two halves by the letters before one number: `P12` and `J12`.

    Or by a 1 and a 2 behind one name. Such letters mean other things as well: this alone decides nothing.
    """
    for pattern in _TWINS:
        here, there = pattern.fullmatch(one.strip()), pattern.fullmatch(other.strip())
        if here and there and here["shared"].casefold() == there["shared"].casefold():
            marks = frozenset((here["mark"].casefold(), there["mark"].casefold()))
            if marks == {"1", "2"} or marks in _pairs("prefix"):
                return True
    return False


@cache
def _pairs(*families: str) -> frozenset[frozenset[str]]:
    """Return the opposites of some families, of all that are marks by themselves where none is named."""
    text = files("xref.data").joinpath("half_marks.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    wanted = families or ("letters", "gender")
    return frozenset(
        frozenset((row["one"].casefold(), row["other"].casefold())) for row in rows if row["family"] in wanted
    )


@cache
def _marks() -> frozenset[str]:
    return frozenset(mark for pair in _pairs() for mark in pair)
