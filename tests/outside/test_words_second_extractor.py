"""Words beside a second general-purpose extractor on the same pages: PyMuPDF's `get_text("words")`.

PyMuPDF shares no code with the engines behind this project. It parts words at blanks only and keeps
ligatures and marks, so texts are compared with blanks and such details folded away.
"""

from __future__ import annotations

import random
import unicodedata
from collections import Counter
from pathlib import Path

import pymupdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.pages.drawn import draw_pdf, set_boxes
from tests.real_pdfs import REAL_PDFS, needs_real_pdfs
from xref.pages.reader import DocumentReader

#: Boxes of the two differ by the fonts' ascent; centres agree within this many points.
PLAY = 4.0
#: Real pages hold drawn-over text, odd spacing and marks that the two treat differently.
AGREE_REAL = 0.97


def _folded(text: str) -> str:
    kept = unicodedata.normalize("NFKC", text)
    return "".join(c for c in kept if c.isprintable() and c not in "\u00ad\u200b\ufffd" and not c.isspace())


def _theirs(path: Path, page: int) -> list[tuple[str, float, float]]:
    with pymupdf.open(path) as document:
        source = document[page - 1]
        # Its boxes are those of the page before /Rotate; its own matrix brings them to the display.
        found = []
        for x0, top, x1, bottom, text, *_ in source.get_text("words"):
            box = pymupdf.Rect(x0, top, x1, bottom) * source.rotation_matrix
            if _folded(text):
                found.append((_folded(text), (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2))
        return found


def _ours(path: Path, page: int) -> list[tuple[str, float, float]]:
    with DocumentReader(path) as reader:
        content = reader.content(page)
    found = []
    for word in content.words:
        box = content.to_page(word.box)
        text = _folded(word.text + word.mark)
        if text:
            found.append((text, (box.x0 + box.x1) / 2, (box.top + box.bottom) / 2))
    return found


def _manual(canvas: Canvas) -> None:
    rng = random.Random(7)
    canvas.setFont("Helvetica-Bold", 13)
    canvas.drawString(72, 740, "Connector M12 X1, pump controller")
    for row in range(40):
        canvas.setFont(*rng.choice([("Helvetica", 8), ("Times-Roman", 9), ("Courier", 8)]))
        cells = (str(row + 1), rng.choice(["BK", "BU/YE", "gn-ws"]), f"{rng.randint(1000, 1999)}A")
        for column, text in enumerate((*cells, "Lamp supply, left (0.5 mm)")):
            canvas.drawString(72 + 80 * column, 710 - 15 * row, text)


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
@pytest.mark.parametrize("crop", [None, (50, 60, 580, 770)])
def test_drawn_pages_give_the_same_words_at_the_same_places(
    tmp_path: Path, rotate: int, crop: tuple[float, float, float, float] | None
) -> None:
    """On a drawn page both extractors see the same words, and their centres coincide."""
    path = set_boxes(draw_pdf(tmp_path / "a.pdf", _manual), rotate=rotate, crop=crop)
    theirs, ours = sorted(_theirs(path, 1)), sorted(_ours(path, 1))
    assert [t for t, _, _ in ours] == [t for t, _, _ in theirs]
    left = list(theirs)
    for text, x, y in ours:
        match = next(
            (o for o in left if o[0] == text and abs(o[1] - x) < PLAY and abs(o[2] - y) < PLAY), None
        )
        assert match is not None, (text, x, y)
        left.remove(match)


REAL_PAGES = [
    ("px4pin.pdf", 1),
    ("ds009.pdf", 8),
    ("ds014.pdf", 9),
    ("eps2.pdf", 36),
    ("bzods21.pdf", 3),
    ("gevcu7.pdf", 1),
    ("bbb.pdf", 71),
    ("bbb.pdf", 84),
    ("pp_warn.pdf", 3),
    ("cm_budget.pdf", 1),
]


@needs_real_pdfs
@pytest.mark.parametrize(("name", "page"), REAL_PAGES)
def test_real_pages_give_nearly_the_same_words(name: str, page: int) -> None:
    """On real pages nearly all words agree; what differs is spacing and raised marks."""
    theirs = Counter(t for t, _, _ in _theirs(REAL_PDFS / name, page))
    ours = Counter(t for t, _, _ in _ours(REAL_PDFS / name, page))
    shared = (theirs & ours).total()
    assert shared >= AGREE_REAL * max(theirs.total(), ours.total()), (theirs - ours, ours - theirs)


@needs_real_pdfs
@pytest.mark.long
def test_every_real_page_can_be_read() -> None:
    """No page of the real documents fails, and each word has an edge for each character."""
    for path in sorted(REAL_PDFS.glob("*.pdf")):
        with DocumentReader(path) as reader:
            for number in range(1, reader.page_count + 1):
                content = reader.content(number)
                assert all(len(w.edges) == len(w.text) for w in content.words), (path.name, number)
