"""Words of legends, from `legend_words.csv`: of variants and their marks, and of what a blank cell means.

Roles: variant (what a machine may be had with), with (`with`, `ohne`), unit (of what tells machines apart),
property (what a pin is like, whatever the machine), yes and no (marks of a column), blank, as above, denial,
tables (words of a page about them), place (cell, line …).
"""

from __future__ import annotations

import csv
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files

from xref.data.words import REMEMBERED, fold

#: Marks that mean something else beside words: poles of a battery, footnotes, letters, a year's 有.
OTHERWISE = frozenset("+*yj有")


@cache
def legend_words(role: str) -> frozenset[str]:
    """Return the folded words of one role, in all languages."""
    return frozenset(f for text in _texts(role) if (f := fold(text)))


@cache
def legend_marks(role: str) -> frozenset[str]:
    """Return the marks of one role as `plain_mark` gives them."""
    return frozenset(map(plain_mark, _texts(role)))


def plain_mark(text: str) -> str:
    """Return a mark without case, and in one width."""
    return unicodedata.normalize("NFKC", text).strip().casefold()


@lru_cache(maxsize=REMEMBERED)
def is_sign_of_yes(text: str) -> bool:
    """True for a mark that is no word and has no other meaning beside words: a cross, a disc, a tick."""
    plain = plain_mark(text)
    return len(plain) == 1 and plain in legend_marks("yes") and plain not in OTHERWISE


@cache
def _texts(role: str) -> tuple[str, ...]:
    text = files("xref.data").joinpath("legend_words.csv").read_text(encoding="utf-8")
    return tuple(row["text"] for row in csv.DictReader(text.splitlines()) if row["role"] == role)
