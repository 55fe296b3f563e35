"""Cavities against each other: forms, order, holes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE, flags
from tests.tables.drawn import Page, pins
from xref.pins.check_cavities import form_of


def _doubts(
    tmp_path: Path, cavities: Sequence[str], unused: Sequence[str] = ()
) -> dict[str, tuple[str, ...]]:
    rows = [
        (c, "", "", "not used")
        if c in unused
        else (c, ("BK", "BU/YE", "RD")[n % 3], str(1440 + n), f"Lamp {'abcdefghijk'[n]}")
        for n, c in enumerate(cavities)
    ]
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Lamp").ruled((HEADER, *rows), WIDE)
    return flags(pins(page).pins)


def test_a_number_out_of_order_is_doubted(tmp_path: Path) -> None:
    """`5, 61, 7` is 6 with a footnote's mark glued to it."""
    assert _doubts(tmp_path, ["4", "5", "61", "7", "8"]) == {"61": ("cavity-gap",)}


def test_a_last_number_far_beyond_the_others_is_doubted(tmp_path: Path) -> None:
    """Nothing comes after it to show that it is out of order; the leap does."""
    assert _doubts(tmp_path, ["1", "2", "3", "4", "51"]) == {"51": ("cavity-gap",)}


@pytest.mark.parametrize(
    "cavities",
    [
        ("1", "2", "3", "4", "5"),
        ("2", "3", "7", "9", "12"),
        ("5", "4", "3", "2", "1"),
        ("A1", "A2", "B1", "B2", "C1"),
        ("30", "85", "86", "87", "87a"),
    ],
)
def test_cavities_in_any_usual_order_are_not_doubted(tmp_path: Path, cavities: tuple[str, ...]) -> None:
    """Used cavities alone, falling numbers, rows of letters and the terminals of a relay are in order."""
    assert _doubts(tmp_path, cavities) == {}


def test_a_hole_in_a_list_with_its_empty_cavities_is_doubted(tmp_path: Path) -> None:
    """A list that names empty cavities names all of them: one that is missing was not read."""
    found = _doubts(tmp_path, ["1", "2", "3", "5", "6"], unused=["3"])
    assert found == {"5": ("cavity-gap",)}


def test_a_cavity_of_another_form_is_doubted(tmp_path: Path) -> None:
    """Among numbers, `B7` is likelier a misread 87 or a cell of another column."""
    found = _doubts(tmp_path, ["1", "2", "3", "4", "5", "B7"])
    assert found["B7"] == ("cavity-odd",)


def test_the_second_contact_of_a_number_is_no_other_form(tmp_path: Path) -> None:
    """`4a` beside `4` is printed so."""
    assert _doubts(tmp_path, ["1", "2", "3", "4", "4a"]) == {}


def test_a_form_is_what_a_name_is_made_of() -> None:
    """Runs of letters and digits count once, marks each."""
    assert [form_of(n) for n in ("12", "A3", "GA204", "12-310", "87a")] == ["0", "A0", "A0", "0-0", "0a"]
