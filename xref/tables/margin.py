"""Text in the margin left of a table without rules, at the height of its rows: none of its own."""

from __future__ import annotations

from collections.abc import Sequence

from xref.pages.content import Word
from xref.tables.lines import Line, box_of
from xref.tables.vocabulary import heads_cavities

#: Text in the margin ends so many font sizes left of the first header at least.
STANDS_OFF = 0.8


def without_margin(body: Sequence[Line], header: str, left: float) -> list[Line]:
    """Return the lines under a header without what stands left of it.

    `header` is the first one and begins at `left`. Only where it heads a run of cavities, each the first
    word that is no text of the margin, is it sure that the margin is no column of the table.
    """
    out: list[Line] = []
    for line in body:
        own = tuple(w for w in line.words if not _in_margin(w, line, left))
        if len(own) == len(line.words):
            out.append(line)
        elif own:
            out.append(Line(words=own, box=box_of(own), size=max(w.size for w in own)))
    same = len(out) == len(body) and all(a is b for a, b in zip(out, body, strict=True))
    if same or not heads_cavities(header, [line.words[0].text for line in out]):
        return list(body)
    return out


def _in_margin(word: Word, line: Line, left: float) -> bool:
    return word.box.x1 < left - STANDS_OFF * line.size
