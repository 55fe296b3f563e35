"""Lists of splices and ground points whose heading, or whose wires, say what they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import Page, pins

HEADER = ("Ref.", "Where", "Wire", "Color", "Zzq")
WIDE = (50, 90, 60, 60, 90)
GROUNDS = (
    ("GP1", "Cab floor", "1440", "BK", "Lamp"),
    ("", "", "1441", "BK", "Horn"),
    ("GP2", "Frame", "1442", "BK", "Fan"),
    ("", "", "1443", "BK", "Pump"),
)
SPLICES = tuple((a, b, f"15{n // 2}0", d, e) for n, (a, b, _, d, e) in enumerate(GROUNDS))


@pytest.mark.parametrize(("heading", "role"), [("Ground points", "ground"), ("Potentialverteiler", "splice")])
def test_the_heading_says_what_the_names_are(tmp_path: Path, heading: str, role: str) -> None:
    """`Ref.` over names tells nothing, the words over the list do; texts right of wires are their use."""
    found = pins(Page(tmp_path / "a.pdf").heading(heading).ruled((HEADER, *GROUNDS), WIDE)).pins
    assert {(p.connector, p.circuit, p.function, p.role) for p in found} == {
        ("GP1", "1440", "Lamp", role),
        ("GP1", "1441", "Horn", role),
        ("GP2", "1442", "Fan", role),
        ("GP2", "1443", "Pump", role),
    }


def test_wires_of_one_circuit_under_each_name_are_joined_there(tmp_path: Path) -> None:
    """No connector has two wires of the same circuit in each of its cavities: the names are splices."""
    rows = [("Pin", *HEADER[1:]), *SPLICES]
    found = pins(Page(tmp_path / "a.pdf").heading("Connector X5").ruled(rows, WIDE)).pins
    assert {(p.connector, p.role) for p in found} == {("GP1", "splice"), ("GP2", "splice")}
