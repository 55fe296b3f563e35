"""Does a cell look like a colour? And cells that hold a colour beside a size, circuit or cavity."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from xref.colors.combine import is_glued, writing_readings
from xref.colors.decode import all_words
from xref.colors.language import words_of_kind
from xref.colors.schemes import Scheme, fold_code, schemes
from xref.colors.writing import Writing, fold_print, read_writing
from xref.data.wire_sizes import awg_numbers, awg_when_alone, mm2_sizes
from xref.data.words import REMEMBERED

# How sure one is that a text alone is a colour, by its shortest code. One letter may be a cavity or
# a side (L, R); two letters are seldom anything else in a table; three letters and words never are.
_ONE_LETTER, _TWO_LETTERS, _THREE_LETTERS = 0.3, 0.75, 0.95
#: Two single letters with a separator (`L/Y`); without one (`LY`, `R L`) they may be any abbreviation.
_LETTER_PAIR, _GLUED_LETTERS = 0.75, 0.4
#: Two longer codes glued (`BUYE`).
_GLUED_CODES = 0.85
#: Schemes that need a key are weaker evidence.
_LEGEND_ONLY_FACTOR = 0.6
#: Texts longer than this are sentences.
_LONGEST = 40
#: Likeness from which a part of a mixed cell counts as a colour.
_CLEAR = 0.7

_SEPARATOR = re.compile(r"[/()\[\]-]")
_DIGIT_OR_SIGN = re.compile(r"[\d+&@#%=?!_:;]")


def _score(writing: Writing, scheme: Scheme, *, separated: bool) -> float:
    readings = writing_readings(writing, scheme, False)
    if not readings:
        return 0.0
    parts = writing.parts + writing.bracket
    shortest = min(len(fold_code(part)) for part in parts)
    if is_glued(writing, readings[0]) and fold_code(parts[0]) not in scheme.special:
        score = _GLUED_CODES if shortest >= 4 and len(readings[0]) * 2 <= shortest else _GLUED_LETTERS
    elif len(parts) > 1:
        score = 1.0 if shortest > 1 else _LETTER_PAIR if separated else _GLUED_LETTERS
    else:
        score = (_ONE_LETTER, _TWO_LETTERS, _THREE_LETTERS)[min(shortest, 3) - 1]
    return score * (_LEGEND_ONLY_FACTOR if scheme.legend_only else 1.0)


@lru_cache(maxsize=REMEMBERED)
def color_likeness(text: str) -> float:
    """Return 0 to 1: how much a cell by itself looks like a colour code or colour words.

    Abbreviations that mean something else in most tables (`A/C`, `I/P`, `ON`) give 0, although a
    colour column may hold such a text: this tells columns apart, `decode` reads them.
    """
    plain = fold_print(text)
    if not plain or len(plain) > _LONGEST or _DIGIT_OR_SIGN.search(plain):
        return 0.0
    if "".join(plain.casefold().split()).replace("-", "/") in words_of_kind("not-color"):
        return 0.0
    writing = read_writing(plain)
    if writing is None:
        return 0.0
    if all_words(writing):
        return 1.0
    separated = bool(_SEPARATOR.search(plain))
    return max(_score(writing, scheme, separated=separated) for scheme in schemes().values())


def one_scheme_share(texts: Sequence[str], *, with_legends: bool = False) -> float:
    """Return the share of texts that one scheme reads, the best scheme's: single letters count here.

    `with_legends` also tries schemes that no document should be read by without a key.

    A column of `B`, `L`, `W/R` is one of colours by its whole content, although no cell is by itself.
    """
    read = [names for t in texts if (names := _schemes_that_read(t)) is not None]
    if not read:
        return 0.0
    votes = Counter(name for names in read for name in names)
    return max(
        votes[scheme.name] for scheme in schemes().values() if with_legends or not scheme.legend_only
    ) / len(texts)


@lru_cache(maxsize=REMEMBERED)
def _schemes_that_read(text: str) -> tuple[str, ...] | None:
    """Return the names of the schemes that read a text; None for a text that is no writing of colours."""
    writing = read_writing(fold_print(text))
    if writing is None:
        return None
    return tuple(s.name for s in schemes().values() if writing_readings(writing, s, False))


@dataclass(frozen=True, slots=True, kw_only=True)
class Combined:
    """The parts of a cell that holds more than a colour, each as printed; "" where there is none."""

    size: str
    color: str
    circuit: str
    rest: str


_NUMBER = re.compile(r"\d{1,3}(?:[.,]\d{1,2})?|[1-4]/0")
_UNIT = re.compile(r"(?i)mm[2²]?|mm\^2|㎟|sq\.?|sqmm|awg|ga\.?")
_SIZE_WITH_UNIT = re.compile(r"(?i)(\d{1,3}(?:[.,]\d{1,2})?|[1-4]/0)\s*(mm2|mm²|mm\^2|㎟|sq|awg|ga)")
#: Size and colour without a blank (`1.25R`, `1.0G/Y`); whole numbers need a colour of two codes.
_SIZE_GLUED = re.compile(r"(\d{1,2}[.,]\d{1,2})([^\W\d_].*)|(\d{1,2})([^\W\d_]{2,3}[/-][^\W\d_]{2,3})")
#: Glued behind a decimal these are units of volt, ampere and the like, at least as often as colours.
_UNIT_LETTERS = frozenset("vahzkm")
#: A shorter number beside a colour, without a sure size, is as likely a cavity.
_CIRCUIT_DIGITS = 3
_CIRCUIT = re.compile(r"(?=[^\s]*\d)[A-Za-z0-9][A-Za-z0-9._\-]{1,14}")
_REMARK = re.compile(r"\s*(\([^()]*\))$")


def _number(text: str) -> float:
    return float(text.replace(",", ".")) if "/" not in text else 0.0


def _is_decimal_size(text: str) -> bool:
    return bool(_NUMBER.fullmatch(text)) and ("." in text or "," in text) and _number(text) in mm2_sizes()


def _is_size(text: str) -> bool:
    """Tell whether a bare number is surely a size: a decimal, or a gauge seldom printed for mm².

    Small whole numbers (`2 WS`) are as likely a cavity.
    """
    return _is_decimal_size(text) or text in awg_when_alone() or (text in awg_numbers() and "/" in text)


def _unglued(text: str) -> list[str]:
    """Split a cell into tokens, and a size from the colour glued to it."""
    tokens: list[str] = []
    for token in text.split():
        glued = _SIZE_GLUED.fullmatch(token)
        if glued is None or _SIZE_WITH_UNIT.fullmatch(token):
            tokens.append(token)
            continue
        size, color = (glued.group(1) or glued.group(3)), (glued.group(2) or glued.group(4))
        if _is_size(size) and color.casefold() not in _UNIT_LETTERS and color_likeness(color) > 0:
            tokens += [size, color]
        else:
            tokens.append(token)
    return tokens


def _take_size(tokens: list[str]) -> tuple[str, list[str]]:
    """Take the one size out of the tokens: with a unit, else a decimal, else the only whole size."""
    for at, token in enumerate(tokens):
        behind = tokens[at + 1] if at + 1 < len(tokens) else ""
        if _SIZE_WITH_UNIT.fullmatch(token):
            return token, tokens[:at] + tokens[at + 1 :]
        if _NUMBER.fullmatch(token) and _UNIT.fullmatch(behind):
            return f"{token} {behind}", tokens[:at] + tokens[at + 2 :]
    decimals = [at for at, token in enumerate(tokens) if _is_decimal_size(token)]
    sizes = decimals or [at for at, token in enumerate(tokens) if _is_size(token)]
    if len(sizes) != 1:
        return "", tokens
    at = sizes[0]
    return tokens[at], tokens[:at] + tokens[at + 1 :]


def _take_color(tokens: list[str], least: float) -> tuple[str, list[str]]:
    """Take the longest run of tokens that is a colour, if nothing but a circuit is left over."""
    for length in range(len(tokens), 0, -1):
        for at in range(len(tokens) - length + 1):
            color = " ".join(tokens[at : at + length])
            if color_likeness(color) >= least:
                return color, tokens[:at] + tokens[at + length :]
    return "", tokens


@lru_cache(maxsize=REMEMBERED)
def split_combined(text: str) -> Combined | None:
    """Split a cell such as `0.5 BU/YE`, `1440A 0.5 BU/YE` or `1.25R`; None unless the pattern is clear.

    Needed are a colour and a size or a circuit, nothing else but a remark in brackets. A whole
    number beside a single letter (`5 W`, `12 V`) is not taken for size and colour.
    """
    plain = " ".join(text.split())
    if not plain or len(plain) > _LONGEST * 2:
        return None
    remark = _REMARK.search(plain)
    rest = remark.group(1) if remark and color_likeness(remark.group(1).strip("()")) == 0 else ""
    size, others = _take_size(_unglued(plain.removesuffix(rest).strip()))
    exact = bool(size) and any(c in size for c in ".,²2") and not size.isdigit()
    color, left = _take_color(others, _ONE_LETTER if exact else _CLEAR)
    if not color or len(left) > 1 or not (size or left):
        return None
    if len(color) == 1 and (color.casefold() in _UNIT_LETTERS or (color in "wW" and " " in plain)):
        return None
    circuit = left[0] if left else ""
    if circuit and (not _CIRCUIT.fullmatch(circuit) or _is_decimal_size(circuit)):
        return None
    needs_long_number = bool(circuit) and (not size or len(color) == 1)
    if needs_long_number and sum(c.isdigit() for c in circuit) < _CIRCUIT_DIGITS:
        return None
    return Combined(size=size, color=color, circuit=circuit, rest=rest)


#: In brackets behind a cavity a code of a scheme that needs a key is clear enough.
_IN_BRACKETS = 0.4
_CAVITY_COLOR = re.compile(r"([A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])\s*[(\[]?\s*([^\W\d_][^()\[\]\d]*?)\s*[)\]]")


@lru_cache(maxsize=REMEMBERED)
def split_cavity_color(text: str) -> tuple[str, str] | None:
    """Split `1(red)`, `1 (blk)` or `2 black)` into cavity and colour; None unless that is clear."""
    found = _CAVITY_COLOR.fullmatch(text.strip())
    if found is None or color_likeness(found.group(2)) < _IN_BRACKETS:
        return None
    return found.group(1), found.group(2)
