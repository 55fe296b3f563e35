"""Letter-spaced headings: `C O N N E C T O R` is one word, `A B C D` above a table is not."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from xref.pages.content import Word

#: A spaced word has at least this many letters; shorter runs may be column names.
LEAST_LETTERS = 4
#: Different letters among them; a row of X marks has one.
LEAST_DISTINCT = 3
#: The gaps inside a spaced word differ by at most this share of the smallest, plus a hair of kerning.
ALIKE = 0.25
KERNING = 0.03
#: A gap this many times the smallest one stands between two spaced words.
BETWEEN_WORDS = 1.5
#: Letters are spaced by at most this share of the font size; columns stand farther apart.
WIDEST_GAP = 0.9
#: Share of neighbours that follow one another in the alphabet from which on the run is a row of names.
COUNTING = 0.5


def join_letter_spaced(line: list[Word]) -> list[Word]:
    """Join letter-spaced words of one line (left to right); everything else stays as it was."""
    joined: list[Word] = []
    run: list[Word] = []
    for word in line:
        if run and not (_single(word) and _near(run[-1], word)):
            joined.extend(_joined_run(run))
            run = []
        if _single(word):
            run.append(word)
        else:
            joined.append(word)
    joined.extend(_joined_run(run))
    return joined


def _single(word: Word) -> bool:
    return len(word.text) == 1


def _near(one: Word, other: Word) -> bool:
    if abs(one.size - other.size) > 0.05 * one.size:
        return False
    # A blank between two spaced words is as wide as two gaps and a blank of its own.
    return 0 < other.box.x0 - one.box.x1 <= WIDEST_GAP * 3 * one.size


def _joined_run(run: list[Word]) -> list[Word]:
    """Join a run of single characters if it is spaced print, else return it unchanged."""
    letters = [w.text for w in run if w.text.isalpha()]
    if len(letters) < LEAST_LETTERS or len(set(letters)) < LEAST_DISTINCT or _counts_on(run):
        return run
    gaps = [other.box.x0 - one.box.x1 for one, other in pairwise(run)]
    smallest = min(gaps)
    size = run[0].size
    if smallest > WIDEST_GAP * size:
        return run
    parts: list[list[Word]] = [[run[0]]]
    inner: list[float] = []
    for gap, word in zip(gaps, run[1:], strict=True):
        if gap > BETWEEN_WORDS * smallest:
            parts.append([word])
        else:
            parts[-1].append(word)
            inner.append(gap)
    alike = max(inner) - smallest <= ALIKE * smallest + KERNING * size
    if not alike or max(len(part) for part in parts) < LEAST_LETTERS:
        return run
    return [_one_word(part) for part in parts]


def _counts_on(run: list[Word]) -> bool:
    """True when most neighbours follow one another in the alphabet or in counting (A B C D, 1 2 3)."""
    steps = [ord(other.text) - ord(one.text) for one, other in pairwise(run)]
    return sum(step in (1, 2) for step in steps) >= COUNTING * len(steps)


def _one_word(part: list[Word]) -> Word:
    box = part[0].box
    for word in part[1:]:
        box = box.union(word.box)
    return replace(
        part[0],
        text="".join(w.text for w in part),
        box=box,
        edges=tuple(edge for w in part for edge in w.edges),
        bold=all(w.bold for w in part),
        unmapped=any(w.unmapped for w in part),
    )
