"""Which of the lines around a table names its connector."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, only_table, tables
from xref.pins.naming import CERTAIN, goes_on, name_table

HEADER = ("Cavity", "Color", "Circuit", "Function")
ROWS = (HEADER, ("1", "BK", "1440", "Lamp"), ("2", "BU", "1441", "Horn"), ("3", "RD", "1442", "Fan"))
WIDE = (60, 80, 70, 150)


def test_the_heading_above_names_a_table_for_certain(tmp_path: Path) -> None:
    """A bold designator right above the table leaves no doubt."""
    naming = name_table(only_table(Page(tmp_path / "a.pdf").heading("Connector X5 - Pump").ruled(ROWS, WIDE)))
    assert naming is not None and naming.score >= CERTAIN
    assert (naming.head.connector, naming.head.name) == ("X5", "Pump")


def test_a_table_with_nothing_around_has_no_name(tmp_path: Path) -> None:
    """Where nothing is printed, nothing is named."""
    assert name_table(only_table(Page(tmp_path / "a.pdf").ruled(ROWS, WIDE))) is None


def test_running_text_that_mentions_a_connector_does_not_name_the_table(tmp_path: Path) -> None:
    """A heading wins over a nearer sentence in which another connector is mentioned."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Pump")
    page.line(
        "Before you unplug it, make sure that X9 on the other side of the frame is unplugged too.", down=22
    )
    naming = name_table(only_table(page.ruled(ROWS, WIDE)))
    assert naming is not None and naming.head.connector == "X5"


def test_each_of_two_tables_takes_its_own_heading(tmp_path: Path) -> None:
    """The heading of the next table stands below this one, and is not its name."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Pump").ruled(ROWS, WIDE)
    found = [name_table(t) for t in tables(page.heading("Connector X6 - Fan").ruled(ROWS, WIDE))]
    assert [n.head.connector for n in found if n] == ["X5", "X6"]


def test_tables_side_by_side_take_the_headings_over_them(tmp_path: Path) -> None:
    """Each heading belongs to the table below it, not to the one beside."""
    rows, widths = [row[:3] for row in ROWS], (50, 60, 60)
    page = Page(tmp_path / "a.pdf").heading("Connector X5", down=0).heading("Connector X6", x=320)
    top = page.y
    page.ruled(rows, widths)
    page.y = top
    page.ruled(rows, widths, x=320)
    found = [name_table(t) for t in tables(page)]
    assert [n.head.connector for n in found if n] == ["X5", "X6"]


def test_a_head_of_keys_and_values_comes_first(tmp_path: Path) -> None:
    """A small grid of keys and values above the table is the surest name."""
    page = Page(tmp_path / "a.pdf").heading("Connectors of the pump, see also X9")
    page.ruled(
        (("Connector", "X7", "Component", "Pump controller"), ("Housing", "black", "Cavities", "3")),
        (80, 60, 80, 120),
        down=10,
    )
    (table,) = [t for t in tables(page.ruled(ROWS, WIDE)) if t.has_header]
    naming = name_table(table)
    assert naming is not None and (naming.score, naming.where) == (1.0, "head")
    assert (naming.head.connector, naming.head.component, naming.head.ways) == ("X7", "Pump controller", 3)


@pytest.mark.parametrize(
    ("before", "after", "on"),
    [
        (["1", "2"], ["3", "4"], True),
        (["1", "3"], ["5", "7"], True),
        (["A1", "A2"], ["A3"], True),
        (["A11", "A12"], ["B1"], True),
        (["12"], ["12"], True),
        (["1", "2"], ["1", "2"], False),
        (["1", "2"], ["9"], False),
        (["A2"], ["C204"], False),
        (["a"], ["1"], False),
        ([], ["1"], False),
        (["1"], [], False),
    ],
)
def test_cavities_run_on_or_begin_anew(before: list[str], after: list[str], on: bool) -> None:
    """… 11, 12 | 13, 14 … is one connector; 1, 2 | 1, 2 is two."""
    assert goes_on(before, after) is on


def test_a_number_over_the_ways_of_its_housing_is_a_name_before_a_title(tmp_path: Path) -> None:
    """A plate with `1580` and `grey 31 way` names the table, not the component printed beside it."""
    page = Page(tmp_path / "a.pdf").heading("1580", size=12, down=6)
    page.heading("Engine control unit", x=160, size=10, down=6).line("grey 31 way", size=7, down=20)
    naming = name_table(only_table(page.aligned(ROWS, (60, 100, 170, 240))))
    assert naming is not None and naming.head.connector == "1580"
    assert naming.head.ways == 31
