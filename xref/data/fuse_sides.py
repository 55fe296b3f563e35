"""The two sides of a fuse or relay: header words, from `fuse_sides.csv`, and the names of their cavities.

A fuse parts two circuits, so its sides are two cavities: `F1 in` and `F1 out`.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import Literal

from xref.data.words import fold

Side = Literal["in", "out"]
SIDES: tuple[Side, Side] = ("in", "out")


@cache
def side_words(side: Side) -> frozenset[str]:
    """Return the folded header words for one side."""
    return _words(side)


@cache
def relay_words() -> frozenset[str]:
    """Return the folded header words over the names of relays and breakers."""
    return _words("relay")


@cache
def place_words() -> frozenset[str]:
    """Return the folded header words over the places of a fuse box, that may as well be of a connector."""
    return _words("place")


def side_cavity(name: str, side: Side) -> str:
    """Return what the cavity on one side of a fuse is called."""
    return f"{name} {side}"


def parted_fuse(cavity: str) -> tuple[str, Side | None]:
    """Return the fuse whose side a cavity is, and the side; the cavity itself and None for any other."""
    name, _, said = cavity.rpartition(" ")
    side = next((side for side in SIDES if side == said), None)
    return (name, side) if name and side else (cavity, None)


def is_fed_side(role: str, cavity: str) -> bool:
    """Say whether a cavity is the side of a fuse that is fed: nothing on it is protected by that fuse."""
    return role == "fuse" and parted_fuse(cavity)[1] == "in"


@cache
def _words(side: str) -> frozenset[str]:
    text = files("xref.data").joinpath("fuse_sides.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return frozenset(fold(row["text"]) for row in rows if row["side"] == side)
