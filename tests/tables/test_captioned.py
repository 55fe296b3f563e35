"""Tables beside each other under the same header: parts of one table, or two tables with a caption each."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins, tables

HEADER = ("Pin", "Wire", "Color", "Use", "Pin", "Wire", "Color", "Use")
XS = (60, 90, 140, 190, 320, 350, 400, 450)
ROWS = (
    ("1", "1440", "BU", "Lamp", "1", "2440", "GN", "Pump"),
    ("2", "1441", "RD", "Horn", "2", "2441", "YE", "Fan"),
)


def _captions(page: Page, left: str, right: str) -> Page:
    page.heading(left, size=9, down=0 if right else 20)
    return page.heading(right, x=320, size=9, down=20) if right else page


def test_with_a_caption_each_they_are_two_tables(tmp_path: Path) -> None:
    """Both sides have a caption for each header: each table has its own name."""
    page = Page(tmp_path / "a.pdf")
    for names in (("X5", "X6"), ("X7", "X8")):
        _captions(page, *(f"Fig. 1: connector {n}, device" for n in names)).aligned((HEADER, *ROWS), XS)
    found = {(p.connector, p.cavity, p.circuit) for p in pins(page).pins}
    assert found == {
        (x, c, w) for x, y in (("X5", "X6"), ("X7", "X8")) for c, w in (("1", "1440"), ("2", "1441"))
    } | {(y, c, w) for x, y in (("X5", "X6"), ("X7", "X8")) for c, w in (("1", "2440"), ("2", "2441"))}


def test_with_one_caption_they_are_one_table(tmp_path: Path) -> None:
    """The blocks of one connector share its caption."""
    page = _captions(Page(tmp_path / "a.pdf"), "Fig. 1: connector X5, device", "").aligned(
        (HEADER, *ROWS), XS
    )
    assert [t.columns for t in tables(page)] == [8]
