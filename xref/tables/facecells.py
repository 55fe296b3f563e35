"""A drawn face whose boxes say what is in each cavity -> a list of pins, box by box."""

from __future__ import annotations

from collections.abc import Sequence

from xref.pages.content import Word
from xref.tables.cells import words_to_cell
from xref.tables.lines import box_of, words_to_lines
from xref.tables.table import Band, Cell
from xref.tables.vocabulary import CAVITY_LIKE, letters_and_number

#: So many boxes make a face, and this share of them says more than its number.
FEWEST = 4
TELLING = 0.5
#: So many boxes stand side by side at least: fewer are the rows of a table.
ABREAST = 3


def boxes_to_list(bands: Sequence[Band]) -> tuple[list[Band], tuple[float, float, float]] | None:
    """Return bands of two cells (cavity, what is said of it) and their borders; None for any other grid.

    Each box begins with its cavity; together they count on, each once.
    """
    boxes = [c for band in bands for c in band.cells if c.text and c.first]
    if len(boxes) < FEWEST or max(sum(bool(c.text and c.first) for c in b.cells) for b in bands) < ABREAST:
        return None
    pins = [pin for c in boxes if (pin := _parted(c))]
    names = [mark.text for mark, _ in pins]
    said = sum(bool(rest) for _, rest in pins)
    if len(pins) < len(boxes) or said < TELLING * len(pins) or not _counted(names):
        return None
    pins.sort(key=lambda pin: letters_and_number(pin[0].text))
    out = []
    for mark, rest in pins:
        box = box_of((mark, *rest))
        out.append(Band(cells=(words_to_cell((mark,), box), words_to_cell(rest, box)), box=box))
    whole = box_of([w for mark, rest in pins for w in (mark, *rest)])
    return out, (whole.x0, whole.x0 + 1.0, whole.x1)


def _parted(cell: Cell) -> tuple[Word, tuple[Word, ...]] | None:
    """Part a box's words into its cavity and the rest; None where it does not begin with a cavity."""
    first, *rest = [w for line in words_to_lines(cell.words) for w in line.words]
    return (first, tuple(rest)) if CAVITY_LIKE.fullmatch(first.text) else None


def _counted(names: Sequence[str]) -> bool:
    """True for cavities that count on without a gap, each once: 1 to 24, or A1 to C8."""
    if len(set(names)) < len(names):
        return False
    by_letter: dict[str, list[int]] = {}
    for name in names:
        letters, number = letters_and_number(name)
        by_letter.setdefault(letters, []).append(number)
    return all(
        sorted(found) == list(range(min(found), min(found) + len(found))) for found in by_letter.values()
    )
