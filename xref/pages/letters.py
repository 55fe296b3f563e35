"""The characters of a page through pdfium, in drawing order and in the displayed frame.

pdfium hands out a page's text sorted by lines, with blanks of its own making, without blanks drawn by
themselves and without text that is printed twice. Here the made-up characters are left out, what is
missing is put back, and the order is that of the drawing, so that the reading sees what was drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from ctypes import addressof, c_char, c_double, c_float, create_string_buffer

from xref.pages import calls
from xref.pages.glyphs import UNKNOWN
from xref.pages.leaves import IDENTITY, Frame, Leaf, Matrix
from xref.pages.marks import CROP_PLAY, SMALLEST_GLYPH, Glyph
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


def page_glyphs(page: int, text: int, leaves: Sequence[Leaf], frame: Frame, most: int) -> list[Glyph] | None:
    """Return the page's characters, None for more than `most`. `text` is the loaded text page.

    Raises `Irregular` where the page must be read by another engine.
    """
    texts = [leaf for leaf in leaves if leaf.kind == calls.TEXT]
    if any(calls.count_marks(leaf.handle) > 0 and _says_otherwise(leaf.handle) for leaf in texts):
        raise Irregular
    styles = Styles(texts, frame)
    drawn = _read(text, styles, IDENTITY, steep=False)
    if styles.steep:
        drawn |= _read_turned(page, styles)
    put_letters_back(drawn, texts, styles)
    if len(drawn) < len(texts):
        drawn |= second_prints(texts, drawn, frame)
        drawn |= _blanks(drawn, styles)
    if sum(map(len, drawn.values())) > most:
        return None
    return _displayed((letter for place in sorted(drawn) for letter in drawn[place]), frame)


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


def _read_turned(page: int, styles: Styles) -> dict[int, list[Letter]]:
    """Read the steep text anew with everything turned by a quarter, for pdfium measures along the width."""
    outer = [calls.get_object(page, place) for place in range(calls.count_objects(page))]
    turned = [h for h in outer if calls.object_kind(h) in (calls.TEXT, calls.FORM)]
    for handle in turned:
        calls.transform_object(handle, *QUARTER)
    text = calls.load_text(page)
    try:
        return _read(text, styles, BACK, steep=True)
    finally:
        calls.close_text(text)
        for handle in turned:
            calls.transform_object(handle, *BACK)


def _read(text: int, styles: Styles, back: Matrix, *, steep: bool) -> dict[int, list[Letter]]:
    """Return the letters of each text object by its place: of the flat ones, or of the steep ones.

    `back` brings what was turned for measuring to where it was.
    """
    a, b, c, d, e, f = styles.to_frame(back)
    found: dict[int, list[Letter]] = {}
    numbers = (c_double * 2)()
    x_at = addressof(numbers)
    y_at = x_at + 8
    last, last_x, last_y = 0, 0.0, 0.0
    style: Style | None = None
    letters: list[Letter] = []
    for i in range(calls.count_characters(text)):
        handle = calls.character_object(text, i)
        code = calls.character_code(text, i)
        if handle is None or (code in MADE_UP and calls.is_generated(text, i)):
            continue
        if handle != last:
            place = styles.place(handle)
            if place is None:
                raise Irregular
            last, last_x = handle, math.nan
            style = styles.at(place) if (place in styles.steep) is steep else None
            letters = found.setdefault(place, []) if style else []
        if style is None:
            continue
        calls.character_origin(text, i, x_at, y_at)
        x, y = numbers
        if x == last_x and y == last_y:
            # One drawn glyph that stands for several characters.
            whole = _loose(text, i, x, style, steep)
            letters[-1] = letters[-1]._replace(text=letters[-1].text + _character(code), advance=whole)
            continue
        if letters and len(letters[-1].text) > 1:
            # Where the ink of such a glyph hangs over, only the next one tells where it ends.
            reach = min(letters[-1].advance, math.dist((x, y), (last_x, last_y)))
            letters[-1] = letters[-1]._replace(advance=reach)
        last_x, last_y = x, y
        advance = _advance(text, i, code, x, style, steep)
        letters.append(Letter(_character(code), a * x + c * y + e, b * x + d * y + f, advance, style))
    return found


def _character(code: int) -> str:
    if code == 0 or 0xD800 <= code <= 0xDFFF or code > 0x10FFFF:
        return UNKNOWN
    return "-" if code in LINE_END_HYPHENS else chr(code)


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


_box = (c_float * 4)()
_box_at = addressof(_box)


def _loose(text: int, i: int, x: float, style: Style, steep: bool) -> float:
    """Return how far a letter reaches along the reading direction: to its advance or the end of its ink."""
    calls.character_box(text, i, _box_at)
    slope = style.rise if steep else style.slope
    return (_box[2] - x) / slope if slope > 0 else (x - _box[0]) / -slope


def _advance(text: int, i: int, code: int, x: float, style: Style, steep: bool) -> float:
    """Return a letter's advance.

    pdfium's own box is widened where ink hangs over; then, and only then, the font's width is believed,
    because it is found by the letter's meaning, which several letters of a font may share.
    """
    if code in LINE_END_HYPHENS:
        return style.width(HYPHEN)  # its box is lost
    loose = _loose(text, i, x, style, steep)
    width = style.width(code)
    if abs(loose - width) <= SAME * style.size or (style.sheared and 0 < width < loose):
        return width
    if width < loose:
        slope = style.rise if steep else style.slope
        right, left = _box[2], _box[0]
        calls.character_ink(text, i, _ink_at, _ink_at + 8, _ink_at + 16, _ink_at + 24)
        over = abs(_ink[1] - right) if slope > 0 else abs(_ink[0] - left)
        if over <= SAME * style.size:
            return width
    return loose


_ink = (c_double * 4)()
_ink_at = addressof(_ink)


def _displayed(letters: Iterable[Letter], frame: Frame) -> list[Glyph]:
    """Make glyphs of the letters that lie on the page and can be read."""
    glyphs: list[Glyph] = []
    for text, x, y, advance, style in letters:
        if not SMALLEST_GLYPH <= style.size < math.inf:
            continue
        end_x, end_y = x + advance * style.along[0], y + advance * style.along[1]
        left, right = (x, end_x) if x < end_x else (end_x, x)
        high, low = (y, end_y) if y < end_y else (end_y, y)
        x0, x1 = left + style.box[0], right + style.box[2]
        top, bottom = high + style.box[1], low + style.box[3]
        centre_x, centre_y = (x0 + x1) / 2, (top + bottom) / 2
        if not (
            -CROP_PLAY <= centre_x <= frame.width + CROP_PLAY
            and -CROP_PLAY <= centre_y <= frame.height + CROP_PLAY
        ):
            continue
        glyphs.append(
            Glyph(
                text=text,
                x0=x0,
                top=top,
                x1=x1,
                bottom=bottom,
                size=style.size,
                font=style.font.name,
                color=style.color,
                angle=style.angle,
                origin_x=x,
                origin_y=y,
                order=len(glyphs),
                hidden=style.hidden,
            )
        )
    return glyphs
