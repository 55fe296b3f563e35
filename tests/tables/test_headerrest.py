"""What is left of a header in the first rows of its table."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, planned


def test_a_translated_header_is_no_row(tmp_path: Path) -> None:
    """A line of words that mean what the headers over them mean is the header in another language."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    xs = (60, 100, 160, 220, 280)
    page.aligned(
        (("Pin", "Filo", "Colore", "Sez.", "Funzione"), ("", "Wire", "Colour", "mm²", "Function")), xs
    )
    rows = [(str(n), f"144{n}", "BU", "0,5", "Lamp feed") for n in range(1, 5)]
    table, plans = planned(page.aligned(rows, xs, bold_first=False))
    assert [band.cells[0].text for band in table.bands] == ["1", "2", "3", "4"]
    assert {"cavity", "circuit", "color", "size", "function"} <= set(plans[0].columns)
