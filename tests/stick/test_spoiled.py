"""What a drawn manual hides or spoils, and what is said of it beside the rows."""

from __future__ import annotations

import json
import random
import unicodedata
from pathlib import Path

import pymupdf
import pytest

from fixtures.stick import colors
from fixtures.stick.book import Book
from fixtures.stick.disguise import HABITS
from fixtures.stick.distractors import DISTRACTORS, distractors
from fixtures.stick.habits import make_book
from fixtures.stick.manual import make_manual
from fixtures.stick.producers import DRAWN_WITH, STAND_IN, lack, usable


def _book(seed: int) -> Book:
    return make_book(random.Random(seed), held=False)


def _words(path: Path, page: int) -> str:
    with pymupdf.open(path) as document:
        return str(document[page - 1].get_text())


def test_scanned_pages_hold_no_text_and_no_rows(tmp_path: Path) -> None:
    """A page drawn as a scan has no text and no rows, and the truth names it as one to be called unread."""
    truth = make_manual(3, tmp_path, layouts={"scanned_page"})
    assert truth.unread_pages
    for page in truth.unread_pages:
        assert not _words(truth.path, page).strip()
        assert page not in truth.distractor_pages
    assert not truth.rows


def test_pages_without_letters_give_no_word_to_a_program(tmp_path: Path) -> None:
    """Where the font does not say its letters, no word of the page is to be had but that of a watermark."""
    truth = make_manual(6, tmp_path, layouts={"lost_letters"})
    assert truth.unread_pages
    for page in truth.unread_pages:
        # A glyph's bare number may look like a letter or two, never like a word.
        found = [w for w in _words(truth.path, page).split() if len(w) > 3 and w.isalpha() and w.isascii()]
        assert set(found) <= {"DRAFT", "COPY", "SPECIMEN"}


def test_pasted_tables_are_named_beside_the_text(tmp_path: Path) -> None:
    """A page with a table as a picture has the rows of its printed table only, and is named."""
    truth = make_manual(2, tmp_path, layouts={"picture_beside_text"})
    assert truth.picture_pages
    for page in truth.picture_pages:
        assert len({row.connector for row in truth.rows if row.page == page}) == 1
        with pymupdf.open(truth.path) as document:
            assert document[page - 1].get_images()


def test_what_is_known_of_the_pages_stands_beside_the_rows(tmp_path: Path) -> None:
    """The JSON file beside a manual says the same of its pages as the truth does."""
    truth = make_manual(3, tmp_path, layouts={"scanned_page", "plain"})
    known = json.loads(truth.path.with_suffix(".json").read_text(encoding="utf-8"))
    assert known["unread_pages"] == truth.unread_pages
    assert known["distractor_pages"] == truth.distractor_pages
    assert known["pages"] == truth.pages


def test_every_manual_holds_every_distractor() -> None:
    """Each look-alike is drawn once in each manual."""
    assert len(distractors(_book(1))) == len(DISTRACTORS) >= 18


@pytest.mark.parametrize("scheme", sorted(set(colors.SCHEMES) - set(colors.WORDS)))
def test_own_keys_redefine_or_double_codes_and_say_so(scheme: str) -> None:
    """Some keys swap two codes, some give one code two colours; both must be printed in the manual."""
    kinds = set()
    for seed in range(80):
        codes, odd = colors.own_codes(scheme, random.Random(seed))
        swapped = {c for c, color in codes.items() if color not in {colors.ANY, colors.SCHEMES[scheme][c]}}
        doubled = [c for c, color in codes.items() if color == colors.ANY]
        assert odd == bool(swapped or doubled)
        printed = colors.key_rows(codes, scheme)
        for code in doubled:
            assert len({color for other, color in printed if other == code}) == 2
        kinds.add("swapped" if swapped else "doubled" if doubled else "usual")
    assert kinds == {"swapped", "doubled", "usual"}


def test_odd_keys_are_printed() -> None:
    """A manual whose key departs from the usual one prints it."""
    for seed in range(60):
        book = _book(seed)
        if book.codes != colors.SCHEMES[book.scheme]:
            assert book.key_page


@pytest.mark.parametrize("habit", HABITS, ids=lambda habit: habit.__name__.strip("_"))
def test_look_alike_letters_read_as_the_plain_ones(habit: object) -> None:
    """Joined letters, hard blanks, blanks of no width and dashes fold back to the text they stand for."""
    for text in ("M12 X1", "BU/YE", "L12-04", "office flow", "STEER_POS_A"):
        shown = unicodedata.normalize("NFKC", habit(text)).replace("\u200b", "")  # type: ignore[operator]
        for dash in "\u2010\u2011\u2012\u2013\u2212":
            shown = shown.replace(dash, "-")
        assert shown == text


def test_a_missing_program_is_stood_in_for() -> None:
    """Every program draws itself where it is there, else the one that stands in."""
    for producer in DRAWN_WITH:
        assert usable(producer) == (STAND_IN if lack(producer) else producer)


def test_circuits_keep_their_colour_but_for_a_few() -> None:
    """Most wires of one circuit have one colour, as in a real machine."""
    book = _book(5)
    seen: dict[str, set[str]] = {}
    for _ in range(300):
        wire = book.wire("")
        seen.setdefault(wire.circuit, set()).add(wire.color)
    alike = sum(len(found) == 1 for found in seen.values())
    assert len(seen) > alike > len(seen) / 2
