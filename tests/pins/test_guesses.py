"""Columns taken for circuits by their content, and what settles them."""

from __future__ import annotations

from pathlib import Path

from tests.pins.manual import flags
from tests.tables.drawn import Page, pins

KNOWN = (
    ("Pin", "Color", "Circuit", "Function"),
    *((str(n), "BK", f"14{n}0", f"Lamp {n}") for n in range(1, 10)),
)
WIDE = (50, 60, 70, 120)


def _page(path: Path, circuits: tuple[str, ...]) -> Page:
    page = Page(path).heading("Connector X5").ruled(KNOWN, WIDE).next()
    rows = (("Pin", "Color", "Qzx"), *((str(n), "RD", c) for n, c in enumerate(circuits, start=1)))
    return page.heading("Connector X6").ruled(rows, (50, 60, 80))


def test_circuits_of_the_document_settle_a_column_without_a_known_header(tmp_path: Path) -> None:
    """Under an unknown word, texts that are circuits elsewhere in the document are vouched for."""
    made = pins(_page(tmp_path / "a.pdf", ("1410", "1440", "1470", "1480")))
    found = [p for p in made.pins if p.connector == "X6"]
    assert [p.circuit for p in found] == ["1410", "1440", "1470", "1480"]
    assert not any("column-guessed" in p.flags for p in found)


def test_numbers_that_stand_nowhere_else_stay_in_doubt(tmp_path: Path) -> None:
    """Numbers of another form under an unknown word may be anything: part numbers, pages."""
    made = pins(_page(tmp_path / "a.pdf", ("88-123-1", "88-123-2", "88-124-1", "88-124-7")))
    found = [p for p in made.pins if p.connector == "X6"]
    assert found and all("column-guessed" in p.flags for p in found)
    assert flags(found)
