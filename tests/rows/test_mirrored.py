"""Cavities in two columns in the middle, signals outside."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, pins

ROWS = (
    ("GND", "1", "2", "CAN_H"),
    ("TX+", "3", "4", "CAN_L"),
    ("RX+", "5", "6", "GND"),
    ("SENSE", "7", "8", "5V"),
)
WIDE = (90, 40, 40, 90)
TEXT = "The part is light and can be had from several suppliers in three sizes and two colours"


def test_a_connector_drawn_as_it_looks_is_read(tmp_path: Path) -> None:
    """No header stands over it; the heading of its section, far above, names it with a doubt."""
    page = Page(tmp_path / "a.pdf").heading("Connector PB-8-D", size=14, down=30)
    for _ in range(10):
        page.line(TEXT)
    found = pins(page.line("The following table shows the pinout.", down=24).ruled(ROWS, WIDE)).pins
    assert {(p.cavity, p.circuit or p.function) for p in found} == {
        (cavity, signal) for a, n, m, b in ROWS for cavity, signal in ((n, a), (m, b))
    }
    assert {p.connector for p in found} == {"PB-8-D"}
    assert all("heading-uncertain" in p.flags for p in found)
    assert not any(p.component for p in found)


def test_numbered_words_side_by_side_are_no_pinout(tmp_path: Path) -> None:
    """The legend of a drawing counts on in two columns, too, but names no signals."""
    rows = (
        ("Front lamp", "1", "2", "Rear lamp"),
        ("Side lamp", "3", "4", "Work lamp"),
        ("Left horn", "5", "6", "Right horn"),
    )
    page = Page(tmp_path / "a.pdf").heading("Legend", down=24).ruled(rows, WIDE)
    assert not pins(page).pins
