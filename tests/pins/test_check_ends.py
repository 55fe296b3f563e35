"""Both halves of an in-line, and connectors named like circuits."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import HEADER, WIDE
from tests.tables.drawn import Page, pins
from xref.pins.check_ends import misread

CIRCUITS = ("1440A", "1441B", "1442A", "1443B", "1444A", "1445B", "1446A")
TEXTS = ("Lamp", "Horn", "Fan relay", "Pump", "Seat switch", "Brake", "Display")


def _half(name: str, changed: dict[int, str], page: Page) -> Page:
    rows = [(str(n + 1), "BK", changed.get(n, circuit), TEXTS[n]) for n, circuit in enumerate(CIRCUITS)]
    return page.heading(name).ruled((HEADER, *rows), WIDE)


@pytest.mark.parametrize(("text", "doubted"), [("144OA", True), ("1443", True), ("2210C", False)])
def test_a_half_that_looks_misread_is_doubted(tmp_path: Path, text: str, doubted: bool) -> None:
    """One letter for a digit, or a part cut off, is a misreading; another number is the manual's word."""
    page = _half("Connector X5-A", {}, Page(tmp_path / "a.pdf"))
    made = pins(_half("Connector X5-B", {0 if doubted and "O" in text else 3: text}, page))
    assert {p.half for p in made.pins} == {"A", "B"}
    found = {(p.half, p.cavity) for p in made.pins if "mates-disagree" in p.flags}
    at = "1" if "O" in text else "4"
    assert found == ({("A", at), ("B", at)} if doubted else set())


def test_what_differs_like_a_misreading() -> None:
    """Two digits that differ are two numbers; a letter for a digit is not."""
    assert misread("1440", "144O")
    assert misread("1440A", "1440")
    assert not misread("1440", "1441")
    assert not misread("BK/RD", "RD/BK")
    assert not misread("YEL", "YEL/BRN", cut=False)


def test_a_connector_named_like_a_circuit_is_doubted(tmp_path: Path) -> None:
    """A circuit that stands over a table is no heading."""
    circuits = ("GA204", "GA205", "GB118", "GC301", "GD249")
    page = Page(tmp_path / "a.pdf")
    for name in ("Connector X5 - Lamp", "Connector X6 - Horn", "Connector GD249"):
        rows = [(str(n + 1), "BK", c, TEXTS[n]) for n, c in enumerate(circuits)]
        page.heading(name).ruled((HEADER, *rows), WIDE)
    made = pins(page)
    doubted = {p.connector for p in made.pins if "heading-uncertain" in p.flags}
    assert doubted == {"GD249"}


def test_a_connector_named_like_its_cavities_is_doubted(tmp_path: Path) -> None:
    """`A1` over the cavities A2 to A4 is a cavity, and no heading."""
    rows = [(f"A{n + 2}", "BK", c, TEXTS[n]) for n, c in enumerate(CIRCUITS[:4])]
    made = pins(Page(tmp_path / "a.pdf").heading("Connector A1").ruled((HEADER, *rows), WIDE))
    assert all("heading-uncertain" in p.flags for p in made.pins)


def test_two_names_that_ran_together_are_doubted(tmp_path: Path) -> None:
    """`X381 X128` are two connectors; `M7 X3` is connector X3 of component M7."""
    rows = [(str(n + 1), "BK", c, TEXTS[n]) for n, c in enumerate(CIRCUITS[:4])]
    page = Page(tmp_path / "a.pdf").ruled(
        (("Connector", *HEADER), *(("X381 X128", *row) for row in rows)), (70, *WIDE)
    )
    page.ruled((("Connector", *HEADER), *(("M7 X3", *row) for row in rows)), (70, *WIDE))
    doubted = {p.connector for p in pins(page).pins if "heading-uncertain" in p.flags}
    assert doubted == {"X381 X128"}
