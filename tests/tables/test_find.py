"""Pages to tables: ruled and aligned ones, cut where the next connector begins, with what stands around."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import GRID, Page, body, only_table, tables
from xref.tables.surroundings import is_key

HEADER = ("Cavity", "Color", "Circuit", "Function")
ROWS = (("1", "BK", "1440", "Lamp supply, left"), ("2", "BU/YE", "1441", "Horn"), ("3", "RD", "1442", "Fan"))
OTHERS = (("1", "GN", "1500", "Winch motor"), ("2", "WH", "1501", "Valve"), ("3", "GY", "1502", "Buzzer"))
WIDE = (60, 80, 70, 150)
XS = (60, 130, 210, 290)


def _listed(rows: tuple[tuple[str, ...], ...]) -> list[list[str]]:
    return [list(row) for row in rows]


@pytest.mark.parametrize(
    "rules",
    [
        GRID,
        (("BOX", (0, 0), (-1, -1), 0.5, (0, 0, 0)), ("INNERGRID", (0, 0), (-1, -1), 0.25, (0.5, 0.5, 0.5))),
        (("INNERGRID", (0, 0), (-1, -1), 0.5, (0, 0, 0)),),
        (*GRID, ("BOX", (0, 0), (-1, -1), 0.5, (0, 0, 0), None, None, None, 2, 2)),
    ],
    ids=["grid", "two weights", "open sides", "double frame"],
)
def test_ruled_tables_of_several_looks_give_the_same_cells(
    tmp_path: Path, rules: tuple[tuple[object, ...], ...]
) -> None:
    """Full grids, thin inner lines, open sides and double frames hold the same header and rows."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *ROWS), WIDE, rules=rules)
    table = only_table(page)
    assert (table.kind, table.header, table.header_score) == ("ruled", HEADER, 1.0)
    assert body(table) == _listed(ROWS)
    assert (table.page, table.number, table.columns) == (1, 1, 4)


def test_an_aligned_table_gives_the_same_cells(tmp_path: Path) -> None:
    """Without any rule, header words and rivers give the columns."""
    table = only_table(Page(tmp_path / "a.pdf").heading("Connector X5").aligned((HEADER, *ROWS), XS))
    assert (table.kind, table.header) == ("aligned", HEADER)
    assert body(table) == _listed(ROWS)


def test_rules_under_each_row_part_rows_of_an_aligned_table(tmp_path: Path) -> None:
    """Lines across alone part rows: a wrapped text between two of them is one cell."""
    rows = (HEADER, ("1", "BK", "1440", "Lamp supply,\nleft side"), *ROWS[1:])
    rules = [("LINEBELOW", (0, 0), (-1, -1), 0.5, (0, 0, 0))]
    table = only_table(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, WIDE, rules=rules))
    assert body(table)[0] == ["1", "BK", "1440", "Lamp supply, left side"]
    assert len(table.bands) == 3


def test_a_merged_cell_is_said_of_all_its_bands(tmp_path: Path) -> None:
    """A cell over two rows has its text in both, and only the upper one is its first."""
    rows = (HEADER, ROWS[0], ("", "GN", "1500", "Pump"), ROWS[1])
    table = only_table(Page(tmp_path / "a.pdf").ruled(rows, WIDE, spans=[((0, 1), (0, 2))]))
    cells = [band.cells[0] for band in table.bands]
    assert [(c.text, c.first, c.row_span) for c in cells] == [("1", True, 2), ("1", False, 2), ("2", True, 1)]


def test_a_group_header_names_the_columns_under_it(tmp_path: Path) -> None:
    """`Half A` over two columns is the group of both."""
    rows = (
        ("Pin", "Half A", "", "Half B", ""),
        ("", "Color", "Circuit", "Color", "Circuit"),
        ("1", "BK", "1440", "RD", "1440"),
        ("2", "BU", "1441", "GN", "1441"),
    )
    spans = [((0, 0), (0, 1)), ((1, 0), (2, 0)), ((3, 0), (4, 0))]
    table = only_table(Page(tmp_path / "a.pdf").ruled(rows, (40, 60, 60, 60, 60), spans=spans))
    assert table.header == ("Pin", "Color", "Circuit", "Color", "Circuit")
    assert table.groups == ("", "Half A", "Half A", "Half B", "Half B")


