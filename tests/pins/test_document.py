"""Pages of a document to pins: what is printed reaches them, each under its own connector's name."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, OTHERS, ROWS, WIDE, Cells, manual
from tests.tables.drawn import Page, pins


def test_a_row_becomes_a_pin_with_all_that_is_printed(tmp_path: Path) -> None:
    """Machine, connector, colours, circuit, function and place on the page all reach the pin."""
    made = pins(manual(tmp_path, ("Connector X5 - Pump controller, 3-way, black", ROWS)), "forklift", "m.pdf")
    pin = made.pins[1]
    assert (pin.machine, pin.document, pin.page, pin.table_no, pin.row_no) == ("forklift", "m.pdf", 1, 1, 2)
    assert (pin.connector, pin.cavity, pin.color_code, pin.circuit) == ("X5", "2", "BU/YE", "1441")
    assert (pin.base_color, pin.stripe_color, pin.function) == ("blue", "yellow", "Horn")
    assert (pin.role, pin.component, pin.status, pin.flags) == ("component", "Pump controller", "used", ())
    assert 60 <= pin.x0 < pin.x1 <= 421 and pin.top < pin.bottom
    (connector,) = made.connectors
    assert (connector.cavities_stated, connector.cavities_read, connector.color) == (3, 3, "black")


@pytest.mark.parametrize(
    ("heading", "titles"),
    [
        ("M60 – Edge module (3-way, black)", ("From", "To", "Circuit", "Color")),
        ("M60 – Gateway CAN – 3 vie, nero", ("Da", "A", "Circuito", "Colore")),
        ("M60 Steuergerät (3-polig, schwarz)", ("Von", "Nach", "Leitung", "Farbe")),
        ("M60 – Calculateur, 3 voies, noir", ("De", "Vers", "Circuit", "Couleur")),
    ],
)
def test_a_wire_list_takes_nothing_from_a_heading(
    tmp_path: Path, heading: str, titles: tuple[str, ...]
) -> None:
    """What a connector's heading says of it stands, also where a list names the connector row by row."""
    page = manual(tmp_path, (heading, ROWS)).next().heading(titles[0])
    wires = (
        ("M60:1", "X7:1", "1440", "BK"),
        ("M60:2", "X7:2", "1441", "BU/YE"),
        ("M60:3", "G1", "1442", "RD"),
    )
    (connector,) = (
        c for c in pins(page.ruled((titles, *wires), (70, 70, 70, 70))).connectors if c.connector == "M60"
    )
    assert connector.pages == (1, 2)
    assert (connector.cavities_stated, connector.color) == (3, "black")


def test_a_table_that_runs_on_overleaf_stays_with_its_connector(tmp_path: Path) -> None:
    """Cavities that count on under the same borders belong to the connector of the page before."""
    page = manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
    page.ruled((("4", "GN", "1443", "Pump"), ("5", "WH", "1444", "Valve")), WIDE)
    made = pins(page)
    assert [(p.connector, p.cavity, p.page) for p in made.pins][3:] == [("X5", "4", 2), ("X5", "5", 2)]
    (connector,) = made.connectors
    assert connector.pages == (1, 2)


def test_a_new_heading_overleaf_is_a_new_connector(tmp_path: Path) -> None:
    """Cavities that begin anew under a heading of their own are another connector's."""
    page = manual(tmp_path, ("Connector X5 - Pump", ROWS)).next()
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


def test_connectors_side_by_side_without_rules_are_two(tmp_path: Path) -> None:
    """Two headings over two column sets are two connectors, though their cavities stand in one line."""
    made = pins(_side_by_side(tmp_path, ruled=False))
    assert {(p.connector, p.half, p.cavity, p.circuit) for p in made.pins} == SIDE_BY_SIDE


def test_a_number_alone_under_a_table_is_no_cavity(tmp_path: Path) -> None:
    """A page number or a footnote mark close below is no row, or at the least a doubtful one."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    made = pins(page.aligned((HEADER, *ROWS), (60, 130, 210, 290), down=14).line("12"))
    assert [p.cavity for p in made.pins if not p.flags] == ["1", "2", "3"]


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


def test_a_heading_of_two_connectors_is_a_doubt(tmp_path: Path) -> None:
    """`Connectors X5 and X6` over one table does not say whose rows these are."""
    made = pins(manual(tmp_path, ("Connectors X5 and X6", ROWS)))
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
