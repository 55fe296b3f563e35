"""Columns the person named: found again in the document, cut anew, and nothing guessed about them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.tables.drawn import Page, contents
from xref.pages.content import PageContent
from xref.pins.document import readings_to_pins
from xref.records import Pin
from xref.tables.layout import TaughtLayout
from xref.tables.page import PageReading, content_to_reading
from xref.tables.taught import fits, layout_of, taught_reading
from xref.tables.taught_cut import cut_layout

#: Words no reader knows: what the columns hold cannot be told from them.
HEADER = ("Qaz", "Wsx", "Edc", "Rfv")
ROLES = ("cavity", "circuit", "color", "function")
ROWS = (
    ("1", "K100", "BK", "Lamp left"),
    ("2", "K101", "BU", "Lamp right"),
    ("3", "K102", "RD", "Horn of the lift"),
    ("4", "K103", "GN", "Pump"),
)
XS = (60.0, 130.0, 220.0, 300.0)


def drawn(path: Path) -> list[PageContent]:
    """Draw two pages of the same strange table without rules, under other headings, and a third without."""
    page = Page(path / "a.pdf")
    page.heading("Connector X1").aligned((HEADER, *ROWS), XS).next()
    page.heading("Connector X2").aligned((HEADER, *ROWS), XS).next()
    return contents(page.line("Nothing of the kind stands here.").save())


def read(pages: list[PageContent], layout: TaughtLayout, candidate: bool = True) -> list[PageReading]:
    """Read pages with a layout that was taught."""
    return [
        taught_reading(page, content_to_reading(page, "asked"), [layout], candidate=candidate)
        for page in pages
    ]


def pins(readings: list[PageReading]) -> list[Pin]:
    """Return the pins of readings."""
    return list(readings_to_pins("", "a.pdf", readings).pins)


def texts(found: list[Pin]) -> list[tuple[str, str, str, str]]:
    """Return the four taught fields of pins."""
    return [(p.cavity, p.circuit, p.color_code, p.function) for p in found]


def test_columns_are_read_as_they_were_taught_on_every_page(tmp_path: Path) -> None:
    """Taught on one page, the same header over the same columns is read that way on the next, undoubted."""
    pages = drawn(tmp_path)
    layout = cut_layout(pages[0], ROLES)
    assert layout is not None and layout.header == HEADER
    found = pins(read(pages, layout))
    assert [p.page for p in found] == [1] * 4 + [2] * 4
    assert texts(found) == [*ROWS, *ROWS]
    assert {p.connector for p in found} == {"X1", "X2"}
    assert not [p.flags for p in found if "column-guessed" in p.flags]


def test_a_page_that_was_skipped_gives_only_what_was_taught(tmp_path: Path) -> None:
    """Triage had passed the pages over: the taught table is read from them, and nothing else is."""
    pages = drawn(tmp_path)
    layout = cut_layout(pages[0], ROLES)
    assert layout is not None
    readings = read(pages, layout, candidate=False)
    assert [len(r.tables) for r in readings] == [1, 1, 0]
    assert [r.outcome for r in readings] == ["read", "read", "skipped"]


def test_a_table_that_was_found_keeps_its_cells(tmp_path: Path) -> None:
    """Where rules show the cells, only the meaning of the columns is the person's."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    (content,) = contents(page.ruled((("Pin", "Net", "Wire", "Use"), *ROWS), (50, 80, 60, 150)).save())
    (table,) = content_to_reading(content, "").tables
    layout = layout_of(content, table, ("cavity", "function", "color", "circuit"))
    (reading,) = read([content], layout)
    assert reading.tables[0].taught == layout and reading.tables[0].bands == table.bands
    assert texts(pins([reading]))[0] == ("1", "Lamp left", "BK", "K100")


