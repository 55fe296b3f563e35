"""Drawn manuals: the same from a seed, their truth on the page, and nothing of the reader in them."""

from __future__ import annotations

import ast
import csv
import re
import unicodedata
from pathlib import Path

import pymupdf
import pytest

from fixtures.stick.flow import FLOW_PRODUCERS
from fixtures.stick.headings import WORDINGS
from fixtures.stick.manual import CANVAS_PRODUCERS, LAYOUTS, make_manual
from fixtures.stick.producers import lack
from fixtures.stick.reserve import held_table, load_held
from fixtures.stick.words import HEADERS, UNUSED

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures" / "stick"
#: Layouts that print a field otherwise than as one text: ranges of pins, words broken over two lines.
SPREAD = {
    ("pin_lists_in_cells", "cavity"), ("signal_lines", "cavity"), ("signal_matrix", "cavity"),
    *(("scan_with_text", field) for field in ("cavity", "color_code", "circuit", "function", "size")),
    ("fuse_sides", "cavity"), ("broken_names", "circuit"), ("soft_hyphen_circuits", "circuit"),
}  # fmt: skip
FIELDS = ("cavity", "color_code", "circuit", "function", "size")


def _squeezed(text: str) -> str:
    """A page's text without white space and dashes, joined letters apart."""
    return re.sub(r"[\s\u00ad\u200b\u2010-\u2014\u2212-]+", "", unicodedata.normalize("NFKC", text))


def _missing(folder: Path) -> list[str]:
    """Truth texts whose words are not on their page, as PyMuPDF reads it."""
    lost = []
    for file in folder.glob("*.csv"):
        with pymupdf.open(file.with_suffix(".pdf")) as document:
            pages = [_squeezed(page.get_text()) for page in document]
        with file.open(encoding="utf-8", newline="") as lines:
            for row in csv.DictReader(lines):
                for field in FIELDS:
                    # The cavities of a range are not printed one by one.
                    if (
                        "*" in row[field]
                        or (row["layout"], field) in SPREAD
                        or (field == "cavity" and row["status"] == "unused")
                    ):
                        continue
                    page = pages[int(row["page"]) - 1]
                    if not any(_is_on(page, text) for text in row[field].split("|")):
                        lost.append(f"{file.stem} p{row['page']} {row['layout']} {field} {row[field]!r}")
    return lost


def _is_on(page: str, text: str) -> bool:
    parts = list(text) if re.search(r"[\u3000-\u9fff]", text) else text.split()
    return all(_squeezed(part) in page for part in parts)


load_held()


@pytest.mark.parametrize("name", sorted(LAYOUTS))
def test_truth_of_each_layout_stands_on_its_page(name: str, tmp_path: Path) -> None:
    """Every text of the truth stands on the page it names, by PyMuPDF's own text extraction."""
    truth = make_manual(11, tmp_path, layouts={name}, held_out=LAYOUTS[name].held)
    assert truth.rows or truth.unread_pages or truth.picture_pages
    assert _missing(tmp_path) == []
    assert {row.layout for row in truth.rows} <= {name}


@pytest.mark.parametrize("producer", [*CANVAS_PRODUCERS, *FLOW_PRODUCERS])
def test_each_producer_draws_what_the_truth_says(producer: str, tmp_path: Path) -> None:
    """Every program puts every row on the page its truth names, and draws as many pages as it says."""
    layouts = {"plain", "wrapped", "merged_function", "continued_bare", "footnotes", "stacked_header"}
    if lack(producer):
        pytest.skip(lack(producer))
    truth = make_manual(4, tmp_path, layouts=layouts, producer=producer)
    with pymupdf.open(truth.path) as document:
        assert len(document) == truth.pages
    assert truth.producer == producer
    assert _missing(tmp_path) == []


def test_same_seed_gives_the_same_manual(tmp_path: Path) -> None:
    """Two draws of one seed agree in truth and in the text of every page."""
    for seed in range(20, 26):
        first = make_manual(seed, tmp_path / "a")
        second = make_manual(seed, tmp_path / "b")
        assert first.rows == second.rows
        with pymupdf.open(first.path) as one, pymupdf.open(second.path) as two:
            assert [p.get_text() for p in one] == [p.get_text() for p in two]


def test_other_seeds_give_other_manuals(tmp_path: Path) -> None:
    """Another seed draws other rows."""
    assert make_manual(1, tmp_path).rows != make_manual(2, tmp_path).rows


def test_distractor_pages_have_no_rows(tmp_path: Path) -> None:
    """No row of the truth lies on a page said to hold no pinout, and such pages are drawn."""
    truths = [make_manual(seed, tmp_path) for seed in range(30, 36)]
    assert sum(len(t.distractor_pages) for t in truths) > 6
    for truth in truths:
        assert not {row.page for row in truth.rows} & set(truth.distractor_pages)


def test_ordinary_draws_never_use_what_is_held_out(tmp_path: Path) -> None:
    """Held-out layouts, header words and unused marks do not occur in ordinary draws."""
    layouts = {row.layout for seed in range(40, 52) for row in make_manual(seed, tmp_path).rows}
    assert not {name for name in layouts if LAYOUTS[name].held}
    headers, unused = held_table("HEADERS_HELD", {}), held_table("UNUSED_HELD", {})
    for language, roles in HEADERS.items():
        for role, texts in roles.items():
            assert not set(texts) & set(headers[language][role])
    for language, texts in UNUSED.items():
        assert not set(texts) & set(unused[language])
    assert not {w.make for w in WORDINGS} & {w.make for w in held_table("WORDINGS_HELD", ())}


def test_drawing_imports_nothing_of_the_reader() -> None:
    """Reader and drawing share no code, so that they cannot share a mistake."""
    files = list(FIXTURES.rglob("*.py"))
    assert files
    for file in files:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not [n for n in names if n.split(".")[0] == "xref"], file
