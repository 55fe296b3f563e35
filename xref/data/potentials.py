"""Circuit texts that name a voltage or a use, not a wire, from `potential_names.csv`.

`RETURN`, `Masse` and `Reserve` stand at wires all over a machine: what bears such a word is not one wire for
that.
"""

from __future__ import annotations

import csv
import re
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

from xref.data.words import REMEMBERED, fold, words_of

#: Every dash a manual may print as a minus.
_DASHES = str.maketrans(dict.fromkeys("‐‑‒–—−", "-"))

Potential = Literal["always", "terminal numbers", "no"]
#: Which side of a voltage a name means; "nothing": it names no voltage, and no wire of its own (`SHIELD`).
Side = Literal["feed", "ground", "nothing"]


def potential(circuit: str) -> Potential:
    """Say whether a circuit text names a voltage, or what is no wire of its own (`SHIELD`, `NC`, `Reserve`).

    "terminal numbers": only where the document uses terminal numbers; elsewhere the text may be an
    ordinary circuit number.
    """
    found = _named(circuit)
    return found[0] if found else "no"


def potential_side(circuit: str) -> Side:
    """Return which side of a voltage a text names: `AGND`, `0 V`, `Kl. 31` the ground; "nothing" if none."""
    found = _named(circuit)
    return found[1] if found else "nothing"


@lru_cache(maxsize=REMEMBERED)
def _named(circuit: str) -> tuple[Potential, Side] | None:
    text = "".join(unicodedata.normalize("NFKC", circuit).translate(_DASHES).split()).upper()
    exact, patterns = _names()
    if text in exact:
        return exact[text]
    if fold(circuit) in words_of("unused"):
        return "always", "nothing"
    return next((found for pattern, found in patterns if pattern.fullmatch(text)), None)


@cache
def _names() -> tuple[
    dict[str, tuple[Potential, Side]], tuple[tuple[re.Pattern[str], tuple[Potential, Side]], ...]
]:
    text = files("xref.data").joinpath("potential_names.csv").read_text(encoding="utf-8")
    exact: dict[str, tuple[Potential, Side]] = {}
    patterns: list[tuple[re.Pattern[str], tuple[Potential, Side]]] = []
    for row in csv.DictReader(text.splitlines()):
        when: Potential = "always" if row["when"] == "always" else "terminal numbers"
        side: Side = "feed" if row["of"] == "feed" else "ground" if row["of"] == "ground" else "nothing"
        if row["match"] == "pattern":
            patterns.append((re.compile(row["name"]), (when, side)))
        else:
            exact[row["name"]] = (when, side)
    return exact, tuple(patterns)
