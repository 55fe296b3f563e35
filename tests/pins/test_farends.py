"""What the far ends of wires say of the names of tables."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins

HEADER = ("Pin", "Wire", "Color", "To", "Function")
WIDE = (40, 60, 60, 70, 100)
COLORS = ("BU", "RD", "BK", "GN", "YE")
TEXTS = ("Lamp", "Horn", "Fan", "Pump", "Seat")


def _page(path: Path, headings: tuple[str, str], back: str, circuits: tuple[str, ...]) -> Page:
    """Draw X5, whose wires all go to the same cavities of X6, and a table whose wires go to `back`."""
    page = Page(path)
    own = ("1440", "1441", "1442", "1443", "1444")
    first = [(str(n + 1), c, COLORS[n], f"X6:{n + 1}", TEXTS[n]) for n, c in enumerate(own)]
    second = [(str(n + 1), c, COLORS[n], f"{back}:{n + 1}", TEXTS[n]) for n, c in enumerate(circuits)]
    for heading, rows in zip(headings, (first, second), strict=True):
        page.heading(heading).ruled((HEADER, *rows), WIDE)
    return page


def test_a_table_without_name_has_that_of_the_wires_that_end_there(tmp_path: Path) -> None:
    """The same circuits in the same cavities show whose a table is; the name is doubted all the same."""
    own = ("1440", "1441", "1442", "1443", "1444")
    made = pins(_page(tmp_path / "a.pdf", ("Connector X5", "Overview"), "X5", own)).pins
    found = {(p.connector, p.cavity) for p in made if p.circuit and "heading-uncertain" in p.flags}
    assert found == {("X6", str(n + 1)) for n in range(5)}


def test_a_name_that_other_tables_contradict_is_doubted(tmp_path: Path) -> None:
    """Of the wires said to end in X6 none is in the table called so; what is said of X5 is borne out."""
    others = ("2440", "2441", "2442", "2443", "2444")
    page = _page(tmp_path / "a.pdf", ("Connector X5", "Connector X6"), "X9", others)
    ends = [(str(n + 1), f"144{n}", COLORS[n], f"X5:{n + 1}", TEXTS[n]) for n in range(5)]
    page.next().heading("Connector X7").ruled((HEADER, *ends), WIDE)
    page.heading("Connector X8").ruled((HEADER, *ends), WIDE)
    made = pins(page).pins
    assert all("heading-uncertain" in p.flags for p in made if p.connector == "X6")
