"""Headers on a ground over a ruled grid that no rule joins to them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import PAGE, Page, body, tables
from xref.pipeline import read_document

WIDTHS = (45, 70, 70, 160)
ROWS = (
    ("1", "BK", "1440", "Lamp"),
    ("2", "BU/YE", "1441", "Horn"),
    ("3", "RD", "1442", "Fan relay"),
    ("4", "GN", "1443", "Pump"),
)
ONE_LINE = ("Pin", "Color", "Circuit", "Function")
BROKEN = ("Cavity\nNo.", "Wire\ncolor", "Circuit\nnumber", "Function")
GERMAN = ("Kammer", "Ader-\nfarbe", "Leitungs-\nNr.", "Funktion")


def _banded(
    page: Page, head: tuple[str, ...], *, gap: float = 0.0, gray: float = 0.8, apart: bool = False
) -> Page:
    """Draw words on a filled band without rules, and the rows in a grid right below it."""
    high = 8.0 + 11.0 * max(text.count("\n") + 1 for text in head)
    top, x = PAGE[1] - page.y, 60.0
    page.canvas.setFillGray(gray)
    if not apart:
        page.canvas.rect(x, top - high, sum(WIDTHS), high, stroke=0, fill=1)
    for width, text in zip(WIDTHS, head, strict=True):
        page.canvas.setFillGray(gray)
        if apart:
            page.canvas.rect(x, top - high, width - 1, high, stroke=0, fill=1)
        page.canvas.setFillGray(0 if gray > 0.5 else 1)
        page.canvas.setFont("Helvetica-Bold", 9)
        for n, line in enumerate(text.split("\n")):
            page.canvas.drawString(x + 3, top - 12 - 11 * n, line)
        x += width
    page.canvas.setFillGray(0)
    page.y += high + gap + 12
    return page.ruled(ROWS, WIDTHS)


@pytest.mark.parametrize("head", [ONE_LINE, BROKEN, GERMAN])
@pytest.mark.parametrize("gap", [0.0, 1.0, 4.0])
@pytest.mark.parametrize(("gray", "apart"), [(0.8, False), (0.1, False), (0.8, True)])
def test_a_band_over_a_grid_is_its_header(
    tmp_path: Path, head: tuple[str, ...], gap: float, gray: float, *, apart: bool
) -> None:
    """A filled band over a grid heads its columns, in one line or several, whatever its colour."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Pump controller")
    pins = read_document(_banded(page, head, gap=gap, gray=gray, apart=apart).save()).pins
    assert [(p.connector, p.cavity, p.color_code, p.circuit, p.function) for p in pins] == [
        ("X5", *row) for row in ROWS
    ]
    assert not any(p.flags for p in pins)


def test_a_band_may_hold_a_word_over_several_columns(tmp_path: Path) -> None:
    """A word that stands over the columns of one half is the group of both of them."""
    page = Page(tmp_path / "a.pdf").heading("In-line connector C207")
    page.canvas.setFillGray(0.8)
    page.canvas.rect(60, PAGE[1] - page.y - 20, 45 + 4 * 60, 32, stroke=0, fill=1)
    page.canvas.setFillGray(0)
    page.canvas.setFont("Helvetica-Bold", 9)
    page.canvas.drawCentredString(165, PAGE[1] - page.y, "Frame side")
    page.canvas.drawCentredString(285, PAGE[1] - page.y, "Mast side")
    for n, text in enumerate(("Pin", "Circuit", "Color", "Circuit", "Color")):
        page.canvas.drawString(63 + (45 + 60 * (n - 1) if n else 0), PAGE[1] - page.y - 14, text)
    page.y += 32
    rows = [(str(n), f"{1440 + n}", "BK", f"{2440 + n}", "RD") for n in range(1, 5)]
    (table,) = tables(page.ruled(rows, (45, 60, 60, 60, 60)))
    assert table.header == ("Pin", "Circuit", "Color", "Circuit", "Color")
    assert table.groups == ("", "Frame side", "Frame side", "Mast side", "Mast side")
    assert body(table) == [list(row) for row in rows]


def test_a_bar_with_a_name_is_no_header(tmp_path: Path) -> None:
    """A filled bar with the connector's name over a grid that has its own header stays a title."""
    page = Page(tmp_path / "a.pdf")
    page.canvas.setFillGray(0.2)
    page.canvas.rect(60, PAGE[1] - page.y - 8, sum(WIDTHS), 20, stroke=0, fill=1)
    page.canvas.setFillGray(1)
    page.canvas.setFont("Helvetica-Bold", 9)
    page.canvas.drawString(63, PAGE[1] - page.y - 1, "Connector X5 - Pump controller")
    page.canvas.setFillGray(0)
    page.y += 20
    pins = read_document(page.ruled((ONE_LINE, *ROWS), WIDTHS).save()).pins
    assert [(p.connector, p.cavity) for p in pins] == [("X5", row[0]) for row in ROWS]


def test_a_band_that_another_table_ends_with_heads_nothing(tmp_path: Path) -> None:
    """Words for no columns on a band over a grid are no header of it."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5 - Pump controller")
    head = ("Subject", "to", "change", "without notice")
    found = tables(_banded(page, head))
    assert not any("Subject" in table.header for table in found)
