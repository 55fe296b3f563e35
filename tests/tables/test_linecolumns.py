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
