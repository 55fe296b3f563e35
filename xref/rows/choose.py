"""Several ways to cut a region into tables -> the one whose rows validate best, contested rows marked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from xref.rows.assemble import table_to_rows
from xref.rows.plan import table_to_plans
from xref.rows.quality import PERFECT, settled, table_quality
from xref.tables.table import Table

#: Another reading of nearly the same worth contests the rows it reads otherwise.
RIVAL = 0.97
#: How many ways to cut a region are looked at.
MOST_READINGS = 40
#: The author drew the rules, white gaps are guessed at: another cut must be better by this much.
AS_RULED = 1.05


#: What two readings may quarrel about.
CONTESTED = ("cavity", "color", "circuit", "size")

_Facts = dict[str, frozenset[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Judged:
    reading: tuple[Table, ...]
    worth: float
    mean: float


def best_reading(readings: Iterable[tuple[Table, ...]]) -> tuple[Table, ...]:
    """Return the reading of a region whose rows validate best; the first one where none has rows.

    Looks no further once a reading validates in full. Rows that a rival of nearly the same worth reads
    otherwise are marked as contested.
    """
    judged: list[_Judged] = []
    for n, reading in enumerate(readings):
        judged.append(_judge(reading))
        if judged[-1].mean >= PERFECT and all(settled(t) for t in reading):
            break
        if n + 1 >= MOST_READINGS:
            break
    if not judged:
        return ()
    best = max(judged, key=lambda j: j.worth)
    if best.worth <= 0.0:
        return judged[0].reading
    rivals = [j for j in judged if j is not best and j.worth >= RIVAL * best.worth]
    return tuple(_contested(t, rivals) for t in best.reading) if rivals else best.reading


def _judge(reading: tuple[Table, ...]) -> _Judged:
    qualities = [table_quality(t) for t in reading]
    rows = sum(q.rows for q in qualities)
    mean = sum(q.mean * q.rows for q in qualities) / rows if rows else 0.0
    worth = sum(q.worth for q in qualities) * (AS_RULED if all(t.kind == "ruled" for t in reading) else 1.0)
    return _Judged(reading=reading, worth=worth, mean=mean)


def _contested(table: Table, rivals: Iterable[_Judged]) -> Table:
    own = _facts((table,))
    tops: set[float] = set()
    for rival in rivals:
        other = _facts(rival.reading)
        tops |= {top for top in own if top in other and _differ(own[top], other[top])}
    return replace(table, contested=tuple(sorted(tops))) if tops else table


def _differ(one: _Facts, other: _Facts) -> bool:
    """True when both say something of the same kind, and not the same; what only one says is no quarrel."""
    return any(one[role] and other[role] and one[role] != other[role] for role in one)


def _facts(reading: Iterable[Table]) -> dict[float, _Facts]:
    """Return what is read at each height: cavities, colours, circuits and sizes of the rows there."""
    found: dict[float, _Facts] = {}
    for table in reading:
        for plan in table_to_plans(table):
            for row in table_to_rows(table, plan):
                here = found.setdefault(round(row.box.top, 0), {r: frozenset() for r in CONTESTED})
                for role in CONTESTED:
                    text = row.cavity if role == "cavity" else row.values.get(role, "")
                    here[role] |= {text} if text else frozenset()
    return found
