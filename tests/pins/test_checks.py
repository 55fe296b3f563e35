"""Doubts and notices that a whole connector shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, ROWS, WIDE, flags, manual
from tests.tables.drawn import Page, pins
from xref.records import DOUBTS, NOTICES


def test_a_cavity_printed_twice_with_other_contents_is_a_doubt(tmp_path: Path) -> None:
    """Two wires for one cavity, far apart in the table, may be a misread number: both rows say so."""
    made = pins(manual(tmp_path, ("Connector X5", (*ROWS, ("1", "GN", "1500", "Pump")))))
    assert [("cavity-repeated" in p.flags) for p in made.pins] == [True, False, False, True]


def test_two_wires_that_a_merged_cell_shows_are_no_doubt(tmp_path: Path) -> None:
    """A merged cavity cell says by its rules that two wires share the cavity."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled((HEADER, ROWS[0], ("", "GN", "1500", "Pump"), *ROWS[1:]), WIDE, spans=[((0, 1), (0, 2))])
    made = pins(page)
    assert [(p.cavity, p.circuit) for p in made.pins][:2] == [("1", "1440"), ("1", "1500")]
    assert flags(made.pins) == {}


def test_a_cavity_beyond_the_stated_number_is_a_doubt(tmp_path: Path) -> None:
    """A housing of two ways has no cavity 3."""
    made = pins(manual(tmp_path, ("Connector X5, 2-way", ROWS)))
    assert flags(made.pins) == {"3": ("cavity-over-stated",)}


def test_as_many_cavities_as_stated_are_no_doubt(tmp_path: Path) -> None:
    """Fewer or as many cavities as the housing has are in order."""
    assert flags(pins(manual(tmp_path, ("Connector X5, 3-way", ROWS))).pins) == {}


def test_a_table_without_heading_is_kept_and_doubted(tmp_path: Path) -> None:
    """Rows of nobody's connector are not thrown away; each says that its connector is not known."""
    page = Page(tmp_path / "a.pdf").ruled((HEADER, *ROWS), WIDE)
    made = pins(page)
    assert len(made.pins) == 3
    assert all("heading-uncertain" in p.flags for p in made.pins)
    assert not any(p.connector in ("X5", "") for p in made.pins)


def test_a_table_without_header_is_kept_and_doubted(tmp_path: Path) -> None:
    """Columns named by what their cells look like are a guess, and every row says so."""
    made = pins(Page(tmp_path / "a.pdf").heading("Connector X5 - Pump").ruled(ROWS, WIDE))
    assert [(p.cavity, p.color_code) for p in made.pins] == [row[:2] for row in ROWS]
    assert all("column-guessed" in p.flags for p in made.pins)


def test_circuit_numbers_without_header_are_kept(tmp_path: Path) -> None:
    """A printed number is never replaced by the text beside it."""
    made = pins(Page(tmp_path / "a.pdf").heading("Connector X5 - Pump").ruled(ROWS, WIDE))
    assert [p.circuit for p in made.pins] == [row[2] for row in ROWS]


def test_a_color_that_no_scheme_knows_is_a_doubt(tmp_path: Path) -> None:
    """An unknown code is kept as printed and decoded to nothing."""
    made = pins(manual(tmp_path, ("Connector X5", (*ROWS, ("4", "QQ", "1500", "Pump")))))
    pin = made.pins[3]
    assert (pin.color_code, pin.base_color) == ("QQ", "")
    assert "color-unknown" in pin.flags


def test_unused_and_yet_filled_is_a_doubt(tmp_path: Path) -> None:
    """A row that says `not used` and names a wire contradicts itself; the wire is kept."""
    rows = (*ROWS, ("4", "GN", "1500", "not used"), ("5", "", "", "not used"), ("6", "", "", ""))
    made = pins(manual(tmp_path, ("Connector X5", rows)))
    assert [(p.status, p.circuit) for p in made.pins][3:] == [
        ("used", "1500"),
        ("unused", ""),
        ("not stated", ""),
    ]
    assert flags(made.pins) == {"4": ("unused-but-filled",)}


