"""Numbers of sections that look like designators (`J2 Fuse box` in section J): they name no connector."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.pins.running import running_titles
from xref.tables.lines import Line, box_of
from xref.tables.page import PageReading
from xref.tables.table import Around, Table

#: A letter of the chapter with a number, in front of a title.
NUMBERED = re.compile(r"([A-Z]{1,2})[-.]?(\d{1,3})(?:\.\d{1,2})*[.:)]?")
#: So many titles are numbered one after the other; none is left out over a longer run than this.
FEWEST = 3
LARGEST_STEP = 3


def without_sections(readings: Sequence[PageReading]) -> list[PageReading]:
    """Return the pages without the numbers of sections before titles.

    The letter must be that of the chapter, as the running head says (`Section J`), and the titles must
    count up from page to page.
    """
    letters = _letters_of_chapters(readings)
    numbered = {c for c in letters if _count_up(readings, c)} if letters else set()
    if not numbered:
        return list(readings)
    return [replace(r, tables=tuple(_without(t, numbered) for t in r.tables)) for r in readings]


def _letters_of_chapters(readings: Sequence[PageReading]) -> set[str]:
    """Return the letters that stand behind a word in running titles."""
    found = (re.findall(r"[^\W\d_]{3,}\s+([A-Z]{1,2})(?=\W|$)", t) for t in running_titles(readings))
    return {letter for letters in found for letter in letters}


def _count_up(readings: Sequence[PageReading], letter: str) -> bool:
    places: dict[tuple[int, int], int] = {}
    for reading in readings:
        for near in (a for t in reading.tables for a in t.around):
            number = _number(near, letter)
            if number is not None:
                places[reading.page, round(near.line.box.top)] = number
    numbers = list(dict.fromkeys(places[at] for at in sorted(places)))
    steps = [b - a for a, b in pairwise(numbers)]
    return len(numbers) >= FEWEST and all(0 < step <= LARGEST_STEP for step in steps)


def _number(near: Around, letter: str) -> int | None:
    """Return the number before a title in bold type."""
    words = near.line.words
    match = NUMBERED.fullmatch(words[0].text) if len(words) > 1 and words[0].bold else None
    return int(match[2]) if match and match[1] == letter else None


def _without(table: Table, letters: set[str]) -> Table:
    around = []
    for near in table.around:
        numbered = any(_number(near, letter) is not None for letter in letters)
        around.append(_without_number(near) if numbered else near)
    return replace(table, around=tuple(around))


def _without_number(near: Around) -> Around:
    words = near.line.words[1:]
    return replace(near, line=Line(words=words, box=box_of(words), size=near.line.size))
