"""Tables beside each other under the same header: are they parts of one table, or has each its caption?"""

from __future__ import annotations

import re
from collections.abc import Sequence

from xref.tables.lines import Line, box_of, line_to_chunks

#: A connector's name somewhere in a line: capitals and figures.
NAME = re.compile(r"(?<!\w)-?[A-Z]{1,4}[ ._-]?\d{1,4}(?!\w)")
#: A caption begins where its table does, or stands in the middle of it, within so many points.
ALIGNED = 12.0
#: A caption has so many words at least; one by itself may be a cell.
FEWEST_WORDS = 2

#: From where to where a header stands across the page.
Span = tuple[float, float]


def side_of(line: Line, border: float, *, right: bool) -> Line | None:
    """Return what of a line stands on one side of a border; None where nothing does."""
    words = tuple(w for w in line.words if (w.box.x0 >= border) is right)
    return Line(words=words, box=box_of(words), size=line.size) if words else None


def each_with_caption(
    lines: Sequence[Line], border: float, left: Sequence[Span], right: Sequence[Span]
) -> bool:
    """True where on both sides of a border there is a caption of its own for each header.

    `lines` are those between which nothing crosses the border; `left` and `right` where the headers on
    either side stand. Blocks of one table have one caption together.
    """
    named: set[str] = set()
    for spans, on_right in ((left, False), (right, True)):
        parts = [part for line in lines if (part := side_of(line, border, right=on_right))]
        own = {part.text for part in parts if _is_caption(part, spans)} - named
        if len(own) < len(spans):
            return False
        named |= own
    return True


def _is_caption(line: Line, spans: Sequence[Span]) -> bool:
    """True for running words with a name that stand as captions of these tables do."""
    if not NAME.search(line.text) or len(line.words) < FEWEST_WORDS or len(line_to_chunks(line)) > 1:
        return False
    x0, x1 = line.box.x0, line.box.x1
    return any(abs(x0 - a) <= ALIGNED or abs((x0 + x1) - (a + b)) <= 2 * ALIGNED for a, b in spans)
