"""What pdfium says of every character of a page: its code and its box, fetched once for all who ask."""

from __future__ import annotations

from collections import deque
from ctypes import addressof, c_float
from dataclasses import dataclass
from itertools import repeat

from xref.pages import calls


@dataclass(frozen=True, slots=True)
class Places:
    """The characters in pdfium's order, those that it makes up between words and lines among them."""

    codes: list[int]
    boxes: list[float]  #: left, top, right and bottom of each, in the PDF's own axes


def text_places(text: int) -> Places:
    """Return the characters of a loaded text page.

    Every call goes through `map` with ready numbers: a line of Python for each would take twice as long.
    """
    count = calls.count_characters(text)
    places, same = range(count), repeat(text)
    boxes = (c_float * (4 * count))()
    start = addressof(boxes)
    codes = list(map(calls.character_code, same, places))
    deque(map(calls.character_box, same, places, range(start, start + 16 * count, 16)), maxlen=0)
    return Places(codes, boxes[:])
