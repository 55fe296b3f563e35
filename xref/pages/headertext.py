"""Header words in plain text: is a line, or are a few short lines, the header of a pinout?"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from xref.data.words import roles_by_word

#: Roles whose words make a pinout's header line.
HEADER_ROLES = frozenset(
    {"cavity", "color", "circuit", "size", "function", "signal", "goes_to", "goes_from", "connector",
     "component", "splice", "ground", "fuse", "option", "half"}
)  # fmt: skip
#: One of these must be among them: a table of parts has names and sizes too.
CORE_ROLES = frozenset({"cavity", "color", "circuit", "signal"})
#: Share of a header line that is header words (the rest: a connector's name, a unit, a misprint).
VOCABULARY = 0.5
#: Roles a header needs; a second line of a two-line header counts with the first.
LEAST_ROLES = 2
#: So many roles, two of the core among them, make a header of a line with numbers: cells stand in between.
MANY_ROLES = 3
LEAST_NUMBERS = 2
#: Header cells that come as lines of their own follow within this many lines.
HEADER_WINDOW = 6
#: Longest header phrase in words.
LONGEST_PHRASE = 5
#: Longer lines are prose, in words; a header of two twin tables stays below.
LONGEST_HEADER = 24

#: Kana, ideographs and full-width forms: text without blanks between its words.
WIDE = re.compile(r"[\u3040-\u30ff\u3400-\u9fff\uff01-\uff60]")


def header_line(lines: list[str], folded: list[list[str]], *, wide: bool) -> str:
    """Return which roles a header among the lines names, "" if there is none.

    `folded` holds each line's folded words; `wide` says that text without blanks is among them.
    """
    recent: list[tuple[int, frozenset[str]]] = []
    starts = _longest_phrases().keys()
    for place, tokens in enumerate(folded):
        if starts.isdisjoint(tokens) and not wide:
            continue  # most lines hold no header word
        found = header_roles(lines[place], tokens)
        if not found:
            continue
        recent = [(p, r) for p, r in recent if place - p <= HEADER_WINDOW] + [(place, found)]
        roles = frozenset().union(*(r for _, r in recent))
        if len(roles) >= LEAST_ROLES and roles & CORE_ROLES:
            return "header words: " + ", ".join(sorted(roles))
    return ""


def header_roles(line: str, tokens: list[str]) -> frozenset[str]:
    """Return the roles a line names if at least half of it is header words, one role a word."""
    if not line.isascii() and WIDE.search(line):
        roles, covered, total = _wide_roles("".join(tokens))
    else:
        if len(tokens) > LONGEST_HEADER:
            return _roles_within(tokens)
        if not tokens:
            return frozenset()
        total = len(tokens)
        longest = _longest_phrases()
        starts = [longest[t] for t in tokens if t in longest]
        if len(starts) < MANY_ROLES and sum(starts) < VOCABULARY * total:
            return frozenset()  # most lines: whatever begins there, it is too little
        roles, covered = _phrase_roles(tokens)
        if len(roles) >= MANY_ROLES and len(roles & CORE_ROLES) >= LEAST_ROLES:
            numbers = sum(any(c.isdigit() for c in token) for token in tokens)
            if numbers >= LEAST_NUMBERS:
                return frozenset(roles)
    return frozenset(roles) if covered >= VOCABULARY * total else frozenset()


def all_roles(tokens: list[str]) -> tuple[set[str], int]:
    """Return the roles of a line's words, and how many of its words belong to tables that are no pinouts."""
    roles: set[str] = set()
    foreign = 0
    table = roles_by_word()
    place = 0
    while place < len(tokens):
        for length in range(min(LONGEST_PHRASE, len(tokens) - place), 0, -1):
            found = table.get(" ".join(tokens[place : place + length]), ())
            if found:
                roles.update(found)
                foreign += length if "distractor" in found else 0
                place += length
                break
        else:
            place += 1
    return roles, foreign


def _roles_within(tokens: list[str]) -> frozenset[str]:
    """Return the roles of a header inside a long line, as of a page whose text is one line.

    Many header words stand side by side there; prose has a word of them here and there.
    """
    roles: set[str] = set()
    for role, _ in _header_phrases(tokens):
        if role:
            roles.add(role)
        else:
            roles.clear()
        if len(roles) >= MANY_ROLES and len(roles & CORE_ROLES) >= LEAST_ROLES:
            return frozenset(roles)
    return frozenset()


def roles_anywhere(tokens: list[str]) -> frozenset[str]:
    """Return the roles of all header words among the tokens, wherever they stand."""
    return frozenset(_phrase_roles(tokens)[0])


def _phrase_roles(tokens: list[str]) -> tuple[set[str], int]:
    found = [(role, length) for role, length in _header_phrases(tokens) if role]
    return {role for role, _ in found}, sum(length for _, length in found)


def _header_phrases(tokens: list[str]) -> Iterator[tuple[str, int]]:
    """Cut a line into header phrases, the longest first, each with its role; "" for any other word."""
    table, longest = _header_table(), _longest_phrases()
    place = 0
    while place < len(tokens):
        role, length = "", 1
        if tokens[place] in longest:  # most words begin no header phrase
            for words in range(min(longest[tokens[place]], len(tokens) - place), 0, -1):
                role = table.get(" ".join(tokens[place : place + words]), "")
                if role:
                    length = words
                    break
        yield role, length
        place += length


def _wide_roles(plain: str) -> tuple[set[str], int, int]:
    """Match Japanese header words, which stand without blanks between them."""
    table = _header_table()
    longest = max(map(len, table))
    roles: set[str] = set()
    covered = place = 0
    while place < len(plain):
        for length in range(min(longest, len(plain) - place), 0, -1):
            piece = plain[place : place + length]
            # Latin words inside a Japanese line count only whole; single letters say nothing.
            if piece in table and (WIDE.search(piece) or length > 2):
                roles.add(table[piece])
                covered += length
                place += length
                break
        else:
            place += 1
    return roles, covered, len(plain)


@cache
def _header_table() -> dict[str, str]:
    """Map each folded header word to its first role that belongs to pinouts."""
    table = {}
    for word, roles in roles_by_word().items():
        role = next((r for r in roles if r in HEADER_ROLES), None)
        if role:
            table[word] = role
    return table


@cache
def _longest_phrases() -> dict[str, int]:
    """Map each word that begins a header phrase to the length of its longest phrase, in words."""
    longest: dict[str, int] = {}
    for phrase in _header_table():
        words = phrase.split()
        if words and len(words) <= LONGEST_PHRASE:
            longest[words[0]] = max(len(words), longest.get(words[0], 0))
    return longest
