"""Names that stand within tables: in title rows, last rows, corners and boxes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, OTHERS, ROWS, WIDE
from tests.tables.drawn import Page, pins
from xref.records import Pin

UNCERTAIN = "heading-uncertain"


def names(page: Page) -> dict[str, set[str]]:
    """Return the circuits read under each name; no row may carry a doubt about its name."""
    found: dict[str, set[str]] = {}
    for pin in pins(page).pins:
        assert UNCERTAIN not in pin.flags, pin
        found.setdefault(pin.connector, set()).add(pin.circuit)
    return found


EXPECTED = {"X5": {"1440", "1441", "1442"}, "X6": {"2440", "2441", "2442"}}


@pytest.mark.parametrize("title", ["Connector {n} - Pump", "{n} Pump", "Pump ({n})"])
def test_the_last_row_of_a_table_names_it(tmp_path: Path, title: str) -> None:
    """A row over the whole table under its last cavity is its name, whatever stands above the table."""
    page = Page(tmp_path / "a.pdf").heading("Connectors of the mast")
    for name, rows in (("X5", ROWS), ("X6", OTHERS)):
        last = (title.format(n=name), "", "", "")
        page.ruled((HEADER, *rows, last), WIDE, spans=(((0, 4), (3, 4)),), down=20)
    assert names(page) == EXPECTED


def test_a_title_row_in_two_pieces_is_put_together(tmp_path: Path) -> None:
    """The name at the left, what it plugs into at the right, over other borders than the columns."""
    page = Page(tmp_path / "a.pdf")
    rows = [
        HEADER,
        ("Connector X5", "", "Pump, behind the seat", ""),
        *ROWS,
        ("X6", "", "Mast lamp", ""),
        *OTHERS,
    ]
    spans = tuple(((c, r), (c + 1, r)) for r in (1, 5) for c in (0, 2))
    assert names(page.ruled(rows, WIDE, spans=spans)) == EXPECTED


def test_a_row_that_begins_like_a_name_is_a_row(tmp_path: Path) -> None:
    """Circuits in the first column have the form of names; they part no table."""
    rows = [("Circuit", "Cavity", "Color", "Function")]
    rows += [(f"L{n + 40}", str(n), "BK", "Lamp, left hand side") for n in range(1, 7)]
    found = pins(Page(tmp_path / "a.pdf").heading("X5 Pump").ruled(rows, WIDE)).pins
    assert [(p.connector, p.circuit) for p in found] == [("X5", f"L{n + 40}") for n in range(1, 7)]


def test_a_box_over_the_picture_of_a_face_is_a_title(tmp_path: Path) -> None:
    """Bare numbers in boxes are names, where each table has another one."""
    page = Page(tmp_path / "a.pdf")
    for n, (name, of) in enumerate((("34", "Pump"), ("7", "Horn"), ("52", "Mast lamp"))):
        rows = [(str(c), "BK", str(1000 + 10 * n + c), "Lamp feed") for c in (1, 2, 3, 4)]
        page.ruled(((name, of),), (40, 160), down=8)
        page.ruled((("1", "2"), ("3", "4")), (20, 20), down=14)
        page.ruled((HEADER, *rows), WIDE)
    assert set(names(page)) == {"34", "7", "52"}


def test_names_in_the_corner_of_headers_are_names(tmp_path: Path) -> None:
    """The header's first cell names the connector in one table, and another one in the next."""
    page = Page(tmp_path / "a.pdf")
    for name, rows in (("X5", ROWS), ("X6", OTHERS)):
        page.ruled(((name, *HEADER[1:]), *rows), WIDE)
    assert names(page) == EXPECTED


def test_a_header_over_values_names_nothing(tmp_path: Path) -> None:
    """`MODE0` heads a column of signals in one table; the caption names the connector."""
    rows = [("Pin", "Signal", "Color", "MODE0"), *((str(n), f"IO_{n}", "BK", f"gpio{n}a") for n in (1, 2, 3))]
    found = pins(Page(tmp_path / "a.pdf").line("Table 3. P8 conflicts", down=20).ruled(rows, WIDE)).pins
    assert {p.connector for p in found} == {"P8"}


def test_keys_over_their_values_are_a_head(tmp_path: Path) -> None:
    """A table of one row, its header keys of a connector, is the head of the table under it."""
    page = Page(tmp_path / "a.pdf")
    page.ruled((("Component", "Connector", "Location"), ("Pump", "X5", "roof")), (120, 100, 100), down=14)
    page.ruled((HEADER, *ROWS), WIDE)
    found: list[Pin] = list(pins(page).pins)
    assert {(p.connector, p.component) for p in found} == {("X5", "Pump")}


def test_a_name_with_a_blank_begins_a_row_over_the_whole_table(tmp_path: Path) -> None:
    """`CN 23 Pump` in a merged row names the rows under it."""
    rows = [("CN 23 Pump", "", "", ""), *ROWS, ("CN 24 Winch", "", "", ""), *OTHERS]
    spans = (((0, 1), (3, 1)), ((0, 5), (3, 5)))
    found = names(Page(tmp_path / "a.pdf").ruled((HEADER, *rows), WIDE, spans=spans))
    assert found == {"CN 23": EXPECTED["X5"], "CN 24": EXPECTED["X6"]}
