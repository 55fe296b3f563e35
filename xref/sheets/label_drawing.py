"""A label as shapes at true size, and labels on tape, on strips with cut marks, and on sheets of paper.

Points, measured from the top left, as in `drawing.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from xref.moves.label_fit import LEADING, MARGIN_MM, MM_PER_POINT, Label, Line
from xref.records import Box
from xref.sheets.drawing import Area, Page, Stroke, outline, text_width
from xref.sheets.drawing import Label as Text

Shape = Stroke | Area | Text

INK, CUT = (0, 0, 0), (150, 150, 150)
HAIR = 0.4
#: A mark at an edge where the tape is folded, long enough to be seen and clear of the text.
_TICK_MM = 1.0
#: A strip is so long at most: what a program for printing pictures still shows whole.
STRIP_MM = 1000.0

#: Sheets of paper, width and height in millimetres.
SHEETS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
#: Nearer to the edge of a sheet many office printers do not print.
_EDGE_MM = 5.0
#: Above the labels: whose they are, and a bar to check the printer's scale by.
_HEAD_MM, BAR_MM = 9.0, 50.0
_HEAD_PT = 8.0


def points(millimetres: float) -> float:
    """Return millimetres as points."""
    return millimetres / MM_PER_POINT


def tape_pages(labels: Iterable[Label]) -> Iterator[Page]:
    """Yield one page per label: as long as the label, as high as the tape."""
    for label in labels:
        yield Page(
            width=points(label.length_mm),
            height=points(label.width_mm),
            shapes=tuple(_shapes(label, 0.0, 0.0)),
        )


def strips(labels: Sequence[Label]) -> Iterator[Page]:
    """Yield strips of labels one after the other, with a cut mark between two."""
    row: list[Label] = []
    for label in labels:
        if row and sum(one.length_mm for one in row) + label.length_mm > STRIP_MM:
            yield _strip(row)
            row = []
        row.append(label)
    if row:
        yield _strip(row)


def sheet_pages(labels: Sequence[Label], sheet: str, title: str) -> list[Page]:
    """Return sheets of paper (`sheet` is a key of SHEETS) with the labels in columns, to be cut apart."""
    wide, high = SHEETS[sheet]
    pitch = max(label.length_mm for label in labels)
    columns = max(1, int((wide - 2 * _EDGE_MM + 1e-6) // pitch))
    rows = max(1, int((high - 2 * _EDGE_MM - _HEAD_MM + 1e-6) // labels[0].width_mm))
    each = columns * rows
    groups = [labels[at : at + each] for at in range(0, len(labels), each)]
    pages = []
    for number, group in enumerate(groups, start=1):
        shapes = list(_sheet_head(wide, f"{title} – page {number} of {len(groups)}"))
        for place, label in enumerate(group):
            left = points(_EDGE_MM + place % columns * pitch)
            top = points(_EDGE_MM + _HEAD_MM + place // columns * label.width_mm)
            box = Box(
                x0=left, top=top, x1=left + points(label.length_mm), bottom=top + points(label.width_mm)
            )
            shapes += [outline(box, CUT, HAIR), *_shapes(label, left, top)]
        pages.append(Page(width=points(wide), height=points(high), shapes=tuple(shapes)))
    return pages


def fits_sheet(label_mm: float, width_mm: float, sheet: str) -> bool:
    """Tell whether a label of this length and width fits on a sheet at all."""
    wide, high = SHEETS[sheet]
    return label_mm <= wide - 2 * _EDGE_MM and width_mm <= high - 2 * _EDGE_MM - _HEAD_MM


def _sheet_head(wide: float, title: str) -> Iterator[Shape]:
    middle = points(_EDGE_MM + _HEAD_MM / 3)
    yield Text(x=points(_EDGE_MM), middle=middle, text=title, size=_HEAD_PT)
    right, left = points(wide - _EDGE_MM), points(wide - _EDGE_MM - BAR_MM)
    said = f"print at 100 %: this bar is {BAR_MM:g} mm"
    yield Text(x=left - text_width(said, _HEAD_PT) - points(2), middle=middle, text=said, size=_HEAD_PT)
    tick = points(_TICK_MM)
    for ends in (
        ((left, middle), (right, middle)),
        ((left, middle - tick), (left, middle + tick)),
        ((right, middle - tick), (right, middle + tick)),
    ):
        yield Stroke(points=ends, color=INK, width=HAIR * 2)


def _strip(labels: Sequence[Label]) -> Page:
    shapes: list[Shape] = []
    left, high = 0.0, points(labels[0].width_mm)
    for label in labels:
        if left:
            shapes.append(Stroke(points=((left, 0), (left, high)), color=INK, width=HAIR, dash=(2.0, 2.0)))
        shapes += _shapes(label, left, 0.0)
        left += points(label.length_mm)
    return Page(width=left, height=high, shapes=tuple(shapes))


def _shapes(label: Label, left: float, top: float) -> Iterator[Shape]:
    """Yield what is printed on a label whose corner is there; what does not fit is crossed out."""
    long, high = points(label.length_mm), points(label.width_mm)
    flag = points(label.flag_mm)
    if label.kind == "flag":
        zones = [(left, left + flag), (left + long - flag, left + long)]
        yield from _ticks((left + flag, left + long - flag), top, high)
    elif label.kind == "wrap":
        zones = [(left, left + long / 2)]
        yield from _ticks((left + long / 2,), top, high)
    else:
        zones = [(left, left + long)]
    for x0, x1 in zones:
        zone = Box(x0=x0, top=top, x1=x1, bottom=top + high)
        if not label.fits:
            yield from _crossed_out(label, zone)
        elif label.kind == "wrap":
            yield from _turned_lines(label.lines, zone)
        else:
            yield from _lines(label.lines, zone)


def _lines(lines: Sequence[Line], zone: Box) -> Iterator[Shape]:
    """Yield the lines in the middle of the zone, all beginning at one edge.

    On both halves of a flag the text stands the same way up: the wire is the axis the flag is turned about.
    """
    wide = max(_width(line) for line in lines)
    x = (zone.x0 + zone.x1 - wide) / 2
    y = (zone.top + zone.bottom - sum(line.size_pt * LEADING for line in lines)) / 2
    for line in lines:
        middle = y + line.size_pt * LEADING / 2
        at = x
        for text, bold in line.words:
            yield Text(x=at, middle=middle, text=text, size=line.size_pt, bold=bold)
            at += text_width(text, line.size_pt, bold=bold) + text_width(" ", line.size_pt)
        y += line.size_pt * LEADING


def _turned_lines(lines: Sequence[Line], zone: Box) -> Iterator[Shape]:
    """Yield lines that run along the wire, across the tape."""
    long = max(_width(line) for line in lines)
    y = (zone.top + zone.bottom + long) / 2
    x = (zone.x0 + zone.x1 - sum(line.size_pt * LEADING for line in lines)) / 2
    for line in lines:
        middle, at = x + line.size_pt * LEADING / 2, y
        for text, bold in line.words:
            yield Text(x=middle, middle=at, text=text, size=line.size_pt, bold=bold, turned=True)
            at -= text_width(text, line.size_pt, bold=bold) + text_width(" ", line.size_pt)
        x += line.size_pt * LEADING


def _crossed_out(label: Label, zone: Box) -> Iterator[Shape]:
    """Yield a cross, so that nobody takes the label for a whole one, and its id as far as there is room."""
    inner = points(MARGIN_MM)
    x0, x1, top, bottom = zone.x0 + inner, zone.x1 - inner, zone.top + inner, zone.bottom - inner
    for ends in (((x0, top), (x1, bottom)), ((x0, bottom), (x1, top))):
        yield Stroke(points=ends, color=CUT, width=HAIR)
    word = Line(words=((label.end.cut, True),), size_pt=label.lines[0].size_pt)
    if _width(word) <= x1 - x0 and word.size_pt <= bottom - top:
        yield from _lines((word,), zone)


def _ticks(at: Iterable[float], top: float, high: float) -> Iterator[Shape]:
    tick = points(_TICK_MM)
    for x in at:
        yield Stroke(points=((x, top), (x, top + tick)), color=INK, width=HAIR)
        yield Stroke(points=((x, top + high - tick), (x, top + high)), color=INK, width=HAIR)


def _width(line: Line) -> float:
    blanks = text_width(" ", line.size_pt) * (len(line.words) - 1)
    return blanks + sum(text_width(text, line.size_pt, bold=bold) for text, bold in line.words)
