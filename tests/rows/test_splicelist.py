"""Lists of splices: rows about a whole splice, rows of its wires, and how many wires it is said to have."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins
from xref.records import Pin

WIDE = (90, 70, 100, 120)
SPLICES = (("S102", "440", "4", "left sill"), ("S103", "441", "3", "dash"), ("S104", "443", "3", "roof"))


def legs(found: Sequence[Pin]) -> list[tuple[str, str, str]]:
    """Return splice, circuit and far end of each row that is a wire of a splice."""
    rows = [pin for pin in found if pin.role == "splice" and "splice-listed" not in pin.notices]
    return [(pin.connector, pin.circuit, pin.goes_to) for pin in rows]


def said(found: Sequence[Pin]) -> dict[str, tuple[str, ...]]:
    """Return what is said of each splice."""
    return {pin.connector: pin.notices[:2] for pin in found if pin.role == "splice"}


@pytest.mark.parametrize(
    ("header", "unit"),
    [
        (("Splice", "Circuit", "Wires", "Location"), ""),
        (("Splice", "Circuit", "Wires", "Location"), " wires"),
        (("Splice", "Wire No.", "No. of wires", "Where"), ""),
        (("Lötverbinder", "Ltg.", "Anzahl", "Ort"), ""),
        (("Verbindungsstelle", "Leitung", "Anz. Ltg.", "Einbauort"), "x"),
        (("Lötstelle", "Leitung", "Adern", "Ort"), " Adern"),
        (("Épissure", "Circuit", "Nb fils", "Emplacement"), ""),
        (("Épissure", "Circuit", "Nombre de fils", "Emplacement"), " fils"),
        (("Empalme", "Circuito", "N.º de cables", "Ubicación"), ""),
        (("Giunzione", "Circuito", "Numero di fili", "Posizione"), " fili"),
    ],
)
@pytest.mark.parametrize("ruled", [True, False])
def test_one_row_for_each_splice_is_about_the_splice(
    tmp_path: Path, header: tuple[str, ...], unit: str, ruled: bool
) -> None:
    """A list with one row for each splice and a number of wires prints no wire of them."""
    rows = [header, *((name, circuit, f"{n}{unit}", at) for name, circuit, n, at in SPLICES)]
    page = Page(tmp_path / "a.pdf").heading("4.2")
    found = pins(page.ruled(rows, WIDE) if ruled else page.aligned(rows, (60, 170, 260, 370))).pins
    assert [(p.connector, p.cavity, p.circuit, p.role) for p in found] == [
        (name, "", circuit, "splice") for name, circuit, *_ in SPLICES
    ]
    assert said(found) == {name: ("splice-listed", f"splice-wires={n}") for name, _, n, _ in SPLICES}


def test_without_a_number_one_row_each_is_about_the_splice_too(tmp_path: Path) -> None:
    """No splice has one wire: where each has one row, the rows are about splices, of whatever many wires."""
    rows = [("Splice", "Circuit", "Location"), *((s, c, at) for s, c, _, at in SPLICES)]
    found = pins(Page(tmp_path / "a.pdf").heading("Splices").ruled(rows, (70, 70, 120))).pins
    assert all("splice-listed" in pin.notices for pin in found) and len(found) == 3
    assert not any("splice-wires" in name for pin in found for name in pin.notices)


def test_a_column_of_wire_numbers_is_no_column_of_counts(tmp_path: Path) -> None:
    """`Wires` over the only numbers of wires there are is a header of circuits."""
    rows = [("Splice", "Wires", "Location"), ("SP1", "12", "sill"), ("SP2", "14", "dash")]
    found = pins(Page(tmp_path / "a.pdf").heading("Splices").ruled(rows, (70, 70, 120))).pins
    assert [(p.connector, p.circuit) for p in found] == [("SP1", "12"), ("SP2", "14")]
    assert not any("splice-wires" in name for pin in found for name in pin.notices)


def test_a_list_of_far_ends_in_one_cell_is_as_many_wires(tmp_path: Path) -> None:
    """`X5:1, X6:2, S103` in a splice's row are three wires of it, and the number said stays beside them."""
    body = (("S102", "440", "3", "X5:1, X6:2, S103"), ("S103", "440", "3", "X7:1, X8:2, S102"))
    page = Page(tmp_path / "a.pdf").heading("Splices")
    found = pins(page.ruled((("Splice", "Circuit", "Wires", "Connects to"), *body), (60, 60, 60, 160))).pins
    assert legs(found) == [
        *(("S102", "440", to) for to in ("X5:1", "X6:2", "S103")),
        *(("S103", "440", to) for to in ("X7:1", "X8:2", "S102")),
    ]
    assert {pin.notices[0] for pin in found} == {"splice-wires=3"}


def test_far_ends_in_one_cell_may_name_halves(tmp_path: Path) -> None:
    """`X200-B:4` and `A30 X1:C4` are places, as `X5:1` is; a lamp with its wattage is none."""
    ends = "X200-B:4, M10-A:1, A30 X1:C4"
    body = (("S102", "440", ends), ("S103", "441", "X7:1, X8-A:2, S102"))
    page = Page(tmp_path / "a.pdf").heading("Splices")
    found = pins(page.ruled((("Splice", "Circuit", "Connects to"), *body), (60, 60, 200))).pins
    assert [pin.goes_to for pin in found if pin.connector == "S102"] == ends.split(", ")
    assert len(found) == 6


