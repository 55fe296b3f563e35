"""Cells that hold several facts in one habit."""

from __future__ import annotations

import pytest

from xref.rows.combined import combined_order, split_cell

ALL = frozenset({"cavity", "circuit", "size", "color", "function"})
WIRE = ALL - {"cavity"}


@pytest.mark.parametrize(
    ("texts", "facts", "order"),
    [
        (("0.5 BU/YE", "0.75 RD", "1.5 BK/WH"), WIRE, ("size", "color")),
        (("BU/YE 0,5", "RD 0,75", "BK 1,5"), WIRE, ("color", "size")),
        (("1440A 0.5 BU/YE", "2310 0.75 RD", "3001 1.5 BK"), WIRE, ("circuit", "size", "color")),
        (("BK 1440", "BU 2310", "GN/YE 3001"), WIRE, ("color", "circuit")),
        (("1 (RD)", "2 (BK)", "3 (BU/YE)"), ALL, ("cavity", "color")),
        (
            ("Horn relay GN 1440", "Lift valve RD 2310", "Work lamp BU 3001"),
            WIRE,
            ("function", "color", "circuit"),
        ),
    ],
)
def test_nearly_all_cells_part_in_one_order(
    texts: tuple[str, ...], facts: frozenset[str], order: tuple[str, ...]
) -> None:
    """The order in which a column's cells print their facts is found from the cells alone."""
    assert combined_order(texts, facts) == order


@pytest.mark.parametrize(
    "texts",
    [
        ("36 mm", "11 mm", "52 mm"),
        ("5 V reference", "24 V supply", "CAN high"),
        ("Lamp 1", "Lamp 2", "Lamp 3"),
        ("GND", "VCC", "CAN_H"),
    ],
)
def test_texts_that_hold_one_fact_stay_whole(texts: tuple[str, ...]) -> None:
    """Measures, functions and names are not torn apart."""
    assert combined_order(texts, ALL) == ()


def test_a_word_that_only_says_what_follows_is_no_fact() -> None:
    """`wire 88R` holds the circuit 88R."""
    assert split_cell("GN wire 88R", ("color", "circuit")) == {"color": "GN", "circuit": "88R"}


def test_a_stripe_in_brackets_stays_with_its_colour() -> None:
    """`BK(VT)` is one colour code as printed."""
    assert split_cell("BK(VT) 1440", ("color", "circuit")) == {"color": "BK(VT)", "circuit": "1440"}


def test_a_cell_that_does_not_part_so_says_nothing() -> None:
    """What is not in the column's habit is left as it stands."""
    assert split_cell("not used", ("size", "color")) == {}
