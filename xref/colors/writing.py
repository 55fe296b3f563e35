"""How colours are printed: a cell's text -> the parts that each name one colour."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from xref.colors.language import color_words, fold_word, shades_behind, words_of_kind
from xref.data.words import REMEMBERED

#: Hyphens, dashes and the minus sign: all separate colours alike.
_DASHES = re.compile("[\u2010-\u2015\u2212\ufe63\uff0d\u30fc]")
#: Soft hyphen and zero-width characters carry no meaning.
_INVISIBLE = re.compile("[\u00ad\u200b-\u200d\u2060\ufeff]")
#: Footnote marks glued to a code: `BK*`, superscript digits.
_FOOTNOTE = re.compile("[*†‡\u00b9\u00b2\u00b3\u2070-\u2079]+$")
_SEPARATOR = re.compile(r"\s*[/\-／]\s*")
_BRACKETS = re.compile(r"^([^()\[\]]+?)\s*[(\[]\s*([^()\[\]]+?)\s*[)\]]$")
#: `BU w/ YE`: "with". The blank before it and after it tell it from the code W and a slash.
_WITH_SLASH = re.compile(r"(?<=\S)\s[wW]/(?=\s)|(?<=\S)\sw/(?=\S)")
#: More colours than base, stripe and ring are no wire.
MOST_PARTS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """The parts of a colour text; `bracket` is what stood in brackets behind them."""

    parts: tuple[str, ...]
    bracket: tuple[str, ...] = ()


@lru_cache(maxsize=REMEMBERED)
def fold_print(text: str) -> str:
    """Fold what printing adds: white space, dashes, invisible characters, footnote marks."""
    plain = " ".join(_INVISIBLE.sub("", text).split())
    return _FOOTNOTE.sub("", _DASHES.sub("-", plain)).strip()


@cache
def _shade_words() -> frozenset[str]:
    return words_of_kind("light") | words_of_kind("dark")


def _merge_phrases(tokens: list[str]) -> list[str]:
    """Join shade words with the colour they belong to, and colour words of several parts."""
    merged: list[str] = []
    position = 0
    while position < len(tokens):
        token, following = tokens[position], tokens[position + 1 : position + 2]
        pair = f"{token} {following[0]}" if following else ""
        folded, after = fold_word(token), fold_word(following[0]) if following else ""
        shade_first = folded.rstrip(".") in _shade_words() and bool(after)
        shade_last = after in shades_behind() and folded in color_words()
        if shade_first or shade_last or fold_word(pair) in color_words():
            merged.append(f"{token.rstrip('.')} {following[0]}")
            position += 2
        else:
            merged.append(token)
            position += 1
    return merged


def _is_phrase(text: str) -> bool:
    return fold_word(text) in color_words()


def _split(text: str) -> tuple[str, ...]:
    """Split by separators, then by blanks, leaving out joining words and words for the stripe."""
    parts: list[str] = []
    joined = re.sub(r"(?i)\b(lt|dk)[.\-]+\s*(?=\w)", r"\1 ", _WITH_SLASH.sub(" ", f" {text}").strip())
    for piece in _SEPARATOR.split(joined):
        if not piece:
            return ()
        tokens = _merge_phrases(piece.split())
        spoken = len(tokens) > 1
        dropped = words_of_kind("joiner") | words_of_kind("mark")
        parts += [t for t in tokens if not (spoken and fold_word(t) in dropped)]
    return tuple(parts)


@lru_cache(maxsize=REMEMBERED)
def read_writing(text: str) -> Writing | None:
    """Split a colour text into parts; None when it cannot be one wire's colour."""
    plain = fold_print(text)
    if not plain or len(plain) > 60:
        return None
    if _is_phrase(plain):
        return Writing(parts=(plain,))
    bracket: tuple[str, ...] = ()
    if found := _BRACKETS.match(plain):
        plain, inside = found.group(1), found.group(2)
        bracket = _split(inside)
        if not bracket:
            return None
    parts = _split(plain)
    if not parts or len(parts) > MOST_PARTS or len(bracket) > MOST_PARTS:
        return None
    return Writing(parts=parts, bracket=bracket)