def test_cells_that_hold_several_rows_are_taken_apart(tmp_path: Path) -> None:
    """Where only columns are ruled, each line with a cavity is a row."""
    stacked = tuple("\n".join(texts) for texts in zip(*ROWS, strict=True))
    table = only_table(Page(tmp_path / "a.pdf").ruled((HEADER, stacked), WIDE))
    assert body(table) == _listed(ROWS)


def test_an_aligned_table_ends_at_the_next_connector_s_heading(tmp_path: Path) -> None:
    """A heading between two tables ends the first, and each keeps its own rows."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").aligned((HEADER, *ROWS), XS, down=16)
    page.heading("Connector X6 - Winch motor", size=9, down=14).aligned((HEADER, *OTHERS), XS)
    first, second = tables(page)
    assert (body(first), body(second)) == (_listed(ROWS), _listed(OTHERS))
    assert [a.line.text for a in second.around if a.where == "above"] == ["Connector X6 - Winch motor"]


def test_a_larger_line_ends_an_aligned_table(tmp_path: Path) -> None:
    """A short heading of the next chapter, as near as a row, is no row: its type is larger."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").aligned((HEADER, *ROWS), XS, down=20)
    table = only_table(page.heading("Care", size=13))
    assert body(table) == _listed(ROWS)


def test_a_title_between_the_rows_begins_the_next_connector_under_the_same_header(tmp_path: Path) -> None:
    """A line across the columns cuts the table, and is the title of what follows."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").aligned((HEADER, *ROWS), XS, down=14)
    page.line("Connector X6 - Winch motor, hydraulic bay, upper wall").aligned(OTHERS, XS, bold_first=False)
    first, second = tables(page)
    assert (body(first), body(second)) == (_listed(ROWS), _listed(OTHERS))
    assert second.header == HEADER
    assert any(a.where == "title" and a.line.text.startswith("Connector X6") for a in second.around)


def test_a_title_row_in_a_grid_stands_over_its_header(tmp_path: Path) -> None:
    """A merged first row is a title inside the table, no header and no row."""
    rows = (("Connector X5 - Pump controller", "", "", ""), HEADER, *ROWS)
    table = only_table(Page(tmp_path / "a.pdf").ruled(rows, WIDE, spans=[((0, 0), (3, 0))]))
    assert table.header == HEADER and body(table) == _listed(ROWS)
    assert [(a.line.text, a.where) for a in table.around] == [("Connector X5 - Pump controller", "title")]


def test_two_headers_in_one_grid_are_two_tables(tmp_path: Path) -> None:
    """A title and header that come again inside a frame begin another connector."""
    title = ("Connector X5", "", "", ""), ("Connector X6", "", "", "")
    rows = (title[0], HEADER, *ROWS, title[1], HEADER, *OTHERS)
    page = Page(tmp_path / "a.pdf").ruled(rows, WIDE, spans=[((0, 0), (3, 0)), ((0, 5), (3, 5))])
    first, second = tables(page)
    assert (body(first), body(second)) == (_listed(ROWS), _listed(OTHERS))
    assert [[a.line.text for a in t.around if a.where == "title"] for t in (first, second)] == [
        ["Connector X5"],
        ["Connector X6"],
    ]


def test_text_beside_an_aligned_table_is_no_column_of_it(tmp_path: Path) -> None:
    """A remark far to the right stays out of the cells."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    top = page.y
    page.aligned((HEADER, *ROWS), XS)
    page.y = top + 14
    table = only_table(page.line("Unplug first", x=480).line("Then measure", x=480))
    assert table.header == HEADER
    assert body(table) == _listed(ROWS)