@pytest.mark.parametrize(
    ("sizes", "areas", "doubted"),
    [(("0.5", "2", "10"), [0.5, 2.0, 10.0], False), (("2", "4", "10"), [None, None, None], True)],
)
def test_a_size_without_unit_is_decided_by_its_column_or_doubted(
    tmp_path: Path, sizes: tuple[str, ...], areas: list[float | None], doubted: bool
) -> None:
    """A decimal in the column makes it mm²; 2, 4, 10 alone may be mm² or AWG, so no area is given."""
    rows = [(*row[:3], size) for row, size in zip(ROWS, sizes, strict=True)]
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5")
        .ruled((("Pin", "Color", "Circuit", "Size"), *rows), WIDE)
    )
    made = pins(page)
    assert [(p.size, p.size_mm2) for p in made.pins] == list(zip(sizes, areas, strict=True))
    assert [("size-undecided" in p.flags) for p in made.pins] == [doubted] * 3


def test_equal_and_reversed_colors_in_a_connector_are_noticed(tmp_path: Path) -> None:
    """Wires that can be taken for each other are named: same colours, or base and stripe swapped."""
    rows = (
        ("1", "BK", "1440", "A"),
        ("2", "BK", "1441", "B"),
        ("3", "BU/YE", "1442", "C"),
        ("4", "YE/BU", "1443", "D"),
        ("5", "RD", "1444", "E"),
    )
    made = pins(manual(tmp_path, ("Connector X5", rows)))
    same = {p.cavity for p in made.pins if "same-color-in-connector" in p.notices}
    reversed_ = {p.cavity for p in made.pins if "reversed-colors-in-connector" in p.notices}
    assert (same, reversed_) == ({"1", "2"}, {"3", "4"})
    assert flags(made.pins) == {}


def test_signals_stand_for_circuits_where_no_numbers_are_printed(tmp_path: Path) -> None:
    """Without circuit numbers, the signal's name is the only thing to trace by, and the pin says so."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled(
        (("Pin", "Color", "Signal"), ("1", "BK", "CAN_H"), ("2", "WH", "CAN_L"), ("3", "RD", "LIFT")),
        (60, 60, 100),
    )
    made = pins(page)
    assert [p.circuit for p in made.pins] == ["CAN_H", "CAN_L", "LIFT"]
    assert all("signal-as-circuit" in p.notices for p in made.pins)


def test_signals_beside_circuit_numbers_are_functions(tmp_path: Path) -> None:
    """Where circuit numbers are printed anywhere in the document, a signal names no circuit."""
    page = (
        Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *ROWS), WIDE).heading("Connector X6")
    )
    page.ruled(
        (("Pin", "Color", "Signal"), ("1", "BK", "CAN_H"), ("2", "WH", "CAN_L"), ("3", "RD", "LIFT")),
        (60, 60, 100),
    )
    found = [p for p in pins(page).pins if p.connector == "X6"]
    assert [(p.circuit, p.function) for p in found] == [("", "CAN_H"), ("", "CAN_L"), ("", "LIFT")]


def test_a_table_printed_again_is_noticed(tmp_path: Path) -> None:
    """The same connector on two pages with the same contents is no doubt, but it is said."""
    page = manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
    page.heading("Connector X5 - Pump").ruled((HEADER, *ROWS), WIDE)
    made = pins(page)
    assert [("duplicate-page" in p.notices) for p in made.pins] == [False] * 3 + [True] * 3
    assert flags(made.pins) == {}


def test_every_doubt_and_notice_is_one_of_those_named(tmp_path: Path) -> None:
    """A flag that nobody can look up explains nothing."""
    rows = (*ROWS, ("1", "QQ", "1500", "not used"), ("9", "BK", "", "Pump"))
    made = pins(manual(tmp_path, ("Connector X5, 2-way", rows)))
    assert {f for p in made.pins for f in p.flags} <= set(DOUBTS)
    assert {n for p in made.pins for n in p.notices} <= set(NOTICES)
