"""Signs that stand between columns in every row (`1 : supply`, `2 = ground`): they part, and say nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from xref.pages.content import Word
from xref.tables.lines import Line, box_of, words_to_lines

#: What may part two columns; a dash says that nothing is there, so it is none of them.
SIGNS = frozenset({":", "=", "→", "⇒", "->", "=>", "»", "|", "¦", "…"})
#: A dash parts, too, where it stands close to the text behind it in so many of the lines.
DASHES = frozenset({"-", "–", "—"})
CLOSE = 0.7
DASH_SHARE = 0.8
#: So many lines show the sign at one place, and this share of all lines.
FEWEST = 3
SHARE = 0.5
#: Signs under one another stand this near the same place, points.
PLACE = 2.0


def without_signs(lines: Sequence[Line]) -> list[Line]:
    """Return the lines without the signs that stand at one place in most of them."""
    places = _places([w for line in lines for w in line.words], len(lines)) | _leading_dashes(lines)
    if not places:
        return list(lines)
    out = []
    for line in lines:
        words = tuple(w for w in line.words if _place(w) not in places)
        if len(words) == len(line.words):
            out.append(line)
        elif words:
            out.append(Line(words=words, box=box_of(words), size=line.size))
    return out


def words_without_signs(words: Sequence[Word]) -> list[Word]:
    """Return the words of a grid without such signs, in the order of their lines."""
    if not any(w.text in SIGNS or w.text in DASHES for w in words):
        return list(words)
    return [w for line in without_signs(words_to_lines(words)) for w in line.words]


def _places(words: Sequence[Word], lines: int) -> set[tuple[str, int]]:
    """Return (sign, place) of every sign that most lines show at one place, and the places beside it."""
    count = Counter(_place(w) for w in words if w.text in SIGNS)
    found = set()
    for (sign, x), n in count.items():
        near = n + count[sign, x - 1] + count[sign, x + 1]
        if near >= max(FEWEST, SHARE * lines):
            found |= {(sign, x - 1), (sign, x), (sign, x + 1)}
    return found


def _leading_dashes(lines: Sequence[Line]) -> set[tuple[str, int]]:
    """Return the place of a dash that stands before a text in nearly all lines; one by itself is a cell."""
    count: Counter[tuple[str, int]] = Counter()
    for line in lines:
        for dash, text in pairwise(line.words):
            near = text.box.x0 - dash.box.x1 <= CLOSE * line.size
            if dash.text in DASHES and near and any(c.isalpha() for c in text.text):
                count[_place(dash)] += 1
    return {place for place, n in count.items() if n >= max(FEWEST, DASH_SHARE * len(lines))}


def _place(word: Word) -> tuple[str, int]:
    return word.text, round((word.box.x0 + word.box.x1) / (2 * PLACE))
