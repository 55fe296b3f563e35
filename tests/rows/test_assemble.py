"""Bands of cells to rows: wrapped, merged, repeated, unused and listed ones."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, rows
from xref.rows.row import Row

HEADER = ("Cavity", "Color", "Circuit", "Function")
WIDE = (60, 80, 70, 150)
XS = (60, 130, 210, 290)


def _page(tmp_path: Path) -> Page:
    return Page(tmp_path / "a.pdf").heading("Connector X5 - Pump controller")


def _brief(found: list[Row]) -> list[tuple[str, str, str, str]]:
    return [
        (r.cavity, r.values.get("color", ""), r.values.get("circuit", ""), r.values.get("function", ""))
        for r in found
    ]


def test_a_wrapped_text_stays_in_its_row(tmp_path: Path) -> None:
    """Between rules, a second line of a cell is the same cell; a broken code is joined at its slash."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Lamp supply,\nleft side"), ("2", "BU/\nYE", "1441", "Horn")), WIDE
    )
    assert _brief(rows(page)) == [
        ("1", "BK", "1440", "Lamp supply, left side"),
        ("2", "BU/YE", "1441", "Horn"),
    ]


def test_a_wrapped_line_without_rules_goes_to_the_row_above(tmp_path: Path) -> None:
    """A line that holds only text under the function is the end of that function."""
    page = _page(tmp_path).aligned(
        (
            HEADER,
            ("1", "BK", "1440", "Lamp supply,"),
            ("", "", "", "left side"),
            ("2", "BU", "1441", "Horn"),
            ("3", "RD", "1442", "Fan"),
        ),
        XS,
    )
    found = rows(page)
    assert _brief(found)[0] == ("1", "BK", "1440", "Lamp supply, left side")
    assert len(found) == 3 and not any(r.doubts for r in found)


def test_texts_that_wrap_round_the_middle_of_their_row_are_joined(tmp_path: Path) -> None:
    """Where cavities stand at half the height of a wrapped text, its first line stands above them."""
    page = (
        Page(tmp_path / "a.pdf")
        .heading("Connector X5")
        .aligned(
            (
                HEADER,
                ("", "", "", "Lamp supply,"),
                ("1", "BK", "1440", ""),
                ("", "", "", "left side"),
                ("", "", "", "Horn supply,"),
                ("2", "BU", "1441", ""),
                ("", "", "", "right side"),
                ("3", "RD", "1442", "Fan"),
            ),
            XS,
            pitch=10,
        )
    )
    assert [r.values["function"] for r in rows(page)] == [
        "Lamp supply, left side",
        "Horn supply, right side",
        "Fan",
    ]


def test_a_code_broken_over_two_lines_is_joined_and_doubted(tmp_path: Path) -> None:
    """Without rules nothing proves that `WH` ends the `BK/` above it, so the row names the doubt."""
    page = _page(tmp_path).aligned(
        (HEADER, ("1", "BK/", "1440", "Lamp"), ("", "WH", "", ""), ("2", "BU", "1441", "Horn")), XS
    )
    first, second = rows(page)
    assert first.values["color"] == "BK/WH" and "row-assembled" in first.doubts
    assert second.doubts == ()


def test_a_note_across_the_rows_is_no_row(tmp_path: Path) -> None:
    """A merged line of text inside the table names no cavity and joins none."""
    page = _page(tmp_path).ruled(
        (
            HEADER,
            ("1", "BK", "1440", "Lamp"),
            ("Note: see chapter 4", "", "", ""),
            ("2", "BU", "1441", "Horn"),
        ),
        WIDE,
        spans=[((0, 2), (3, 2))],
    )
    assert _brief(rows(page)) == [("1", "BK", "1440", "Lamp"), ("2", "BU", "1441", "Horn")]


def test_two_wires_in_a_merged_cavity_are_two_rows(tmp_path: Path) -> None:
    """A cavity cell merged over two rows holds two wires, and rules show it, so there is no doubt."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Lamp"), ("", "BU", "1441", "Horn"), ("2", "RD", "1500", "Fan")),
        WIDE,
        spans=[((0, 1), (0, 2))],
    )
    found = rows(page)
    assert _brief(found) == [
        ("1", "BK", "1440", "Lamp"),
        ("1", "BU", "1441", "Horn"),
        ("2", "RD", "1500", "Fan"),
    ]
    assert not any(r.doubts for r in found)


def test_a_merged_function_holds_for_all_its_rows(tmp_path: Path) -> None:
    """What a merged cell says is said of every row it spans."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Data bus"), ("2", "BU", "1441", ""), ("3", "RD", "1500", "Fan")),
        WIDE,
        spans=[((3, 1), (3, 2))],
    )
    assert [r.values["function"] for r in rows(page)] == ["Data bus", "Data bus", "Fan"]


def test_two_wires_under_a_blank_cavity_are_two_rows(tmp_path: Path) -> None:
    """A line with colour and circuit of its own but no cavity is a second wire of the cavity above."""
    page = _page(tmp_path).aligned(
        (
            HEADER,
            ("1", "BK", "1440", "Lamp"),
            ("", "BU", "1441", "Horn"),
            ("2", "RD", "1500", "Fan"),
            ("3", "GN", "1501", "Fan"),
        ),
        XS,
    )
    assert _brief(rows(page))[:2] == [("1", "BK", "1440", "Lamp"), ("1", "BU", "1441", "Horn")]


