"""A key to colour codes in running text, cheaply told: `BK black, BN brown`, `sw = schwarz; br = braun`."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

#: A key runs over so few lines; so many different colours in them stand beside a code.
LINES = 4
LEAST_COLORS = 3
#: Letters before or behind a colour's name: capitals with a blank between, any with a sign, or in a list.
_SIGN = r"[ \t]*[=:＝：(（/–—-][ \t]*"
_BEFORE = re.compile(rf"(?:(?<![^\W_])[A-Z]{{1,3}}[ \t]+|(?<![^\W\d_])[^\W\d_]{{1,5}}{_SIGN})$")
_BEHIND = re.compile(rf"(?:[ \t]+[A-Z]{{1,3}}(?![^\W_])|{_SIGN}[^\W\d_]{{1,5}}(?![^\W\d_]))")
_LISTED = re.compile(r"(?:^|[,;:])[ \t]*[^\W\d_]{1,3}[ \t]+$")
_LIST_ENDS = re.compile(r"[ \t]*(?:[,;.]|$)")
#: Words between a code and its colour (`BK stands for black`) are this long together.
_SAID = re.compile(r"(?<![^\W_])[A-Z]{1,3}(?:[ \t]+[^\W\d_]{2,8}){1,2}[ \t]+$")
#: As far as this a code is looked for before a name, in characters.
_REACH = 28
_WORD = re.compile(r"[^\W\d_]+")


def is_running_key(lines: Sequence[str], names: Mapping[str, str], wide: Collection[str]) -> bool:
    """Tell whether a few lines that follow one another name enough colours beside codes."""
    told = [_tied(line, names, wide) for line in lines]
    for at, here in enumerate(told):
        if here and len(set().union(*told[at : at + LINES])) >= LEAST_COLORS:
            return True
    return False


def _tied(line: str, names: Mapping[str, str], wide: Collection[str]) -> set[str]:
    """Return the colours a line names beside a code."""
    found: set[str] = set()
    places = [(m.start(), m.end(), m.group().casefold()) for m in _WORD.finditer(line)]
    places = [place for place in places if place[2] in names]
    places += [(m.start(), m.end(), name) for name in wide for m in re.finditer(re.escape(name), line)]
    for start, end, name in places:
        before = line[max(0, start - _REACH) : start]
        listed = _LISTED.search(before) and _LIST_ENDS.match(line, end)
        if listed or _BEFORE.search(before) or _BEHIND.match(line, end) or _SAID.search(before):
            found.add(names[name])
    return found
