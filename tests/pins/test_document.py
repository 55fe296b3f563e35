"""Pages of a document to pins: names, halves, roles, doubts and notices, seen on drawn manuals."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins
from xref.pins.checks import natural_key
from xref.records import DOUBTS, NOTICES, Pin

HEADER = ("Cavity", "Color", "Circuit", "Function")
ROWS = (("1", "BK", "1440", "Lamp"), ("2", "BU/YE", "1441", "Horn"), ("3", "RD", "1442", "Fan"))
OTHERS = (("1", "BK", "2440", "Lamp"), ("2", "BU/YE", "2441", "Horn"), ("3", "RD", "2442", "Fan"))
WIDE = (60, 80, 70, 150)

Cells = Sequence[Sequence[str]]


def _manual(path: Path, *connectors: tuple[str, Cells]) -> Page:
    page = Page(path / "a.pdf")
    for heading, rows in connectors:
        page.heading(heading).ruled((HEADER, *rows), WIDE)
    return page


def _flags(found: Sequence[Pin]) -> dict[str, tuple[str, ...]]:
    return {pin.cavity: pin.flags for pin in found if pin.flags}


def test_a_row_becomes_a_pin_with_all_that_is_printed(tmp_path: Path) -> None:
    """Machine, connector, colours, circuit, function and place on the page all reach the pin."""
    made = pins(
        _manual(tmp_path, ("Connector X5 - Pump controller, 3-way, black", ROWS)), "forklift", "m.pdf"
    )
    pin = made.pins[1]
    assert (pin.machine, pin.document, pin.page, pin.table_no, pin.row_no) == ("forklift", "m.pdf", 1, 1, 2)
    assert (pin.connector, pin.cavity, pin.color_code, pin.circuit) == ("X5", "2", "BU/YE", "1441")
    assert (pin.base_color, pin.stripe_color, pin.function) == ("blue", "yellow", "Horn")
    assert (pin.role, pin.component, pin.status, pin.flags) == ("component", "Pump controller", "used", ())
    assert 60 <= pin.x0 < pin.x1 <= 421 and pin.top < pin.bottom
    (connector,) = made.connectors
    assert (connector.cavities_stated, connector.cavities_read, connector.color) == (3, 3, "black")


# -- halves --------------------------------------------------------------------------------------------


def test_two_mirrored_connectors_are_halves_of_one_in_line(tmp_path: Path) -> None:
    """`X5-A` and `X5-B` with the same circuits in the same cavities are X5, halves A and B."""
    made = pins(_manual(tmp_path, ("X5-A Main harness", ROWS), ("X5-B Mast harness", ROWS)))
    assert {(p.connector, p.half, p.role) for p in made.pins} == {
        ("X5", "A", "inline"),
        ("X5", "B", "inline"),
    }
    assert {(c.connector, c.half) for c in made.connectors} == {("X5", "A"), ("X5", "B")}
    assert all("circuits" in c.role_why for c in made.connectors)


@pytest.mark.xfail(strict=True, reason="a harness named in a heading is taken for the component")
def test_a_harness_named_in_a_heading_is_no_component(tmp_path: Path) -> None:
    """An in-line half hangs on a harness and plugs into no component."""
    made = pins(_manual(tmp_path, ("X5-A Main harness", ROWS), ("X5-B Mast harness", ROWS)))
    assert {(p.half, p.component, p.harness) for p in made.pins} == {
        ("A", "", "Main harness"),
        ("B", "", "Mast harness"),
    }


@pytest.mark.parametrize("names", [("X5-A", "X5-B"), ("C12M", "C12F"), ("C12/A", "C12/B")])
def test_connectors_that_do_not_mirror_each_other_are_kept_apart(
    tmp_path: Path, names: tuple[str, str]
) -> None:
    """A mark alone proves nothing: a component may have connectors called A and B."""
    one, two = names
    made = pins(_manual(tmp_path, (f"Connector {one}", ROWS), (f"Connector {two}", OTHERS)))
    assert {(p.connector, p.half) for p in made.pins} == {(one, ""), (two, "")}
    assert not any(p.role == "inline" for p in made.pins)


def test_one_shared_circuit_makes_no_halves(tmp_path: Path) -> None:
    """Two connectors of one component may share a ground; that is no mirror."""
    shared = (("1", "BK", "1440", "Ground"), *OTHERS[1:])
    made = pins(_manual(tmp_path, ("Connector X5-A", ROWS), ("Connector X5-B", shared)))
    assert {p.half for p in made.pins} == {""}


# -- roles ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["S5", "G7", "F1", "SP7", "X5", "K3", "C204"])
def test_letters_of_a_designator_decide_no_role(tmp_path: Path, name: str) -> None:
    """Every maker has letters of its own: without a word or shape, what a connector is stays unknown."""
    made = pins(_manual(tmp_path, (name, ROWS)))
    assert {(p.connector, p.role) for p in made.pins} == {(name, "unknown")}


@pytest.mark.parametrize(
    ("heading", "role"),
    [
        ("Splice SP12", "splice"),
        ("Ground stud G5", "ground"),
        ("In-line connector X5, half A", "inline"),
        ("Trennstelle X5", "inline"),
        ("Connector X5 - Pump controller", "component"),
    ],
)
def test_words_of_a_heading_decide_the_role(tmp_path: Path, heading: str, role: str) -> None:
    """Where the manual says what a connector is, that is its role, and the evidence is kept."""
    made = pins(_manual(tmp_path, (heading, ROWS)))
    assert {p.role for p in made.pins} == {role}
    assert all(c.role_why for c in made.connectors)


def test_the_half_is_named_in_the_heading_of_an_in_line(tmp_path: Path) -> None:
    """`half A` in the heading of an in-line connector is the half of all its pins."""
    made = pins(_manual(tmp_path, ("In-line connector X5, half A, male", ROWS)))
    assert {(p.connector, p.half) for p in made.pins} == {("X5", "A")}


def test_a_fuse_list_gives_pins_of_the_box_with_ratings(tmp_path: Path) -> None:
    """The fuse is the cavity of its box, and its rating follows the function."""
    page = Page(tmp_path / "a.pdf").heading("Fuse box F100")
    page.ruled(
        (
            ("Fuse", "Rating", "Circuit", "Color", "Function"),
            ("F1", "10 A", "1440", "BK", "Lamp"),
            ("F2", "5", "1441", "RD", "Horn"),
        ),
        (60,) * 5,
    )
    assert [(p.connector, p.cavity, p.function, p.role) for p in pins(page).pins] == [
        ("F100", "F1", "Lamp, 10 A", "fuse"),
        ("F100", "F2", "Horn, 5 A", "fuse"),
    ]


# -- doubts --------------------------------------------------------------------------------------------


def test_a_cavity_printed_twice_with_other_contents_is_a_doubt(tmp_path: Path) -> None:
    """Two wires for one cavity, far apart in the table, may be a misread number: both rows say so."""
    made = pins(_manual(tmp_path, ("Connector X5", (*ROWS, ("1", "GN", "1500", "Pump")))))
    assert [("cavity-repeated" in p.flags) for p in made.pins] == [True, False, False, True]


def test_two_wires_that_a_merged_cell_shows_are_no_doubt(tmp_path: Path) -> None:
    """A merged cavity cell says by its rules that two wires share the cavity."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled((HEADER, ROWS[0], ("", "GN", "1500", "Pump"), *ROWS[1:]), WIDE, spans=[((0, 1), (0, 2))])
    made = pins(page)
    assert [(p.cavity, p.circuit) for p in made.pins][:2] == [("1", "1440"), ("1", "1500")]
    assert _flags(made.pins) == {}


