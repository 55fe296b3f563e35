"""Other layouts than one connector upright: matrices, halves, two numberings, tables on their side."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents, pins, planned, rows, tables
from xref.rows.assemble import table_to_rows
from xref.rows.cavities import expand
from xref.rows.choose import best_reading
from xref.rows.continued import continue_table
from xref.rows.plan import table_to_plans
from xref.rows.said import broken_names, swallowed
from xref.rows.shared import without_shared
from xref.tables.find import page_to_tables
from xref.tables.table import Table
from xref.tables.vocabulary import best_role

SIGNALS = (("FUNCTION", "X11", "X12"), ("GND", "1", ""), ("CAN_H", "", "1"), ("TXD", "2", "2-3"))


def _best(page: Page) -> list[Table]:
    """Read with the choice among all ways to cut a region."""
    return [t for content in contents(page.save()) for t in page_to_tables(content, best_reading)]


def test_words_that_headers_share_tell_the_halves() -> None:
    """Two groups of headers with the same roles: what they share names the half."""
    headers = ("Pin", "Circuit front harness", "Wire Color front harness", "Circuit mast", "Wire Color mast")
    parted = without_shared(headers)
    assert parted[0] == ("Pin", "")
    assert parted[1:3] == [("Circuit", "front harness"), ("Wire Color", "front harness")]
    assert parted[3:] == [("Circuit", "mast"), ("Wire Color", "mast")]


@pytest.mark.parametrize(
    "headers", [("Pin", "Circuit left"), ("Pin", "Circuit A", "Color B"), ("Pin", "Color")]
)
def test_words_that_no_other_header_has_stay(headers: tuple[str, ...]) -> None:
    """One group alone, or groups of other roles, prove no halves."""
    assert without_shared(headers) == [(h, "") for h in headers]


def test_a_column_of_in_line_connectors_names_connectors() -> None:
    """A header word for in-lines is one for connectors."""
    assert best_role("Intermediate connector")[0] == "connector"


def test_a_list_of_in_lines_has_both_halves_of_each(tmp_path: Path) -> None:
    """Connector, cavity and what each harness has there: two rows for each cavity, each with its half."""
    header = ("In-line", "Pin", "Circuit front", "Color front", "Circuit mast", "Color mast")
    body = (("C61", "1", "1440", "BK", "1440", "BK"), ("C61", "2", "1441", "BU", "1450", "RD"))
    page = Page(tmp_path / "a.pdf").heading("List").ruled((header, *body), (60, 40, 90, 80, 90, 80))
    found = [(r.connector, r.half, r.cavity, r.values["circuit"]) for r in rows(page)]
    assert found == [
        ("C61", "front", "1", "1440"),
        ("C61", "mast", "1", "1440"),
        ("C61", "front", "2", "1441"),
        ("C61", "mast", "2", "1450"),
    ]


def test_two_numberings_of_one_row_are_one_block(tmp_path: Path) -> None:
    """A second column of cavities with nothing of a wire of its own numbers the same rows otherwise."""
    header = ("Color", "Circuit", "Cavity", "Pin", "Function")
    body = (
        ("BK", "1440", "A1", "K5", "Lamp"),
        ("BU", "1441", "A2", "K7", "Horn"),
        ("RD", "1442", "A3", "K2", "Fan"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((header, *body), (60, 60, 50, 50, 120))
    _, (plan,) = planned(page)
    assert plan.columns == {"color": 0, "circuit": 1, "cavity": 2, "function": 4}


def test_a_matrix_of_signals_gives_each_connector_its_own_rows(tmp_path: Path) -> None:
    """Each connector's cavities with the signal of their line; lines of other connectors add nothing."""
    page = Page(tmp_path / "a.pdf").heading("Signals").ruled(SIGNALS, (100, 60, 60))
    found = {(p.connector, p.cavity): p.function or p.circuit for p in pins(page).pins}
    assert found == {
        ("X11", "1"): "GND",
        ("X11", "2"): "TXD",
        ("X12", "1"): "CAN_H",
        ("X12", "2"): "TXD",
        ("X12", "3"): "TXD",
    }


def test_a_matrix_of_wires_gives_each_end_its_circuit_and_color(tmp_path: Path) -> None:
    """A wire's number and colour stand at the side, its cavity under each connector it goes to."""
    table = (
        ("Lead", "Colour", "A2.X9", "A7.X1", "B3.X4"),
        ("13547", "GY", "5", "–", "14"),
        ("11633", "PK/BU", "20", "13", "–"),
    )
    page = Page(tmp_path / "a.pdf").heading("Loom").ruled(table, (60, 60, 60, 60, 60))
    assert {(p.connector, p.cavity, p.circuit, p.color_code) for p in pins(page).pins} == {
        ("A2.X9", "5", "13547", "GY"),
        ("B3.X4", "14", "13547", "GY"),
        ("A2.X9", "20", "11633", "PK/BU"),
        ("A7.X1", "13", "11633", "PK/BU"),
    }


