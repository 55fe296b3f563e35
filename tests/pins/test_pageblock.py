"""The block at the edge of a drawing sheet."""

from __future__ import annotations

from pathlib import Path

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins


def test_the_block_of_a_sheet_names_its_table(tmp_path: Path) -> None:
    """A word for connector over a name, on each sheet another one."""
    page = Page(tmp_path / "a.pdf")
    for n, name in enumerate(("X369", "X245", "X128")):
        rows = [(str(c), "BK", str(1000 + 10 * n + c), "Lamp feed") for c in (1, 2, 3)]
        page.ruled((HEADER, *rows), WIDE)
        page.y = 700
        page.ruled((("Drawn by", "Connector", "Sheet"), ("Engineering", name, "b")), (90, 90, 60), x=300)
        page.next()
    found = pins(page).pins
    assert {(p.connector, p.page) for p in found} == {("X369", 1), ("X245", 2), ("X128", 3)}
    assert not any("heading-uncertain" in p.flags for p in found)
