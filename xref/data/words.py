"""Words of manuals by meaning, from `header_words.csv`: header words, unused marks, heading words.

Roles that name a column: cavity, color, circuit, size, function, signal, goes_to, goes_from, option,
connector, half, component, harness, rating, expected (values to be measured), distractor (words of
tables that are no pinout). The others name marks and heading words.
"""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

#: Punctuation that carries no meaning in a header word ("Pin No." = "Pin-No").
_NOISE = re.compile(r"[\s.:;,()\[\]/_\-–—‐‑·•*]+")

#: Ways to write "number" beside another word: they are one word when headers are compared.
_NUMBER_WORDS = frozenset(
    {"n°", "nr", "n", "nº", "no", "num", "núm", "number", "nummer", "numéro", "numero", "número"}
)

#: Texts of which it is remembered what they are: a page asks for its own again and again, the next one
#: for others, and what is kept over a long manual must not grow with it.
REMEMBERED = 2048

#: Stands between lines folded together: no blank, no punctuation, never printed.
_BREAK = "\0"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderWord:
    """One word or phrase with the meaning it has in a manual and where we have it from."""

    role: str
    language: str
    text: str
    source: str


@cache
def header_words() -> tuple[HeaderWord, ...]:
    """Return every row of the data file, in its order."""
    text = files("xref.data").joinpath("header_words.csv").read_text(encoding="utf-8")
    return tuple(HeaderWord(**row) for row in csv.DictReader(text.splitlines()))


@lru_cache(maxsize=REMEMBERED)
def fold(text: str) -> str:
    """Fold a header text for comparison: case, accents' forms, punctuation and blanks."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    plain = plain.replace("№", "no").replace("nº", "n°").replace("n.º", "n°")
    tokens = _NOISE.sub(" ", plain).split()
    if len(tokens) > 1:
        tokens = ["no" if t in _NUMBER_WORDS else t for t in tokens]
    return " ".join(tokens)


def fold_lines(lines: Sequence[str]) -> list[list[str]]:
    """Fold each line as `fold` does and cut it into words, all lines at once for speed."""
    if not lines:
        return []
    plain = unicodedata.normalize("NFKC", _BREAK.join(lines)).casefold()
    plain = plain.replace("№", "no").replace("nº", "n°").replace("n.º", "n°")
    folded = [line.split() for line in _NOISE.sub(" ", plain).split(_BREAK)]
    for place, tokens in enumerate(folded):
        if len(tokens) > 1 and not _NUMBER_WORDS.isdisjoint(tokens):
            folded[place] = ["no" if t in _NUMBER_WORDS else t for t in tokens]
    return folded


@cache
def words_of(role: str) -> frozenset[str]:
    """Return the folded words of one role, in all languages."""
    return frozenset(f for w in header_words() if w.role == role and (f := fold(w.text)))


@cache
def roles_by_word() -> dict[str, tuple[str, ...]]:
    """Map each folded word to its roles, in the order of the data file."""
    found: dict[str, list[str]] = {}
    for word in header_words():
        roles = found.setdefault(fold(word.text), [])
        if word.role not in roles:
            roles.append(word.role)
    return {word: tuple(roles) for word, roles in found.items()}


@cache
def known_tokens() -> frozenset[str]:
    """Return every single word that stands in some word or phrase of the data file."""
    return frozenset(token for word in roles_by_word() for token in word.split())