@pytest.mark.parametrize("form", ["{0}:{1}", "{0} pin {1}", "{0} broche {1}", "{0}/{1}"])
def test_an_index_of_wires_gives_a_row_for_each_place(tmp_path: Path, form: str) -> None:
    """A cell that lists where a wire goes is as many wire ends, whatever stands between name and cavity."""
    cells = [form.format("XP7", 8), form.format("A40.X6", 16), form.format("50J3", 19)]
    table = (
        ("Wire", "Colour", "Plug and pin"),
        ("1440", "GY", " – ".join(cells)),
        ("1441", "PK/BU", " – ".join(cells[:2])),
    )
    page = Page(tmp_path / "a.pdf").heading("Wire index").ruled(table, (60, 60, 220))
    assert {(p.connector, p.cavity, p.circuit, p.color_code) for p in pins(page).pins} == {
        *{(name, cavity, "1440", "GY") for name, cavity in (("XP7", "8"), ("A40.X6", "16"), ("50J3", "19"))},
        *{(name, cavity, "1441", "PK/BU") for name, cavity in (("XP7", "8"), ("A40.X6", "16"))},
    }


def test_connectors_over_a_matrix_may_stand_as_close_as_words(tmp_path: Path) -> None:
    """Where only blanks part the connectors of a matrix, each still heads its own column."""
    body = (("Pin", "X11", "X12", "X13"), ("1", "GND", "CAN_H", "TXD"), ("2", "B+", "VCC", "0V"))
    table = _best(
        Page(tmp_path / "a.pdf")
        .heading("Pins")
        .aligned((*body, ("3", "RXD", "CAN_L", "")), (60, 84, 106, 139))
    )[0]
    assert table.header == body[0]
    assert {p.name for p in table_to_plans(table)} == {"X11", "X12", "X13"}


@pytest.mark.parametrize("hyphen", ["-", "\u2010", "\u2011", "\u2212", "\u2013"])
def test_a_range_is_one_with_every_hyphen(hyphen: str) -> None:
    """Typesetters print ranges with several signs."""
    assert expand(f"6{hyphen}8") == ["6", "7", "8"]


def test_the_last_block_of_a_table_on_its_side_may_be_short(tmp_path: Path) -> None:
    """Blocks under one another with the same labels are one table, though the last holds one cavity."""
    body = (
        ("Pin", "1", "2", "3"),
        ("Color", "BK", "BU", "RD"),
        ("Circuit", "1440", "1441", "1442"),
        ("Pin", "4", "", ""),
        ("Color", "GN", "", ""),
        ("Circuit", "1443", "", ""),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled(body, (60, 50, 50, 50))
    assert [(r.cavity, r.values["color"]) for r in rows(page)] == [
        ("1", "BK"), ("2", "BU"), ("3", "RD"), ("4", "GN"),
    ]  # fmt: skip


def test_a_table_on_its_side_under_no_is_one_by_its_other_labels(tmp_path: Path) -> None:
    """`No.` names no column, but over colours it numbers cavities; wide cells flush left are whole."""
    body = (
        ("No.", "1", "2", "3"),
        ("Wire Color", "BK BU", "BU", "RD GN"),
        ("Circuit", "1440", "1441", "1442"),
    )
    page = (
        Page(tmp_path / "a.pdf").heading("Connector X5").aligned(body, (60, 130, 165, 200), bold_first=False)
    )
    found = [(r.cavity, r.values["color"]) for r in rows(page.line("Notes", size=14))]
    assert found == [("1", "BK BU"), ("2", "BU"), ("3", "RD GN")]


HEADER = ("Cavity", "Color", "Circuit", "Cavity", "Color", "Circuit")
FIRST = (
    ("1", "BK", "1440", "4", "GN", "1443"),
    ("2", "BU", "1441", "5", "WH", "1444"),
    ("3", "RD", "1442", "6", "GY", "1445"),
)
OVERLEAF = (("7", "BK", "1446", "9", "GN", "1448"), ("8", "BU", "1447", "10", "WH", "1449"))


def _overleaf(tmp_path: Path, rest: tuple[tuple[str, ...], ...]) -> Table | None:
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5")
        .aligned((HEADER, *FIRST), (60, 120, 180, 250, 310, 370))
    )
    page.next().aligned(rest, (60, 85, 120, 170, 200, 230), bold_first=False)
    first, second = tables(page)
    return continue_table(second, first, table_to_plans(first))


def test_a_table_that_counts_on_overleaf_may_be_narrower(tmp_path: Path) -> None:
    """The next cavity and columns of the same kinds prove that it goes on, wherever its columns lie."""
    joined = _overleaf(tmp_path, OVERLEAF)
    assert joined is not None and joined.header == HEADER
    assert [c.text for c in joined.bands[0].cells] == list(OVERLEAF[0])


