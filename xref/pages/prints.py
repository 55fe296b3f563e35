"""Text printed twice almost in place, which pdfium leaves out, found again and given its letters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from ctypes import addressof, c_float
from dataclasses import dataclass

from xref.pages import calls
from xref.pages.leaves import Frame, Leaf, matrix_of, times
from xref.pages.textstyle import Letter, Styles

#: pdfium takes equal text for a second print if the two overlap, no further aside than this share of
#: their longer side and no further above or below than that one.
ASIDE, ABOVE = 0.9, 0.125
#: It looks for the first print among so many texts drawn before.
LOOK_BACK = 6
#: The extents of the two are equal within this many points.
SAME_EXTENT = 0.05
#: pdfium leaves out a letter that lies this close to an equal one, as a share of their size; the place where
#: it must have been is known no better than letters are spaced.
LETTER_ASIDE = 0.07 + 0.05
#: Letters of one text with a wider gap between them, as a share of their size, may have lost one.
GAP = 0.25
#: So many letters of one text are put back in a row; more are no accident.
MOST_LETTERS = 4
#: Side of the squares in which letters are looked up, in points.
SQUARE = 16.0


@dataclass(frozen=True, slots=True)
class _Extent:
    x: float
    y: float
    width: float
    height: float


def second_prints(
    texts: Sequence[Leaf], drawn: Mapping[int, list[Letter]], frame: Frame
) -> dict[int, list[Letter]]:
    """Return the letters of text objects that have none of their own and repeat those of another one."""
    found: dict[int, list[Letter]] = {}
    extents: dict[int, _Extent] = {}

    def extent_of(place: int) -> _Extent:
        if place not in extents:
            extents[place] = _extent(texts[place])
        return extents[place]

    a, b, c, d, _, _ = frame.matrix
    for place in (p for p in range(len(texts)) if p not in drawn):
        extent = extent_of(place)
        if extent.width <= 0:
            continue
        beside = range(max(place - LOOK_BACK, 0), min(place + LOOK_BACK + 1, len(texts)))
        letters = ((p, drawn.get(p) or found.get(p)) for p in beside)
        twins = [
            (_distance(extent, extent_of(p)), ls)
            for p, ls in letters
            if ls and _repeats(extent, extent_of(p))
        ]
        if twins:
            (x, y), first = min(twins, key=lambda twin: max(map(abs, twin[0])))
            found[place] = [
                letter._replace(x=letter.x + a * x + c * y, y=letter.y + b * x + d * y) for letter in first
            ]
    return found


def _distance(one: _Extent, other: _Extent) -> tuple[float, float]:
    return one.x - other.x, one.y - other.y


def _extent(leaf: Leaf) -> _Extent:
    sides = (c_float * 4)()
    start = addressof(sides)
    calls.object_bounds(leaf.handle, start, start + 4, start + 8, start + 12)
    _, _, _, _, x, y = times(matrix_of(leaf.handle), leaf.matrix)
    return _Extent(x, y, sides[2] - sides[0], sides[3] - sides[1])


def _reach(leaf: Leaf) -> float:
    """Return the longer side of what the text's ink covers."""
    sides = (c_float * 4)()
    start = addressof(sides)
    calls.object_bounds(leaf.handle, start, start + 4, start + 8, start + 12)
    left, bottom, right, top = sides
    return max(right - left, top - bottom)


def _repeats(one: _Extent, other: _Extent) -> bool:
    if abs(one.width - other.width) > SAME_EXTENT or abs(one.height - other.height) > SAME_EXTENT:
        return False
    dx, dy = map(abs, _distance(one, other))
    long = max(one.width, one.height)
    return dx <= min(ASIDE * long, one.width) and dy <= min(ABOVE * long, one.height)


def put_letters_back(drawn: dict[int, list[Letter]], texts: Sequence[Leaf], styles: Styles) -> None:
    """Put back letters that were left out because other text has the same letter in the same place."""
    for _ in range(MOST_LETTERS):
        holes = [
            (place, *hole)
            for place, letters in drawn.items()
            if letters
            for hole in _holes(letters, styles.origin(place), texts[place])
        ]
        if not holes or not _filled(holes, drawn):
            return


def _filled(holes: list[tuple[int, int, float, float]], drawn: dict[int, list[Letter]]) -> bool:
    """Put a letter into each hole where other text has one; say whether there was any."""
    filled = False
    near: dict[tuple[int, int], list[tuple[int, Letter]]] = {}
    for place, letters in drawn.items():
        for letter in letters:
            near.setdefault((int(letter.x // SQUARE), int(letter.y // SQUARE)), []).append((place, letter))
    for place, at, x, y in reversed(holes):
        style = drawn[place][0].style
        play = LETTER_ASIDE * style.size
        twins = [
            other
            for i in {int((x - play) // SQUARE), int((x + play) // SQUARE)}
            for j in {int((y - play) // SQUARE), int((y + play) // SQUARE)}
            for owner, other in near.get((i, j), ())
            if owner != place
            and abs(other.x - x) <= play
            and abs(other.y - y) <= play
            and other.style.font is style.font
            and abs(other.style.size - style.size) <= SAME_EXTENT
            and other.text.strip()
        ]
        if twins:
            drawn[place].insert(at, twins[0]._replace(x=x, y=y, style=style))
            filled = True
    return filled


def _holes(
    letters: list[Letter], origin: tuple[float, float], leaf: Leaf
) -> Iterator[tuple[int, float, float]]:
    """Yield where a letter may be missing: before which one, and where its baseline would begin."""
    style = letters[0].style
    gap = GAP * style.size
    along_x, along_y = style.along
    x, y = origin
    for at, (_, letter_x, letter_y, advance, _) in enumerate(letters):
        if abs(letter_x - x) > gap or abs(letter_y - y) > gap:
            yield at, x, y
        x, y = letter_x + advance * along_x, letter_y + advance * along_y
    if len(letters) > 1 and _reach(leaf) > max(abs(x - origin[0]), abs(y - origin[1])) + gap:
        yield len(letters), x, y
