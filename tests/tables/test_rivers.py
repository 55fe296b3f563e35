"""Columns without rules: white rivers between words. Words are read from drawn pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents
from xref.tables.lines import Line, words_to_lines
from xref.tables.rivers import lines_to_rivers, rivers_to_edges

ROWS = (
    ("1", "BK", "1440", "Lamp supply, left side"),
    ("2", "BU/YE", "1441", "Horn"),
    ("3", "RD", "1442", "Fan motor"),
    ("4", "GN/WH", "1443A", "Hydraulic pump"),
    ("5", "WH", "1444", "Valve"),
)
XS = (60, 130, 210, 290)


def _lines(page: Page) -> list[Line]:
    (content,) = contents(page.save())
    return words_to_lines(content.words)


@pytest.mark.parametrize("gap", [60, 40, 8])
def test_columns_are_parted_by_rivers_wide_and_narrow(tmp_path: Path, gap: float) -> None:
    """Four columns have three rivers between them, down to a gap a little wider than a blank."""
    xs = (60, 60 + 8 + gap, 60 + 8 + 36 + 2 * gap, 60 + 8 + 36 + 28 + 3 * gap)
    lines = _lines(Page(tmp_path / "a.pdf").aligned(ROWS, xs, bold_first=False))
    rivers = lines_to_rivers(lines)
    assert len(rivers) == 3
    assert all(before < (r.x0 + r.x1) / 2 <= x for before, r, x in zip(xs, rivers, xs[1:], strict=False))


def test_borders_stand_in_the_middle_of_rivers_and_at_the_ends(tmp_path: Path) -> None:
    """No word of the lines is cut by a border, and none stands outside."""
    lines = _lines(Page(tmp_path / "a.pdf").aligned(ROWS, XS, bold_first=False))
    edges = rivers_to_edges(lines_to_rivers(lines), lines)
    assert edges == sorted(edges) and len(edges) == 5
    for word in (w for line in lines for w in line.words):
        assert edges[0] < word.box.x0 and word.box.x1 < edges[-1]
        assert not any(word.box.x0 < e < word.box.x1 for e in edges)


def test_running_text_has_no_rivers(tmp_path: Path) -> None:
    """Blanks of prose line up by chance, but only blanks part its words."""
    page = Page(tmp_path / "a.pdf")
    for text in (
        "Turn the key switch off before the plug is pulled.",
        "Wait until the lamp on the display has gone out.",
        "Pull at the housing and never at the wires of it.",
        "Close the cover when the work at it is all done.",
    ):
        page.line(text)
    assert lines_to_rivers(_lines(page)) == []


def test_one_line_that_runs_over_does_not_dam_a_river(tmp_path: Path) -> None:
    """In a long table a single note across the columns leaves the columns standing."""
    page = Page(tmp_path / "a.pdf").aligned([*ROWS, *ROWS, *ROWS], XS, bold_first=False, down=14)
    page.line("A note that runs across all of the columns of this table")
    page.aligned(ROWS, XS, bold_first=False)
    assert len(lines_to_rivers(_lines(page))) == 3


def test_a_column_that_is_mostly_blank_still_has_its_river(tmp_path: Path) -> None:
    """A colour printed in two rows of five is a column."""
    sparse = [(a, b if i in (0, 3) else "", c, d) for i, (a, b, c, d) in enumerate(ROWS)]
    lines = _lines(Page(tmp_path / "a.pdf").aligned(sparse, XS, bold_first=False))
    assert len(lines_to_rivers(lines)) == 3


def test_no_lines_have_no_rivers() -> None:
    """Nothing comes of nothing."""
    assert lines_to_rivers([]) == []
