"""Signs of a pinout (or of a colour key) in plain text: header words, counting cavities, codes."""

from __future__ import annotations

import csv
import itertools
import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

from xref.data.words import fold, words_of
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
#: So many `Pin 7`, `XX/YY` or `X12-7` are no accident.
LEAST_MENTIONS = 3
LEAST_PAIRS = 4
LEAST_REFERENCES = 5
#: Colour names on so many short lines make a key or a colour column.
LEAST_COLOR_LINES = 4
LEAST_COLORS = 3
SHORT_LINE = 9
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

#: 7, A3, 87a, (7), 7., and with a colour behind it: 7(red).
_CAVITY = re.compile(r"\(?([A-Za-z]{0,2})[-.]?(\d{1,3})([a-z]?)[.:)]{0,2}(?:\([A-Za-z/]+\)?)?$")
#: A torque: the screw threads beside it (M8, M6, M5) are no cavities.
_TORQUE = re.compile(r"\d\s?N[·.]?m\b")
_LETTER = re.compile(r"\(?([A-Za-z])[.:)]{0,2}$")
_CODE = re.compile(
    r"[A-Z][A-Z0-9_+/.\-]{1,14}$|\d{3,6}[A-Za-z]{0,2}$|\d+[.,]\d+$|[A-Za-z]{1,3}[/-][A-Za-z]{1,3}$|\S+_\S+$"
)
_PAIR = re.compile(r"(?<![\w/])([A-Za-z]{1,3}[/\-–‑][A-Za-z]{1,3})(?![\w/])")
_REFERENCE = re.compile(r"(?<!\w)[A-Z]{1,3}\d{0,3}[-.:/]\d{1,3}(?!\w)")
_DESIGNATOR = re.compile(r"(?<!\w)[A-Z]{1,3}\d{0,3}[ .\-/]?[A-Z]?\d{1,4}(?!\w)")
#: A cell that holds nothing but a code: BK, sw br, 1440, 38.7, 27-357, L4-17.
_CELL_CODE = re.compile(r"(?:[A-Za-z]{1,3}[ /-]?[A-Za-z]{0,3}|[A-Z]{0,3}\d{3,6}[A-Z]?|[A-Z]?\d+[-.]\d+)$")
_INVISIBLE = re.compile("[\u00ad\u200b-\u200f\u2060-\u2064\ufeff]")


def pinout_evidence(text: str) -> str:
    """Return the reason why a page with this text may hold pinouts, "" if there is none."""
    found = _evidence(_INVISIBLE.sub("", text))
    if not found and SOFT_HYPHEN in text:
        # Some producers name a font's hyphen so: Kammer-Nr. must not become KammerNr.
        found = _evidence(_INVISIBLE.sub("", text.replace(SOFT_HYPHEN, "-")))
    return found


def _evidence(text: str) -> str:
    lines = [line for raw in text.splitlines() if (line := raw.strip())]
    folded = [fold(line) for line in lines]
    return (
        header_line(lines, folded)
        or _mentions(folded)
        or _chain(lines)
        or _color_names(lines, folded)
        or _codes(text)
        or _row_of_cavities(lines, folded)
        or _heading(lines, folded)
        or _scattered(lines, folded)
        or _last_rows(lines)
        or _few_words(folded)
    )


def _mentions(folded: list[str]) -> str:
    """Count lines such as `Pin 7 – text`."""
    cavity = words_of("cavity")
    numbers = set()
    for plain in folded:
        tokens = plain.split()
        for word, number in itertools.pairwise(tokens):
            if word in cavity and word != "#" and _CAVITY.match(number):
                numbers.add(number)
    return f"{len(numbers)} cavities named in the text" if len(numbers) >= LEAST_MENTIONS else ""


def _cavity_keys(tokens: list[str]) -> Iterator[tuple[str, int]]:
    """Yield (series, number) for each token that could be a cavity: 7, A3, 87a, C."""
    for token in tokens:
        if len(token) > 1 and token.isalpha():
            continue  # most tokens of a manual are words
        match = _CAVITY.match(token)
        if match:
            yield match[1].upper() + match[3], int(match[2])
        elif letter := _LETTER.match(token):
            yield "letter", ord(letter[1].upper())


def _chain(lines: list[str]) -> str:
    """Look for cavities that count on down the page, up or down by one or two, with codes beside them."""
    codes, entries = [0], [0]
    chains: dict[tuple[str, int, int], tuple[int, int, int]] = {}  # key, step sign: length, first line, last
    for place, line in enumerate(lines):
        tokens = [] if _TORQUE.search(line) else line.split()
        codes.append(codes[-1] + (0 if _is_sentence(tokens) else sum(map(_is_code, tokens))))
        entries.append(entries[-1] + (2 <= len(tokens) <= ENTRY and not line.endswith(".")))
        for series, number in set(_cavity_keys(tokens)):
            for sign in (1, -1):
                best = (1, place, place)
                for step in (1, 2):
                    before = chains.get((series, number - sign * step, sign))
                    if before and 0 < place - before[2] <= CHAIN_GAP and before[0] + 1 > best[0]:
                        best = (before[0] + 1, before[1], place)
                chains[series, number, sign] = best
                length, first, _ = best
                coded = length >= LEAST_CHAIN and codes[place + 1] - codes[first] >= CODED * length
                if coded or (length >= LEAST_PLAIN_CHAIN and entries[place + 1] - entries[first] >= length):
                    return f"cavities counting on over {length} lines and more"
    return ""


