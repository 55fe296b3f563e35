"""Header words cut short with a dot (`Ausf.`, `Alv.`, `Kl.`): what the words that begin so mean."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

from xref.data.words import REMEMBERED, fold, roles_by_word

#: A word cut short: letters and a dot, by itself or before a word for number.
_CUT = re.compile(r"([^\W\d_]{2,7})\.(?:[\s-]*(?:n[ro°º]|num)\.?)?", re.IGNORECASE)
#: How sure a word cut short is beside one that stands in the data as printed.
CUT_SHORT = 0.8


@lru_cache(maxsize=REMEMBERED)
def abbreviated_roles(text: str) -> dict[str, float]:
    """Return the roles of the words that begin with a word cut short, each with its share (0–`CUT_SHORT`)."""
    cut = _CUT.fullmatch(text.strip())
    if cut is None:
        return {}
    begin = fold(cut.group(1))
    words = [w for w in roles_by_word() if _is_cut_of(begin, w)]
    # `Klemmenbelegung` is built upon `Klemme`: who cuts short means the plain word.
    plain = [w for w in words if not any(w != other and w.startswith(other) for other in words)]
    counts = Counter(roles_by_word()[w][0] for w in plain)
    return {role: CUT_SHORT * n / len(plain) for role, n in counts.items()}


def _is_cut_of(begin: str, word: str) -> bool:
    """True for a single longer word with this beginning; nobody leaves out one letter for a dot."""
    return word.startswith(begin) and len(word) > len(begin) + 1 and " " not in word
