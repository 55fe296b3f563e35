"""Small raised marks: a footnote's number is taken off the word it is glued to."""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import replace

from xref.pages.content import Word

#: A mark is at most this share of its word's font size …
SMALLER = 0.8
#: … its foot stands higher than the word's by at least this share of the word's size …
RAISED = 0.15
#: … its head no higher above the word's head than this …
HEAD_PLAY = 0.5
#: … and it begins no farther from the word's end than this.
MARK_GAP = 0.3
#: What a footnote mark looks like: numbers, a letter, stars and daggers.
_MARK = re.compile(r"[\d*†‡§¶#+a-zA-Z]{1,3}[),.]?(?:,\d{1,2})*|\(\w{1,2}\)")
_UNIT = re.compile(r"(?:^|[\d\s.,])(?:mm|cm|dm|m|in|ft)$")
_SUPERSCRIPTS = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789", strict=True))


def attach_raised_words(placed: list[tuple[float, Word]]) -> list[tuple[float, Word]]:
    """Move each small raised word that follows another into that word's `mark`.

    `placed` holds (baseline, word), top to bottom. "mm" with a raised 2 becomes "mm²", "N" with a
    raised o "N°": these belong to the text.
    """
    hosts: dict[int, tuple[float, Word]] = dict(enumerate(placed))
    smallest = min((word.size for _, word in placed), default=0.0)
    # On most pages nearly all words have one size, and none of them is host to another.
    large = [place for place, (_, word) in enumerate(placed) if smallest <= SMALLER * word.size]
    for place, (_, small) in enumerate(placed):
        if not large or not _MARK.fullmatch(small.text):
            continue
        host = _host(place, small, placed, large)
        if host is not None:
            base, word = hosts[host]
            hosts[host] = base, _with_raised(word, small)
            del hosts[place]
    return [hosts[place] for place in sorted(hosts)]


def _host(place: int, small: Word, placed: list[tuple[float, Word]], large: list[int]) -> int | None:
    """Return the place of the word the small one is glued to: close by, ending where it begins."""
    first, behind = bisect_left(large, place - NEIGHBOURS), bisect_left(large, place + NEIGHBOURS)
    for other in large[first:behind]:
        word = placed[other][1]
        if (
            small.size <= SMALLER * word.size
            and -MARK_GAP * word.size <= small.box.x0 - word.box.x1 <= MARK_GAP * word.size
            and small.box.bottom <= word.box.bottom - RAISED * word.size
            and small.box.bottom > word.box.top
            and small.box.top >= word.box.top - HEAD_PLAY * word.size
        ):
            return other
    return None


#: Words of the neighbouring lines that are looked at; a line of print has fewer words.
NEIGHBOURS = 120


def _with_raised(word: Word, small: Word) -> Word:
    box = word.box.union(small.box)
    if small.text in "23" and _UNIT.search(word.text):
        return replace(
            word, text=word.text + "²³"[int(small.text) - 2], edges=word.edges + small.edges, box=box
        )
    if small.text == "o" and word.text in ("N", "n"):
        return replace(word, text=word.text + "°", edges=word.edges + small.edges, box=box)
    return replace(word, mark=word.mark + small.text)


def split_superscripts(word: Word) -> Word:
    """Move superscript digits at a word's end into `mark`; those of a unit (`mm²`) stay.

    A word of nothing but superscripts stays as it is: it is the footnote's own number.
    """
    end = len(word.text)
    while end and word.text[end - 1] in _SUPERSCRIPTS:
        end -= 1
    if end in (0, len(word.text)) or _UNIT.search(word.text[:end]):
        return word
    raised = "".join(_SUPERSCRIPTS[c] for c in word.text[end:])
    return replace(word, text=word.text[:end], mark=word.mark + raised, edges=word.edges[:end])
