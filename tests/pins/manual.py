"""Manuals with one drawn pinout for each connector, for the tests of this room."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from tests.tables.drawn import Page
from xref.records import Pin

HEADER = ("Cavity", "Color", "Circuit", "Function")
ROWS = (("1", "BK", "1440", "Lamp"), ("2", "BU/YE", "1441", "Horn"), ("3", "RD", "1442", "Fan"))
OTHERS = (("1", "BK", "2440", "Lamp"), ("2", "BU/YE", "2441", "Horn"), ("3", "RD", "2442", "Fan"))
WIDE = (60, 80, 70, 150)

Cells = Sequence[Sequence[str]]


def manual(path: Path, *connectors: tuple[str, Cells]) -> Page:
    """Draw each heading with its rows under it, ruled, on one page."""
    page = Page(path / "a.pdf")
    for heading, rows in connectors:
        page.heading(heading).ruled((HEADER, *rows), WIDE)
    return page


def flags(found: Sequence[Pin]) -> dict[str, tuple[str, ...]]:
    """Return the doubts of each cavity that has any."""
    return {pin.cavity: pin.flags for pin in found if pin.flags}
