"""Drawn manuals whose splices stand in a list, one row each, and the plans they lead to."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.moves.sample import net_of, worked
from tests.tables.drawn import Page, pins

#: Words over pins and their far ends, over a list of splices, and before the name of a plug.
ENGLISH = (
    ("Pin", "Color", "Circuit", "Function", "To"),
    ("Splice", "Circuit", "Wires", "Location"),
    "Connector {} - Lamp {}",
)
GERMAN = (
    ("Pin", "Farbe", "Ltg.", "Funktion", "nach"),
    ("Lötverbinder", "Ltg.", "Anzahl", "Ort"),
    "Stecker {} - Leuchte {}",
)
FRENCH = (
    ("Voie", "Couleur", "Circuit", "Fonction", "Vers"),
    ("Épissure", "Circuit", "Nb fils", "Emplacement"),
    "Connecteur {} - Feu {}",
)
#: A further row, so that the colours' codes are told.
OTHER = ("3", "BU/YE", "442", "Pump", "")


@pytest.mark.parametrize("words", [ENGLISH, GERMAN, FRENCH])
def test_a_list_of_splices_and_rows_that_name_them(
    tmp_path: Path, words: tuple[tuple[str, ...], tuple[str, ...], str]
) -> None:
    """A splice with all the wires it is said to have is planned; of one that lacks a wire it is said."""
    over_pins, over_splices, heading = words
    page = Page(tmp_path / "manual.pdf")
    for name in ("X5", "X6", "X7"):
        rows = (("1", "BK", "440", "Lamp", "S102"), ("2", "RD", "441", "Horn", "S103"), OTHER)
        page.heading(heading.format(name, name[1])).ruled((over_pins, *rows), (40, 50, 50, 90, 60))
    body = (("S102", "440", "3", "sill"), ("S103", "441", "4", "dash"))
    page.next().heading("4.1").ruled((over_splices, *body), (90, 60, 60, 120))
    found = pins(page, document="manual.pdf")
    plan = worked(tmp_path / "index", found.pins, found.connectors, place={"X5": "bow"})
    assert net_of(plan, "440")["fate"] == "crosses"
    cuts = [(c["connector"], c["to"]["connector"]) for c in plan["cuts"] if c["circuit"] == "440"]
    assert cuts == [("S102", "X5")]
    assert net_of(plan, "441")["fate"] == "unknown"
    (question,) = (q for q in plan["questions"] if q["kind"] == "unknown")
    assert "S103 is said to have 4 wires (manual.pdf p. 2), 3 are in the documents" in question["text"]


@pytest.mark.parametrize("form", ["repeated", "once", "heading"])
def test_one_row_for_each_wire_of_a_splice(tmp_path: Path, form: str) -> None:
    """Rows of a splice's wires without cavities are as many wires, each to the end it names."""
    page = Page(tmp_path / "manual.pdf")
    for name in ("X5", "X6", "X7"):
        rows = (("1", "BK", "440", "Lamp", "S102"), ("2", "RD", "443", "Fan", ""), OTHER)
        page.heading(f"Connector {name} - Lamp {name[1]}").ruled((ENGLISH[0], *rows), (40, 50, 50, 90, 60))
    legs = [("440", "BK", f"{name}:1") for name in ("X5", "X6", "X7")]
    if form == "heading":
        page.heading("Splice S102").ruled((("Circuit", "Color", "To"), *legs), (60, 60, 60))
    else:
        named = [("S102" if form == "repeated" or not n else "", *leg) for n, leg in enumerate(legs)]
        page.heading("Splices").ruled((("Splice", "Circuit", "Color", "To"), *named), (60, 60, 60, 60))
    found = pins(page, document="manual.pdf")
    plan = worked(tmp_path / "index", found.pins, found.connectors, place={"X5": "bow"})
    assert net_of(plan, "440")["fate"] == "crosses"
    cuts = [(c["connector"], c["to"]["connector"]) for c in plan["cuts"] if c["circuit"] == "440"]
    assert cuts == [("S102", "X5")]
