"""What a text says of a half of an in-line connector: its mark, its contacts, its harness."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.data.heading_words import word_pattern
from xref.data.words import REMEMBERED, fold, words_of
from xref.pins.heading import without_number
from xref.pins.wordings import has_word
from xref.tables.lines import is_wide_script

#: A mark is as short as this: `A`, `1`, `M`, `Bu`.
MARK = re.compile(r"[A-Z][A-Za-z]?|[A-Z]?\d{1,2}|[a-z]")
#: The mark may stand in one word with the name: `X5A`, `X5-M`, `X5/1`.
GLUED = re.compile(r"[-/.]?([A-Z]{1,2})(?![\w-])|[-/.](\d)(?![\w-])")
#: Where the pieces of a text about a half part.
PIECES = re.compile(r"[,;:|·•()\[\]（）：、]|\s/\s|(?:^|\s)[–—-](?=\s|$)|[–—]")
#: Two halves have this share of their cavities in common, and so many at least.
ALIKE = 0.6
FEWEST = 2
#: Fields of `Said`, the most telling first.
FIELDS = ("mark", "short", "gender", "harness")


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What is said of a half, as printed; blank where nothing is."""

    mark: str = ""  #: beside a word for half or side: `half A`
    short: str = ""  #: by itself: `X5 A`, `(M)`
    gender: str = ""  #: `male`, `Stiftseite`
    harness: str = ""
    place: str = ""  #: any other words: `chassis`

    def best(self) -> str:
        """Return the shortest way to name the half."""
        return self.mark or self.short or self.gender or self.harness


@lru_cache(maxsize=REMEMBERED)
def said_of_half(text: str, connector: str = "") -> Said:
    """Take a heading, or the header over one half, apart; the connector's name in it says nothing."""
    found: dict[str, str] = {}
    for piece in _pieces(without_number(text), connector):
        for field, value in _facts(piece):
            found.setdefault(field, value)
    return Said(**found)


def is_connector_word(text: str) -> bool:
    """True for a word that may stand for any connector: `plug` tells a half only where another is none."""
    return fold(text) in words_of("connector")


def two_halves(one: Said, other: Said) -> tuple[str, str]:
    """Return how two halves are told apart, in the words printed; blank where nothing does."""
    for field in (*FIELDS, "place"):
        a, b = getattr(one, field), getattr(other, field)
        if a and b and fold(a) != fold(b):
            return a, b
    return "", ""


def share_cavities(one: Iterable[str], other: Iterable[str]) -> bool:
    """True for the cavities of two tables that may be halves: most are in both, and two at least."""
    both, either = set(one), set(other)
    both, either = both & either, both | either
    return len(both) >= FEWEST and len(both) >= ALIKE * len(either)


def _pieces(text: str, connector: str) -> Iterator[str]:
    """Yield the pieces of a text without the connector's name; a mark in one word with it comes first."""
    before, found, after = text.partition(connector) if connector else (text, "", "")
    glued = GLUED.match(after) if found else None
    if glued:
        yield glued.group(1) or glued.group(2)
        after = after[glued.end() :]
    for part in (after, before):
        for piece in PIECES.split(part):
            if piece.strip(" -–—./*"):
                yield piece.strip(" -–—./*")


def _facts(piece: str) -> Iterator[tuple[str, str]]:
    """Yield what one piece says, each with the field it belongs to."""
    rest = " ".join(t for t in _without_half(piece).split() if fold(t) not in _kinds())
    sided = rest != " ".join(piece.split())
    if fold(piece) in _genders():
        yield "gender", rest if rest and not _is_contact_side(piece, rest) else piece
    elif not rest:
        return
    elif MARK.fullmatch(rest):
        yield "mark" if sided else "short", rest
    elif fold(rest) in _genders():
        yield "gender", piece if _is_contact_side(piece, rest) else rest
    else:
        yield from _of_words(rest)


def _of_words(text: str) -> Iterator[tuple[str, str]]:
    """Yield what several words say: `M engine harness`, `male engine harness`, `engine harness`, `cab`."""
    first, _, behind = text.partition(" ")
    if behind and fold(first) in _genders():
        yield "gender", first
        text = behind
    elif behind and MARK.fullmatch(first) and first.isupper():
        yield "short", first
        text = behind
    if is_harness(text):
        yield "harness", text
    else:
        last = text.split()[-1]
        if fold(last) in _genders():
            yield "gender", last
        yield "place", text


def is_harness(text: str) -> bool:
    """True for a name of a harness: a word for it, or one that is part of a word, and something beside."""
    word = has_word(text, "harness")
    if word:
        return fold(text) != word
    return any(t.endswith(w) and t != w for t in fold(text).split() for w in _harness_words())


def _is_contact_side(piece: str, word: str) -> bool:
    """True for `pin side`, `plug side`: the word alone would name a cavity, or the whole connector."""
    return bool(word_pattern("side").search(piece)) and fold(word) in words_of("cavity") | words_of(
        "connector"
    )


def _without_half(text: str) -> str:
    """Leave words for a half out (`half A`, `A-Seite`); in `side-shift` they are part of another word."""
    return " ".join(rest for token in text.split() if (rest := _rest_of(token)))


def _rest_of(token: str) -> str:
    """Return what a word says besides `half` or `side`."""
    mark, _, word = token.rpartition("-")
    for pattern in (word_pattern("half"), word_pattern("side")):
        if pattern.fullmatch(token):
            return ""
        if MARK.fullmatch(mark) and pattern.fullmatch(word):
            return mark
        if is_wide_script(token[-1:]):
            token = pattern.sub("", token)
    return token


@cache
def _genders() -> frozenset[str]:
    return words_of("male") | words_of("female")


@cache
def _kinds() -> frozenset[str]:
    """Return the words that say only that there is a connector."""
    words = {t for w in words_of("connector") | words_of("inline") for t in w.split() if len(t) > 2}
    return frozenset(words - _genders() - words_of("harness"))


@cache
def _harness_words() -> frozenset[str]:
    return frozenset(w for w in words_of("harness") if len(w) > 4 or any(ord(c) > 0x2FFF for c in w))