def test_lines_near_a_table_are_noted_nearest_first(tmp_path: Path) -> None:
    """What stands above and below may name the connector; each line says where it stands and how far."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5", down=16).line("3-way, black", down=24)
    page.ruled((HEADER, *ROWS), WIDE, down=8).line("Table 7: Pump controller")
    table = only_table(page)
    assert [(a.line.text, a.where) for a in table.around] == [
        ("3-way, black", "above"),
        ("Connector X5", "above"),
        ("Table 7: Pump controller", "below"),
    ]
    above = [a.gap for a in table.around if a.where == "above"]
    assert above == sorted(above) and above[0] >= 0


def test_the_head_of_the_page_is_told_apart(tmp_path: Path) -> None:
    """A running title at the top of the page is no line above the table."""
    page = Page(tmp_path / "a.pdf")
    page.y = 40
    page.line("Workshop manual, chapter 3")
    page.y = 120
    table = only_table(page.heading("Connector X5").ruled((HEADER, *ROWS), WIDE))
    assert [(a.line.text, a.where) for a in table.around] == [
        ("Connector X5", "above"),
        ("Workshop manual, chapter 3", "page"),
    ]


def test_text_beyond_another_table_belongs_to_that_one(tmp_path: Path) -> None:
    """The first heading is over the first table, so it is no heading of the second."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *ROWS), WIDE)
    _, second = tables(page.heading("Connector X6").ruled((HEADER, *OTHERS), WIDE))
    assert [a.line.text for a in second.around if a.where == "above"] == ["Connector X6"]


def test_keys_and_values_above_a_table_are_its_head(tmp_path: Path) -> None:
    """A small grid of keys and values is no table of its own, but the head of the one below."""
    page = Page(tmp_path / "a.pdf")
    page.ruled(
        (("Connector", "X7", "Component", "Pump controller"), ("Housing", "black", "Cavities", "3")),
        (80, 60, 80, 120),
        down=20,
    )
    table = only_table(page.ruled((HEADER, *ROWS), WIDE))
    assert dict(table.head) == {
        "Connector": "X7",
        "Component": "Pump controller",
        "Housing": "black",
        "Cavities": "3",
    }


def test_lines_of_keys_and_values_are_a_head_too(tmp_path: Path) -> None:
    """`Key: value` lines above a table say the same as a grid."""
    page = (
        Page(tmp_path / "a.pdf")
        .line("Connector: X7")
        .line("Location: Hydraulic bay")
        .line("Cavities: 3", down=24)
    )
    table = only_table(page.ruled((HEADER, *ROWS), WIDE))
    assert dict(table.head) == {"Connector": "X7", "Location": "Hydraulic bay", "Cavities": "3"}


@pytest.mark.parametrize(
    ("text", "role"),
    [("Connector", "connector"), ("Location", "location"), ("Cavities", "ways"), ("Lamp", ""), ("X5", "")],
)
def test_keys_are_known_by_their_words(text: str, role: str) -> None:
    """A key is a word for something a head states; a designator is none."""
    assert is_key(text) == role


def test_first_and_last_on_a_page_are_known(tmp_path: Path) -> None:
    """Whether a table may go on overleaf depends on what stands above and below it."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5").ruled((HEADER, *ROWS), WIDE)
    page.next().ruled(OTHERS, WIDE).line("Check all wires before power returns.")
    first, second = tables(page)
    assert (first.first_on_page, first.last_on_page) == (False, True)
    assert (second.first_on_page, second.last_on_page) == (True, False)


def test_prose_and_contents_give_no_table_with_a_header(tmp_path: Path) -> None:
    """A list of chapters and running text hold header words, and yet are no tables."""
    page = Page(tmp_path / "a.pdf").heading("Contents")
    page.aligned(
        (("3.1 Connectors and wire colours", "12"), ("3.2 Circuits", "15"), ("3.3 Function", "19")), (60, 400)
    )
    page.line("Each connector has a cavity, a color and a circuit, whose function is given in the table.")
    assert not [t for t in tables(page) if t.has_header]
