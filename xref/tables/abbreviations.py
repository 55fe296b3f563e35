"""Header words cut short with a dot (`Ausf.`, `Alv.`, `Kl.`) to the words they are meant for."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

from xref.data.words import REMEMBERED, fold, roles_by_word

#: A word cut short: letters and a dot.
_CUT = re.compile(r"(?<![^\W_])([^\W\d_]{2,7})\.(?=$|[\s/|-])")
#: How sure a header with such a word is beside one that is printed in full.
CUT_SHORT = 0.8
#: Words for number are cut short, too, and stand beside many others.
NUMBERS = frozenset({"no", "nr", "num"})
#: This share of the words that begin so must mean the same.
AGREED = 0.75


def in_full(text: str) -> str:
    """Return a header text with its words in full where a dot cuts them short.

    `Opz. cavo` gives `opzione cavo`; a word with a dot that stands in the data (`Nr.`) is left as it is, and
    so is one whose beginning may mean different things (`Gr.`).
    """
    return _CUT.sub(lambda found: _meant(found.group(1)) or found.group(), text)


@lru_cache(maxsize=REMEMBERED)
def _meant(cut: str) -> str:
    """Return the shortest header word that begins like this, "" where such words mean different things."""
    begin = fold(cut)
    if begin in NUMBERS or begin in roles_by_word():
        return ""
    words = [w for w in roles_by_word() if _is_cut_of(begin, w)]
    # `Klemmenbelegung` is built upon `Klemme`: who cuts short means the plain word.
    plain = [w for w in words if not any(w != other and w.startswith(other) for other in words)]
    roles = Counter(roles_by_word()[w][0] for w in plain)
    if not roles or (most := roles.most_common(1)[0])[1] < AGREED * len(plain):
        return ""
    return min((w for w in plain if roles_by_word()[w][0] == most[0]), key=lambda w: (len(w), w))


def _is_cut_of(begin: str, word: str) -> bool:
    """True for a single longer word with this beginning; nobody leaves out one letter for a dot."""
    return word.startswith(begin) and len(word) > len(begin) + 1 and " " not in word
