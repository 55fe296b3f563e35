"""A document's own key to its colour codes: pairs of code and colour word -> a key, or None."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from xref.colors.language import colors_of_word, initials
from xref.colors.schemes import Scheme, fold_code, fold_codes, schemes
from xref.colors.writing import fold_print

#: Fewer pairs than this are as likely a remark or a table of something else.
_FEWEST_PAIRS = 3
#: Share of pairs that must be code and colour word; the rest may be headings and remarks.
_SHARE_OF_PAIRS = 0.6
#: Share of codes that must be known for that colour or begin as one of its words does. It tells a
#: key from a pinout whose cavities are letters (`A red, B blue`).
_SHARE_PLAUSIBLE = 0.5
#: A colour's name, in two languages at most, has no more words than this.
_MOST_WORDS = 6
#: Codes of fewer letters may well be a word for another colour in some language (`or`).
_SHORTEST_WORD = 3
#: So few capitals are a code, not a word.
_LONGEST_CAPITALS = 3
CODE = re.compile(r"(?:(?:LT|DK|Lt|Dk|lt|dk)[ .]?)?[^\W\d_]{1,5}\.?")
_ALTERNATIVES = re.compile(r"\s*[/,;(){}\[\]=]\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColorKey:
    """Codes as printed -> colour names; codes given for several colours stand apart, unused."""

    codes: Mapping[str, str]
    duplicates: Mapping[str, tuple[str, ...]]

    def __hash__(self) -> int:
        return hash((tuple(self.codes.items()), tuple(self.duplicates.items())))


@lru_cache(maxsize=256)
def scheme_of_key(key: ColorKey) -> Scheme:
    """Return the key as a scheme, so that it is read by the same rules.

    Codes joined without separator keep IEC 60757's unknown order where the key only repeats it.
    """
    iec = schemes()["iec60757"]
    repeats_iec = all(iec.folded.get(fold_code(code)) == (color,) for code, color in key.codes.items())
    return Scheme(
        name="key",
        title="the document's own key",
        source="the document's own key",
        codes=key.codes,
        letter_case=any(_is_mixed(code) for code in key.codes),
        base_first=not repeats_iec,
        legend_only=False,
        special=iec.special if repeats_iec else {},
        folded=fold_codes(key.codes),
    )


def _is_mixed(code: str) -> bool:
    return code[:1].isupper() and any(c.islower() for c in code)


def _color_named(text: str) -> str:
    """Return the one colour a key's word column names, in one language or several; "" if none."""
    plain = fold_print(text).rstrip(".")
    whole = colors_of_word(plain)
    if whole:
        return whole[0] if len(whole) == 1 else ""
    named = [colors_of_word(piece) for piece in _ALTERNATIVES.split(plain) if piece]
    if not named or not all(named):
        return ""
    shared = set(named[0]).intersection(*named[1:])
    return shared.pop() if len(shared) == 1 else ""


def _may_pair(first: str, second: str) -> bool:
    """A code beside words without figures may be of a key; lines of a contents list beside it are not."""
    sides = [fold_print(t).strip(" ()[]:=") for t in (first, second)]
    if not all(sides) or any(c.isdigit() for side in sides for c in side):
        return False
    return any(CODE.fullmatch(side) for side in sides) and all(len(s.split()) <= _MOST_WORDS for s in sides)


def _pair(first: str, second: str, *, code_last: bool = False) -> tuple[str, str] | None:
    """Read a pair as code and colour; `code_last` counts only where both texts are colour words."""
    code, word = fold_print(first).strip(" ()[]:="), fold_print(second)
    ways = ((code, word), (word.strip(" ()[]:="), code))
    for printed, named in reversed(ways) if code_last else ways:
        color = _color_named(named)
        if color and CODE.fullmatch(printed) and not _names_another(printed, color):
            return printed.rstrip("."), color
    return None


def _codes_last(given: Iterable[tuple[str, str]]) -> bool:
    """Tell whether a key prints its codes behind the words, from pairs that can be read in one way only.

    `brown BLU` could be read both ways, for BLU is a word for blue, too.
    """
    votes = 0
    for first, second in given:
        one, other = _pair(first, second), _pair(first, second, code_last=True)
        if one is not None and one == other:
            votes += 1 if fold_print(second).strip(" ()[]:=").rstrip(".") == one[0] else -1
    return votes > 0


