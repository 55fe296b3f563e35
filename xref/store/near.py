"""Names that resemble an asked one, with the confusions of reading (O/0, I/1/l, S/5, B/8) at no cost."""

from __future__ import annotations

from collections.abc import Iterable

from xref.data.fuzzy import likeness
from xref.settings import DEFAULT, Settings
from xref.store.fold import confusion_key, plain_key


def near_names(asked: str, names: Iterable[str], settings: Settings = DEFAULT) -> list[tuple[str, float]]:
    """Return the names most like the asked one with their score (0–100), best first.

    The score is the better of two likenesses: as written but for case and blanks, and with letters and
    digits that look alike taken as one. The asked text itself is not among them.
    """
    plain, confused = plain_key(asked), confusion_key(asked)
    if not plain:
        return []
    scored = []
    for name in set(names) - {asked, ""}:
        score = max(likeness(plain, plain_key(name)), likeness(confused, confusion_key(name)))
        if score >= settings.near_score:
            scored.append((name, score))
    scored.sort(key=lambda pair: (-pair[1], pair[0]))
    return scored[: settings.most_near]
