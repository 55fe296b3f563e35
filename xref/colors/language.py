"""Colour words of several languages, and the small words printed around them."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files

from xref.data.words import REMEMBERED

#: Longest colour word in parts ("sky blue", "bleu ciel").
_MOST_WORDS = 3
#: Languages that put the shade behind the colour.
_SHADE_BEHIND = frozenset({"fr", "es", "it"})


def fold_word(text: str) -> str:
    """Fold a word for comparison: case, and white space to single blanks."""
    return " ".join(text.casefold().split())


@cache
def _rows() -> tuple[dict[str, str], ...]:
    text = files("xref.data").joinpath("color_words.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def words_of_kind(kind: str) -> frozenset[str]:
    """Return the folded words of one kind: color, light, dark, joiner, mark, not-color, means, and."""
    return frozenset(fold_word(row["word"]) for row in _rows() if row["kind"] == kind)


@cache
def shades_behind() -> frozenset[str]:
    """Return the light and dark words that stand behind their colour (`bleu clair`, `verde oscuro`)."""
    rows = (row for row in _rows() if row["kind"] in ("light", "dark"))
    return frozenset(fold_word(row["word"]) for row in rows if row["language"] in _SHADE_BEHIND)


@cache
def color_words() -> Mapping[str, tuple[str, ...]]:
    """Map each folded colour word to its colours; more than one where languages disagree."""
    found: dict[str, list[str]] = {}
    for row in _rows():
        if row["kind"] == "color":
            colors = found.setdefault(fold_word(row["word"]), [])
            if row["color"] not in colors:
                colors.append(row["color"])
    return {word: tuple(colors) for word, colors in found.items()}


@cache
def initials() -> Mapping[str, frozenset[str]]:
    """Map each colour to the first letters of its words in all languages."""
    found: dict[str, set[str]] = {}
    for word, colors in color_words().items():
        for color in colors:
            found.setdefault(color, set()).add(word[0])
    return {color: frozenset(letters) for color, letters in found.items()}


@cache
def shaded(color: str, shade: str) -> str:
    """Return the light or dark form of a plain colour; "" where it already has a shade."""
    return "" if color.startswith(("light ", "dark ")) else f"{shade} {color}"


@cache
def _shade_prefix() -> re.Pattern[str]:
    words = sorted(words_of_kind("light") | words_of_kind("dark"), key=len, reverse=True)
    return re.compile(rf"({'|'.join(map(re.escape, words))})[ .\-]*(.+)", re.DOTALL)


@cache
def _shade_suffix() -> re.Pattern[str]:
    words = sorted(shades_behind(), key=len, reverse=True)
    return re.compile(rf"(.+?)[ \-]+({'|'.join(map(re.escape, words))})", re.DOTALL)


def shade_and_rest(text: str) -> tuple[str, str]:
    """Split `LT GRN`, `hellblau` or `bleu clair` into ("light", "GRN"); ("", text) without a shade."""
    folded = fold_word(text)
    if found := _shade_prefix().fullmatch(folded):
        word, rest = found.group(1), found.group(2)
    elif found := _shade_suffix().fullmatch(folded):
        rest, word = found.group(1), found.group(2)
    else:
        return "", text
    return ("light" if word in words_of_kind("light") else "dark"), rest


@lru_cache(maxsize=REMEMBERED)
def colors_of_word(text: str) -> tuple[str, ...]:
    """Return the colours a full word or phrase may mean ("hellblau", "dark green"); () if it is none."""
    folded = fold_word(text)
    plain = color_words().get(folded)
    if plain is not None or len(folded.split()) > _MOST_WORDS:
        return plain or ()
    shade, rest = shade_and_rest(folded)
    if not shade:
        return ()
    found = (shaded(color, shade) for color in color_words().get(rest, ()))
    return tuple(color for color in found if color)
