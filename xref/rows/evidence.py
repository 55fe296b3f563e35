"""What a column's cells speak for and against: for each role a number from -1 (no) to 1 (surely)."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from xref.colors.recognise import color_likeness
from xref.data.wire_sizes import awg_numbers, mm2_sizes
from xref.rows.content import (
    CONNECTOR_CAVITY,
    cavity_share,
    circuit_share,
    color_column,
    color_share,
    combined_share,
    is_dash,
    is_ditto,
    is_sequence,
    is_unused,
    listed,
    named_share,
    size_share,
    without_footnote,
)
from xref.tables.lines import is_wide_script

#: Roles that cells can speak for by themselves.
BY_CONTENT = ("cavity", "color", "size", "circuit", "function", "goes_to")
#: A column of so many clear codes of one scheme is one of colours whatever stands over it.
SURE_COLORS = 3
SURE_SHARE = 0.95
#: A code is clear from this likeness on.
CLEAR_CODE = 0.75
#: Cavities that run on in order are this much surer; numbers that do so are that much less likely circuits.
IN_ORDER = 0.3
#: Cavities that do not are so much less sure.
NO_ORDER = 0.7
#: The name of a signal, one token without small letters (`CAN_H`, `!RESET`, `+24V`, `GPIO1_6`), and the
#: share of texts that must be such names.
SIGNAL = re.compile(r"[!~/#+\-]?[A-Z0-9][A-Z0-9_+\-./#*()]*")
SIGNALS = 0.8
#: A colour's word has so many letters, and this share of a column must be words to be written out.
LONG_WORD = 4
IN_WORDS = 0.6
#: A word of text: three letters together.
_NUMBER_OF_SIZE = re.compile(r"(?:AWG\s*|#\s?)?(\d{1,3}(?:[.,]\d{1,3})?|\d/0)", re.IGNORECASE)
WORD = re.compile(r"[^\W\d_]{3,}|[぀-ヿ一-鿿]{2,}")


def filled_texts(texts: Sequence[str]) -> list[str]:
    """Return the texts that say something: no blanks, dashes, dittos, words for unused."""
    bare = [without_footnote(t) for t in texts]
    return [t for t in bare if t and not is_dash(t) and not is_unused(t) and not is_ditto(t)]


@lru_cache(maxsize=512)
def column_evidence(texts: tuple[str, ...]) -> Mapping[str, float]:
    """Return for each role of `BY_CONTENT` how far the cells speak for it; {} where none says anything."""
    filled = filled_texts(texts)
    if not filled:
        return {}
    several = [piece for t in filled for piece in listed(t)]
    colors = max(color_share(filled), combined_share(filled))
    if several != filled:
        colors = max(colors, color_share(several))
    glued = [m.group(2) for t in filled if (m := CONNECTOR_CAVITY.fullmatch(t))]
    order = is_sequence(glued if len(glued) == len(filled) else filled)
    cavities = _both_ways(cavity_share(filled))
    return {
        "cavity": cavities + IN_ORDER if order else NO_ORDER * cavities,
        "color": _both_ways(colors),
        "size": _sizes(filled),
        "circuit": _circuits(filled, colors, order=order),
        "function": 0.7 * _both_ways(sum(_is_text(t) for t in filled) / len(filled)),
        "goes_to": _both_ways(named_share(filled)),
    }


def _both_ways(share: float) -> float:
    return 2.0 * share - 1.0


def _sizes(filled: Sequence[str]) -> float:
    share = size_share(filled)
    known = sum(_known_size(t) for t in filled) / len(filled)
    decimal = any("." in t or "," in t for t in filled)
    repeats = len(set(filled)) < len(filled) or len(filled) < 3
    return (
        _both_ways(share * (0.5 + 0.5 * known))
        * (1.0 if decimal or not is_sequence(filled) else 0.2)
        * (1.0 if repeats else 0.6)
    )


def _known_size(text: str) -> bool:
    number = _NUMBER_OF_SIZE.match(text.strip())
    if number is None:
        return False
    bare = number.group(1).replace(",", ".")
    return bare in awg_numbers() or ("/" not in bare and float(bare) in mm2_sizes())


def _circuits(filled: Sequence[str], colors: float, *, order: bool) -> float:
    value = 0.8 * _both_ways(circuit_share(filled))
    if colors >= CLEAR_CODE:
        return min(value, -0.8)
    if order:
        value -= IN_ORDER
    if size_share(filled) >= SURE_SHARE and any("." in t or "," in t for t in filled):
        value -= IN_ORDER
    return value


def _is_text(text: str) -> bool:
    return bool(WORD.search(text)) and color_likeness(text) < CLEAR_CODE


def names_of_signals(texts: Sequence[str]) -> bool:
    """True when nearly all texts are names such as `CAN_H`, `!RESET`, `+24V`."""
    return sum(bool(SIGNAL.fullmatch(t)) for t in texts) >= SIGNALS * len(texts)


def sure_colors(texts: Sequence[str]) -> bool:
    """True for a column of colours whatever stands over it: several, nearly all clear or of one scheme."""
    filled = filled_texts(texts)
    if len(filled) < SURE_COLORS:
        return False
    clear = sum(color_likeness(t) >= CLEAR_CODE for t in filled)
    return clear >= SURE_SHARE * len(filled) or (color_column(filled) and len(set(filled)) >= SURE_COLORS)


def sure_cavities(texts: Sequence[str]) -> bool:
    """True for cavities that run on in order from the first row to the last, none twice."""
    filled = filled_texts(texts)
    return (
        len(filled) >= SURE_COLORS
        and len(filled) == len([t for t in texts if t])
        and cavity_share(filled) >= SURE_SHARE
        and is_sequence(filled)
        and len(set(filled)) == len(filled)
    )


def in_words(texts: Sequence[str]) -> bool:
    """True where colours are written out as words, as in lists of lamps, seals and keys."""
    said = filled_texts(texts)
    words = [t for t in said if is_wide_script(t) or (len(t) >= LONG_WORD and t.isalpha() and t.islower())]
    return len(words) >= IN_WORDS * len(said)
