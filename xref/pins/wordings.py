"""Words of a heading that are looked for again and again: each role's, and those for `continued`."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from xref.data.words import REMEMBERED, fold, words_of


@lru_cache(maxsize=REMEMBERED)
def has_word(text: str, role: str) -> str:
    """Return the longest word of a role that stands in a text, or ""."""
    folded = f" {fold(text)} "
    return next((word for word, within in _searched(role) if within in folded), "")


@cache
def _searched(role: str) -> tuple[tuple[str, str], ...]:
    """Return the words of a role, longest first, each with the text to search for: blanks part words."""
    words = sorted((w for w in words_of(role) if len(w) > 2), key=lambda w: (-len(w), w))
    return tuple((w, w if any(ord(c) > 0x2FFF for c in w) else f" {w} ") for w in words)


@cache
def word_patterns(role: str) -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Return the words of a role, the longest first, each as it stands in a heading, "No." and all."""
    words = sorted((w for w in words_of(role) if len(w) > 2), key=lambda w: (-len(w), w))
    number = r"(?:\s*(?:no|nr|n°|n)\.?)?[\s:#.]*"
    return tuple((w, re.compile(rf"(?<!\w){re.escape(w)}{number}")) for w in words)


def says_continued(text: str) -> bool:
    """True when a word for `continued` stands in a text."""
    return _any_word().search(text) is not None


def without_continued(text: str) -> tuple[str, bool]:
    """Return a text without such a word and the brackets or dashes round it, and whether there was one."""
    if says_continued(text):  # most texts have none, and one look at them is enough
        for pattern in _patterns():
            if pattern.search(text):
                return pattern.sub(" ", text).strip(), True
    return text, False


@cache
def _any_word() -> re.Pattern[str]:
    words = "|".join(map(re.escape, _words()))
    return re.compile(rf"(?<!\w)(?:{words})(?!\w)", re.IGNORECASE)


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    words = map(re.escape, _words())
    return tuple(re.compile(rf"[\s(\[–-]*(?<!\w){w}(?!\w)[.\s)\]]*", re.IGNORECASE) for w in words)


def _words() -> list[str]:
    """Return the words, the longest first."""
    return sorted(words_of("continued"), key=lambda w: (-len(w), w))
