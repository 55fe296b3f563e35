"""How lists of splices say how many wires meet in one, from `splice_words.csv`.

Roles: count (a header over such numbers), wires (what stands behind a number in a cell: `4 wires`).
"""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files

from xref.data.words import fold

#: A number of wires, alone or with a sign or words behind it: `4`, `4x`, `4 wires`, `4-fach`.
_COUNT = re.compile(r"(\d{1,2})\s*(?:[x×]|[-–]?\s*(?P<words>[^\W\d].*))?")


def counts_wires(header: str) -> bool:
    """Say whether a header stands over numbers of wires: `No. of wires`, `Anzahl`, `Nb fils`."""
    return fold(header) in _words("count")


def stated_wires(text: str) -> tuple[int, bool]:
    """Return the number of wires a cell states and whether it says that they are wires; (0, False) else."""
    found = _COUNT.fullmatch(text.strip())
    if found is None:
        return 0, False
    said = fold(found["words"] or "")
    if said and said not in _words("wires"):
        return 0, False
    return int(found[1]), bool(said)


@cache
def _words(role: str) -> frozenset[str]:
    text = files("xref.data").joinpath("splice_words.csv").read_text(encoding="utf-8")
    return frozenset(fold(row["text"]) for row in csv.DictReader(text.splitlines()) if row["role"] == role)