LEGS = (("S102", "X5:1"), ("S102", "X6:2"), ("S102", "S103"), ("S103", "X7:1"), ("S103", "X8:2"))
HEADERS = (
    (("Splice", "Circuit", "Color", "To"), "BK", "Splices"),
    (("Lötverbinder", "Ltg.", "Farbe", "nach"), "sw", "Lötverbinder"),
    (("Épissure", "Circuit", "Couleur", "Vers"), "NO", "Épissures"),
)


@pytest.mark.parametrize(("header", "color", "heading"), HEADERS)
@pytest.mark.parametrize("form", ["repeated", "once", "alone", "merged"])
def test_one_row_for_each_wire(
    tmp_path: Path, header: tuple[str, ...], color: str, heading: str, form: str
) -> None:
    """A splice's name stands in each row of its wires, in the first, or in a line of its own over them."""
    rows: list[tuple[str, ...]] = [header]
    spans = []
    last = ""
    for name, to in LEGS:
        if name != last and form == "alone":
            rows.append((name, "", "", ""))
        shown = name if form == "repeated" or (name != last and form != "alone") else ""
        rows.append((shown, "440", color, to))
        last = name
    if form == "merged":
        spans = [((0, 1), (0, 3)), ((0, 4), (0, 5))]
    found = pins(Page(tmp_path / "a.pdf").heading(heading).ruled(rows, WIDE, spans=spans)).pins
    assert legs(found) == [(name, "440", to) for name, to in LEGS]
    assert not any("row-assembled" in pin.flags for pin in found)


@pytest.mark.parametrize(
    ("heading", "header"),
    [
        ("Splice {}", ("Circuit", "Color", "To")),
        ("Splice {} - left sill, behind the panel", ("Wire No.", "Color", "Goes to")),
        ("Lötverbinder {} - Schweller links", ("Ltg.", "Farbe", "nach")),
        ("Épissure {}", ("Circuit", "Couleur", "Vers")),
        ("Empalme {}", ("Circuito", "Color", "Destino")),
        ("{} Splice", ("Circuit", "Color", "To")),
    ],
)
def test_the_heading_may_name_the_splice(tmp_path: Path, heading: str, header: tuple[str, ...]) -> None:
    """Under a heading that names a splice each row is a wire of it, and what `To` names is no splice."""
    page = Page(tmp_path / "a.pdf")
    for name in ("S102", "S103"):
        rows = [header, *(("440", "BK", to) for of, to in LEGS if of == name)]
        page.heading(heading.format(name)).ruled(rows, (80, 60, 90))
    found = pins(page).pins
    assert legs(found) == [(name, "440", to) for name, to in LEGS]
    assert {pin.connector for pin in found} == {"S102", "S103"}


def test_names_may_stand_alone_over_the_whole_width(tmp_path: Path) -> None:
    """In a list of splices a line with a name and no more begins the wires of that splice."""
    rows = (
        *(("Circuit", "Color", "To"), ("S102", "", ""), ("440", "BK", "X5:1"), ("440", "BK", "X6:2")),
        *(("S103", "", ""), ("441", "RD", "X5:2"), ("441", "RD", "X7:2")),
    )
    page = Page(tmp_path / "a.pdf").heading("Splices")
    found = pins(page.ruled(rows, (80, 60, 90), spans=[((0, 1), (2, 1)), ((0, 4), (2, 4))])).pins
    assert [(p.connector, p.circuit, p.role) for p in found] == [
        *(("S102", "440", "splice"),) * 2,
        *(("S103", "441", "splice"),) * 2,
    ]


def test_far_ends_in_columns_of_their_own_are_rows_as_well(tmp_path: Path) -> None:
    """Connector and cavity beside a splice are where its wire ends: both are rows that name the other."""
    body = (
        ("S102", "440", "BK", "X5", "1"),
        ("S102", "440", "BK", "X6", "2"),
        ("S102", "440", "BK", "S103", ""),
    )
    page = Page(tmp_path / "a.pdf").heading("Splices")
    found = pins(page.ruled((("Splice", "Circuit", "Color", "Connector", "Pin"), *body), (60,) * 5)).pins
    assert [(p.connector, p.cavity, p.role, p.goes_to) for p in found] == [
        ("S102", "", "splice", "X5:1"),
        ("X5", "1", "unknown", "S102"),
        ("S102", "", "splice", "X6:2"),
        ("X6", "2", "unknown", "S102"),
        ("S102", "", "splice", "S103"),
    ]


def test_what_rows_under_a_splice_s_heading_name_is_no_splice(tmp_path: Path) -> None:
    """A from/to list headed `Splice S102` makes no splice of the plugs its wires come from."""
    rows = (("Circuit", "Color", "From", "To"), ("440", "BK", "S102", "X5:1"), ("440", "BK", "S102", "X6:2"))
    found = pins(Page(tmp_path / "a.pdf").heading("Splice S102").ruled(rows, (60, 60, 60, 60))).pins
    assert all(pin.role != "splice" for pin in found if pin.connector.startswith("X"))