def test_another_header_or_other_columns_are_another_layout(tmp_path: Path) -> None:
    """A table of as many columns is not the taught one: its words or its borders differ."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    page.ruled((("Pin", "Net", "Wire", "Use"), *ROWS), (50, 80, 60, 150))
    page.heading("Connector X2").ruled((("Pin", "Net", "Wire", "Note"), *ROWS), (50, 80, 60, 150))
    page.heading("Connector X3").ruled((("Pin", "Net", "Wire", "Use"), *ROWS), (50, 160, 60, 150))
    (content,) = contents(page.save())
    one, other, wide = content_to_reading(content, "").tables
    layout = layout_of(content, one, ROLES)
    assert fits(one, layout) and not fits(other, layout) and not fits(wide, layout)
    moved = TaughtLayout(roles=ROLES, edges=tuple(x + 200 for x in layout.edges), header=layout.header)
    assert fits(one, moved)


def test_a_column_may_be_left_out(tmp_path: Path) -> None:
    """What stands in a column the person leaves out is in no field."""
    pages = drawn(tmp_path)
    layout = cut_layout(pages[0], ("cavity", "circuit", "", "function"))
    assert layout is not None
    assert {p.color_code for p in pins(read(pages[:1], layout))} == {""}


def test_two_cavity_columns_are_two_tables_side_by_side(tmp_path: Path) -> None:
    """A cavity column that comes twice parts the table, and each part has rows of its own."""
    twin = [(*ROWS[0], *ROWS[2]), (*ROWS[1], *ROWS[3])]
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    page.aligned(((*HEADER, *HEADER), *twin), (40, 70, 110, 150, 300, 330, 370, 410))
    (content,) = contents(page.save())
    layout = cut_layout(content, (*ROLES, *ROLES))
    assert layout is not None
    assert sorted(texts(pins(read([content], layout)))) == sorted(ROWS)


def test_wrapped_texts_go_to_their_own_row(tmp_path: Path) -> None:
    """Text above and below a cavity's line belongs to it."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    page.aligned((HEADER,), XS, down=22)
    lines = (("Lamp", 0), ("left", 12), ("Pump", 40), ("relay", 52), ("Horn", 74), ("of lift", 104))
    cavities = (("1", 6), ("2", 46), ("3", 90))
    for text, down in lines:
        page.canvas.drawString(XS[3], 842 - page.y - down, text)
    for text, down in cavities:
        for x, cell in zip(XS, (text, f"K10{text}", "BK"), strict=False):
            page.canvas.drawString(x, 842 - page.y - down, cell)
    (content,) = contents(page.save())
    layout = cut_layout(content, ROLES)
    assert layout is not None
    found = pins(read([content], layout))
    assert [(p.cavity, p.function) for p in found] == [
        ("1", "Lamp left"),
        ("2", "Pump relay"),
        ("3", "Horn of lift"),
    ]


def test_a_page_that_does_not_part_into_so_many_columns_teaches_nothing(tmp_path: Path) -> None:
    """Running text has no columns, and a table of four has no seven."""
    pages = drawn(tmp_path)
    assert cut_layout(pages[2], ROLES) is None
    assert cut_layout(pages[0], (*ROLES, "size", "option", "harness")) is None


def test_rows_of_a_layout_taught_on_an_earlier_edition_wait_to_be_confirmed(tmp_path: Path) -> None:
    """The document was changed since it was taught: the rows are read that way, in doubt."""
    pages = drawn(tmp_path)
    layout = cut_layout(pages[0], ROLES)
    assert layout is not None
    old = TaughtLayout(roles=layout.roles, edges=layout.edges, header=layout.header, anew=True, earlier=True)
    assert all("correction-unconfirmed" in p.flags for p in pins(read(pages, old)))


def test_a_range_of_cavities_is_a_row_of_its_own(tmp_path: Path) -> None:
    """`5–7 not used` under the last row is no rest of that row's text."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    (content,) = contents(page.aligned((HEADER, *ROWS, ("5–7", "", "", "not used")), XS).save())
    layout = cut_layout(content, ROLES)
    assert layout is not None
    found = pins(read([content], layout))
    assert [(p.cavity, p.status) for p in found[3:]] == [
        ("4", "used"),
        ("5", "unused"),
        ("6", "unused"),
        ("7", "unused"),
    ]
    assert found[3].function == "Pump"


def test_a_taught_table_is_found_also_where_a_newer_reader_cuts_it_otherwise(tmp_path: Path) -> None:
    """The cells it was taught on are gone: the line of its header finds it, cut at the taught borders."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    (content,) = contents(page.ruled((("Pin", "Net", "Wire", "Use"), *ROWS), (50, 80, 60, 150)).save())
    (table,) = content_to_reading(content, "").tables
    layout = layout_of(content, table, ROLES)
    other = replace(table, header=("Pin Net", "Wire", "Use"), edges=(table.edges[0], *table.edges[2:]))
    reading = replace(content_to_reading(content, ""), tables=(other,))
    (found,) = taught_reading(content, reading, [layout], candidate=True).tables
    assert found.taught == layout
    assert texts(pins([replace(reading, tables=(found,))])) == list(ROWS)


def test_a_row_that_the_lines_read_otherwise_is_in_doubt(tmp_path: Path) -> None:
    """The columns are the person's word, the rows are not: cells that ran together are marked."""
    page = Page(tmp_path / "a.pdf").heading("Connector X1")
    (content,) = contents(page.ruled((("Pin", "Net", "Wire", "Use"), *ROWS), (50, 80, 60, 150)).save())
    reading = content_to_reading(content, "")
    (table,) = reading.tables
    layout = layout_of(content, table, ROLES)
    (good,) = taught_reading(content, reading, [layout], candidate=True).tables
    assert good.contested == ()
    first, *rest = table.bands
    glued = replace(first.cells[3], text="Lamp left Lamp")
    wrong = replace(table, bands=(replace(first, cells=(*first.cells[:3], glued)), *rest))
    readings = [taught_reading(content, replace(reading, tables=(wrong,)), [layout], candidate=True)]
    assert [bool(p.flags) for p in pins(readings)] == [True, False, False, False]
