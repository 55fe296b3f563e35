"""Headers on a ground of their own."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import PAGE, Page
from xref.pipeline import read_document

HEADS = (
    "Pin",
    "Wire No.\nframe\nharness",
    "Color\nframe\nharness",
    "Wire No.\nmast\nharness",
    "Color\nmast\nharness",
)
ROWS = tuple(
    (str(n), f"{1440 + n}", color, f"{1440 + n}", color) for n, color in enumerate(("BK", "BU", "RD"), 1)
)


def test_every_line_on_the_ground_of_a_header_belongs_to_it(tmp_path: Path) -> None:
    """Words that break over lines beside each other are whole headers: the halves have their whole names."""
    page = Page(tmp_path / "a.pdf").heading("In-line connector C207")
    page.canvas.setFillGray(0.9)
    page.canvas.rect(55, PAGE[1] - page.y - 40, 400, 52, stroke=0, fill=1)
    page.canvas.setFillGray(0)
    lines = [head.split("\n") for head in HEADS]
    middle = page.y + 8
    for x, parts in zip((60, 110, 190, 270, 350), lines, strict=True):
        page.canvas.setFont("Helvetica-Bold", 9)
        for n, part in enumerate(parts):
            page.canvas.drawString(x, PAGE[1] - (middle - 6 * (len(parts) - 1) + 12 * n), part)
    page.y += 46
    path = page.aligned(ROWS, (60, 110, 190, 270, 350), bold_first=False).save()
    found = read_document(path).pins
    assert {(p.half, p.cavity, p.circuit, p.color_code) for p in found} == {
        (half, cavity, circuit, color)
        for cavity, circuit, color, _, _ in ROWS
        for half in ("frame harness", "mast harness")
    }
