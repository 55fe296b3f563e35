"""Which ground a ground is: of signals, of power, of a shield or of a case, by the words of its function."""

from __future__ import annotations

import csv
import re
import unicodedata
from functools import cache
from importlib.resources import files

from xref.data.function_words import kinds_of


def ground_kind(*texts: str) -> str:
    """Return `signal`, `power`, `shield` or `case`; "" where the words name none of them, or several."""
    folded = unicodedata.normalize("NFKC", " ".join(texts)).casefold()
    found = {kind for kind, pattern in _patterns() if pattern.search(folded)}
    if "sensor return" in kinds_of(*texts):
        found.add("signal")
    return found.pop() if len(found) == 1 else ""


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    text = files("xref.data").joinpath("ground_words.csv").read_text(encoding="utf-8")
    words: dict[str, list[str]] = {}
    for row in csv.DictReader(text.splitlines()):
        words.setdefault(row["kind"], []).append(re.escape(row["word"].casefold()))
    # a word begins where letters begin: `power` in `power ground`; German puts words together after it
    return tuple((kind, re.compile(rf"(?<![^\W\d_])(?:{'|'.join(own)})")) for kind, own in words.items())
