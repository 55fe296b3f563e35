"""Cells of ruled tables beside a second general-purpose table finder: PyMuPDF's `Page.find_tables`.

Its cells come from its own reading of the drawn lines and its own reading of the text; nothing of it is
used by this project. Cells are paired by place: a cell of ours and the one of theirs that holds its
middle. Blanks inside a cell are folded away, because the two join wrapped lines differently.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import ROOT
from xref.pages.reader import DocumentReader
from xref.tables.find import page_to_tables

MANUALS = ROOT / "examples" / "manuals"

#: Share of cells that must hold the same text in both.
AGREE = 0.97
#: Fewer cells than this on a page would prove little.
FEWEST = 40

#: Pages whose pinouts are drawn with rules and stand one under the other. (Where tables stand side by
#: side, the other finder runs the lines of one through the other's cells.)
RULED_PAGES = [
    ("q16-drive-and-power.pdf", 5),
    ("q16-drive-and-power.pdf", 7),
    ("q16-drive-and-power.pdf", 16),
    ("q16-nachtrag-fahrerplatz.pdf", 5),
    ("q16-nachtrag-fahrerplatz.pdf", 6),
    ("q16-nachtrag-fahrerplatz.pdf", 8),
    ("q16-nachtrag-fahrerplatz.pdf", 9),
]

PlacedCell = tuple[float, float, float, float, str]


def _folded(text: str) -> str:
    kept = unicodedata.normalize("NFKC", text)
    return "".join(c for c in kept if c.isprintable() and not c.isspace() and c != "\u00ad")


def _middle_in(inner: tuple[float, ...], outer: tuple[float, ...]) -> bool:
    x, y = (inner[0] + inner[2]) / 2, (inner[1] + inner[3]) / 2
    return outer[0] <= x <= outer[2] and outer[1] <= y <= outer[3]


def _theirs(path: Path, number: int) -> list[PlacedCell]:
    with pymupdf.open(path) as document:
        page = document[number - 1]
        # Words in reading order: its own `extract` sorts characters by height, so that `0.5` is `05.`.
        words = page.get_text("words", sort=True)
        found: list[PlacedCell] = []
        for table in page.find_tables().tables:
            for box in table.cells:
                inside = [w[4] for w in words if _middle_in(w[:4], box)]
                found.append((*box, _folded("".join(inside))))
        return found


def _ours(path: Path, number: int) -> list[PlacedCell]:
    with DocumentReader(path) as reader:
        content = reader.content(number)
    found: list[PlacedCell] = []
    for table in page_to_tables(content):
        if table.kind != "ruled":
            continue
        for band in table.bands:
            for cell in band.cells:
                if cell.first and cell.text:
                    box = content.to_page(cell.box)
                    found.append((box.x0, box.top, box.x1, box.bottom, _folded(cell.text)))
    return found


@pytest.mark.parametrize(("name", "page"), RULED_PAGES)
def test_ruled_cells_hold_the_same_texts(name: str, page: int) -> None:
    """At the place of each cell read here the other finder has a cell, and nearly all texts are equal."""
    theirs, ours = _theirs(MANUALS / name, page), _ours(MANUALS / name, page)
    assert len(ours) >= FEWEST
    different = []
    for cell in ours:
        there = [other[4] for other in theirs if _middle_in(cell[:4], other[:4])]
        if cell[4] not in there:
            different.append((cell[4], there))
    assert len(different) <= (1 - AGREE) * len(ours), different
