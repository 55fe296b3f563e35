"""A page's text as pdfium itself parts it: tokens between its blanks and line ends, with their boxes.

It shares nothing with words, lines and cells but the places of the characters, so that what was read can
be held against it.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from operator import add, sub
from typing import NamedTuple

from xref.pages.leaves import Frame
from xref.pages.places import Places
from xref.pages.turned import turn_box

#: A gap wider than this share of the letters' height parts two tokens, whatever pdfium makes of it.
APART = 0.7
#: A character lower than this share of the one before it is a mark behind it.
RAISED = 0.8
#: Blanks of other widths than the usual one.
BLANKS = frozenset({0xA0, 0x3000})
#: pdfium writes these for a hyphen at the end of a line.
LINE_END_HYPHENS = frozenset({0x02, 0xFFFE})


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


def printed_tokens(places: Places, frame: Frame, turned: int = 0) -> tuple[Printed, ...]:
    """Return the tokens of a page in pdfium's order, `turned` clockwise as the page was for reading.

    Nothing where the text does not run left to right in the PDF's own axes: pdfium parts such text blindly.
    """
    if (frame.turn - turned) % 360 not in (0, 180):
        return ()
    return tuple(
        Printed(shown, *turn_box(box, turned, frame.width, frame.height))
        for shown, box in _tokens(places, frame)
    )


_Box = tuple[float, float, float, float]


def _tokens(places: Places, frame: Frame) -> Iterator[tuple[str, _Box]]:
    lefts, tops, rights, bottoms = (places.boxes[side::4] for side in range(4))
    heights = list(map(abs, map(sub, tops, bottoms)))
    levels = list(map(add, tops, bottoms))
    run: list[int] = []
    for i, code in enumerate(places.codes):
        if (code <= 0x20 and code not in LINE_END_HYPHENS) or code in BLANKS:
            if run:
                yield _joined(run, places, frame)
                run = []
            continue
        if run:
            last = run[-1]
            height = min(heights[last], heights[i])
            if height > 0 and (
                lefts[i] - rights[last] > APART * height
                or abs(levels[last] - levels[i]) / 2 > APART * height
                or heights[i] < RAISED * heights[last]
            ):
                yield _joined(run, places, frame)
                run = []
        run.append(i)
    if run:
        yield _joined(run, places, frame)


def _joined(run: Sequence[int], places: Places, frame: Frame) -> tuple[str, _Box]:
    first, behind = run[0], run[-1] + 1  # nothing within a token is left out
    shown = "".join("-" if c in LINE_END_HYPHENS else chr(c) for c in places.codes[first:behind])
    sides = places.boxes[4 * first : 4 * behind]
    xs, ys = sides[0::2], sides[1::2]
    a, b, c, d, e, f = frame.matrix
    corners = [(a * x + c * y + e, b * x + d * y + f) for x in (min(xs), max(xs)) for y in (min(ys), max(ys))]
    across, down = [x for x, _ in corners], [y for _, y in corners]
    return shown, (min(across), min(down), max(across), max(down))
