"""Signs of a pinout (or of a colour key) in plain text: header words, counting cavities, codes."""

from __future__ import annotations

import csv
import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from xref.data.words import fold, fold_lines, words_of
from xref.pages.chains import CAVITY, DESIGNATOR, LEAST_CHAIN, cavity_keys, chain, is_plain_code
from xref.pages.glyphs import SOFT_HYPHEN
from xref.pages.headertext import (
    CORE_ROLES,
    LEAST_ROLES,
    MANY_ROLES,
    WIDE,
    header_line,
    header_roles,
    roles_anywhere,
)
from xref.pages.runningkey import is_running_key

#: So many `Pin 7`, `XX/YY` or `X12-7` are no accident.
LEAST_MENTIONS = 3
LEAST_PAIRS = 4
LEAST_REFERENCES = 5
#: Colour names on so many short lines make a key or a colour column.
LEAST_COLOR_LINES = 4
LEAST_COLORS = 3
SHORT_LINE = 9
#: Entries that run on along a line have so many words each; so many of them share a line with the one before.
LONGEST_ENTRY = 4
LEAST_WITHIN = 2
#: Cells that come as lines of their own have few words, and so have most lines of such a page.
CELL_WORDS = 4
CELL_SHARE = 0.6
#: The rest of a table that broke over the page stands within so many lines, with so many codes a row.
HEAD_LINES = 8
ROW_CODES = 2
#: With so few words a page is read in full for header words alone: it costs little.
FEW_WORDS = 80
#: A heading with a connector's word and name counts with so many lines of codes.
LEAST_CODE_LINES = 4

_PAIR = re.compile(r"(?<![\w/])([A-Za-z]{1,3}[/\-–‑][A-Za-z]{1,3})(?![\w/])")
_REFERENCE = re.compile(r"(?<!\w)[A-Z]{1,3}\d{0,3}[-.:/]\d{1,3}(?!\w)")
#: A cell that holds nothing but a code: BK, sw br, 1440, 38.7, 27-357, L4-17.
CELL_CODE = re.compile(r"(?:[A-Za-z]{1,3}[ /-]?[A-Za-z]{0,3}|[A-Z]{0,3}\d{3,6}[A-Z]?|[A-Z]?\d+[-.]\d+)$")
_INVISIBLE = re.compile("[\u00ad\u200b-\u200f\u2060-\u2064\ufeff]")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Text:
    """A page's text: its lines, each line's words as printed, and each line's words folded."""

    lines: list[str]
    words: list[list[str]]
    folded: list[list[str]]
    wide: bool  #: some of it is written without blanks between words


def pinout_evidence(text: str) -> str:
    """Return the reason why a page with this text may hold pinouts, "" if there is none."""
    found = _evidence(_visible(text))
    if not found and SOFT_HYPHEN in text:
        # Some producers name a font's hyphen so: Kammer-Nr. must not become KammerNr.
        found = _evidence(_visible(text.replace(SOFT_HYPHEN, "-")))
    return found


def _visible(text: str) -> str:
    return text if text.isascii() else _INVISIBLE.sub("", text)


def _evidence(whole: str) -> str:
    lines = [line for raw in whole.replace("\0", " ").splitlines() if (line := raw.strip())]
    text = _Text(
        lines=lines,
        words=[line.split() for line in lines],
        folded=fold_lines(lines),
        wide=not whole.isascii() and WIDE.search(whole) is not None,
    )
    return (
        header_line(text.lines, text.folded, wide=text.wide)
        or _mentions(text)
        or chain(text.lines, text.words, text.folded)
        or _color_names(text)
        or _codes(text)
        or _row_of_cavities(text)
        or _entries_along(text)
        or _heading(text)
        or _scattered(text)
        or _last_rows(text)
        or _few_words(text)
        or _running_key(text)
    )


def _running_key(text: _Text) -> str:
    names = color_names()
    wide = [name for name in names if not name.isascii() and WIDE.match(name)] if text.wide else []
    if not wide and not any(names.keys() & tokens for tokens in map(set, text.folded)):
        return ""
    return "colour key" if is_running_key(text.lines, names, wide) else ""


def _mentions(text: _Text) -> str:
    """Count lines such as `Pin 7 – text`."""
    cavity = words_of("cavity")
    numbers = set()
    for tokens in text.folded:
        if cavity.isdisjoint(tokens):
            continue
        for word, number in itertools.pairwise(tokens):
            if word in cavity and word != "#" and CAVITY.match(number):
                numbers.add(number)
    return f"{len(numbers)} cavities named in the text" if len(numbers) >= LEAST_MENTIONS else ""


def _color_names(text: _Text) -> str:
    """Look for short lines with colour names: the key to the codes, or a column of spelled colours."""
    names = color_names()
    wide_names = [name for name in names if not name.isascii() and WIDE.match(name)] if text.wide else []
    seen: set[str] = set()
    count = keys = 0
    for line, tokens in zip(text.lines, text.folded, strict=True):
        found = [] if names.keys().isdisjoint(tokens) else [t for t in tokens if t in names]
        if wide_names and WIDE.search(line):
            plain = " ".join(tokens)
            found += [name for name in wide_names if name in plain]
        if found and len(tokens) <= SHORT_LINE:
            count += 1
            seen.update(names[name] for name in found)
            keys += any(0 < len(t) <= 4 and t.isalpha() and t not in names for t in tokens)
    if count < LEAST_COLOR_LINES or len(seen) < LEAST_COLORS:
        return ""
    return "colour key" if 2 * keys >= count else "colour names"


