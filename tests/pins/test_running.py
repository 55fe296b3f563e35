"""What comes back on page after page, and what a page's block says of it."""

from __future__ import annotations

from pathlib import Path

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins

UNCERTAIN = "heading-uncertain"


def drawn(tmp_path: Path, heads: list[tuple[str, str]], titles: list[str]) -> set[tuple[str, int]]:
    """Draw a page for each title under a head in two parts; return (name, page) of all vouched rows."""
    page = Page(tmp_path / "a.pdf")
    for n, ((left, right), title) in enumerate(zip(heads, titles, strict=True)):
        page.y = 45
        page.line(left, down=0).line(right, x=400, down=55)
        if title:
            page.heading(title, down=22)
        rows = [(str(c), "BK", str(1000 + 10 * n + c), "Lamp feed") for c in (1, 2, 3)]
        page.ruled((HEADER, *rows), WIDE).next()
    return {(p.connector, p.page) for p in pins(page).pins if UNCERTAIN not in p.flags}


def test_a_part_that_runs_through_the_manual_names_nothing(tmp_path: Path) -> None:
    """The machine's type looks like a designator; it stands on every page, beside what is the page's own."""
    heads = [("KZ-210 Electrical system", t) for t in ("Pumps", "Pumps", "Lamps", "Lamps")]
    assert drawn(tmp_path, heads, ["X5", "X6", "X7", "X8"]) == {("X5", 1), ("X6", 2), ("X7", 3), ("X8", 4)}
    assert drawn(tmp_path, heads, ["", "", "", ""]) == set()


def test_the_page_s_own_part_of_the_head_names_its_table(tmp_path: Path) -> None:
    """What runs beside it is left out."""
    heads = [("Model 7 manual", f"Connector X{n}") for n in (5, 16, 27, 38)]
    found = drawn(tmp_path, heads, ["", "", "", ""])
    assert found == {("X5", 1), ("X16", 2), ("X27", 3), ("X38", 4)}


def test_numbers_of_sections_name_no_connector(tmp_path: Path) -> None:
    """`J2 PC 65` in section J is about PC 65."""
    heads = [("Workshop manual", "Section J – Electrical")] * 4
    titles = ["J2 PC 65 – Fuse box", "J3 Axle, PC 20", "J4 PC 38 – Lamps", "J5 PC 7 – Horn"]
    assert drawn(tmp_path, heads, titles) == {("PC 65", 1), ("PC 20", 2), ("PC 38", 3), ("PC 7", 4)}


def test_a_page_number_at_the_edge_is_no_value(tmp_path: Path) -> None:
    """`CONNECTOR PIN-OUTS` at the left and `8 - 6` at the right are no key and value."""
    heads = [("CONNECTOR PIN-OUTS", f"8 - {n}") for n in (3, 4, 5)]
    assert drawn(tmp_path, heads, ["", "", ""]) == set()
