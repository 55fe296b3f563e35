"""Signs that stand between columns in every row (`1 : supply`, `2 = ground`): they part, and say nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xref.pages.content import Word
from xref.tables.lines import Line, box_of, words_to_lines

#: What may part two columns; a dash says that nothing is there, so it is none of them.
SIGNS = frozenset({":", "=", "→", "⇒", "->", "=>", "»", "|", "¦", "…"})
#: So many lines show the sign at one place, and this share of all lines.
FEWEST = 3
SHARE = 0.5
#: Signs under one another stand this near the same place, points.
PLACE = 2.0


def without_signs(lines: Sequence[Line]) -> list[Line]:
    """Return the lines without the signs that stand at one place in most of them."""
    places = _places([w for line in lines for w in line.words], len(lines))
    if not places:
        return list(lines)
    out = []
    for line in lines:
        words = tuple(w for w in line.words if not (w.text in SIGNS and _place(w) in places))
        if len(words) == len(line.words):
            out.append(line)
        elif words:
            out.append(Line(words=words, box=box_of(words), size=line.size))
    return out


def words_without_signs(words: Sequence[Word]) -> list[Word]:
    """Return the words of a grid without such signs, in the order of their lines."""
    if not any(w.text in SIGNS for w in words):
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


def _place(word: Word) -> tuple[str, int]:
    return word.text, round((word.box.x0 + word.box.x1) / (2 * PLACE))
