"""Circuit texts that name a voltage, not a wire, from `potential_names.csv`."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files
from typing import Literal

Potential = Literal["always", "terminal numbers", "no"]


def potential(circuit: str) -> Potential:
    """Say whether a circuit text names a voltage.

    "terminal numbers": only where the document uses terminal numbers; elsewhere the text may be an
    ordinary circuit number.
    """
    text = "".join(circuit.split()).upper().replace("−", "-").replace("–", "-")
    exact, patterns = _names()
    if text in exact:
        return exact[text]
    return next((when for pattern, when in patterns if pattern.fullmatch(text)), "no")


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
