"""Text in the margin left of a table without rules, at the height of its rows: none of its own."""

from __future__ import annotations

from collections.abc import Sequence

from xref.pages.content import Word
from xref.tables.headerline import Segment
from xref.tables.lines import Line, box_of
from xref.tables.vocabulary import header_roles, heads_cavities

#: Text in the margin ends so many font sizes left of the first header at least.
STANDS_OFF = 0.8


def without_margin(body: Sequence[Line], segments: Sequence[Segment]) -> tuple[list[Line], list[Segment]]:
    """Return the lines under a header and its segments without what stands left of the first column.

    Only where the first known segment heads a run of cavities, each the first word under it that is no
    text of the margin, is it sure that the margin is no column of the table.
    """
    ordered = sorted(segments, key=lambda s: s.x0)
    known = next((n for n, s in enumerate(ordered) if header_roles(s.text)), 0)
    own = ordered[known:]
    if len(own) < 2:
        return list(body), list(segments)
    left, end = own[0].x0, own[1].x0
    out: list[Line] = []
    first: list[str] = []
    for line in body:
        words = tuple(w for w in line.words if not _in_margin(w, line, left))
        if words and words[0].box.x1 < end:
            first.append(words[0].text)
        if len(words) == len(line.words):
            out.append(line)
        elif words:
            out.append(Line(words=words, box=box_of(words), size=max(w.size for w in words)))
    same = not known and len(out) == len(body) and all(a is b for a, b in zip(out, body, strict=True))
    if same or not heads_cavities(own[0].text, first):
        return list(body), list(segments)
    return out, own


def _in_margin(word: Word, line: Line, left: float) -> bool:
    return word.box.x1 < left - STANDS_OFF * line.size
