"""Numbers of chapters before titles are part of no name; numbers that belong to a name stay."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins

ROWS = (("Cavity", "Colour", "Circuit"), ("1", "RD", "101"), ("2", "BK", "31"), ("3", "BU", "55"))
WIDTHS = (60, 80, 80)


def _names(path: Path, titles: Sequence[tuple[str, str]]) -> list[str]:
    page = Page(path)
    for chapter, heading in titles:
        page.heading(chapter, size=14).line("It has one plug; see the drawing of the harness.")
        page.heading(heading, size=10).ruled(ROWS, WIDTHS).next()
    return [c.connector_name for c in pins(page).connectors]


@pytest.mark.parametrize(
    "titles",
    [
        ("{n} Lift module M{n}", "Connector M{n} (3-way)"),
        ("{n} Steuergerät Mast M{n}", "Stecker M{n} (3-polig)"),
        ("{n} Module de levage M{n}", "Connecteur M{n} (3 voies)"),
        ("{n} Módulo de agua M{n}", "Conector M{n} (3 vías)"),
        ("{n} Gateway CAN M{n}", "Connettore M{n} (3 vie)"),
        ("{n} Gateway CAN", "Connettore M{n} (3 vie)"),
        ("{n}. Gateway CAN M{n}", "Connettore M{n} (3 vie)"),
        ("4.{n} Gateway CAN M{n}", "Connettore M{n} (3 vie)"),
    ],
)
def test_numbers_of_chapters_are_part_of_no_name(tmp_path: Path, titles: tuple[str, str]) -> None:
    """Numbers that count up from title to title, bare, with a dot or in levels, are those of chapters."""
    found = _names(tmp_path / "a.pdf", [(titles[0].format(n=n), titles[1].format(n=n)) for n in (4, 5, 6, 7)])
    assert len(found) == 4
    assert not any(c.isdigit() for name in found for c in name)
    assert all(found)


def test_a_number_that_belongs_to_a_name_stays(tmp_path: Path) -> None:
    """`5 V supply`, `12V socket` and `2nd battery` are names, also in a document with numbered chapters."""
    names = ("5 V supply", "12V socket", "2nd battery", "24 V converter")
    headings = [(f"{n} Plugs of the cab", f"M{n} – {name}") for n, name in enumerate(names, start=3)]
    assert _names(tmp_path / "a.pdf", headings) == list(names)


def test_numbers_that_do_not_count_up_are_no_chapters(tmp_path: Path) -> None:
    """Where the numbers before titles go up and down they may be part of the names."""
    headings = [(f"{n} Post lift M{n}", f"Connector M{n} (3-way)") for n in (4, 2, 9, 3)]
    assert _names(tmp_path / "a.pdf", headings) == [f"{n} Post lift" for n in (4, 2, 9, 3)]
