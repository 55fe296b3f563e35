"""Words of headings, from `heading_words.csv`: what refers to another connector, what points to a table."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files


@cache
def reference_pattern() -> re.Pattern[str]:
    """Return the pattern of a text that ends in a word of reference (`mates with`, `siehe`, `vers`)."""
    return re.compile(rf"(?<!\w)(?:{_listed('reference')})\s*:?\s*$", re.IGNORECASE)


@cache
def word_pattern(role: str) -> re.Pattern[str]:
    """Return the pattern of the words of a role: what points to the table below (`pointing`) or to the one
    above (`pointing up`, beside a word for `table`), what speaks of several connectors (`several`), sides.
    """
    return re.compile(rf"(?:{_listed(role)})", re.IGNORECASE)


def _listed(role: str) -> str:
    """Return the words of a role as alternatives; those written in plain letters stand by themselves."""
    text = files("xref.data").joinpath("heading_words.csv").read_text(encoding="utf-8")
    words = [row["text"] for row in csv.DictReader(text.splitlines()) if row["role"] == role]
    whole = [rf"\b{re.escape(w)}\b" if w.isascii() and w[-1].isalpha() else re.escape(w) for w in words]
    return "|".join(sorted(whole, key=len, reverse=True))
