"""Numbers before titles that are names."""

from __future__ import annotations

from pathlib import Path

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins

TITLES = ("Room lamp of the cab (12P)", "Pump pressure sensor", "Radio", "Battery relay in the rear (4P)")


def _page(path: Path, numbers: tuple[str, ...]) -> Page:
    page = Page(path / "a.pdf")
    for n, (number, title) in enumerate(zip(numbers, TITLES, strict=True)):
        rows = [(str(c), "BK", f"{n + 1}00{c}", "Lamp") for c in (1, 2, 3)]
        text = f"{number} {title}"
        if n % 2:
            page.heading(text, size=9, down=20)
        else:
            page.line(text, size=10, down=20)
        page.ruled((HEADER, *rows), WIDE)
    return page


def test_numbers_before_titles_of_any_style_are_names(tmp_path: Path) -> None:
    """Each title begins with another number, and they do not count the tables."""
    found = pins(_page(tmp_path, ("95", "13", "88", "42"))).pins
    assert {(p.connector, p.circuit[0]) for p in found} == {
        ("95", "1"),
        ("13", "2"),
        ("88", "3"),
        ("42", "4"),
    }


def test_numbers_that_count_the_tables_are_no_names(tmp_path: Path) -> None:
    """They are those of sections."""
    found = pins(_page(tmp_path, ("1", "2", "3", "4"))).pins
    assert not {p.connector for p in found if "heading-uncertain" not in p.flags} & {"1", "2", "3", "4"}