def test_cavities_that_begin_again_are_no_continuation(tmp_path: Path) -> None:
    """The same cavities once more are another connector's, and that one is not named here."""
    assert _overleaf(tmp_path, FIRST) is None


def test_a_name_in_one_column_begins_the_next_connector(tmp_path: Path) -> None:
    """A name over the first cavity again, set into a column, is a title; so is one over the first row."""
    body = (
        ("Pin", "Color", "Circuit", "Function"),
        ("", "", "", "X11 Lamp"),
        *((str(n), "BK", f"144{n}", "Feed") for n in (1, 2, 3)),
    )
    more = (("", "", "", "X12 Horn"), ("1", "BU", "1451", "Feed"), ("2", "RD", "1452", "Return"))
    first, second = _best(
        Page(tmp_path / "a.pdf").heading("Panel").aligned((*body, *more), (60, 110, 170, 240))
    )
    assert [t.around[0].line.text for t in (first, second)] == ["X11 Lamp", "X12 Horn"]
    assert [len(t.bands) for t in (first, second)] == [3, 2]


def test_rows_side_by_side_keep_their_own_heights(tmp_path: Path) -> None:
    """Two lists under one header whose rows differ in height: no row takes in what stands below it."""
    header = ("Pin", "Color", "Circuit")
    page = Page(tmp_path / "a.pdf").heading("Connectors X5 and X6")
    page.aligned(((*header, *header),), (60, 100, 150, 250, 290, 340))
    top = page.y
    page.aligned([(str(n), "BK", f"144{n}") for n in range(1, 4)], (60, 100, 150), pitch=14, bold_first=False)
    page.y = top + 3
    page.aligned(
        [(str(n), "RD", f"155{n}") for n in range(1, 6)], (250, 290, 340), pitch=19, bold_first=False
    )
    table = _best(page)[0]
    found = [
        [(r.cavity, r.values["circuit"]) for r in table_to_rows(table, p)] for p in table_to_plans(table)
    ]
    assert found == [[(str(n), f"144{n}") for n in range(1, 4)], [(str(n), f"155{n}") for n in range(1, 6)]]


def test_names_of_signals_under_a_far_end_are_signals(tmp_path: Path) -> None:
    """`Connected to` over `CAN_H` says which signal it is, not where the wire goes."""
    body = (("Pin", "Connected to", "Color"), ("1", "CAN_H", "BK"), ("2", "!RESET", "BU"), ("3", "VCC", "RD"))
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(body, (60, 100, 80)))
    assert plan.columns == {"cavity": 0, "signal": 1, "color": 2}


def test_marks_under_a_header_for_notes_are_no_function(tmp_path: Path) -> None:
    """Figures, letters and pages lead elsewhere; they say nothing of the wire."""
    body = (
        ("Pin", "Color", "Circuit", "Note"),
        ("1", "BK", "1440", "12"),
        ("2", "BU", "1441", "A"),
        ("3", "RD", "1442", "see 4-12"),
    )
    _, (plan,) = planned(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(body, (60, 60, 70, 80)))
    assert "function" not in plan.columns


def test_a_name_broken_for_want_of_room_is_whole_and_doubted(tmp_path: Path) -> None:
    """Lines as long as the longest name are joined without a blank, and a person is asked to look."""
    body = (
        ("Pin", "Signal", "Color"),
        ("1", "PUMP_P\nWM", "BK"),
        ("2", "TILT_S\nIG", "BU"),
        ("3", "VCC", "RD"),
        ("4", "GND", "GN"),
    )
    found = rows(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(body, (60, 60, 80)))
    assert [r.values["signal"] for r in found] == ["PUMP_PWM", "TILT_SIG", "VCC", "GND"]
    assert ["row-assembled" in r.doubts for r in found] == [True, True, False, False]


def test_two_names_in_one_cell_are_not_one() -> None:
    """What is a name by itself elsewhere, or shorter than the room, was not broken."""
    assert broken_names(["CAN_H CAN_L", "CAN_H", "CAN_L"], ["CAN_H", "CAN_H", "CAN_L"]) == {}
    assert broken_names(["VCC GND", "STEER_POS", "LIFT_FB"], ["VCC", "STEER_POS", "LIFT_FB"]) == {}


def test_connector_and_cavity_in_one_cell_are_told_by_the_cells(tmp_path: Path) -> None:
    """`Connector/No.` says little, but `X11/1`, `X11/2`, `X12/1` are cavities in order."""
    body = (
        ("Connector/No.", "Color", "Circuit"),
        ("X11/1", "BK", "1440"),
        ("X11/2", "BU", "1441"),
        ("X12/1", "RD", "1442"),
    )
    found = rows(Page(tmp_path / "a.pdf").heading("List").ruled(body, (90, 60, 70)))
    assert [(r.connector, r.cavity) for r in found] == [("X11", "1"), ("X11", "2"), ("X12", "1")]


