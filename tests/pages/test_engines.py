"""Both engines see the same words, rules and fills on the same pages.

pdfplumber (pdfminer.six) shares no code with pdfium: it parses the file, decodes fonts and measures text by
itself. Where the two are known to differ, the reason stands beside the exception.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

import pytest

from fixtures.hostile import HOSTILE, write_hostile
from fixtures.stick.backends import CANVAS_PRODUCERS
from fixtures.stick.flow import FLOW_PRODUCERS
from fixtures.stick.manual import make_manual
from tests.real_pdfs import REAL_PDFS, needs_real_pdfs
from xref.errors import PageBroken, UnreadableDocument
from xref.pages.content import PageContent, Rule, Word
from xref.pages.reader import DocumentReader

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "manuals"

#: Boxes agree within this many points.
PLAY = 0.5
#: A font that is not embedded, or states no descent, has other metrics in each engine: its letters' boxes
#: are shifted up or down by up to this share of their size, never stretched.
DESCENT = 0.3
#: pdfium rounds the widths of letters to thousandths of the font size; over a long row of dots it adds up,
#: and over a line of text set in one run: each word stands that much further along.
ROUNDING = 0.001

#: (document, page): why the words of the two differ there.
WORDS_APART = {
    ("bzods21.pdf", 1): "slanted letters: pdfplumber's boxes lean over their neighbours",
    ("bzods21.pdf", 5): "slanted letters: pdfplumber's boxes lean over their neighbours",
    ("cm_budget.pdf", 1): "slanted letters: pdfplumber parts them by their leaning boxes",
}
#: (document, page): why the fills of the two differ there.
FILLS_APART = {
    ("bbb.pdf", 37): "pdfplumber takes white in a named colour space for black",
}


def _pages(path: Path, most: int = 60) -> Iterable[tuple[int, PageContent, PageContent]]:
    with DocumentReader(path) as reader:
        for number in range(1, min(reader.page_count, most) + 1):
            yield number, reader.content(number, "pdfium"), reader.content(number, "plumber")


def _check(path: Path, most: int = 60) -> None:
    for number, one, other in _pages(path, most):
        place = (path.name, number)
        assert (one.label, one.turned) == (other.label, other.turned), place
        assert (one.width, one.height) == pytest.approx((other.width, other.height), abs=0.1), place
        assert not _unpaired([_rule(r) for r in one.rules], [_rule(r) for r in other.rules]), place
        if place not in FILLS_APART:
            sides = [[(f.box.x0, f.box.top, f.box.x1, f.box.bottom) for f in c.fills] for c in (one, other)]
            assert not _unpaired(*sides), place
        # What has no meaning in the PDF each engine shows in its own way; both must say so.
        if any(w.unmapped for w in one.words):
            assert any(w.unmapped for w in other.words), place
        elif place not in WORDS_APART:
            _check_words(one.words, other.words, place)


def _rule(rule: Rule) -> tuple[float, ...]:
    return rule.x0, rule.top, rule.x1, rule.bottom


def _unpaired(ones: list[tuple[float, ...]], others: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """Return what of either side has no like on the other within `PLAY`."""
    left, alone = list(others), []
    for one in ones:
        like = next((o for o in left if max(abs(a - b) for a, b in zip(one, o, strict=True)) <= PLAY), None)
        if like is None:
            alone.append(one)
        else:
            left.remove(like)
    return alone + left


def _check_words(ones: tuple[Word, ...], others: tuple[Word, ...], place: tuple[str, int]) -> None:
    left: dict[str, list[Word]] = defaultdict(list)
    for word in others:
        left[word.text].append(word)
    for word in ones:
        like = next((o for o in left[word.text] if _same_place(word, o)), None)
        assert like is not None, (*place, word, left[word.text])
        left[word.text].remove(like)
        assert (word.mark, word.bold) == (like.mark, like.bold), (*place, word)
        # Where they disagree about a font's metrics, pdfplumber puts its blanks on a line of their own.
        if abs(word.box.top - like.box.top) <= PLAY:
            assert word.spaced == like.spaced, (*place, word)
    assert not [word for words in left.values() for word in words], place


def _same_place(one: Word, other: Word) -> bool:
    a, b = one.box, other.box
    drift = PLAY + ROUNDING * one.size * len(one.text)
    up = a.top - b.top
    return (
        abs(a.x0 - b.x0) <= PLAY + ROUNDING * a.x0
        and abs(a.x1 - b.x1) <= drift + ROUNDING * a.x0
        and abs(up) <= max(PLAY, DESCENT * one.size)
        and abs(up - (a.bottom - b.bottom)) <= PLAY
    )


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.pdf")), ids=lambda p: p.stem)
def test_example_manuals_are_the_same_to_both(path: Path) -> None:
    """The example manuals of all producers give the same words, rules and fills."""
    _check(path, most=6)


@pytest.mark.parametrize("producer", sorted({*CANVAS_PRODUCERS, *FLOW_PRODUCERS}))
@pytest.mark.parametrize("seed", [811, 814])
def test_drawn_manuals_are_the_same_to_both(tmp_path: Path, producer: str, seed: int) -> None:
    """A random manual of each producer gives the same words, rules and fills."""
    _check(make_manual(seed, tmp_path, producer=producer).path, most=6)


#: Damaged files on which one engine reads more than the other, or which take too long here.
UNEVEN = {
    "inflating.pdf": "needs a worker's bound on memory",
    "form-in-itself.pdf": "needs a worker's bound on time",
    "characters.pdf": "refused by both, but the slower one takes seconds to get there",
    "control.pdf": "a character of code 0 is a blank to one and unknown to the other",
}


@pytest.mark.parametrize(
    "name",
    [n for n, (_, outcome) in HOSTILE.items() if outcome == "read" and n.isascii() and n not in UNEVEN],
)
def test_damaged_files_are_the_same_to_both(tmp_path: Path, name: str) -> None:
    """What opens at all gives the same words to both, or is refused by both."""
    (path,) = write_hostile(tmp_path, [name])
    with DocumentReader(path) as reader:
        for number in range(1, min(reader.page_count, 3) + 1):
            seen = []
            for engine in ("pdfium", "plumber"):
                try:
                    seen.append([w.text for w in reader.content(number, engine).words])
                except (PageBroken, UnreadableDocument) as error:
                    seen.append([error.message])
            assert seen[0] == seen[1], number


@needs_real_pdfs
@pytest.mark.long
@pytest.mark.parametrize("path", sorted(REAL_PDFS.glob("*.pdf")), ids=lambda p: p.stem)
def test_real_documents_are_the_same_to_both(path: Path) -> None:
    """Real documents give the same words, rules and fills, but for the named pages."""
    _check(path)
