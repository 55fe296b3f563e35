"""Colours of blade fuses by rating, from `fuse_colors.csv`: a list of fuses is none of wires."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files

#: Amperes as printed: `15`, `7,5 A`, `10 amp`.
_AMPS = re.compile(r"(\d{1,2}(?:[.,]\d)?)\s*(?:A|amps?\.?)?", re.IGNORECASE)


def fuse_colors(rating: str) -> frozenset[str]:
    """Return the colours a blade fuse of this rating has; none for a text that is no such rating."""
    found = _AMPS.fullmatch(rating.strip())
    return _colors().get(float(found.group(1).replace(",", ".")), frozenset()) if found else frozenset()


@cache
def _colors() -> dict[float, frozenset[str]]:
    text = files("xref.data").joinpath("fuse_colors.csv").read_text(encoding="utf-8")
    colors: dict[float, set[str]] = {}
    for row in csv.DictReader(text.splitlines()):
        colors.setdefault(float(row["amps"]), set()).add(row["color"])
    return {amps: frozenset(found) for amps, found in colors.items()}
