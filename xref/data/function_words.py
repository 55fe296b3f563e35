"""What a circuit is for, by the words of its function: kinds that decide what may be cut or parted."""

from __future__ import annotations

import csv
import re
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files

#: Never cut: moved whole or left; a wrong splice here hurts someone or destroys the wire's purpose.
REFUSED = ("airbag", "high voltage", "coax", "optical", "Ethernet", "thermocouple", "fusible link")
#: Not cut until the person has read and named them.
SAFETY = ("brake", "steering", "throttle", "restraint", "other safety")

#: A size from here on in an orange wire is what high-voltage cables have; thin orange wires are ordinary.
HIGH_VOLTAGE_MM2 = 10.0

#: A large machine prints a few thousand different functions, each many times.
_MOST_KEPT = 65_536

_APOSTROPHES = str.maketrans("’`´", "'''")


@lru_cache(maxsize=_MOST_KEPT)
def kinds_of(*texts: str) -> tuple[str, ...]:
    """Return the kinds the words of these texts name, in the order of the data; () says nothing is known."""
    folded = " ".join(_folded(text) for text in texts if text)
    if not folded:
        return ()
    return tuple(kind for kind, pattern in _patterns().items() if pattern.search(folded))


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    """Return one pattern a kind; words marked `word` stand alone, others may be a part of a longer word."""
    text = files("xref.data").joinpath("function_words.csv").read_text(encoding="utf-8")
    parts: dict[str, list[str]] = {}
    for row in csv.DictReader(text.splitlines()):
        word = re.escape(_folded(row["word"])).replace(r"\ ", r"[\s_-]*")
        # a word may be a part of a compound, but does not begin inside another word in plain letters
        pattern = (
            rf"(?<![^\W_]){word}(?![^\W_])" if row["match"] == "word" else _inside(row["language"], word)
        )
        parts.setdefault(row["kind"], []).append(pattern)
    return {kind: re.compile("|".join(patterns)) for kind, patterns in parts.items()}


def _inside(language: str, word: str) -> str:
    # German puts words together, Japanese prints no blanks; elsewhere a word begins where letters begin
    return word if language in ("de", "ja") else rf"(?<![^\W\d_]){word}"


def _folded(text: str) -> str:
    return unicodedata.normalize("NFKC", text).casefold().translate(_APOSTROPHES)