def _is_code(token: str) -> bool:
    if token.isalpha() and token.islower():
        return False  # most tokens of a manual are words
    return bool(_CODE.match(token) or (not token.isascii() and WIDE.match(token)))


def _is_sentence(tokens: list[str]) -> bool:
    """Tell a line of prose, whose numbers are no codes, from a row with a long text in it."""
    if len(tokens) < SENTENCE:
        return False
    end = () if tokens[-1].endswith(".") else tokens[-ROW_END:]
    if any(map(_is_code, (*tokens[:ROW_START], *end))):
        return False
    return sum(t.isalpha() and t.islower() for t in tokens) >= LOWER_SHARE * len(tokens)


def _color_names(lines: list[str], folded: list[str]) -> str:
    """Look for short lines with colour names: the key to the codes, or a column of spelled colours."""
    names = color_names()
    seen: set[str] = set()
    count = keys = 0
    for line, plain in zip(lines, folded, strict=True):
        tokens = plain.split()
        found = [t for t in tokens if t in names]
        if WIDE.search(line):
            found += [name for name in names if not name.isascii() and WIDE.match(name) and name in plain]
        if found and len(tokens) <= SHORT_LINE:
            count += 1
            seen.update(names[name] for name in found)
            keys += any(0 < len(t) <= 4 and t.isalpha() and t not in names for t in tokens)
    if count < LEAST_COLOR_LINES or len(seen) < LEAST_COLORS:
        return ""
    return "colour key" if 2 * keys >= count else "colour names"


def _codes(text: str) -> str:
    pairs = _PAIR.findall(text)
    if len(pairs) >= LEAST_PAIRS and len(set(pairs)) >= LEAST_PAIRS - 1:
        return "colour code pairs"
    references = set(_REFERENCE.findall(text))
    return "cavity references" if len(references) >= LEAST_REFERENCES else ""


def _row_of_cavities(lines: list[str], folded: list[str]) -> str:
    """Look for a line that counts 1 2 3 4: the cavities of a table that lies on its side."""
    cavity = words_of("cavity")
    for line, plain in zip(lines, folded, strict=True):
        numbers = [int(t) for t in line.split() if t.isdecimal() and len(t) <= 3]
        run = best = 1
        for one, other in itertools.pairwise(numbers):
            run = run + 1 if other - one in (1, 2) else 1
            best = max(best, run)
        if best >= LEAST_CHAIN and any(t in cavity for t in plain.split()):
            return "cavities counting on along a line"
    return ""


def _heading(lines: list[str], folded: list[str]) -> str:
    words = words_of("connector") | words_of("inline") | words_of("splice") | words_of("ground")
    headed = any(
        len(line.split()) <= SHORT_LINE
        and _DESIGNATOR.search(line)
        and any(word in words for word in _phrases(plain.split()))
        for line, plain in zip(lines, folded, strict=True)
    )
    if not headed:
        return ""
    coded = sum(sum(bool(_CODE.match(t)) for t in line.split()) >= 2 for line in lines)
    return "connector heading" if coded >= LEAST_CODE_LINES else ""


def _scattered(lines: list[str], folded: list[str]) -> str:
    """Look for a table whose cells come one by one, in columns or in no order at all."""
    cells = [place for place, line in enumerate(lines) if len(line.split()) <= CELL_WORDS]
    if len(cells) < CELL_SHARE * len(lines):
        return ""
    roles: set[str] = set()
    for place in cells:
        # A header cell may share its line with cells of its rows: Kontakt-Nr. 3 4.
        kept = " ".join(t for t in lines[place].split() if not any(c.isdigit() for c in t))
        roles |= header_roles(kept, fold(kept))
    if len(roles) >= LEAST_ROLES and roles & CORE_ROLES:
        return "header words in cells: " + ", ".join(sorted(roles))
    keys = {key for place in cells for key in _cavity_keys(lines[place].split()[:1])}
    codes = sum(bool(_CELL_CODE.match(lines[place])) for place in cells)
    for series, number in sorted(keys):
        length = 1
        while (series, number + length) in keys:
            length += 1
        if LEAST_CHAIN < length <= codes:
            return f"cells counting from {series}{number} with codes beside them"
    return ""


def _last_rows(lines: list[str]) -> str:
    """Look for the last one or two rows of a table at the head of a page: a cavity, then two codes."""
    for line in lines[:HEAD_LINES]:
        tokens = line.split()
        if len(tokens) < 3:
            continue
        if next(_cavity_keys(tokens[:1]), None):
            beside = tokens[1:4]
            strong = sum(bool(_CODE.match(t)) for t in beside)
            if strong and sum(bool(_CODE.match(t) or _CELL_CODE.match(t)) for t in beside) >= ROW_CODES:
                return "a row of codes at the head of the page"
        # The circuit may stand before the cavity: L35-04 T2 YE.
        circuit, cavity, color = tokens[:3]
        if (
            any(c.isdigit() for c in circuit)
            and _CODE.match(circuit)
            and next(_cavity_keys([cavity]), None)
            and _CODE.match(color)
        ):
            return "a row of codes at the head of the page"
    return ""


def _few_words(folded: list[str]) -> str:
    """Look for header words anywhere among the few words of a page whose lines came out jumbled."""
    tokens = " ".join(folded).split()
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
