"""The two ends of wires, each connector and cavity in one text."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, rows
from xref.rows.gluedends import glued_ends

FROM = ("C8/2", "C25/1", "C42/3", "C24/1")
TO = ("C56/16", "C56/18", "C56/7", "C54/25")
CIRCUITS = ("A110", "A123", "A263", "A744")


def test_two_columns_of_places_are_the_ends() -> None:
    """The far end is the one whose header says so, else the second."""
    assert glued_ends((CIRCUITS, FROM, TO), ("circuit", "", "")) == (1, 2)
    assert glued_ends((CIRCUITS, FROM, TO), ("circuit", "goes_to", "")) == (2, 1)


def test_beside_cavities_or_without_wires_they_are_none() -> None:
    """Where cavities stand in a column, or nothing tells of wires, the places are something else."""
    assert glued_ends((CIRCUITS, FROM, TO), ("cavity", "", "")) is None
    assert glued_ends((FROM, TO), ("", "")) is None


def test_a_wire_list_with_unknown_words_gives_both_ends(tmp_path: Path) -> None:
    """Each row is two rows: the wire at either end."""
    table = [("Wire", "Zzq", "Zzr", "Color"), *zip(CIRCUITS, FROM, TO, ("BU", "RD", "BK", "GN"), strict=True)]
    read = rows(Page(tmp_path / "a.pdf").ruled(table, (60, 60, 60, 60)))
    assert [(r.connector, r.cavity, r.values["goes_to"]) for r in read[:2]] == [
        ("C8", "2", "C56:16"),
        ("C56", "16", "C8:2"),
    ]
