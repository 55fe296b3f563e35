"""Manuals of invented makers: their truth stands on their pages, and hardly a row is silently wrong."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from fixtures.makers import draw, makers
from fixtures.stick.model import Truth
from tests.bench.reading_score import Score, known_from_csv, score_document
from xref.pipeline import read_document

#: Rows read right, of those known, on each manual drawn here: far below what is measured, to catch a fall.
LEAST_RIGHT = 0.6
#: Rows vouched for that are wrong or not there, of those vouched for.
MOST_SILENT = 0.05


def _drawn(name: str, folder: Path) -> Truth:
    try:
        return draw(name, 1, folder)
    except RuntimeError as error:
        pytest.skip(str(error))


def _page_texts(path: Path) -> list[str]:
    with pypdfium2.PdfDocument(path) as document:
        return ["".join(page.get_textpage().get_text_range().split()) for page in document]


@pytest.mark.parametrize("name", [*makers(), *makers(held=1), *makers(held=2), *makers(held=3)])
def test_what_is_known_of_a_manual_stands_on_its_pages(name: str, tmp_path: Path) -> None:
    """Each circuit stands on the page its row names, and no page that holds no pinout has rows."""
    truth = _drawn(name, tmp_path)
    texts = _page_texts(truth.path)
    assert truth.rows and len(texts) == truth.pages
    assert not {row.page for row in truth.rows} & set(truth.distractor_pages)
    for row in truth.rows:
        told = ["".join(text.split()) for text in row.circuit.split("|")]
        assert any(text in ("*", "") or text in texts[row.page - 1] for text in told), (row.page, row.circuit)


@pytest.mark.parametrize("name", ["tram", "pickup", "minibus", "citycar", "telehandler"])
def test_a_makers_manual_is_read_without_silent_mistakes(name: str, tmp_path: Path) -> None:
    """Most rows of a whole manual are right, and hardly one is vouched for and wrong."""
    truth = _drawn(name, tmp_path)
    score = Score()
    known = known_from_csv(truth.path.with_suffix(".csv"))
    score_document(score, truth.path.name, known, read_document(truth.path).pins, set(truth.distractor_pages))
    total = score.total
    assert total.right >= LEAST_RIGHT * total.known, total
    assert total.silent <= MOST_SILENT * total.vouched, total
