"""The unseen share of the stick: every layout draws, and its truth is whole and stands on its page."""

from __future__ import annotations

import random
import re
from collections import Counter
from pathlib import Path

import pymupdf
import pytest

from fixtures.stick.book import Book
from fixtures.stick.colors import SCHEMES
from fixtures.stick.habits import make_book
from fixtures.stick.held_distractors import MAKERS, TEXTS, draw
from fixtures.stick.held_words import HEADERS_HELD, UNUSED_HELD
from fixtures.stick.manual import make_manual
from fixtures.stick.model import Group, Table, TruthRow, truths_of
from fixtures.stick.registry import LAYOUTS
from fixtures.stick.reserve import load_held
from fixtures.stick.words import HEADERS, LANGUAGES, UNUSED

load_held()
HELD = sorted(name for name, layout in LAYOUTS.items() if layout.held)
SEEDS = range(30)
#: What typesetting may put in the place of plain letters, and white space.
_FOLDED = str.maketrans({"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl"})  # fmt: skip


def _book(seed: int) -> Book:
    return make_book(random.Random(f"held {seed}"), held=True)


def _rows(groups: list[Group]) -> list[TruthRow]:
    return [row for group in groups for truth in truths_of(group.blocks) for rows in truth for row in rows]


def _plain(text: str) -> str:
    return re.sub(r"[\s\u00a0\u00ad\u200b\u2010-\u2013\u2212-]+", "", text.translate(_FOLDED))


def _stands_on(page: str, accepted: str) -> bool:
    """True if the words of one of the accepted texts are on a page."""
    for text in accepted.split("|"):
        parts = list(text) if re.search(r"[\u3000-\u9fff]", text) else text.split()
        if all(_plain(part) in page for part in parts):
            return True
    return "*" in accepted


def test_enough_is_held_out() -> None:
    """At least fourteen layouts and eight look-alikes are kept from ordinary draws."""
    assert len(HELD) >= 14
    assert len(TEXTS) >= 8 and set(TEXTS) == set(MAKERS)


@pytest.mark.parametrize("name", HELD)
def test_truth_of_each_held_layout_is_whole(name: str) -> None:
    """Each row names connector, cavity and place, and a used one says what its wire is."""
    for seed in SEEDS:
        rows = _rows(LAYOUTS[name].make(_book(seed)))
        assert rows
        for row in rows:
            assert row.connector and row.cavity and row.place
            assert row.layout == name
            if row.status == "used":
                assert row.circuit not in {"", "*"} or row.function or row.color_code
            else:
                assert not (row.color_code or row.circuit or row.function or row.size)


@pytest.mark.parametrize("name", HELD)
def test_no_cavity_of_a_held_layout_is_told_twice(name: str) -> None:
    """A cavity has one row; at an in-line connector one for each half, and one for each option."""
    for seed in SEEDS:
        rows = _rows(LAYOUTS[name].make(_book(seed)))
        assert max(Counter((row.connector, row.half, row.cavity, row.option) for row in rows).values()) == 1


@pytest.mark.parametrize("name", HELD)
def test_colors_of_held_layouts_are_those_of_the_manuals_key(name: str) -> None:
    """A code means what the manual's own key says, a word is one of the scheme's colours."""
    for seed in SEEDS:
        book = _book(seed)
        known = {*SCHEMES[book.scheme].values(), *book.codes.values(), ""}
        for row in _rows(LAYOUTS[name].make(book)):
            assert {row.base_color, row.stripe_color} <= known
            code = re.split(r"[-/+.( ]", row.color_code)[0]
            assert row.base_color == book.codes.get(code, row.base_color)


@pytest.mark.parametrize("name", HELD)
def test_texts_of_each_held_layout_stand_on_their_page(name: str, tmp_path: Path) -> None:
    """What the truth tells stands on its page, and the connector's name in the manual, by PyMuPDF's text."""
    truth = make_manual(17, tmp_path, layouts={name}, held_out=True, producer="fpdf2")
    with pymupdf.open(truth.path) as document:
        pages = [_plain(page.get_text()) for page in document]
    for row in truth.rows:
        for text in (row.cavity, row.color_code, row.circuit, row.function, row.size):
            assert _stands_on(pages[row.page - 1], text), (row.page, text)
        assert _stands_on("".join(pages), row.connector)


@pytest.mark.parametrize("kind", sorted(TEXTS))
def test_held_look_alikes_have_cells_for_their_headers_and_no_truth(kind: str) -> None:
    """A look-alike is drawn in each language with a header for every cell, and holds no pin."""
    assert set(TEXTS[kind]) == set(LANGUAGES)
    for seed in SEEDS:
        blocks = draw(_book(seed), kind)
        tables = [block for block in blocks if isinstance(block, Table)]
        assert len(tables) == 1
        assert {len(row) for row in tables[0].body} == {len(tables[0].head[0])}
        assert not any(rows for truth in truths_of(blocks) for rows in truth)


def test_held_words_are_none_of_the_ordinary_ones() -> None:
    """No header word and no mark of an empty cavity is shared with ordinary draws; every language has all."""
    for language, roles in HEADERS.items():
        for role, texts in roles.items():
            assert HEADERS_HELD[language][role]
            assert not set(texts) & set(HEADERS_HELD[language][role])
        assert UNUSED_HELD[language] and not set(UNUSED[language]) & set(UNUSED_HELD[language])
