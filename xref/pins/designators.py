"""The forms of designators: what in a text may be the name of a connector, always as a whole token."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from xref.data.words import REMEMBERED

#: A letter or digit of a script that is written with blanks; others may stand close to a designator.
_LETTER = r"A-Za-z0-9_\u00c0-\u024f"
#: Capitals with a dot before a number that name no connector.
_ABBREVIATED = r"(?:NO|NR|FIG|ABB|TAB|ART|REV|VER|PAG|SEC|CAP|POS|REF|VOL|ED|COD|CAT|NUM)\b"
#: Reference designations after IEC 81346: function, place and product (`=27+S4-X131`).
_REFERENCE = r"(?:=[A-Z0-9]{1,6}(?:\.[A-Z0-9]{1,6})?(?:\+[A-Z0-9]{1,6})?|\+[A-Z0-9]{1,6})-[A-Z]{1,3}\d{1,4}"
#: Designators: letters then digits (`X5`, `C204`, `-A3`, `CN_12`), with a sub-connector (`M12 X1`, `X5.2`,
#: `A10-X2`), or with the name of the other half (`J5/P5`).
DESIGNATOR = re.compile(
    rf"(?<![{_LETTER}.-])"
    rf"(?:{_REFERENCE}"
    rf"|\d{{1,3}}[A-Z]{{1,2}}\d{{1,3}}(?![{_LETTER}\d])"
    rf"|-?[A-Z]{{1,5}}[-_]?\d{{1,4}}[A-Z]{{0,2}}"
    rf"|(?!{_ABBREVIATED})[A-Z]{{2,4}}\.\d{{1,4}})"
    rf"(?:(?:[.\s/-]|\s?\.\s?)X\d{{1,3}}|/[A-Z]{{1,3}}\d{{1,4}}|[./-]\d{{1,3}}[A-Z]?|[-/][A-Z]{{1,2}})?"
    rf"(?![{_LETTER}]|[./][{_LETTER}])"
    rf"|(?<![{_LETTER}.-])(?:\d{{1,3}}[A-Z]{{1,2}}\d{{1,3}}|-?[A-Z]{{1,5}}\d{{1,4}})\.[A-Z]{{1,2}}(?![{_LETTER}.])"
)
#: After a word for connector also a bare number, a letter, or a name in capitals counts.
LOOSE = re.compile(
    rf"(?<![{_LETTER}])([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)+|[A-Z]{{2,4}} \d{{1,3}}|[A-Z]{{0,4}}-?\d{{1,4}}[A-Z]?"
    rf"|[A-Z](?=\W|$))(?![{_LETTER}])"
)
#: A name of capitals and a number with a blank between.
SPACED = re.compile(rf"(?<![{_LETTER}.-])[A-Z]{{2,4}} \d{{1,3}}(?![{_LETTER}.-])")
#: One letter and a number with a blank between, where they are all that a line says.
MARK = re.compile(r"[A-Z] \d{1,3}")
#: A word with a digit in it, as it may be a name in a document that has many such names.
TOKEN = re.compile(r"(?=\S*\d)[^\W_](?:[\w./-]*\w)?")
#: A short name in capitals with a letter behind a hyphen.
HYPHENED = re.compile(rf"(?<![{_LETTER}-])[A-Z]{{2,5}}-[A-Z](?![{_LETTER}-])")
#: A short word with a dot before a number, as a name may be where many are like it: `St. 65`.
DOTTED = re.compile(
    rf"(?<![{_LETTER}.-])(?!(?i:{_ABBREVIATED}))[A-Z][a-z]{{1,3}}\. ?\d{{1,3}}(?![{_LETTER}.-])"
)
#: What goes on with a designator in the same word, behind it and before it.
_BEHIND = re.compile(rf"(?:[./_+-][A-Z0-9]{{1,4}})+(?![{_LETTER}])")
_BEFORE = re.compile(rf"(?<![{_LETTER}./+=-])(?:[=+]|[=+-]?(?:[A-Z0-9]{{1,5}}[./_+-])+)$")


class Token(NamedTuple):
    """A name with its place in a text."""

    name: str
    start: int
    end: int


@lru_cache(maxsize=REMEMBERED)
def shape_of(name: str) -> str:
    """Return the form of a designator, `A9.9` for `X15.6`: letters as A, runs of digits as 9."""
    return re.sub(r"\d+", "9", re.sub(r"[A-Z]", "A", name.strip().lstrip("-")))


def whole_token(match: re.Match[str], text: str) -> Token:
    """Return a match with what belongs to the same word: half a name (`60` of `60.7`) would be another's."""
    start, end = match.span()
    before = _BEFORE.search(text[:start])
    behind = _BEHIND.match(text, end)
    if before:
        start = before.start()
    if behind:
        end = behind.end()
    return Token(text[start:end].strip(), start, end)


def end_tokens(text: str) -> list[Token]:
    """Return the first and the last word of a heading where they hold a digit, or are like `ECM-B`."""
    text = text.rstrip(" .:;)]")
    first = DOTTED.match(text) or TOKEN.match(text) or HYPHENED.match(text)
    ends = (m for form in (DOTTED, TOKEN, HYPHENED) for m in form.finditer(text))
    last = next((m for m in ends if m.end() == len(text) and m.start() > 0), None)
    found = [m for m in (first, last) if m and (m.end() == len(text) or not text[m.end()].isalnum())]
    return [Token(m.group(), m.start(), m.end()) for m in found]


def spaced_tokens(text: str) -> list[Token]:
    """Return the names of capitals and a number with a blank between."""
    return [Token(m.group(), m.start(), m.end()) for m in SPACED.finditer(text)]