def test_a_cavity_beyond_the_stated_number_is_a_doubt(tmp_path: Path) -> None:
    """A housing of two ways has no cavity 3."""
    made = pins(_manual(tmp_path, ("Connector X5, 2-way", ROWS)))
    assert _flags(made.pins) == {"3": ("cavity-over-stated",)}


def test_as_many_cavities_as_stated_are_no_doubt(tmp_path: Path) -> None:
    """Fewer or as many cavities as the housing has are in order."""
    assert _flags(pins(_manual(tmp_path, ("Connector X5, 3-way", ROWS))).pins) == {}


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


@pytest.mark.xfail(strict=True, reason="the last column, taken for a signal, overwrites the circuit numbers")
def test_circuit_numbers_without_header_are_kept(tmp_path: Path) -> None:
    """A printed number is never replaced by the text beside it."""
    made = pins(Page(tmp_path / "a.pdf").heading("Connector X5 - Pump").ruled(ROWS, WIDE))
    assert [p.circuit for p in made.pins] == [row[2] for row in ROWS]


def test_a_color_that_no_scheme_knows_is_a_doubt(tmp_path: Path) -> None:
    """An unknown code is kept as printed and decoded to nothing."""
    made = pins(_manual(tmp_path, ("Connector X5", (*ROWS, ("4", "QQ", "1500", "Pump")))))
    pin = made.pins[3]
    assert (pin.color_code, pin.base_color) == ("QQ", "")
    assert "color-unknown" in pin.flags


