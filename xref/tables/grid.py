"""Rules to grids: connected horizontal and vertical lines to cells, merged cells included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from xref.pages.content import Rule
from xref.records import Box

#: Rules nearer than this are one (doubled edges, borders drawn by both neighbours), points.
SAME_EDGE = 3.0
#: Ends of rules may miss each other by this much and still meet, points.
REACH = 3.5
#: A rule parts two cells when it covers this share of their common side.
COVERS = 0.6
#: Stubs shorter than this are decoration, points.
SHORTEST = 5.0
#: A column narrower than this holds no text, points: padding boxes and double frames.
NARROWEST = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """One cell: from row `r0` to `r1` and column `c0` to `c1`, both ends included."""

    r0: int
    c0: int
    r1: int
    c1: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Borders of columns and rows, and the cells between them."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    regions: tuple[Region, ...]

    @property
    def box(self) -> Box:
        """The grid's outline."""
        return Box(x0=self.xs[0], top=self.ys[0], x1=self.xs[-1], bottom=self.ys[-1])

    def frames(self, other: Grid) -> bool:
        """True for rules round a smaller grid that they do not touch."""
        a, b = self.box, other.box
        across = a.x0 - 1 <= b.x0 and b.x1 <= a.x1 + 1
        within = across and a.top - 1 <= b.top and b.bottom <= a.bottom + 1
        return within and b.width * b.height < a.width * a.height


def rules_to_grids(rules: Sequence[Rule]) -> list[Grid]:
    """Return the grids of a page, top to bottom: at least two rows or columns of cells each."""
    kept = [r for r in rules if max(r.x1 - r.x0, r.bottom - r.top) >= SHORTEST]
    grids = []
    for group in _connected(kept):
        grid = _group_to_grid(group)
        if grid is not None:
            grids.append(grid)
    return sorted(grids, key=lambda g: (g.ys[0], g.xs[0]))


def _connected(rules: Sequence[Rule]) -> list[list[Rule]]:
    """Group rules that touch or cross. Sweeps from top to bottom so that far ones are never compared."""
    parent = list(range(len(rules)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    order = sorted(range(len(rules)), key=lambda i: rules[i].top)
    open_rules: list[int] = []
    for i in order:
        open_rules = [j for j in open_rules if rules[j].bottom + REACH >= rules[i].top]
        for j in open_rules:
            if _touch(rules[i], rules[j]):
                parent[root(i)] = root(j)
        open_rules.append(i)
    groups: dict[int, list[Rule]] = {}
    for i, rule in enumerate(rules):
        groups.setdefault(root(i), []).append(rule)
    return list(groups.values())


def _touch(a: Rule, b: Rule) -> bool:
    return (
        a.x0 - REACH <= b.x1
        and b.x0 - REACH <= a.x1
        and a.top - REACH <= b.bottom
        and b.top - REACH <= a.bottom
    )


def _group_to_grid(group: Sequence[Rule]) -> Grid | None:
    across = [r for r in group if r.horizontal]
    down = [r for r in group if not r.horizontal]
    if not across or not down:
        return None
    xs = _cluster([(r.x0 + r.x1) / 2 for r in down] + _ends(across, down))
    ys = _cluster([(r.top + r.bottom) / 2 for r in across] + _ends_down(down, across))
    if len(xs) < 2 or len(ys) < 2 or (len(xs) - 1) * (len(ys) - 1) < 2:
        return None
    return Grid(xs=tuple(xs), ys=tuple(ys), regions=tuple(_regions(xs, ys, across, down)))


def _ends(across: Sequence[Rule], down: Sequence[Rule]) -> list[float]:
    """Open sides: horizontals that run on past the outermost verticals close the table there."""
    left, right = min(r.x0 for r in across), max(r.x1 for r in across)
    out = []
    if left < min(r.x0 for r in down) - 2 * REACH:
        out.append(left)
    if right > max(r.x1 for r in down) + 2 * REACH:
        out.append(right)
    return out


def _ends_down(down: Sequence[Rule], across: Sequence[Rule]) -> list[float]:
    top, bottom = min(r.top for r in down), max(r.bottom for r in down)
    out = []
    if top < min(r.top for r in across) - 2 * REACH:
        out.append(top)
    if bottom > max(r.bottom for r in across) + 2 * REACH:
        out.append(bottom)
    return out


def _cluster(values: Iterable[float]) -> list[float]:
    """Join values nearer than SAME_EDGE to their mean."""
    groups: list[list[float]] = []
    for value in sorted(values):
        if groups and value - groups[-1][-1] <= SAME_EDGE:
            groups[-1].append(value)
        else:
            groups.append([value])
    means = [sum(g) / len(g) for g in groups]
    out: list[float] = []
    for mean in means:
        if not out or mean - out[-1] >= NARROWEST:
            out.append(mean)
    return out


def _regions(
    xs: Sequence[float], ys: Sequence[float], across: Sequence[Rule], down: Sequence[Rule]
) -> list[Region]:
    columns, rows = len(xs) - 1, len(ys) - 1
    parent = list(range(columns * rows))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    walls = {j: [r for r in down if abs((r.x0 + r.x1) / 2 - x) <= SAME_EDGE] for j, x in enumerate(xs)}
    floors = {
        i: [r for r in across if abs((r.top + r.bottom) / 2 - y) <= SAME_EDGE] for i, y in enumerate(ys)
    }
    for i, (top, bottom) in enumerate(pairwise(ys)):
        for j, (left, right) in enumerate(pairwise(xs)):
            here = i * columns + j
            if j + 1 < columns and not _covered(top, bottom, [(r.top, r.bottom) for r in walls[j + 1]]):
                parent[root(here)] = root(here + 1)
            if i + 1 < rows and not _covered(left, right, [(r.x0, r.x1) for r in floors[i + 1]]):
                parent[root(here)] = root(here + columns)
    members: dict[int, list[tuple[int, int]]] = {}
    for i in range(rows):
        for j in range(columns):
            members.setdefault(root(i * columns + j), []).append((i, j))
    return [
        Region(
            r0=min(i for i, _ in cells),
            c0=min(j for _, j in cells),
            r1=max(i for i, _ in cells),
            c1=max(j for _, j in cells),
        )
        for cells in members.values()
    ]


def _covered(low: float, high: float, spans: Iterable[tuple[float, float]]) -> bool:
    """True when the spans together cover enough of low…high."""
    total, reach = 0.0, low
    for start, end in sorted(spans):
        start, end = max(start, reach), min(end, high)
        if end > start:
            total += end - start
            reach = end
    return total >= COVERS * (high - low)
