"""Circuits of the wires that meet in a splice: one number, or that number with a letter for each wire."""

from __future__ import annotations

import re

#: The letter behind a number that tells the wires of a splice apart, and blanks.
_SEGMENT = re.compile(r"(?<=\d)[-. ]?[a-z]$|\s+")


def may_meet(one: str, other: str) -> bool:
    """Say whether two circuits may be of one splice: alike, or with letters of their own (`440A`, `440B`).

    A row that prints none may be of any.
    """
    texts = [_SEGMENT.sub("", circuit.casefold()) for circuit in (one, other)]
    return not all(texts) or texts[0] == texts[1]
