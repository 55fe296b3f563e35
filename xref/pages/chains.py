"""Cavities that count on down a page, which every list of pins does, with header or without."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from xref.data.words import REMEMBERED, roles_by_word
from xref.pages.headertext import HEADER_ROLES, WIDE, all_roles

#: So many cavities in a row that count on are a list; every list needs codes beside the numbers.
LEAST_CHAIN = 4
#: Codes a cavity; unused ones have none.
CODED = 0.6
#: Without codes, in lines of up to `ENTRY` words that end in no full stop, it takes more of them.
LEAST_PLAIN_CHAIN = 6
ENTRY = 6
#: A sentence has at least so many words, so large a share of them lower-case, and no code among the first
#: few words, or at its end without a full stop, where the columns of a row would stand.
SENTENCE = 8
LOWER_SHARE = 0.6
ROW_START, ROW_END = 4, 2
#: Lines between one cavity and the next (wrapped text, two wires in a cavity).
CHAIN_GAP = 6
#: A header of so many words for torques, faults, parts or pages, and none for colours, circuits or signals,
#: stands over numbers that are no cavities.
FOREIGN_WORDS = 2

#: 7, A3, 87a, (7), 7., and with a colour behind it: 7(red).
CAVITY = re.compile(r"\(?([A-Za-z]{0,2})[-.]?(\d{1,3})([a-z]?)[.:)]{0,2}(?:\([A-Za-z/]+\)?)?$")
#: A connector's name: X12, M12 X1, C204.
DESIGNATOR = re.compile(r"(?<!\w)[A-Z]{1,3}\d{0,3}[ .\-/]?[A-Z]?\d{1,4}(?!\w)")
#: A torque: the screw threads beside it (M8, M6, M5) are no cavities.
_TORQUE = re.compile(r"\d\s?N[·.]?m\b")
_LETTER = re.compile(r"\(?([A-Za-z])[.:)]{0,2}$")
_CODE = re.compile(
    r"[A-Z][A-Z0-9_+/.\-]{1,14}$|\d{3,6}[A-Za-z]{0,2}$|\d+[.,]\d+$|[A-Za-z]{1,3}[/-][A-Za-z]{1,3}$|\S+_\S+$"
)

Key = tuple[str, int]
Chain = tuple[int, int, int]  # length, first line, last line


def chain(lines: list[str], words: list[list[str]], folded: list[list[str]]) -> str:
    """Say that cavities count on down the page, up or down by one or two, with codes beside them; else ""."""
    chains: dict[tuple[str, int, int], Chain] = {}  # series, number, sign of the step
    counts: dict[int, int] = {}
    foreign = False
    starts = _foreign_starts()
    for place, tokens in enumerate(words):
        if foreign or not starts.isdisjoint(folded[place]):
            foreign = _stays_foreign(foreign, lines[place], tokens, folded[place])
            if foreign:
                continue
        keys = _line_keys(tokens)
        if not keys or _TORQUE.search(lines[place]):
            continue
        for series, number in keys:
            for sign in (1, -1):
                best = (1, place, place)
                for step in (1, 2):
                    before = chains.get((series, number - sign * step, sign))
                    if before and 0 < place - before[2] <= CHAIN_GAP and before[0] + 1 > best[0]:
                        best = (before[0] + 1, before[1], place)
                chains[series, number, sign] = best
                if best[0] >= LEAST_CHAIN and _is_list(best, lines, words, counts):
                    return f"cavities counting on over {best[0]} lines and more"
    return ""


def _is_list(found: Chain, lines: list[str], words: list[list[str]], counts: dict[int, int]) -> bool:
    """Tell a list of pins from numbers that count on by chance: codes, or short entries, stand beside."""
    length, first, last = found
    codes = entries = 0
    for place in range(first, last + 1):
        if place not in counts:
            counts[place] = _line_codes(lines[place], words[place])
        codes += counts[place]
        entries += 2 <= len(words[place]) <= ENTRY and not lines[place].endswith(".")
    return codes >= CODED * length or (length >= LEAST_PLAIN_CHAIN and entries >= length)


def _line_codes(line: str, tokens: list[str]) -> int:
    if _TORQUE.search(line) or _is_sentence(tokens):
        return 0
    return sum(map(is_code, tokens))


def _line_keys(tokens: list[str]) -> set[Key]:
    return {key for keys in map(cavity_keys, tokens) if keys for key in keys}


@lru_cache(maxsize=REMEMBERED)
def cavity_keys(token: str) -> tuple[Key, ...]:
    """Return (series, number) of a word that could be a cavity: 7, A3, 87a, C; nothing for others."""
    if match := CAVITY.match(token):
        return ((match[1].upper() + match[3], int(match[2])),)
    if letter := _LETTER.match(token):
        return (("letter", ord(letter[1].upper())),)
    return ()


@lru_cache(maxsize=REMEMBERED)
def is_code(token: str) -> bool:
    """Tell a code (BK, 1440, L4-17, CAN_H; any Japanese text) from a word of prose."""
    if _is_small(token):
        return False
    return is_plain_code(token) or (not token.isascii() and WIDE.match(token) is not None)


@lru_cache(maxsize=REMEMBERED)
def is_plain_code(token: str) -> bool:
    """Tell a code in Latin letters and digits."""
    return _CODE.match(token) is not None


def _is_sentence(tokens: list[str]) -> bool:
    """Tell a line of prose, whose numbers are no codes, from a row with a long text in it."""
    if len(tokens) < SENTENCE:
        return False
    end = () if tokens[-1].endswith(".") else tokens[-ROW_END:]
    if any(map(is_code, (*tokens[:ROW_START], *end))):
        return False
    return sum(map(_is_small, tokens)) >= LOWER_SHARE * len(tokens)


@lru_cache(maxsize=REMEMBERED)
def _is_small(token: str) -> bool:
    return token.isalpha() and token.islower()


@cache
def _foreign_starts() -> frozenset[str]:
    """Return the words that begin a header word of tables that are no pinouts."""
    return frozenset(w.split()[0] for w, roles in roles_by_word().items() if w and "distractor" in roles)


def _stays_foreign(foreign: bool, line: str, tokens: list[str], folded: list[str]) -> bool:
    """Say whether a line stands under the header of a table that is no pinout, or is that header.

    Such a table ends where a line that is no row of it names a connector.
    """
    if _is_foreign_header(folded):
        return True
    return foreign and not (
        len(tokens) <= ENTRY and not cavity_keys(tokens[0]) and DESIGNATOR.search(line) is not None
    )


def _is_foreign_header(folded: list[str]) -> bool:
    roles, foreign = all_roles(folded)
    return foreign >= FOREIGN_WORDS and foreign * 2 >= len(folded) and not roles & _WIRES


#: Roles that no table of bolts, faults or spare parts has.
_WIRES = HEADER_ROLES & {"color", "circuit", "signal"}