def test_unused_and_yet_filled_is_a_doubt(tmp_path: Path) -> None:
    """A row that says `not used` and names a wire contradicts itself; the wire is kept."""
    rows = (*ROWS, ("4", "GN", "1500", "not used"), ("5", "", "", "not used"), ("6", "", "", ""))
    made = pins(_manual(tmp_path, ("Connector X5", rows)))
    assert [(p.status, p.circuit) for p in made.pins][3:] == [
        ("used", "1500"),
        ("unused", ""),
        ("not stated", ""),
    ]
    assert _flags(made.pins) == {"4": ("unused-but-filled",)}


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


# -- notices -------------------------------------------------------------------------------------------


def test_equal_and_reversed_colors_in_a_connector_are_noticed(tmp_path: Path) -> None:
    """Wires that can be taken for each other are named: same colours, or base and stripe swapped."""
    rows = (
        ("1", "BK", "1440", "A"),
        ("2", "BK", "1441", "B"),
        ("3", "BU/YE", "1442", "C"),
        ("4", "YE/BU", "1443", "D"),
        ("5", "RD", "1444", "E"),
    )
    made = pins(_manual(tmp_path, ("Connector X5", rows)))
    same = {p.cavity for p in made.pins if "same-color-in-connector" in p.notices}
    reversed_ = {p.cavity for p in made.pins if "reversed-colors-in-connector" in p.notices}
    assert (same, reversed_) == ({"1", "2"}, {"3", "4"})
    assert _flags(made.pins) == {}


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
    page = _manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
    page.heading("Connector X5 - Pump").ruled((HEADER, *ROWS), WIDE)
    made = pins(page)
    assert [("duplicate-page" in p.notices) for p in made.pins] == [False] * 3 + [True] * 3
    assert _flags(made.pins) == {}


# -- over the page -------------------------------------------------------------------------------------


def test_a_table_that_runs_on_overleaf_stays_with_its_connector(tmp_path: Path) -> None:
    """Cavities that count on under the same borders belong to the connector of the page before."""
    page = _manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
    page.ruled((("4", "GN", "1443", "Pump"), ("5", "WH", "1444", "Valve")), WIDE)
    made = pins(page)
    assert [(p.connector, p.cavity, p.page) for p in made.pins][3:] == [("X5", "4", 2), ("X5", "5", 2)]
    (connector,) = made.connectors
    assert connector.pages == (1, 2)


def test_a_new_heading_overleaf_is_a_new_connector(tmp_path: Path) -> None:
    """Cavities that begin anew under a heading of their own are another connector's."""
    page = _manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
    page.heading("Connector X6 - Fan").ruled((HEADER, *OTHERS), WIDE)
    assert [p.connector for p in pins(page).pins] == ["X5"] * 3 + ["X6"] * 3


def _side_by_side(tmp_path: Path, *, ruled: bool, others: Cells = OTHERS) -> Page:
    page = Page(tmp_path / "a.pdf").heading("Connector X5", down=0).heading("Connector X6", x=330)
    top = page.y
    for x, rows in ((60, ROWS), (330, others)):
        page.y = top
        short = [row[:3] for row in (HEADER, *rows)]
        if ruled:
            page.ruled(short, (50, 60, 60), x=x)
        else:
            page.aligned(short, (x, x + 50, x + 110))
    return page


SIDE_BY_SIDE = {("X5", "", row[0], row[2]) for row in ROWS} | {("X6", "", row[0], row[2]) for row in OTHERS}


def test_ruled_connectors_side_by_side_are_two(tmp_path: Path) -> None:
    """Each frame with the heading over it is a connector of its own."""
    made = pins(_side_by_side(tmp_path, ruled=True))
    assert {(p.connector, p.half, p.cavity, p.circuit) for p in made.pins} == SIDE_BY_SIDE


