"""Cells that hold several facts in one habit."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents
from xref.pins.document import readings_to_pins
from xref.rows.choose import best_reading
from xref.rows.combined import combined_order, split_cell
from xref.tables.page import content_to_reading
from xref.tables.vocabulary import facts_named

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


#: Codes of a key that no published scheme has: only the header says that they are colours.
OWN = ("RO/BI", "AR", "NE", "MA/NE", "GI/VE", "RS/BL")
NUMBERS = ("102", "115", "31", "32", "501", "723")
HEADERS = (
    "Circuit/colour",
    "Wire no. & colour",
    "Colour and circuit",
    "Ltg./Farbe",
    "Farbe / Ltg.-Nr.",
    "Leitung und Farbe",
    "Circuit / couleur",
    "Couleur et n° de fil",
    "Circuito y color",
    "Circuito/colore",
    "Colore e circuito",
    "回路番号/線色",
)


@pytest.mark.parametrize("aligned", [False, True])
@pytest.mark.parametrize("form", ["{n} {c}", "{c} {n}", "{n} / {c}", "{n} ({c})", "{n} - {c}"])
@pytest.mark.parametrize("header", HEADERS[:11])
def test_a_header_that_names_circuit_and_colour_heads_both(
    tmp_path: Path, header: str, form: str, aligned: bool
) -> None:
    """Under a header for both facts, numbers and letters in one cell are circuit and colour of any key."""
    cells = [form.format(n=n, c=c) for n, c in zip(NUMBERS, OWN, strict=True)]
    table = [("Pin", header, "Description"), *((str(n), t, "Lamp, left") for n, t in enumerate(cells, 1))]
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page = page.aligned(table, (60, 110, 250)) if aligned else page.ruled(table, (50, 130, 150))
    readings = [content_to_reading(c, "asked", best_reading) for c in contents(page.save())]
    found = readings_to_pins("", "a.pdf", readings).pins
    assert [(p.circuit, p.color_code) for p in found] == list(zip(NUMBERS, OWN, strict=True))


@pytest.mark.parametrize("header", HEADERS)
def test_every_fact_of_a_header_is_known(header: str) -> None:
    """A header for two facts names both, whatever joins them, in six languages."""
    assert facts_named(header) >= {"circuit", "color"}


@pytest.mark.parametrize("form", ["{n}/{c}", "{n}-{c}"])
def test_a_sign_between_number_and_colour_parts_them_under_their_header(form: str) -> None:
    """`102/RO-BI` is a circuit and its colour where the header names both, else one text."""
    texts = tuple(form.format(n=n, c=c) for n, c in zip(NUMBERS, OWN, strict=True))
    named = frozenset({"circuit", "color"})
    assert combined_order(texts, WIRE, headed=named) == ("circuit", "color")
    assert combined_order(texts, WIRE) == ()
    assert split_cell(texts[0], ("circuit", "color")) == {"circuit": "102", "color": "RO/BI"}
