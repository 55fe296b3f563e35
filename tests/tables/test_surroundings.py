"""Keys and values in the lines over a table, and what stands left of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, only_table

ROWS = (
    ("Cavity", "Color", "Circuit", "Function"),
    ("1", "BK", "1440", "Lamp"),
    ("2", "BU", "1441", "Horn"),
    ("3", "RD", "1442", "Fan"),
)
WIDE = (60, 80, 70, 150)


@pytest.mark.parametrize(
    ("line", "head"),
    [
        ("Component: Pump Connector: X5", {"Component": "Pump", "Connector": "X5"}),
        ("Connector: X5 Housing: black Ways: 9", {"Connector": "X5", "Housing": "black", "Ways": "9"}),
        ("Connector = X5", {"Connector": "X5"}),
        ("Belegung der Steckverbindung X5 am Bauteil Pumpe", {}),
        ("Note: unplug first", {}),
        ("Connector C 12 is reached after the lower cover has been taken off The harness runs left", {}),
    ],
)
def test_one_line_may_hold_several_facts(tmp_path: Path, line: str, head: dict[str, str]) -> None:
    """Each key ends the value before it; a sentence with such words in it is no head."""
    page = Page(tmp_path / "a.pdf").line(line, down=24)
    assert dict(only_table(page.ruled(ROWS, WIDE)).head) == head


def test_a_fact_of_no_use_here_does_not_end_a_head(tmp_path: Path) -> None:
    """Part numbers and the like stand between the facts that matter."""
    page = Page(tmp_path / "a.pdf").line("Connector: X5", down=12).line("Part no.: 12 345 67", down=12)
    table = only_table(page.line("Location: mast", down=24).ruled(ROWS, WIDE))
    assert dict(table.head) == {"Connector": "X5", "Location": "mast"}


def test_a_head_ends_where_other_lines_begin(tmp_path: Path) -> None:
    """Facts over a heading in between belong to something else."""
    page = Page(tmp_path / "a.pdf").line("Connector: X9", down=14).line("Location: frame", down=14)
    page.heading("Pump", down=20).line("Connector: X5", down=14).line("Location: mast", down=24)
    assert dict(only_table(page.ruled(ROWS, WIDE)).head) == {"Connector": "X5", "Location": "mast"}


def test_text_left_of_a_table_is_beside_it(tmp_path: Path) -> None:
    """The margin beside the rows is a place of its own."""
    page = Page(tmp_path / "a.pdf")
    top = page.y
    page.heading("X5", x=40)
    page.y = top
    table = only_table(page.ruled(ROWS, WIDE, x=140))
    assert [(a.line.text, a.where) for a in table.around] == [("X5", "beside")]