def _names_another(code: str, color: str) -> bool:
    """Tell whether a code is itself a word for another colour: `gelb-grün` is a wire, no line of a key."""
    named = colors_of_word(code)
    short = code.isupper() and len(code) <= _LONGEST_CAPITALS  # a code, whatever it may mean elsewhere
    return len(code) >= _SHORTEST_WORD and not short and bool(named) and color not in named


def is_plausible(code: str, color: str) -> bool:
    """Tell whether a code could stand for a colour: known for it, or its first letter fits."""
    folded = fold_code(code)
    if any(color in scheme.folded.get(folded, ()) for scheme in schemes().values()):
        return True
    plain = color.removeprefix("light ").removeprefix("dark ")
    letters = initials().get(color, frozenset()) | initials().get(plain, frozenset())
    return folded[:1] in letters or (plain != color and folded[:1] in "ldh")


def _chains(given: Iterable[tuple[str, str]]) -> list[list[tuple[str, str]]]:
    """Part pairs of neighbours into runs along one line: `BK black`, `black BN`, `BN brown`."""
    chains: list[list[tuple[str, str]]] = []
    for pair in given:
        if chains and chains[-1][-1][1] == pair[0]:
            chains[-1].append(pair)
        else:
            chains.append([pair])
    return chains


def _one_phase(chain: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Where a line holds several codes with their words, keep the pairs in step: a word has one code."""
    read = [_pair(first, second) for first, second in chain]
    if len(chain) < 2 or not all(read):
        return chain
    likely = [is_plausible(*pair) for pair in read if pair]
    return chain[::2] if sum(likely[::2]) >= sum(likely[1::2]) else chain[1::2]


def read_key(pairs: Iterable[tuple[str, str]]) -> ColorKey | None:
    """Read (code, colour word) pairs as a document's colour key; None if they are no key.

    A code given for two colours is reported in `duplicates` and never used.
    """
    given = [(first, second) for first, second in pairs if _may_pair(first, second)]
    given = [pair for chain in _chains(given) for pair in _one_phase(chain)]
    last = _codes_last(given)
    found = [pair for first, second in given if (pair := _pair(first, second, code_last=last))]
    if len(found) < _FEWEST_PAIRS or len(found) < _SHARE_OF_PAIRS * len(given):
        return None
    sides = [{fold_print(t).strip(" ()[]:=").casefold() for t in pair} for pair in given]
    codes = {code.casefold() for code, _ in found}
    if any(side <= codes for side in sides if len(side) > 1):
        return None  # codes beside codes: two columns of wires, no key
    plausible = sum(is_plausible(code, color) for code, color in found)
    if plausible < _SHARE_PLAUSIBLE * len(found):
        return None
    colors: dict[str, list[str]] = {}
    for code, color in found:
        named = colors.setdefault(code, [])
        if color not in named:
            named.append(color)
    if len({color for named in colors.values() for color in named}) < _FEWEST_PAIRS:
        return None
    return _colors_to_key(colors)


def _colors_to_key(colors: Mapping[str, Sequence[str]]) -> ColorKey:
    return ColorKey(
        codes={code: named[0] for code, named in colors.items() if len(named) == 1},
        duplicates={code: tuple(named) for code, named in colors.items() if len(named) > 1},
    )


def key_to_pairs(key: ColorKey | None) -> tuple[tuple[str, str], ...]:
    """Return a key as pairs of code and colour, to be kept; a code given twice stands twice."""
    if key is None:
        return ()
    return (*key.codes.items(), *((code, c) for code, colors in key.duplicates.items() for c in colors))


def pairs_to_key(pairs: Iterable[tuple[str, str]]) -> ColorKey:
    """Return the key that was kept as pairs."""
    colors: dict[str, list[str]] = {}
    for code, color in pairs:
        colors.setdefault(code, []).append(color)
    return _colors_to_key(colors)
