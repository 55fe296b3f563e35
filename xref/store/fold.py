"""Keys under which names that a reader may take for one another meet, so that SQL finds near-twins.

Three keys, because one that forgives everything at once would also lose some twins: `S05` is `505`
misread, and `C05` is `C5` padded.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from xref.data.fuse_sides import parted_fuse

#: Reading confusions O/0, I/1/l, S/5, B/8: the pairs the eye and text recognition mix up in codes.
CONFUSIONS: dict[str, str] = {"o": "0", "i": "1", "l": "1", "|": "1", "s": "5", "b": "8"}

#: A large machine prints its few thousand cavities and names many times each.
_MOST_KEPT = 65_536
_CONFUSED = str.maketrans(CONFUSIONS)
_BLANKS = re.compile(r"[\s\u00ad\u200b\ufeff]+")
#: A separator inside a name; at its ends a sign may carry meaning (`B+`, `D-`).
_SEPARATOR = re.compile(r"(?<=\w)[-_./\u2010-\u2015]+(?=\w)|_+")
_LEADING_ZEROS = re.compile(r"^0+(?=[0-9])")
_PADDING = re.compile(r"(?<![0-9])0+(?=[0-9])")
#: A segment mark behind a number: one or two letters (`1440A`, `1440-AB`), or a short number after a
#: separator (`1440-1`, `1440/2`). Longer tails are other names, not segments.
_SEGMENT = re.compile(r"^(.*[0-9])(?:[-_./]?[^\W\d_]{1,2}|[-_./][0-9]{1,2})$")


@lru_cache(maxsize=_MOST_KEPT)
def plain_key(text: str) -> str:
    """Fold case, width, blanks and inner separators: `X 5`, `x-5` and `X5` meet."""
    return _SEPARATOR.sub("", _tidy(text))


def confusion_key(text: str) -> str:
    """Fold the reading confusions and leading zeros on top of `plain_key`: `144O`, `01440`, `1440` meet."""
    return _LEADING_ZEROS.sub("", plain_key(text).translate(_CONFUSED))


@lru_cache(maxsize=_MOST_KEPT)
def unpadded_key(text: str) -> str:
    """Drop the zeros before every number in a name: `C05` and `C5` meet."""
    return _PADDING.sub("", plain_key(text))


def counting_key(cavity: str) -> tuple[str, int, str]:
    """Return a key that sorts cavities as they are counted: `2` before `10`, `A10` before `B1`.

    The two sides of a fuse (`F2 in`, `F2 out`) stand together.
    """
    name = parted_fuse(cavity)[0]
    letters = name.rstrip("0123456789")
    number = name[len(letters) :]
    return (letters, int(number) if number else 0, cavity)


def stem_key(text: str) -> str:
    """Confusion key of the name without its segment marks: `1440A`, `1440-B` and `1440` meet."""
    stem = _tidy(text)
    while found := _SEGMENT.match(stem):
        stem = found.group(1)
    return confusion_key(stem)


def _tidy(text: str) -> str:
    """Fold width, case and blanks; again where taking a blank out lets a mark join the letter before it."""
    folded = _BLANKS.sub("", unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold()))
    return folded if folded == text else _tidy(folded)
