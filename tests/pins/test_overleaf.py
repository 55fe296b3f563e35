"""Tables that go on overleaf, and captions that stand where they end."""

from __future__ import annotations

from pathlib import Path

from tests.pins.manual import HEADER, OTHERS, ROWS, WIDE, manual
from tests.tables.drawn import Page, pins

Row = tuple[str, str, str, str]


def rows(first: int, last: int, circuit: int) -> list[Row]:
    """Return rows of cavities, each with a circuit of its own."""
    return [(str(n), "BK", str(circuit + n), "Lamp feed") for n in range(first, last + 1)]


def captioned(page: Page, n: int, name: str, own: list[Row]) -> None:
    """Draw a table with its caption under it."""
    page.ruled((HEADER, *own), WIDE, down=14)
    page.line(f"Table {n}: {name}", down=34)


def test_the_caption_under_the_rest_names_the_begin_too(tmp_path: Path) -> None:
    """The begin of a table at the foot of a page has no caption: it stands under its end."""
    page = Page(tmp_path / "a.pdf")
    captioned(page, 1, "X5", rows(1, 4, 1000))
    captioned(page, 2, "X6", rows(1, 4, 2000))
    page.y = 700
    page.ruled((HEADER, *rows(1, 4, 3000)), WIDE).next()
    captioned(page, 3, "X7", rows(5, 8, 3000))
    found = pins(page).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {("X5", "1"), ("X6", "2"), ("X7", "3")}


def test_a_table_that_begins_anew_is_no_rest_of_its_neighbour(tmp_path: Path) -> None:
    """The same columns and no heading: it is left without a name, not given the one before."""
    page = Page(tmp_path / "a.pdf").heading("X5 Pump", down=22).ruled((HEADER, *rows(1, 4, 1000)), WIDE)
    found = pins(page.ruled((HEADER, *rows(1, 4, 2000)), WIDE)).pins
    assert {p.connector for p in found if p.circuit[0] == "2"} != {"X5"}
    assert all("heading-uncertain" in p.flags for p in found if p.circuit[0] == "2")


def test_a_heading_left_at_the_foot_of_a_page_names_the_table_overleaf(tmp_path: Path) -> None:
    """The last line under a table that has its own heading is the heading of what begins the next page."""
    page = manual(tmp_path, ("X3 Horn", ROWS), ("X5 Pump", ROWS), ("X7 Fan", OTHERS))
    page.heading("X9 Valve").next()
    page.ruled((HEADER, *ROWS), WIDE).heading("X8 Lamp").ruled((HEADER, *OTHERS), WIDE)
    made = pins(page)
    assert [p.connector for p in made.pins] == [n for n in ("X3", "X5", "X7", "X9", "X8") for _ in range(3)]
    assert not any("heading-uncertain" in p.flags for p in made.pins)


def test_a_table_that_stands_right_of_its_begin_goes_on_with_it(tmp_path: Path) -> None:
    """Two connectors, each in two columns under one heading: each right part is that of its own left one."""
    page = Page(tmp_path / "a.pdf")
    xs = (60, 90, 130, 180)
    for name, circuit in (("X5 Pump", 1000), ("X6 Winch", 2000)):
        page.heading(name, down=22)
        top = page.y
        page.aligned((HEADER, *rows(1, 4, circuit)), xs)
        page.y = top
        page.aligned((HEADER, *rows(5, 8, circuit)), tuple(x + 250 for x in xs), down=50)
    found = pins(page).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {("X5", "1"), ("X6", "2")}
    assert len(found) == 16
