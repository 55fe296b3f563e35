"""Rules to grids. Geometry is the point here, so rules are given as they are."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from xref.pages.content import Rule
from xref.tables.grid import Grid, Region, rules_to_grids

XS = (60.0, 110.0, 180.0, 300.0)
YS = (100.0, 120.0, 140.0, 160.0)


def _across(y: float, x0: float = XS[0], x1: float = XS[-1]) -> Rule:
    return Rule(x0=x0, top=y, x1=x1, bottom=y)


def _down(x: float, top: float = YS[0], bottom: float = YS[-1]) -> Rule:
    return Rule(x0=x, top=top, x1=x, bottom=bottom)


def _full(xs: tuple[float, ...] = XS, ys: tuple[float, ...] = YS) -> list[Rule]:
    return [
        *(_across(y, xs[0], xs[-1]) for y in ys),
        *(_down(x, ys[0], ys[-1]) for x in xs),
    ]


def _spans(grid: Grid) -> set[tuple[int, int, int, int]]:
    return {(r.r0, r.c0, r.r1, r.c1) for r in grid.regions}


SINGLE = {(i, j, i, j) for i in range(3) for j in range(3)}


def test_crossing_lines_make_cells() -> None:
    """Four lines across and four down make nine cells between their lines."""
    (grid,) = rules_to_grids(_full())
    assert (grid.xs, grid.ys) == (XS, YS)
    assert _spans(grid) == SINGLE
    assert (grid.box.x0, grid.box.top, grid.box.x1, grid.box.bottom) == (XS[0], YS[0], XS[-1], YS[-1])


def test_each_cell_drawn_as_a_box_of_its_own_is_the_same_grid() -> None:
    """Edges drawn by both neighbours, a little apart, are one edge."""
    rules = []
    for top, bottom in pairwise(YS):
        for left, right in pairwise(XS):
            a, b, c, d = left + 0.4, top + 0.4, right - 0.4, bottom - 0.4
            rules += [_across(b, a, c), _across(d, a, c), _down(a, b, d), _down(c, b, d)]
    (grid,) = rules_to_grids(rules)
    assert len(grid.xs) == len(XS) and len(grid.ys) == len(YS)
    assert all(abs(a - b) < 1 for a, b in zip(grid.xs + grid.ys, XS + YS, strict=True))
    assert _spans(grid) == SINGLE


def test_a_double_frame_makes_no_narrow_columns() -> None:
    """A second line 2 pt outside the frame is decoration."""
    frame = [
        _across(YS[0] - 2, XS[0] - 2, XS[-1] + 2),
        _across(YS[-1] + 2, XS[0] - 2, XS[-1] + 2),
        _down(XS[0] - 2, YS[0] - 2, YS[-1] + 2),
        _down(XS[-1] + 2, YS[0] - 2, YS[-1] + 2),
    ]
    (grid,) = rules_to_grids([*_full(), *frame])
    assert _spans(grid) == SINGLE


def test_a_missing_line_across_merges_cells_down() -> None:
    """Where the line under a cell is left out, the cell goes on in the next row."""
    rules = [r for r in _full() if not (r.horizontal and r.top == YS[2])]
    (grid,) = rules_to_grids([*rules, _across(YS[2], XS[1], XS[-1])])
    assert _spans(grid) == (SINGLE - {(1, 0, 1, 0), (2, 0, 2, 0)}) | {(1, 0, 2, 0)}


def test_a_missing_line_down_merges_cells_across() -> None:
    """Where the lines between cells are left out, the cell spans the columns: a title row."""
    rules = [r for r in _full() if r.horizontal or r.x0 in (XS[0], XS[-1])]
    (grid,) = rules_to_grids([*rules, _down(XS[1], YS[1]), _down(XS[2], YS[1])])
    assert _spans(grid) == {(0, 0, 0, 2)} | {s for s in SINGLE if s[0] > 0}


def test_open_sides_are_closed_by_the_ends_of_the_lines() -> None:
    """Without a line at the left and right, the lines across say how far the table goes."""
    rules = [r for r in _full() if r.horizontal or r.x0 not in (XS[0], XS[-1])]
    (grid,) = rules_to_grids(rules)
    assert grid.xs == XS
    assert _spans(grid) == SINGLE


def test_open_top_and_bottom_are_closed_by_the_ends_of_the_lines() -> None:
    """The same for a table without its first and last line."""
    rules = [r for r in _full() if not r.horizontal or r.top not in (YS[0], YS[-1])]
    (grid,) = rules_to_grids(rules)
    assert grid.ys == YS
    assert _spans(grid) == SINGLE


def test_lines_that_nearly_meet_meet() -> None:
    """A gap of 3 pt where lines should cross does not tear a table apart."""
    rules = [*(_across(y, XS[0] + 3, XS[-1] - 3) for y in YS), *(_down(x) for x in XS)]
    (grid,) = rules_to_grids(rules)
    assert _spans(grid) == SINGLE


def test_a_line_in_short_pieces_parts_cells_as_a_whole_one() -> None:
    """A line drawn cell by cell is one line."""
    pieces = [_across(y, left, right) for y in YS for left, right in pairwise(XS)]
    (grid,) = rules_to_grids([*pieces, *(_down(x) for x in XS)])
    assert _spans(grid) == SINGLE


def test_a_frame_stands_round_a_grid_and_not_the_other_way_round() -> None:
    """Rules round a smaller grid, and apart from it, are its frame; grids beside each other frame nothing."""
    inner, outer = _full(), _full((40.0, 400.0, 420.0), (80.0, 500.0, 520.0))
    frame, grid = rules_to_grids([*inner, *outer])
    assert frame.frames(grid) and not grid.frames(frame) and not grid.frames(grid)


def test_tables_that_do_not_touch_are_two_grids_top_to_bottom() -> None:
    """Nothing joins them, so nothing may."""
    below = tuple(y + 200 for y in YS)
    grids = rules_to_grids([*_full(ys=below), *_full()])
    assert [g.ys for g in grids] == [YS, below]


def test_loose_lines_a_box_and_stubs_are_no_grid() -> None:
    """An underline, one frame and tick marks hold no cells."""
    box = [_across(300), _across(340), _down(XS[0], 300, 340), _down(XS[-1], 300, 340)]
    stubs = [Rule(x0=60 + i * 10, top=500, x1=60 + i * 10, bottom=503) for i in range(9)]
    assert rules_to_grids([_across(200), *box, *stubs]) == []
    assert rules_to_grids([]) == []


@given(
    st.lists(st.floats(8, 90), min_size=1, max_size=6),
    st.lists(st.floats(8, 60), min_size=1, max_size=8),
)
def test_every_full_grid_is_found_whatever_its_widths(widths: list[float], heights: list[float]) -> None:
    """Each column and row of a closed grid is there, and every cell is single."""
    xs, ys = [50.0], [80.0]
    for w in widths:
        xs.append(xs[-1] + w)
    for h in heights:
        ys.append(ys[-1] + h)
    grids = rules_to_grids(_full(tuple(xs), tuple(ys)))
    if len(widths) * len(heights) < 2:
        assert grids == []
        return
    (grid,) = grids
    assert (len(grid.xs), len(grid.ys)) == (len(xs), len(ys))
    assert len(grid.regions) == len(widths) * len(heights)
    assert all(r == Region(r0=r.r0, c0=r.c0, r1=r.r0, c1=r.c0) for r in grid.regions)
