"""Tables that look like pinouts and gave no row are named; tables of other kinds are not."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents, pins
from xref.pins.document import DocumentPins, readings_to_pins
from xref.rows.choose import best_reading
from xref.tables.page import content_to_reading

#: Codes in a writing of the house's own: no column of them has a meaning here.
OWN = ("102+RO.BI", "115+AR", "31+NE", "32+MA.NE", "501+GI.VE")
WIDTHS = (50, 120, 150)


def _read(page: Page) -> DocumentPins:
    readings = [content_to_reading(c, "asked", best_reading) for c in contents(page.save())]
    return readings_to_pins("", "a.pdf", readings)


def _passed_over(path: Path, heading: str, header: Sequence[str], cells: Sequence[str]) -> list[str]:
    rows = [tuple(header), *((str(n), text, "see below") for n, text in enumerate(cells, start=1))]
    page = (
        Page(path)
        .heading("Connector X1 – Pump")
        .ruled(
            (("Cavity", "Colour", "Circuit"), ("1", "RD", "101"), ("2", "BK", "31"), ("3", "BU", "55")),
            WIDTHS,
        )
    )
    found = _read(page.next().heading(heading).ruled(rows, WIDTHS))
    assert {p.connector for p in found.pins} == {"X1"}
    return [f"{t.page} {t.heading}" for t in found.passed_over]


@pytest.mark.parametrize(
    ("heading", "header"),
    [
        ("Connector X5 – Lamp", ("No.", "Strand", "Remark")),
        ("X5 – Kombiinstrument, 5-polig", ("Nr.", "Strang", "Bemerkung")),
        ("X5 Tableau de bord, 5 voies", ("N°", "Brin", "Remarque")),
        ("X5 Cuadro, 5 vías", ("N.º", "Hebra", "Nota")),
        ("X5 Quadro strumenti, 5 vie", ("N.", "Trefolo", "Nota")),
    ],
)
def test_cavities_that_count_on_under_a_connectors_name_are_named(
    tmp_path: Path, heading: str, header: Sequence[str]
) -> None:
    """A connector's name over cavities that count on is a pinout, also where nothing is read."""
    assert _passed_over(tmp_path / "a.pdf", heading, header, OWN) == [f"2 {heading}"]


@pytest.mark.parametrize(
    ("heading", "header", "cells"),
    [
        ("X5 bracket bolts", ("Pos.", "Torque", "Bolt"), ("10 Nm", "12 Nm", "8 Nm", "25 Nm")),
        ("X1 Anzugsmomente", ("Pos.", "Nm", "Schraube"), ("10", "12", "8", "25")),
        ("X1 Spare parts", ("Item", "Part no.", "Remark"), ("8001-22", "8001-23", "7112-01", "7112-02")),
        ("X1 Ersatzteile", ("Pos.", "Teilenummer", "Menge"), ("A-11", "A-12", "B-9", "B-8")),
        ("X1 Codici guasto", ("N.", "Guasto", "Rimedio"), ("nessun segnale", "corto", "filo", "massa")),
        ("X1 Fault list", ("No.", "Fault", "Remedy"), ("no signal", "short", "open wire", "ground")),
        ("Service steps", ("No.", "Code", "Remark"), OWN),
    ],
)
def test_lists_of_other_things_are_not_named(
    tmp_path: Path, heading: str, header: Sequence[str], cells: Sequence[str]
) -> None:
    """Torques, spare parts, faults and steps are counted too, and are no pinouts."""
    assert _passed_over(tmp_path / "a.pdf", heading, header, cells) == []


def test_a_table_that_was_read_is_not_named(tmp_path: Path) -> None:
    """Where rows were read nothing was passed over."""
    table = (("Cavity", "Colour", "Circuit"), ("1", "RD", "101"), ("2", "BK", "31"), ("3", "BU", "55"))
    found = pins(Page(tmp_path / "a.pdf").heading("Connector X5, 3-way").ruled(table, WIDTHS))
    assert len(found.pins) == 3
    assert found.passed_over == ()
