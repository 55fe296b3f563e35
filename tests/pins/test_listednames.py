"""A column of connectors whose names take several rows."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins

HEADER = ("Connector", "Pin", "Color", "Circuit", "Function")


def _named(path: Path, *rows: tuple[str, str]) -> list[tuple[str, str, str]]:
    cells = [(name, pin, "BK", str(1440 + n), "Lamp feed") for n, (name, pin) in enumerate(rows)]
    page = Page(path / "a.pdf").heading("Small connectors")
    return [(p.connector, p.component, p.cavity) for p in pins(page.ruled((HEADER, *cells), (90,) * 5)).pins]


def test_words_under_a_designator_are_what_it_belongs_to(tmp_path: Path) -> None:
    """`X76` in the first row and `Roof fan` in the second are one name over all of its rows."""
    found = _named(
        tmp_path, ("X76", "1"), ("Roof fan", "2"), ("", "3"), ("X6", "1"), ("Front lamp", "2"), ("X9", "1")
    )
    assert [(name, cavity) for name, _, cavity in found] == [
        *(("X76", c) for c in "123"),
        *(("X6", c) for c in "12"),
        ("X9", "1"),
    ]
    assert {c for _, c, _ in found[:3]} == {"Roof fan"}


def test_words_under_which_cavities_begin_anew_are_names(tmp_path: Path) -> None:
    """A list may name some connectors by designators and others by words."""
    found = _named(
        tmp_path, ("X76", "1"), ("", "2"), ("Roof fan", "1"), ("", "2"), ("X6", "1"), ("Horn", "1")
    )
    assert [name for name, _, _ in found] == ["X76", "X76", "Roof fan", "Roof fan", "X6", "Horn"]
