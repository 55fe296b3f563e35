"""Names that change where the cavities begin anew."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins
from xref.rows.runnames import names_of_runs

CAVITIES = ("1", "2", "3", "1", "2")


def test_a_new_name_wherever_cavities_begin_anew() -> None:
    """Blank or repeated within its run, another designator for each run."""
    assert names_of_runs(("X5", "", "", "X6", ""), CAVITIES)
    assert names_of_runs(("X5", "X5", "X5", "X6", "X6"), CAVITIES)


def test_names_that_change_elsewhere_name_something_else() -> None:
    """Devices at the far ends change from row to row; words are no designators."""
    assert not names_of_runs(("X5", "X6", "", "X7", ""), CAVITIES)
    assert not names_of_runs(("X5", "", "", "", ""), CAVITIES)
    assert not names_of_runs(("Lamp", "", "", "Horn", ""), CAVITIES)


def test_a_list_by_device_names_its_connectors_and_goes_on_overleaf(tmp_path: Path) -> None:
    """The rows before the first name of the next page belong to the last name of this one."""
    header = ("Device", "Pin", "Wire", "Color", "Function")
    page = Page(tmp_path / "a.pdf")
    first = [
        ("X5", "1", "1440", "BU", "Lamp"),
        ("", "2", "1441", "RD", "Horn"),
        ("X6", "1", "1442", "BK", "Fan"),
    ]
    page.ruled((header, *first), (60, 40, 60, 60, 90)).next()
    page.ruled(
        (header, ("", "2", "1443", "GN", "Pump"), ("X7", "1", "1444", "YE", "Seat")), (60, 40, 60, 60, 90)
    )
    found = [(p.connector, p.cavity, p.circuit) for p in pins(page).pins]
    assert found == [
        ("X5", "1", "1440"),
        ("X5", "2", "1441"),
        ("X6", "1", "1442"),
        ("X6", "2", "1443"),
        ("X7", "1", "1444"),
    ]
