"""The characters of a page through pdfium, in drawing order and in the displayed frame.

pdfium hands out a page's text sorted by lines, with blanks of its own making, without blanks drawn by
themselves and without text that is printed twice. Here the made-up characters are left out, what is
missing is put back, and the order is that of the drawing, so that the reading sees what was drawn.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from ctypes import addressof, c_char, c_double, c_float, create_string_buffer
from itertools import repeat

from xref.pages import calls
from xref.pages.glyphs import UNKNOWN
from xref.pages.hyphens import LineEnds
from xref.pages.images import covers
from xref.pages.leaves import IDENTITY, Frame, Leaf, Matrix
from xref.pages.marks import CROP_PLAY, SMALLEST_GLYPH, Glyph, Sides, lies_under
from xref.pages.pdfium import PdfiumDocument
from xref.pages.places import Places, text_places
from xref.pages.prints import put_letters_back, second_prints
from xref.pages.textstyle import Letter, Style, Styles

#: Codes of the characters that pdfium makes up between words and lines.
MADE_UP = frozenset({0x20, 0x0A, 0x0D})
#: pdfium writes this for a hyphen at the end of a line, whichever code it has in the font.
LINE_END_HYPHENS = frozenset({0x02, 0xFFFE})
BLANK, HYPHEN = 0x20, 0x2D
#: Two measures of a letter are the same within this share of its size.
SAME = 0.004
#: A blank narrower than this share of its size is none.
LEAST_BLANK = 0.1

#: What is drawn lies so when everything is turned by a quarter, and so when it is turned back.
QUARTER: Matrix = (0.0, -1.0, 1.0, 0.0, 0.0, 0.0)
BACK: Matrix = (0.0, 1.0, -1.0, 0.0, 0.0, 0.0)


class Irregular(Exception):
    """The page holds text whose letters pdfium does not tell one by one."""


def page_glyphs(
    page: int, text: int, places: Places, leaves: Sequence[Leaf], frame: Frame, most: int
) -> list[Glyph] | None:
    """Return the page's characters, None for more than `most`. `text` is the loaded text page.

    Raises `Irregular` where the page must be read by another engine.
    """
    texts = [leaf for leaf in leaves if leaf.kind == calls.TEXT]
    if any(calls.count_marks(leaf.handle) > 0 and _says_otherwise(leaf.handle) for leaf in texts):
        raise Irregular
    styles = Styles(texts, frame)
    ends = LineEnds(page, texts)
    drawn = _read(text, places, styles, ends, IDENTITY, steep=False)
    if styles.steep:
        drawn |= _read_turned(page, styles, ends)
    put_letters_back(drawn, texts, styles)
    if len(drawn) < len(texts):
        drawn |= second_prints(texts, drawn, frame)
        drawn |= _blanks(drawn, styles)
    if sum(map(len, drawn.values())) > most:
        return None
    return _displayed(drawn, frame, covers(leaves, frame))


def characters_without_meaning(document: PdfiumDocument, number: int) -> int:
    """Return how many characters of a page the PDF gives no meaning."""
    with document.handles(number) as (_, text):
        places = range(calls.count_characters(text))
        return sum(answer == 1 for answer in map(calls.has_no_meaning, repeat(text), places))


def _says_otherwise(handle: int) -> bool:
    """True for text that carries other words than those drawn (ISO 32000-1, 14.9.4)."""
    key = create_string_buffer(b"ActualText")
    length, words = (c_float * 2)(), (c_char * 64)()
    return any(
        calls.mark_text(
            calls.get_mark(handle, place), addressof(key), addressof(words), len(words), addressof(length)
        )
        for place in range(calls.count_marks(handle))
    )


def _read_turned(page: int, styles: Styles, ends: LineEnds) -> dict[int, list[Letter]]:
    """Read the steep text anew with everything turned by a quarter, for pdfium measures along the width."""
    outer = [calls.get_object(page, place) for place in range(calls.count_objects(page))]
    turned = [h for h in outer if calls.object_kind(h) in (calls.TEXT, calls.FORM)]
    for handle in turned:
        calls.transform_object(handle, *QUARTER)
    text = calls.load_text(page)
    try:
        return _read(text, text_places(text), styles, ends, BACK, steep=True)
    finally:
        calls.close_text(text)
        for handle in turned:
            calls.transform_object(handle, *BACK)


def _read(
    text: int, places: Places, styles: Styles, ends: LineEnds, back: Matrix, *, steep: bool
) -> dict[int, list[Letter]]:
    """Return the letters of each text object by its place: of the flat ones, or of the steep ones.

    `back` brings what was turned for measuring to where it was.
    """
    a, b, c, d, e, f = styles.to_frame(back)
    found: dict[int, list[Letter]] = {}
    last, last_x, last_y = 0, 0.0, 0.0
    style: Style | None = None
    letters: list[Letter] = []
    widths: dict[int, float] = {}
    stretch, play, slope, whole = 0.0, 0.0, 1.0, False
    for i, (handle, code, unknown, x, y, left, right) in enumerate(_characters(text, places)):
        if handle is None or (code in MADE_UP and calls.is_generated(text, i)):
            continue
        if handle != last:
            last, last_x, whole = handle, math.nan, False
            place = styles.place(handle)
            if place is None:
                raise Irregular
            style = styles.at(place) if (place in styles.steep) is steep else None
            if style:
                letters = found.setdefault(place, [])
                widths, stretch, play = style.font.widths, style.stretch, SAME * style.size
                slope = style.rise if steep else style.slope
        if style is None:
            continue
        loose = (right - x) / slope if slope > 0 else (x - left) / -slope
        if x == last_x and y == last_y:
            # One drawn glyph that stands for several characters.
            letters[-1] = letters[-1]._replace(text=letters[-1].text + _character(code), advance=loose)
            whole = True
            continue
        if whole:
            # Where the ink of such a glyph hangs over, only the next one tells where it ends.
            reach = min(letters[-1].advance, math.dist((x, y), (last_x, last_y)))
            letters[-1] = letters[-1]._replace(advance=reach)
            whole = False
        last_x, last_y = x, y
        if code in LINE_END_HYPHENS and calls.is_hyphen(text, i) == 1:
            # Its box is lost, too.
            shown, advance = ends.hyphen(handle), style.width(HYPHEN)
            letters.append(Letter(shown, a * x + c * y + e, b * x + d * y + f, advance, style))
            continue
        advance = widths.get(code, math.nan) * stretch
        if not -play <= loose - advance <= play:
            advance = _advance(text, i, code, loose, (right if slope > 0 else left), style, slope > 0)
        shown = UNKNOWN if unknown == 1 else chr(code) if 0x20 <= code < 0x7F else _character(code)
        letters.append(Letter(shown, a * x + c * y + e, b * x + d * y + f, advance, style))
    return found


def _characters(
    text: int, places: Places
) -> Iterable[tuple[int | None, int, int, float, float, float, float]]:
    """Return each character's object, code, origin x and y, left and right edge, as pdfium has them.

    Between code and origin stands 1 where the PDF gives the character no meaning and the code is its number.
    """
    count = len(places.codes)
    numbers, same = range(count), repeat(text)
    origins = (c_double * (2 * count))()
    at = addressof(origins)
    handles = map(calls.character_object, same, numbers)
    unknown = map(calls.has_no_meaning, same, numbers)
    xs, ys = range(at, at + 16 * count, 16), range(at + 8, at + 8 + 16 * count, 16)
    deque(map(calls.character_origin, same, numbers, xs, ys), maxlen=0)
    lefts, rights = places.boxes[0::4], places.boxes[2::4]
    return zip(handles, places.codes, unknown, origins[0::2], origins[1::2], lefts, rights, strict=True)


def _character(code: int) -> str:
    if code in (0, *LINE_END_HYPHENS) or 0xD800 <= code <= 0xDFFF or code > 0x10FFFF:
        return UNKNOWN
    return chr(code)


def _blanks(drawn: dict[int, list[Letter]], styles: Styles) -> dict[int, list[Letter]]:
    """Return a blank for each text that left no letter because it has no ink.

    Raises `Irregular` where such a text stands between two that touch: only its code tells a blank that
    was given no room from a character without width, which parts nothing.
    """
    found: dict[int, list[Letter]] = {}
    for place in range(styles.count):
        style = None if place in drawn else styles.at(place)
        if style is None:
            continue
        x, y = styles.origin(place)
        room = LEAST_BLANK * style.size
        before, after = drawn.get(place - 1), drawn.get(place + 1)
        if after and math.dist((x, y), after[0][1:3]) <= room:
            if before and math.dist((x, y), _end(before[-1])) <= room:
                raise Irregular
            continue
        found[place] = [Letter(" ", x, y, style.width(BLANK), style)]
    return found


def _end(letter: Letter) -> tuple[float, float]:
    along = letter.style.along
    return letter.x + letter.advance * along[0], letter.y + letter.advance * along[1]


def _advance(text: int, i: int, code: int, loose: float, edge: float, style: Style, rightward: bool) -> float:
    """Return the advance of a letter whose box in pdfium is not as wide as the font says.

    That box is widened where ink hangs over; then, and only then, the font's width is believed, because
    it is found by the letter's meaning, which several letters of a font may share.
    """
    width = style.width(code)
    if abs(loose - width) <= SAME * style.size or (style.sheared and 0 < width < loose):
        return width
    if width < loose:
        ink = (c_double * 4)()
        at = addressof(ink)
        calls.character_ink(text, i, at, at + 8, at + 16, at + 24)
        if abs((ink[1] if rightward else ink[0]) - edge) <= SAME * style.size:
            return width
    return loose


def _displayed(
    drawn: Mapping[int, list[Letter]], frame: Frame, over: Sequence[tuple[int, Sides]]
) -> list[Glyph]:
    """Make glyphs of the letters that lie on the page and can be read; say which lie under a picture."""
    glyphs: list[Glyph] = []
    right_edge, low_edge = frame.width + CROP_PLAY, frame.height + CROP_PLAY
    for place in sorted(drawn):
        above = [sides for before, sides in over if place < before]
        known: Style | None = None
        for text, x, y, advance, style in drawn[place]:
            if style is not known:  # nearly all letters of an object have one
                known, size, looks = style, style.size, (style.font.name, style.color, style.angle)
                left, head, right, foot = style.box
                along_x, along_y = style.along
            if not SMALLEST_GLYPH <= size < math.inf:
                continue
            end_x, end_y = x + advance * along_x, y + advance * along_y
            x0 = left + (x if along_x >= 0 else end_x)
            x1 = right + (end_x if along_x >= 0 else x)
            top = head + (y if along_y >= 0 else end_y)
            bottom = foot + (end_y if along_y >= 0 else y)
            middle_x, middle_y = (x0 + x1) / 2, (top + bottom) / 2
            if not (-CROP_PLAY <= middle_x <= right_edge and -CROP_PLAY <= middle_y <= low_edge):
                continue
            hidden = style.hidden or bool(above and lies_under(middle_x, middle_y, above))
            glyphs.append(Glyph(text, x0, top, x1, bottom, size, *looks, x, y, len(glyphs), hidden))
    return glyphs