def test_keys_over_a_table_on_its_side_are_no_rows_of_it(tmp_path: Path) -> None:
    """Lines that begin with known words but stand over the blocks are left out."""
    body = (("Pin", "1", "2", "3"), ("Color", "BK", "BU", "RD"), ("Circuit", "1440", "1441", "1442"))
    page = Page(tmp_path / "a.pdf").aligned(
        (("Connector", "C126"), ("Color", "grey")), (60, 130), bold_first=False, down=14
    )
    table = _best(page.aligned(body, (60, 130, 170, 210), bold_first=False))[-1]
    assert table.header == ("Pin", "Color", "Circuit")
    assert [b.cells[0].text for b in table.bands] == ["1", "2", "3"]


def test_texts_that_swallowed_a_column_of_colors_are_doubted() -> None:
    """A column for colours without one, beside texts that begin with codes, was cut wrongly."""
    assert swallowed({"color": ["", ""], "function": ["BU 92.8 Lamp", "RD 45.1 Horn"]})
    assert not swallowed({"color": ["", ""], "function": ["Lamp supply", "Horn relay"]})
    assert not swallowed({"color": ["BU", ""], "function": ["BU 92.8 Lamp", "RD 45.1 Horn"]})


def test_codes_under_a_header_of_other_tables_beside_colors_are_doubted(tmp_path: Path) -> None:
    """A column of colour codes next to the one for colours may be half of each code."""
    body = (
        ("Pin", "Code", "Color", "Circuit"),
        ("1", "OG", "YE", "1440"),
        ("2", "BN", "RD", "1441"),
        ("3", "PK", "BU", "1442"),
    )
    found = rows(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(body, (50, 50, 50, 70)))
    assert all("column-unread" in r.doubts for r in found)


def _told(page: Page) -> set[tuple[str, str, str, str, str]]:
    return {(p.connector, p.half, p.cavity, p.color_code, p.circuit) for p in pins(page).pins}


def test_a_plug_and_pin_that_stand_there_twice_are_two_ends(tmp_path: Path) -> None:
    """A wire that is told of once, between two connectors with their cavities, has an end in each."""
    table = (
        ("Wire no.", "Colour", "Plug", "Pin", "Plug", "Pin"),
        ("4630", "GN", "X163", "1", "X155", "8"),
        ("6426", "RD", "X323", "4", "X155", "3"),
    )
    assert _told(Page(tmp_path / "a.pdf").heading("Wiring list").ruled(table, (60, 60, 60, 40, 60, 40))) == {
        ("X163", "", "1", "GN", "4630"),
        ("X155", "", "8", "GN", "4630"),
        ("X323", "", "4", "RD", "6426"),
        ("X155", "", "3", "RD", "6426"),
    }


def test_colors_on_either_side_of_the_cavity_are_those_of_two_halves(tmp_path: Path) -> None:
    """Headers with the marks of the halves tell whose colour it is, however much the two differ."""
    table = (
        ("(M) Color", "Pin", "(F) Color", "Circuit"),
        ("RD", "1", "GY/YE", "813"),
        ("YE", "2", "BN", "798"),
    )
    found = _told(Page(tmp_path / "a.pdf").heading("In-line connector X57").ruled(table, (60, 40, 60, 60)))
    assert {(half.strip("()"), *rest) for _, half, *rest in found} == {
        ("M", "1", "RD", "813"),
        ("F", "1", "GY/YE", "813"),
        ("M", "2", "YE", "798"),
        ("F", "2", "BN", "798"),
    }


def test_a_face_with_texts_in_its_boxes_is_a_list_of_pins(tmp_path: Path) -> None:
    """Boxes that count on, each with what is in the cavity, are rows; a face of bare numbers is none."""
    boxes = (
        ("1\nLamp feed\nRD", "2\nHorn\nBU", "3\nGround\nBK", "4\nFan\nGN"),
        ("5\nPump\nYE", "6\nValve\nWH", "7\nSensor\nGY", "8\nHeater\nBN"),
    )
    page = Page(tmp_path / "a.pdf").heading("Connector X5 (8 way)").ruled(boxes, (70, 70, 70, 70))
    assert {(c, color) for _, _, c, color, _ in _told(page)} == {
        *zip("12345678", ("RD", "BU", "BK", "GN", "YE", "WH", "GY", "BN"), strict=True)
    }
    bare = tuple(tuple(t.split("\n")[0] for t in row) for row in boxes)
    assert not _told(Page(tmp_path / "b.pdf").heading("Connector X5 (8 way)").ruled(bare, (30, 30, 30, 30)))
