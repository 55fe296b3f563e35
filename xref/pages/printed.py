"""A page's text as pdfium itself parts it: tokens between its blanks and line ends, with their boxes.

It shares nothing with words, lines and cells but the places of the characters, so that what was read can
be held against it.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from ctypes import addressof, c_float
from dataclasses import dataclass
from itertools import chain, repeat
from typing import NamedTuple

from xref.pages import calls
from xref.pages.leaves import Frame, page_frame
from xref.pages.pdfium import PdfiumDocument
from xref.pages.turned import turn_box

#: A gap wider than this share of the letters' height parts two tokens, whatever pdfium makes of it.
APART = 0.7
#: A character lower than this share of the one before it is a mark behind it.
RAISED = 0.8
#: Blanks of other widths than the usual one.
BLANKS = frozenset({0xA0, 0x3000})
#: pdfium writes this for a hyphen at the end of a line.
LINE_END_HYPHENS = "\x02\ufffe"


class Printed(NamedTuple):
    """A run of characters without blank; the box is in points from the top left of the reading frame."""

    text: str
    x0: float
    top: float
    x1: float
    bottom: float

    @property
    def middle(self) -> float:
        """Height of its middle."""
        return (self.top + self.bottom) / 2


@dataclass(frozen=True, slots=True)
class PrintedText:
    """Tokens packed: they are kept for every table of a document until it is read to its end.

    As records with a number object for each edge they take eight times the room.
    """

    texts: str = ""  #: one a line
    sides: bytes = b""  #: x0, top, x1 and bottom of each

    def __bool__(self) -> bool:
        return bool(self.sides)

    def tokens(self) -> tuple[Printed, ...]:
        """Return the tokens as they were packed."""
        if not self.sides:
            return ()
        edges = array("d", self.sides)
        return tuple(map(Printed, self.texts.split("\n"), *(edges[side::4] for side in range(4))))


NO_TEXT = PrintedText()


def pack_tokens(tokens: Iterable[Printed]) -> PrintedText:
    """Return the tokens, which hold no line ends, in little room."""
    kept = list(tokens)
    sides = array("d", chain.from_iterable(t[1:] for t in kept))
    return PrintedText("\n".join(t.text for t in kept), sides.tobytes())


def printed_tokens(document: PdfiumDocument, number: int, turned: int = 0) -> tuple[Printed, ...]:
    """Return the tokens of a page in pdfium's order, `turned` clockwise as the page was for reading.

    Nothing where the text does not run left to right in the PDF's own axes: pdfium parts such text blindly.
    """
    with document.handles(number) as (page, text):
        frame = page_frame(page)
        if (frame.turn - turned) % 360 not in (0, 180):
            return ()
        return tuple(
            Printed(shown, *turn_box(box, turned, frame.width, frame.height))
            for shown, box in _tokens(text, frame)
        )


_Box = tuple[float, float, float, float]


def _tokens(text: int, frame: Frame) -> Iterator[tuple[str, _Box]]:
    count = calls.count_characters(text)
    boxes = (c_float * (4 * count))()
    start = addressof(boxes)
    places = range(count)
    codes = list(map(calls.character_code, repeat(text), places))
    for _ in map(calls.character_box, repeat(text), places, range(start, start + 16 * count, 16)):
        pass
    run: list[int] = []
    for i, code in enumerate(codes):
        if (code <= 0x20 and chr(code) not in LINE_END_HYPHENS) or code in BLANKS:
            yield from _joined(run, codes, boxes, frame)
            run = []
            continue
        if run and _apart(boxes, run[-1], i):
            yield from _joined(run, codes, boxes, frame)
            run = []
        run.append(i)
    yield from _joined(run, codes, boxes, frame)


def _apart(boxes: Sequence[float], one: int, other: int) -> bool:
    _, top, right, bottom = boxes[4 * one : 4 * one + 4]
    x0, high, _, low = boxes[4 * other : 4 * other + 4]
    before, behind = abs(top - bottom), abs(high - low)
    height = min(before, behind)
    if height <= 0:
        return False
    level = abs((top + bottom) - (high + low)) / 2
    return x0 - right > APART * height or level > APART * height or behind < RAISED * before


def _joined(
    run: Iterable[int], codes: Sequence[int], boxes: Sequence[float], frame: Frame
) -> Iterator[tuple[str, _Box]]:
    places = list(run)
    if not places:
        return
    shown = "".join("-" if chr(codes[i]) in LINE_END_HYPHENS else chr(codes[i]) for i in places)
    lefts = [min(boxes[4 * i], boxes[4 * i + 2]) for i in places]
    rights = [max(boxes[4 * i], boxes[4 * i + 2]) for i in places]
    lows = [min(boxes[4 * i + 1], boxes[4 * i + 3]) for i in places]
    highs = [max(boxes[4 * i + 1], boxes[4 * i + 3]) for i in places]
    a, b, c, d, e, f = frame.matrix
    corners = [
        (a * x + c * y + e, b * x + d * y + f)
        for x in (min(lefts), max(rights))
        for y in (min(lows), max(highs))
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    yield shown, (min(xs), min(ys), max(xs), max(ys))
