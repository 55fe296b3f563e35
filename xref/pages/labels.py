"""The page's number as a person would quote it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from xref.pages.content import Word

#: Share of the page's height at head and foot in which a printed page number stands.
HEAD_SHARE = 0.09
FOOT_SHARE = 0.09
#: A page number stands apart from other words of its line by this many font sizes.
APART = 2.5
#: Longest label kept; what is longer is no page number.
LONGEST = 12
_LABEL = re.compile(
    r"(?:(?:page|seite|blatt|pagina|página|pág\.?|p\.|s\.)\s*)?[-–—]?\s*"
    r"([a-z]{0,3}[-–.]?\d{1,4}(?:[-–.]\d{1,4}){0,2}|[ivxl]{1,7})"
    r"\s*[-–—]?(?:\s*(?:/|of|von|de|di|sur)\s*\d{1,4})?",
    re.IGNORECASE,
)


def page_label(from_pdf: str, words: Iterable[Word], width: float, height: float) -> str:
    """Return the PDF's own label, else a number printed alone at foot or head, else ""."""
    if from_pdf:
        return from_pdf[:LONGEST]
    listed = [w for w in words if not w.underlay]
    foot = [w for w in listed if w.box.top >= height * (1 - FOOT_SHARE)]
    head = [w for w in listed if w.box.bottom <= height * HEAD_SHARE]
    for group in (sorted(foot, key=lambda w: -w.box.bottom), sorted(head, key=lambda w: w.box.top)):
        found = [label for cluster in _clusters(group) if (label := _label(cluster))]
        if len(found) == 1:
            return found[0]
    return ""


def _clusters(words: list[Word]) -> list[list[Word]]:
    """Group words of one line that stand together."""
    clusters: list[list[Word]] = []
    for word in sorted(words, key=lambda w: (round(w.box.bottom), w.box.x0)):
        last = clusters[-1][-1] if clusters else None
        if (
            last is not None
            and abs(last.box.bottom - word.box.bottom) <= 0.3 * word.size
            and -word.size <= word.box.x0 - last.box.x1 <= APART * word.size
        ):
            clusters[-1].append(word)
        else:
            clusters.append([word])
    return clusters


def _label(cluster: list[Word]) -> str:
    match = _LABEL.fullmatch(" ".join(w.text for w in cluster))
    return match.group(1)[:LONGEST] if match else ""
