"""Cavity cells that name several cavities: lists, ranges, `5 + 11`, `3 to 9`, `4–9 not used`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from xref.data.words import fold, words_of
from xref.rows.content import CAVITY, CONNECTOR_CAVITY, clean_cavity, is_unused

#: The most cavities a range may stand for; longer ones are no range of cavities.
LONGEST_RANGE = 200

_RANGE = re.compile(
    r"([A-Z]{0,2})(\d{1,3})\s*(?:[-–—‐‑−]|…|\.\.\.?|~|〜|to|bis|à|au|a|al|hasta|thru|through)\s*([A-Z]{0,2})(\d{1,3})",
    re.IGNORECASE,
)
_AND = re.compile(r"\s*(?:[,;&+/、]|\band\b|\bund\b|\bet\b|\by\b|\be\b|\s)\s*", re.IGNORECASE)


def expand(text: str) -> list[str]:
    """Return the cavities a cell stands for; [] when it is not a list or range of cavities."""
    bare = clean_cavity(text)
    if CAVITY.fullmatch(bare) and not re.fullmatch(r"\d{1,3}[-–]\d{1,3}", bare):
        return [bare]
    out: list[str] = []
    rest, blank = bare, False
    while rest:
        span = _RANGE.match(rest)
        if span:
            run = _run(span)
            if not run:
                return []
            out += run
            rest = rest[span.end() :]
        else:
            one = re.match(r"[A-Z]{0,3}\d{1,3}[a-z]?|[A-Z]\d?", rest, re.IGNORECASE)
            if not one:
                return []
            out.append(one.group())
            rest = rest[one.end() :]
        if rest:
            gap = _AND.match(rest)
            if not gap or gap.end() == 0:
                return []
            blank = blank or not gap.group().strip()
            rest = rest[gap.end() :]
    # With a blank alone between them, `1 K503` is a cavity and the number of its wire.
    return [] if blank and len({c.rstrip("0123456789") for c in out}) > 1 else out


def _run(span: re.Match[str]) -> list[str]:
    letters, low, letters_to, high = span.groups()
    if letters_to and letters_to != letters:
        return []
    first, last = int(low), int(high)
    if not first < last <= first + LONGEST_RANGE:
        return []
    width = len(low) if low.startswith("0") else 0
    return [f"{letters}{n:0{width}d}" for n in range(first, last + 1)]


def unused_range(text: str) -> list[str]:
    """Return the cavities of a text such as "4–9 not used"; [] when it says something else."""
    match = re.match(
        r"\s*((?:[A-Z]{0,2}\d{1,3}|[\s,;&+–—-]|to|bis|à|hasta|al|…)+)\s*[:=]?\s*(.+)$", text, re.IGNORECASE
    )
    if not match or not is_unused(match.group(2).strip(" .")):
        return []
    return expand(match.group(1).strip(" –—-,"))


def odd_cavity(text: str) -> bool:
    """A short text with a colour in it (`1(red)`) or an unusual name is kept as printed."""
    return (
        0 < len(text) <= 14
        and bool(re.match(r"[A-Z]{0,3}\d", text, re.IGNORECASE))
        and len(text.split()) <= 2
    )


def connector_in(text: str) -> tuple[str, str]:
    """Split `X5:3` or `C204/7` into connector and cavity; ("", text) for anything else."""
    match = CONNECTOR_CAVITY.fullmatch(text.strip())
    return (match.group(1), match.group(2)) if match else ("", text)


#: A place of a list: a connector (`XP7`, `-X63`, `A40.X6`, `50J3`), a sign or a word, one of its cavities.
_PLACE = re.compile(
    r"([-+=]?(?=[A-Z0-9./]*\d)(?=[A-Z0-9./]*[A-Z])[A-Z0-9]{1,7}(?:[./][A-Z0-9]{1,4})?)"
    r"(?:\s?:\s?|[-/.]|\s+([^\W\d]{2,}\.?)\s+)"
    r"((?:[A-Z]{0,2}\d{1,3}[a-z]?|[A-Z])(?![\w.]))"
)
_BETWEEN_PLACES = re.compile(r"\s*(?:[,;/+&→–—]|--?>?)?\s*")
#: A column lists places when this share of its cells does, and one of them at least has two.
PLACES = 0.8
#: Where each line holds one place, this share of the lines names another connector than the line before.
MOVES = 0.7


def connectors_listed(text: str) -> list[tuple[str, str]]:
    """Split `H1-29, H1-30, H2/A3` or `XP7 pin 8 – XP62 pin 16` into connectors and cavities; else []."""
    bare = text.strip(" ,;")
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(bare):
        place = _PLACE.match(bare, at)
        if place is None or (place.group(2) and fold(place.group(2)) not in words_of("cavity")):
            return []
        found.append((place.group(1), place.group(3)))
        at = place.end()
        gap = _BETWEEN_PLACES.match(bare, at)
        if gap and at < len(bare) and gap.end() == at:
            return []
        at = gap.end() if gap else at
    return found


def lists_places(texts: Sequence[str]) -> bool:
    """True for a column that says where each wire goes: every connector with its cavity.

    Either some cells name several places, or the places are those of one wire line by line: then each
    names another connector than the line before, where the cavities of one connector would count on.
    """
    filled = [t for t in texts if t]
    places = [found for t in filled if (found := connectors_listed(t))]
    if len(places) < max(2, PLACES * len(filled)):
        return False
    if any(len(found) > 1 for found in places):
        return True
    moves = [a[0][0] != b[0][0] for a, b in pairwise(places)]
    plain = all(":" in t or " " in t for t in filled)  # `L12-04` may be the number of a wire
    return plain and sum(moves) >= MOVES * len(moves)


def names_places(texts: Sequence[str]) -> bool:
    """True for cavities that name a connector each; a single `A1-A3` among cavities is a range of them."""
    filled = [t for t in texts if t]
    named = [t for t in filled if connectors_listed(t) or CONNECTOR_CAVITY.fullmatch(t.strip())]
    return bool(named) and len(named) >= PLACES * len(filled)


def end_of_wire(text: str, cavity: str) -> tuple[str, str]:
    """Part the end of a wire into connector and cavity, where no column of its own holds the cavity."""
    if cavity:
        return text, cavity
    if len(places := connectors_listed(text)) == 1:
        return places[0]
    match = re.fullmatch(
        r"(.+?)\s*(?:[:/]|\bpin\b|\s-\s)\s*([A-Z]{0,2}\d{0,3}[a-z]?)", text.strip(), re.IGNORECASE
    )
    return (match.group(1).strip(), match.group(2)) if match and match.group(2) else (text, "")
