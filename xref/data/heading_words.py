"""Words of headings, from `heading_words.csv`: those that refer to a connector other than the table's."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files


@cache
def reference_pattern() -> re.Pattern[str]:
    """Return the pattern of a text that ends in a word of reference (`mates with`, `siehe`, `vers`)."""
    text = files("xref.data").joinpath("heading_words.csv").read_text(encoding="utf-8")
    words = [row["text"] for row in csv.DictReader(text.splitlines()) if row["role"] == "reference"]
    listed = "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?:{listed})\s*:?\s*$", re.IGNORECASE)