def _codes(text: _Text) -> str:
    # Plain words, which most are, cannot match and take the longest to search.
    searched = " ".join(t for tokens in text.words for t in tokens if not t.isalnum())
    pairs = _PAIR.findall(searched)
    if len(pairs) >= LEAST_PAIRS and len(set(pairs)) >= LEAST_PAIRS - 1:
        return "colour code pairs"
    references = set(_REFERENCE.findall(searched))
    return "cavity references" if len(references) >= LEAST_REFERENCES else ""


def _row_of_cavities(text: _Text) -> str:
    """Look for a line that counts 1 2 3 4: the cavities of a table that lies on its side."""
    cavity = words_of("cavity")
    for words, tokens in zip(text.words, text.folded, strict=True):
        if cavity.isdisjoint(tokens):
            continue
        numbers = [int(t) for t in words if t.isdecimal() and len(t) <= 3]
        run = best = 1
        for one, other in itertools.pairwise(numbers):
            run = run + 1 if other - one in (1, 2) else 1
            best = max(best, run)
        if best >= LEAST_CHAIN:
            return "cavities counting on along a line"
    return ""


def _entries_along(text: _Text) -> str:
    """Look for entries that run on along the lines, as in a sentence: 1 GND 2 +5V 3 CAN H 4 CAN L."""
    run = before = within = 0
    since = LONGEST_ENTRY + 1
    for words in text.words:
        fresh = True
        for token in words:
            if not token.isdecimal() or len(token) > 3:
                since += 1
                continue
            number = int(token)
            if number == before + 1 and 1 <= since <= LONGEST_ENTRY:
                run += 1
                within += not fresh
            else:
                run, within = 1, 0
            before, since, fresh = number, 0, False
            if run >= LEAST_CHAIN and within >= LEAST_WITHIN:
                return "cavities counting on between entries"
    return ""


def _heading(text: _Text) -> str:
    words, first_words = _heading_words()
    headed = any(
        len(printed) <= SHORT_LINE
        and not first_words.isdisjoint(tokens)
        and any(phrase in words for phrase in _phrases(tokens))
        and DESIGNATOR.search(line)
        for line, printed, tokens in zip(text.lines, text.words, text.folded, strict=True)
    )
    if not headed:
        return ""
    coded = sum(sum(map(is_plain_code, printed)) >= 2 for printed in text.words)
    return "connector heading" if coded >= LEAST_CODE_LINES else ""


@cache
def _heading_words() -> tuple[frozenset[str], frozenset[str]]:
    """Return words that name a connector in its heading, and the first word of each."""
    words = words_of("connector") | words_of("inline") | words_of("splice") | words_of("ground")
    return words, frozenset(word.split()[0] for word in words if word)


def _scattered(text: _Text) -> str:
    """Look for a table whose cells come one by one, in columns or in no order at all."""
    cells = [place for place, words in enumerate(text.words) if len(words) <= CELL_WORDS]
    if len(cells) < CELL_SHARE * len(text.lines):
        return ""
    roles: set[str] = set()
    for place in cells:
        # A header cell may share its line with cells of its rows: Kontakt-Nr. 3 4.
        kept = [t for t in text.words[place] if not any(c.isdigit() for c in t)]
        if kept:
            line = " ".join(kept)
            roles |= header_roles(line, fold(line).split())
    if len(roles) >= LEAST_ROLES and roles & CORE_ROLES:
        return "header words in cells: " + ", ".join(sorted(roles))
    keys = {key for place in cells for token in text.words[place][:1] for key in cavity_keys(token)}
    codes = sum(bool(CELL_CODE.match(text.lines[place])) for place in cells)
    for series, number in sorted(keys):
        length = 1
        while (series, number + length) in keys:
            length += 1
        if LEAST_CHAIN < length <= codes:
            return f"cells counting from {series}{number} with codes beside them"
    return ""


def _last_rows(text: _Text) -> str:
    """Look for the last one or two rows of a table at the head of a page: a cavity, then two codes."""
    for tokens in text.words[:HEAD_LINES]:
        if len(tokens) < 3:
            continue
        if cavity_keys(tokens[0]):
            beside = tokens[1:4]
            strong = any(map(is_plain_code, beside))
            if strong and sum(is_plain_code(t) or bool(CELL_CODE.match(t)) for t in beside) >= ROW_CODES:
                return "a row of codes at the head of the page"
        # The circuit may stand before the cavity: L35-04 T2 YE.
        circuit, cavity, color = tokens[:3]
        if (
            any(c.isdigit() for c in circuit)
            and is_plain_code(circuit)
            and cavity_keys(cavity)
            and is_plain_code(color)
        ):
            return "a row of codes at the head of the page"
    return ""


def _few_words(text: _Text) -> str:
    """Look for header words anywhere among the few words of a page whose lines came out jumbled."""
    tokens = list(itertools.chain.from_iterable(text.folded))
    if len(tokens) > FEW_WORDS:
        return ""
    roles = roles_anywhere(tokens)
    if len(roles) >= MANY_ROLES and len(roles & CORE_ROLES) >= LEAST_ROLES:
        return "header words among few: " + ", ".join(sorted(roles))
    return ""


def _phrases(tokens: list[str]) -> Iterator[str]:
    for start in range(len(tokens)):
        for length in range(1, min(3, len(tokens) - start) + 1):
            yield " ".join(tokens[start : start + length])


@cache
def color_names() -> dict[str, str]:
    """Map colour names of six languages to their English name."""
    text = files("xref.data").joinpath("color_words.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return {fold(row["word"]): row["color"] for row in rows if row["kind"] == "color"}