def test_ditto_marks_take_what_stands_above(tmp_path: Path) -> None:
    """A mark that says `as above` is replaced by what it points at, down a whole column."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Lamp"), ("2", '"', "1441", "ditto"), ("3", '"', "1442", "Fan")), WIDE
    )
    assert _brief(rows(page)) == [
        ("1", "BK", "1440", "Lamp"),
        ("2", "BK", "1441", "Lamp"),
        ("3", "BK", "1442", "Fan"),
    ]


def test_a_ditto_under_nothing_is_a_doubt(tmp_path: Path) -> None:
    """In the first row there is nothing above: the value stays blank, and the row says so."""
    page = _page(tmp_path).ruled((HEADER, ("1", '"', "1440", "Lamp"), ("2", "BU", "1441", "Fan")), WIDE)
    first, second = rows(page)
    assert first.values["color"] == "" and first.doubts == ("ditto-assumed",)
    assert second.doubts == ()


def test_unused_marks_make_a_row_unused(tmp_path: Path) -> None:
    """A word for nothing in a cell, with no wire beside it, says that the cavity is empty."""
    page = _page(tmp_path).ruled(
        (
            HEADER,
            ("1", "BK", "1440", "Lamp"),
            ("2", "", "", "not used"),
            ("3", "-", "-", "spare"),
            ("4", "—", "—", "—"),
            ("5", "", "", ""),
        ),
        WIDE,
    )
    assert [(r.cavity, r.unused) for r in rows(page)] == [
        ("1", False),
        ("2", True),
        ("3", True),
        ("4", True),
        ("5", False),
    ]


def test_a_range_in_a_cavity_cell_is_opened(tmp_path: Path) -> None:
    """`4–6` with `not used` beside it is three empty cavities in one printed row."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Lamp"), ("2", "RD", "1441", "Fan"), ("4–6", "", "", "not used")), WIDE
    )
    found = rows(page)
    assert [(r.cavity, r.row_no, r.unused) for r in found][2:] == [
        ("4", 3, True),
        ("5", 3, True),
        ("6", 3, True),
    ]


def test_a_line_of_unused_cavities_over_all_columns_is_opened(tmp_path: Path) -> None:
    """`4–6 not used` written across the table is no title and no wrapped text."""
    page = _page(tmp_path).ruled(
        (HEADER, ("1", "BK", "1440", "Lamp"), ("2", "RD", "1441", "Fan"), ("4–6 not used", "", "", "")),
        WIDE,
        spans=[((0, 3), (3, 3))],
    )
    assert [(r.cavity, r.unused) for r in rows(page)] == [
        ("1", False),
        ("2", False),
        ("4", True),
        ("5", True),
        ("6", True),
    ]


@pytest.mark.parametrize("function", ["Spare wheel lamp", "Fuel reserve lamp"])
def test_a_function_that_holds_a_word_for_nothing_is_no_unused_mark(tmp_path: Path, function: str) -> None:
    """`Spare wheel lamp` is the name of a lamp."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.ruled((("Pin", "Function"), ("1", "Horn relay"), ("2", function), ("3", "Fan relay")), (60, 160))
    assert [r.unused for r in rows(page)] == [False, False, False]


def test_headers_set_close_together_keep_their_columns(tmp_path: Path) -> None:
    """Four columns of cells are four columns, though only a blank parts two of their headers."""
    page = _page(tmp_path).aligned(
        (HEADER, ("1", "BK", "1440", "Lamp"), ("2", "BU", "1441", "Horn"), ("3", "RD", "1442", "Fan")),
        (60, 98, 128, 163),
    )
    assert [(r.values.get("circuit"), r.values.get("function")) for r in rows(page)] == [
        ("1440", "Lamp"),
        ("1441", "Horn"),
        ("1442", "Fan"),
    ]


def test_a_row_s_box_holds_its_wrapped_lines(tmp_path: Path) -> None:
    """The box that will be shown beside a row covers all its printed lines, and no other row."""
    page = _page(tmp_path).aligned(
        (
            HEADER,
            ("1", "BK", "1440", "Lamp supply,"),
            ("", "", "", "left side"),
            ("2", "BU", "1441", "Horn"),
            ("3", "RD", "1442", "Fan"),
        ),
        XS,
    )
    first, second, third = rows(page)
    assert first.box.height > 1.8 * second.box.height
    assert first.box.bottom <= second.box.top + 1 and second.box.bottom <= third.box.top + 1


def test_a_circuit_broken_without_a_hyphen_is_joined_by_the_form_of_the_others(tmp_path: Path) -> None:
    """`P18` over `2` is P182 beside circuits such as P931; two whole circuits in a cell stay two."""
    body = (
        ("1", "BK", "P931", "Lamp"),
        ("2", "BU", "P18\n2", "Horn"),
        ("3", "RD", "P377", "Fan"),
        ("4", "GN", "P401\nP402", "Pump"),
    )
    found = [r.values["circuit"] for r in rows(_page(tmp_path).ruled((HEADER, *body), WIDE))]
    assert found == ["P931", "P182", "P377", "P401 P402"]
