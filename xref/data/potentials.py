"""Circuit texts that name a voltage, not a wire, from `potential_names.csv`."""

from __future__ import annotations

import csv
import re
import unicodedata
from functools import cache
from importlib.resources import files
from typing import Literal

#: Every dash a manual may print as a minus.
_DASHES = str.maketrans(dict.fromkeys("‐‑‒–—−", "-"))

#: Voltages' names, folded, that mean the ground side; all others mean a feed.
_GROUND = re.compile(
    r"GND$|^(GROUND|EARTH|CHASSIS|MASS[EA]|MASA|TIERRA|TERRE|アース|VSS|B-|BATT?-|[+-]?0+([.,]0)?V.*|(KL\.?|KLEMME)?31)$"
)

Potential = Literal["always", "terminal numbers", "no"]


def potential(circuit: str) -> Potential:
    """Say whether a circuit text names a voltage.

    "terminal numbers": only where the document uses terminal numbers; elsewhere the text may be an
    ordinary circuit number.
    """
    text = _folded(circuit)
    exact, patterns = _names()
    if text in exact:
        return exact[text]
    return next((when for pattern, when in patterns if pattern.fullmatch(text)), "no")


def names_ground(circuit: str) -> bool:
    """Say whether a voltage's name is of its ground side: `AGND`, `0 V`, `Kl. 31`."""
    return _GROUND.search(_folded(circuit)) is not None


def _folded(circuit: str) -> str:
    return "".join(unicodedata.normalize("NFKC", circuit).translate(_DASHES).split()).upper()


@cache
def _names() -> tuple[dict[str, Potential], tuple[tuple[re.Pattern[str], Potential], ...]]:
    text = files("xref.data").joinpath("potential_names.csv").read_text(encoding="utf-8")
    exact: dict[str, Potential] = {}
    patterns: list[tuple[re.Pattern[str], Potential]] = []
    for row in csv.DictReader(text.splitlines()):
        when: Potential = "always" if row["when"] == "always" else "terminal numbers"
        if row["match"] == "pattern":
            patterns.append((re.compile(row["name"]), when))
        else:
            exact[row["name"]] = when
    return exact, tuple(patterns)
