"""Notes beside a page: one below the other, none over another, each with a line to what it is about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref.records import Box
from xref.sheets.drawing import LEADING, Label, Stroke, text_width

#: Size of a note's letters, points.
SIZE = 7.0
#: Between the note and the edge of the page the line to its place bends, points.
_BEND = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A text to stand left or right of the page; `at` is the place it is about, in points of the page."""

    text: str
    at: tuple[float, float]
    right: bool = False
    bold: bool = False

    @property
    def width(self) -> float:
        """Its width with the line's bend, points."""
        return text_width(self.text, SIZE, bold=self.bold) + _BEND


def place_notes(notes: Sequence[Note], frame: Box) -> tuple[list[Label | Stroke], float]:
    """Return the notes of one side as shapes on the sheet, and the height down to which they reach.

    Each stands at the height of its place where it can, else as near as the notes beside it allow.
    """
    shapes: list[Label | Stroke] = []
    ordered = sorted(notes, key=lambda note: (note.at[1], note.at[0]))
    for note, middle in zip(ordered, _heights(ordered, frame), strict=True):
        wide = text_width(note.text, SIZE, bold=note.bold)
        x = frame.x1 + _BEND if note.right else frame.x0 - _BEND - wide
        shapes.append(Label(x=x, middle=middle, text=note.text, size=SIZE, bold=note.bold))
        place = (note.at[0] + frame.x0, note.at[1] + frame.top)
        edge = frame.x1 if note.right else frame.x0
        near = x - 1.5 if note.right else x + wide + 1.5
        shapes.append(
            Stroke(points=((near, middle), (edge, place[1]), place), color=(90, 90, 90), width=0.35)
        )
    low = max((s.box.bottom for s in shapes if isinstance(s, Label)), default=frame.top)
    return shapes, low


def _heights(notes: Sequence[Note], frame: Box) -> list[float]:
    """Return the middles of the notes: blocks of notes that touch are centred on the mean of their places."""
    step = SIZE * LEADING
    blocks: list[tuple[int, float]] = []  # how many notes, and the sum of (place - offset in the block)
    for note in notes:
        blocks.append((1, note.at[1] + frame.top))
        while len(blocks) > 1:
            (n, total), (more, further) = blocks[-2], blocks[-1]
            if further / more >= total / n + n * step:
                break
            blocks[-2:] = [(n + more, total + further - more * n * step)]
    heights: list[float] = []
    for number, total in blocks:
        first = max(total / number, frame.top + step / 2)
        if heights:
            first = max(first, heights[-1] + step)
        heights += [first + step * k for k in range(number)]
    return heights
