"""Columns of names that change where the cavities begin anew: each names the connector of its rows.

Their header may be any word for what carries the connector (`Device`, `Gerät`, `Komponente`) or unknown.
"""

from __future__ import annotations

from collections.abc import Sequence

from xref.rows.content import clean_cavity, is_dash
from xref.tables.vocabulary import DESIGNATOR

#: Names and runs of cavities go together by chance, where there are fewer of them.
FEWEST_RUNS = 2


def names_of_runs(names: Sequence[str], cavities: Sequence[str]) -> bool:
    """True where a new designator stands wherever the cavities begin anew, and nowhere else.

    Both are the texts of their columns, band by band; a name may be repeated in each row of its run.
    """
    rows = [(n, clean_cavity(c)) for n, c in zip(names, cavities, strict=True) if c]
    told = [n for n, _ in rows if n and not is_dash(n)]
    if not rows or not rows[0][0] or not all(DESIGNATOR.fullmatch(n) for n in told):
        return False
    last, begins, runs = "", [], 0
    for name, _ in rows:
        begins.append(bool(name) and name != last)
        last = name or last
    for (_, before), (_, cavity), new in zip(rows, rows[1:], begins[1:], strict=False):
        anew = _anew(before, cavity)
        if anew != new:
            return False
        runs += anew
    return runs + 1 >= FEWEST_RUNS and len(set(told)) == sum(begins)


def _anew(before: str, cavity: str) -> bool:
    """True where a cavity is no later one of the same connector."""
    if before.isdecimal() and cavity.isdecimal():
        return int(cavity) < int(before)
    return (len(cavity), cavity) < (len(before), before)