@pytest.mark.xfail(strict=True, reason="read as one table, and silently as the halves A and B of X5")
def test_connectors_side_by_side_without_rules_are_two(tmp_path: Path) -> None:
    """Two headings over two column sets are two connectors, though their cavities stand in one line."""
    made = pins(_side_by_side(tmp_path, ruled=False))
    assert {(p.connector, p.half, p.cavity, p.circuit) for p in made.pins} == SIDE_BY_SIDE


@pytest.mark.xfail(strict=True, reason="a lone number right under the columns becomes a cavity without doubt")
def test_a_number_alone_under_a_table_is_no_cavity(tmp_path: Path) -> None:
    """A page number or a footnote mark close below is no row, or at the least a doubtful one."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    made = pins(page.aligned((HEADER, *ROWS), (60, 130, 210, 290), down=14).line("12"))
    assert [p.cavity for p in made.pins if not p.flags] == ["1", "2", "3"]


@pytest.mark.xfail(
    strict=True, reason="the caption under the first table is taken for the heading of the second"
)
def test_where_captions_stand_below_each_table_takes_its_own(tmp_path: Path) -> None:
    """A manual that prints `Table 4` under its tables does so under each of them."""
    page = Page(tmp_path / "a.pdf")
    for caption, rows in (
        ("Table 4: Connector X5 of the pump", ROWS),
        ("Table 5: Connector X6 of the fan", OTHERS),
    ):
        page.ruled((HEADER, *rows), WIDE, down=12).line(caption, down=28)
    made = pins(page)
    assert {(p.connector, p.circuit) for p in made.pins} == {
        *(("X5", row[2]) for row in ROWS),
        *(("X6", row[2]) for row in OTHERS),
    }


@pytest.mark.xfail(strict=True, reason="the first of two designators is taken without doubt")
def test_a_heading_of_two_connectors_is_a_doubt(tmp_path: Path) -> None:
    """`Connectors X5 and X6` over one table does not say whose rows these are."""
    made = pins(_manual(tmp_path, ("Connectors X5 and X6", ROWS)))
    assert all(p.flags for p in made.pins)


@pytest.mark.xfail(
    strict=True, reason="text beside the table, half a line off, flows into a function without doubt"
)
def test_text_between_the_lines_of_a_table_does_not_flow_into_its_rows(tmp_path: Path) -> None:
    """A legend at the right, set off from the rows by half a line, is no part of any function."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    top = page.y
    page.aligned((HEADER, *ROWS), (60, 130, 210, 290))
    page.y = top + 7
    made = pins(page.line("1  2  3", x=500).line("Wire side", x=500))
    assert [p.function for p in made.pins if not p.flags] == [row[3] for row in ROWS]


def test_the_document_s_own_key_decodes_its_codes(tmp_path: Path) -> None:
    """A key printed in the manual beats every built-in scheme: here B is blue and N black."""
    key = (
        ("Code", "Colour"),
        ("B", "blue"),
        ("N", "black"),
        ("R", "red"),
        ("G", "green"),
        ("W", "white"),
        ("Y", "yellow"),
    )
    page = Page(tmp_path / "a.pdf").heading("Colour codes").ruled(key, (60, 80)).next()
    page.heading("Connector X5").ruled(
        (HEADER, ("1", "B", "1440", "Lamp"), ("2", "N/Y", "1441", "Horn"), ("3", "R", "1442", "Fan")), WIDE
    )
    made = pins(page)
    assert made.scheme.scheme == "key"
    assert [(p.base_color, p.stripe_color) for p in made.pins] == [
        ("blue", ""),
        ("black", "yellow"),
        ("red", ""),
    ]


def test_every_doubt_and_notice_is_one_of_those_named(tmp_path: Path) -> None:
    """A flag that nobody can look up explains nothing."""
    rows = (*ROWS, ("1", "QQ", "1500", "not used"), ("9", "BK", "", "Pump"))
    made = pins(_manual(tmp_path, ("Connector X5, 2-way", rows)))
    assert {f for p in made.pins for f in p.flags} <= set(DOUBTS)
    assert {n for p in made.pins for n in p.notices} <= set(NOTICES)


def test_cavities_sort_as_a_person_counts() -> None:
    """2 before 10, A2 before A10, letters apart."""
    assert sorted(["10", "2", "A10", "A2", "1", "B1"], key=natural_key) == ["1", "2", "10", "A2", "A10", "B1"]
