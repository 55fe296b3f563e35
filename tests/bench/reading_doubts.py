"""How often each doubt was right: `python -m tests.bench.reading --doubts`.

A doubt is right when its row is wrong. One that is right in fewer than one case in twenty costs a person
more looks at the page than it saves.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tests.bench.reading_score import CUTTING, RIGHT, Judged

#: A doubt that is right in a smaller share of its rows is to be sharpened or dropped.
LEAST_RIGHT = 0.05
#: Wrong in one of these is a wrong row; `status` and `role` are counted beside it.
WRONG = frozenset({*RIGHT, "colors", "not there"})
#: Wrong in one of these, a wire is cut that should not be.
CUT = frozenset({*CUTTING, "not there"})


@dataclass(slots=True, kw_only=True)
class Doubted:
    """What became of the rows that carry one doubt."""

    raised: int = 0
    wrong: int = 0  #: any field but status and role
    cutting: int = 0
    any_field: int = 0
    alone: int = 0  #: it was the only doubt of the row
    alone_wrong: int = 0  #: and the row was wrong: without it the row had been silent
    layouts: Counter[str] = field(default_factory=Counter)  #: where it was not right

    @property
    def right(self) -> float:
        """Share of its rows that are wrong."""
        return self.wrong / self.raised if self.raised else 0.0


def judge_doubts(rows: Iterable[Judged]) -> dict[str, Doubted]:
    """Count for each doubt its rows, and how many of them were wrong."""
    found: dict[str, Doubted] = defaultdict(Doubted)
    for row in rows:
        off = set(row.off)
        for flag in set(row.flags):
            doubt = found[flag]
            doubt.raised += 1
            doubt.any_field += bool(off)
            doubt.wrong += bool(off & WRONG)
            doubt.cutting += bool(off & CUT)
            doubt.alone += len(set(row.flags)) == 1
            doubt.alone_wrong += len(set(row.flags)) == 1 and bool(off & WRONG)
            if not off & WRONG:
                doubt.layouts[row.layout] += 1
    return dict(found)


def silent_kinds(rows: Iterable[Judged]) -> Counter[str]:
    """Count silently wrong rows by the fields that are wrong."""
    return Counter(" ".join(row.off) for row in rows if not row.flags and set(row.off) & WRONG)


def print_doubts(rows: Sequence[Judged], *, places: bool = True) -> None:
    """Print each doubt with how often it was right, and silently wrong rows by kind.

    Without `places` nothing is said of the layouts it happened in.
    """
    total = max(len(rows), 1)
    doubted = sum(bool(r.flags) for r in rows)
    wrong = sum(bool(set(r.off) & WRONG) for r in rows)
    silent = silent_kinds(rows)
    cutting = sum(bool(set(r.off) & CUT) and not r.flags for r in rows)
    per = 10_000 / max(total - doubted, 1)
    print(
        f"\n{len(rows):,} rows read, {wrong:,} wrong; doubted {doubted:,} ({doubted / total:.1%}); "
        f"silently wrong {silent.total():,} ({silent.total() * per:.0f} per 10,000 vouched), "
        f"of these in half, colour, circuit or not there {cutting:,} ({cutting * per:.0f})"
    )
    print(f"{'doubt':24} raised  wrong  right%  cutting  any field  only doubt  and wrong  mostly in vain at")
    for name, d in sorted(judge_doubts(rows).items(), key=lambda item: -item[1].raised):
        vain = ", ".join(f"{layout} {n}" for layout, n in d.layouts.most_common(3)) if places else ""
        mark = " <-- too seldom right" if d.right < LEAST_RIGHT else ""
        print(
            f"{name:24} {d.raised:6} {d.wrong:6} {100 * d.right:6.1f}  {d.cutting:7}  {d.any_field:9}  "
            f"{d.alone:10}  {d.alone_wrong:9}  {vain}{mark}"
        )
    _print_potentials(rows)
    print("silently wrong rows by what is wrong: " + (_listed(silent) or "none"))
    if places:
        layouts = Counter(r.layout for r in rows if not r.flags and set(r.off) & WRONG)
        print("by layout: " + (_listed(layouts) or "none"))


def _print_potentials(rows: Sequence[Judged]) -> None:
    """Print how many circuits that name a voltage were known for it, of those read right."""
    right = [r for r in rows if "circuit" not in r.off]
    counts = Counter((r.potential, "potential-name" in r.notices) for r in right)
    print(
        f"names of voltages: {counts['potential', True]} named, {counts['potential', False]} not; "
        f"circuits that only look like one: {counts['circuit', True]} taken for it, "
        f"{counts['circuit', False]} not; others taken for one: {counts['', True]}"
    )


def _listed(counts: Counter[str]) -> str:
    return ", ".join(f"{n}× {name}" for name, n in counts.most_common(12))
