"""Ids of lines as people type them: case, blanks, other alphabets' letters and look-alikes folded."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from xref.data.fuzzy import likeness

#: What a hand or an eye takes for a sign of an id. No id holds two signs of one group, so that folding
#: never makes one id of two; of a joint's id, what follows the J is a number.
_LOOK_ALIKES = str.maketrans("OQILZSGBN", "00112568M")
#: Capitals of the Greek and Cyrillic alphabets that look like Latin ones.
_OTHER_ALPHABETS = str.maketrans("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧАВЕКМНОРСТУХЈЅІ", "ABEZHIKMNOPTYXABEKMHOPCTYXJSI")
_NO_SIGN = re.compile(r"[\W_]+")
#: Ids less alike than this (0–100) are not offered: of four signs three are the same.
_ALIKE = 74.0
_MOST_OFFERED = 5


def typed_key(text: str) -> str:
    """Return the key under which an id meets what is typed for it."""
    upper = unicodedata.normalize("NFKC", text).upper().replace("|", "I").translate(_OTHER_ALPHABETS)
    return _NO_SIGN.sub("", upper).translate(_LOOK_ALIKES)


def ids_meant(typed: str, ids: Iterable[str]) -> list[str]:
    """Return the ids that a typed text may mean: the one as printed, else those that fold alike."""
    known = list(dict.fromkeys(ids))
    plain = typed.strip().upper()
    if plain in known:
        return [plain]
    return [id_ for id_ in known if typed_key(id_) == typed_key(typed)]


def near_ids(typed: str, ids: Iterable[str]) -> Sequence[str]:
    """Return ids most like a typed text, the likest first."""
    key = typed_key(typed)
    scored = [(max(likeness(key, typed_key(id_)), _swapped(key, typed_key(id_))), id_) for id_ in ids]
    near = sorted((pair for pair in set(scored) if pair[0] >= _ALIKE), key=lambda pair: (-pair[0], pair[1]))
    return [id_ for _, id_ in near[:_MOST_OFFERED]]


def _swapped(one: str, other: str) -> float:
    """Return a full likeness for the same signs in another order, which hands type easily."""
    return 100.0 if sorted(one) == sorted(other) else 0.0
