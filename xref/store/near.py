"""Names that resemble an asked one, with the confusions of reading (O/0, I/1/l, S/5, B/8) at no cost."""

from __future__ import annotations

from collections.abc import Iterable

from xref.data.fuzzy import best_matches, likeness
from xref.settings import DEFAULT, Settings
from xref.store.fold import confusion_key, plain_key

#: So many names are compared letter by letter; of more, the likest at first sight are taken.
_MOST_COMPARED = 500
#: How much lower a name may score at first sight, where look-alike letters still count as different.
_FIRST_SIGHT_SLACK = 25.0


def near_names(asked: str, names: Iterable[str], settings: Settings = DEFAULT) -> list[tuple[str, float]]:
    """Return the names most like the asked one with their score (0–100), best first.

    The score is the better of two likenesses: as written but for case and blanks, and with letters and
    digits that look alike taken as one. The asked text itself is not among them.
    """
    plain, confused = plain_key(asked), confusion_key(asked)
    if not plain:
        return []
    scored = []
    for name in _likely(plain, confused, set(names) - {asked, ""}, settings):
        score = max(likeness(plain, plain_key(name)), likeness(confused, confusion_key(name)))
        if score >= settings.near_score:
            scored.append((name, score))
    scored.sort(key=lambda pair: (-pair[1], pair[0]))
    return scored[: settings.most_near]


def _likely(plain: str, confused: str, names: set[str], settings: Settings) -> set[str]:
    if len(names) <= _MOST_COMPARED:
        return names
    score, ordered = settings.near_score - _FIRST_SIGHT_SLACK, sorted(names)
    return {
        name
        for key in {plain, confused}
        for name, _ in best_matches(key, ordered, score=score, limit=_MOST_COMPARED)
    }
