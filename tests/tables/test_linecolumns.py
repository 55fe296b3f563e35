"""Pages set in columns."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins

HEADER = ("Pin", "Circuit", "Color", "Function")
LEFT = (HEADER, ("1", "1440", "BU", "Lamp feed"), ("2", "1441", "RD", "Horn"), ("3", "1442", "BK", "Ground"))
RIGHT = (HEADER, ("1", "2440", "GN", "Pump"), ("2", "2441", "YE", "Valve"), ("3", "2442", "WH", "Fan"))


def _in_columns(path: Path, down: float) -> Page:
    """Draw a connector in each of two columns, the right one lower by so many points."""
    page = Page(path).heading("Connector X5").aligned(LEFT, (60, 90, 140, 180))
    page.y = 90.0 + down
    return page.heading("Connector X6", x=320).aligned(RIGHT, (320, 350, 400, 440))


def test_tables_beside_each_other_at_other_heights_are_two(tmp_path: Path) -> None:
    """Rows that share a line of the page by chance belong to the table of their own column."""
    for down in (0.0, 7.0, 14.0, 21.0, 50.0):
        found = {
            (p.connector, p.cavity, p.circuit, p.color_code, p.function)
            for p in pins(_in_columns(tmp_path / f"{down}.pdf", down)).pins
        }
        assert found == {("X5", *row) for row in LEFT[1:]} | {("X6", *row) for row in RIGHT[1:]}, down


def test_a_header_across_the_page_parts_no_columns(tmp_path: Path) -> None:
    """A title of header words and the second line of a header stand at other heights than its first."""
    page = Page(tmp_path / "a.pdf").heading("Pin assignment   Assegnazione pin", size=11)
    xs = (60, 100, 260, 320, 380, 440)
    heads = (("Pin", "Funzione", "Filo", "Colore", "mm²", "Verso"), ("", "", "Wire", "Colour", "", "To"))
    page.aligned((heads[0],), xs, down=11).aligned((heads[1],), xs, down=16)
    rows = [(str(n), "Lamp feed", f"1.00{n}", "BL", "0,5", f"X7:{n}" if n % 2 else "") for n in range(1, 7)]
    found = pins(page.aligned(rows, xs, bold_first=False)).pins
    assert [(p.cavity, p.circuit, p.color_code, p.size) for p in found] == [(r[0], *r[2:5]) for r in rows]


def test_words_within_a_cell_head_no_table(tmp_path: Path) -> None:
    """The second line of a text may hold words of headers."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    xs = (60, 100, 160, 400)
    page.aligned((("Pin", "Wire", "Function", "Color"),), xs)
    for n in range(1, 5):
        row = (str(n), f"144{n}", "Carico, segnale", "BU")
        page.aligned((row,), xs, down=11, bold_first=False).line("Load cell, Signal", x=160, down=16)
    found = pins(page).pins
    assert [(p.cavity, p.circuit, p.color_code) for p in found] == [
        (str(n), f"144{n}", "BU") for n in range(1, 5)
    ]
