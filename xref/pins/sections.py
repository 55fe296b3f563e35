"""Numbers of sections before titles (`J2 Fuse box` in section J, `4 Gateway`): they are part of no name."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.pins.designators import DESIGNATOR
from xref.pins.running import running_titles
from xref.tables.lines import Line, box_of
from xref.tables.page import PageReading
from xref.tables.table import Around, Table

#: A letter of the chapter with a number, in front of a title.
NUMBERED = re.compile(r"([A-Z]{1,2})[-.]?(\d{1,3})(?:\.\d{1,2})*[.:)]?")
#: So many titles are numbered one after the other; none is left out over a longer run than this.
FEWEST = 3
LARGEST_STEP = 3
#: A chapter's number by itself before a title, whose first word is no unit (`5 V supply`).
CHAPTER = re.compile(r"\d{1,2}")
TITLE = re.compile(r"[^\W\d_][^\W\d_]")
#: A title is set so much larger than its table, if it is not in bold type.
LARGER = 1.1


def without_sections(readings: Sequence[PageReading]) -> list[PageReading]:
    """Return the pages without the numbers of sections before titles, which must count up from page to page.

    A letter before the number must be that of the chapter, as the running head says (`Section J`).
    """
    return _without_chapters(_without_lettered(readings))


def _without_chapters(readings: Sequence[PageReading]) -> list[PageReading]:
    """Leave out bare numbers of chapters (`4 Gateway CAN M20`) where a designator names the connector.

    Where none does, the number may be the name.
    """
    places = {
        (reading.page, round(near.line.box.top)): int(near.line.words[0].text)
        for reading in readings
        for table in reading.tables
        for near in table.around
        if _is_chapter(near, table)
    }
    if not _ascend([places[at] for at in sorted(places)]):
        return list(readings)
    return [replace(r, tables=tuple(map(_without_chapter, r.tables))) for r in readings]


def _is_chapter(near: Around, table: Table) -> bool:
    words, line = near.line.words, near.line
    if len(words) < 2 or near.where == "below" or not CHAPTER.fullmatch(words[0].text):
        return False
    opens = bool(TITLE.match(words[1].text)) and not words[1].text[0].islower()
    return opens and (line.bold or line.size >= LARGER * table.size)


def _without_chapter(table: Table) -> Table:
    if not any(DESIGNATOR.search(a.line.text) for a in table.around):
        return table
    around = tuple(_without_number(a) if _is_chapter(a, table) else a for a in table.around)
    return replace(table, around=around)


def _without_lettered(readings: Sequence[PageReading]) -> list[PageReading]:
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
    return _ascend([places[at] for at in sorted(places)])


def _ascend(in_order: Sequence[int]) -> bool:
    """True for numbers that count up, each of which may come several times in a row."""
    numbers = list(dict.fromkeys(in_order))
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
