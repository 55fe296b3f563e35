"""Glyphs made plain: characters folded, overprinted doubles dropped."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from xref.pages.marks import Glyph

#: Stands for a character whose meaning the PDF does not say.
UNKNOWN = "\ufffd"
SOFT_HYPHEN = "\u00ad"
#: A soft hyphen wider than this share of the font size is seen on the page.
SEEN_WIDTH = 0.05
#: Two glyphs drawn one after the other touch if the gap is at most this share of the font size.
TOUCH = 0.1
#: Takes no room in the text: zero-width characters, direction marks, byte-order mark.
_INVISIBLE = frozenset("\u200b\u200c\u200d\u200e\u200f\u2060\u2061\u2062\u2063\u2064\ufeff")
_UNMAPPED = re.compile(r"\(cid:\d+\)")
_LIGATURES = {
    "\ufb00": "ff",
    "\ufb01": "fi",
    "\ufb02": "fl",
    "\ufb03": "ffi",
    "\ufb04": "ffl",
    "\ufb05": "st",
    "\ufb06": "st",
}
#: A fake bold print lies this close to the first one, as a share of the font size.
OVERPRINT_SHIFT = 0.12
#: …and no farther than this share of the glyph's own width, so that the two l of "ll" stay two.
OVERPRINT_WIDTH = 0.45
#: Side of the squares in which equal letters are looked up, in points; wider than any reach.
SQUARE = 16.0


def fold_glyphs(glyphs: Iterable[Glyph]) -> list[Glyph]:
    """Fold each glyph's text: blanks to " ", ligatures to letters, invisible to "", unmapped to `UNKNOWN`.

    Soft hyphens go, unless the page shows that they are its hyphens.
    """
    glyphs = _with_hyphens(list(glyphs))
    return [glyph if glyph.text.isascii() and glyph.text.isalnum() else _folded(glyph) for glyph in glyphs]


def _with_hyphens(glyphs: list[Glyph]) -> list[Glyph]:
    """Turn soft hyphens into hyphens where a font has no other ones, and into nothing elsewhere.

    Many producers name a font's only hyphen U+00AD. Such a font draws it inside words, where a soft
    hyphen is never seen; one that stands only where lines were broken is a soft hyphen indeed.
    """
    if not any(g.text == SOFT_HYPHEN for g in glyphs):
        return glyphs
    with_hyphen = {g.font for g in glyphs if g.text == "-"}
    hyphens = {
        glyph.font
        for place, glyph in enumerate(glyphs)
        if _is_seen(glyph) and glyph.font not in with_hyphen and not _ends_word(glyphs, place)
    }
    return [
        g._replace(text="-" if _is_seen(g) and g.font in hyphens else "") if g.text == SOFT_HYPHEN else g
        for g in glyphs
    ]


def _is_seen(glyph: Glyph) -> bool:
    width = max(glyph.x1 - glyph.x0, 0.0) if glyph.angle % 180 == 0 else glyph.bottom - glyph.top
    return glyph.text == SOFT_HYPHEN and width > SEEN_WIDTH * glyph.size


def _ends_word(glyphs: list[Glyph], place: int) -> bool:
    """True for a glyph that follows a letter and is followed by none."""
    before = place > 0 and _touches(glyphs[place - 1], glyphs[place])
    after = place + 1 < len(glyphs) and _touches(glyphs[place], glyphs[place + 1])
    return before and not after


def _touches(one: Glyph, other: Glyph) -> bool:
    """True when the second glyph was drawn where the first one ends."""
    if not one.text.strip() or not other.text.strip() or one.angle != other.angle:
        return False
    play = TOUCH * one.size
    if one.angle % 180 == 0:
        gap = other.x0 - one.x1 if one.angle == 0 else one.x0 - other.x1
        return abs(gap) <= play and abs(one.origin_y - other.origin_y) <= play
    gap = one.top - other.bottom if one.angle == 90 else other.top - one.bottom
    return abs(gap) <= play and abs(one.origin_x - other.origin_x) <= play


def _folded(glyph: Glyph) -> Glyph:
    text = _UNMAPPED.sub(UNKNOWN, glyph.text)
    text = "".join(_folded_character(c) for c in text)
    return glyph if text == glyph.text else glyph._replace(text=text)


def _folded_character(character: str) -> str:
    if character in _INVISIBLE:
        return ""
    if character in _LIGATURES:
        return _LIGATURES[character]
    if character.isspace():
        return " "
    if unicodedata.category(character) in ("Cc", "Co", "Cn", "Cs"):
        return UNKNOWN
    if unicodedata.category(character) == "Cf":
        return ""
    return character


def without_overprints(glyphs: list[Glyph]) -> tuple[list[Glyph], frozenset[int]]:
    """Drop characters printed again almost in place; return the rest and the `order` of those made bold.

    A second print repeats whole words; a single letter that happens to fall on its like, where text
    of one column runs into the next, stays.
    """
    twins = _twins(glyphs)
    dropped: set[int] = set()
    for place, glyph in enumerate(glyphs):
        twin = twins.get(glyph.order)
        if twin is None:
            continue
        alone = True
        for beside in (place - 1, place + 1):
            if not 0 <= beside < len(glyphs) or not _neighbours(glyph, glyphs[beside]):
                continue
            alone = False
            if glyphs[beside].order in twins:
                dropped.add(glyph.order)
        if alone:
            dropped.add(glyph.order)
    kept = [g for g in glyphs if g.order not in dropped]
    return kept, frozenset(twins[order] for order in dropped)


def _neighbours(one: Glyph, other: Glyph) -> bool:
    return _touches(one, other) or _touches(other, one)


def _twins(glyphs: list[Glyph]) -> dict[int, int]:
    """Map each glyph's order to that of an equal one printed almost in the same place before it."""
    seen: dict[tuple[str, int, int], list[Glyph]] = {}
    twins: dict[int, int] = {}
    for glyph in glyphs:
        text, x0, top, x1, _, size = glyph[:6]
        if not text or text == " ":
            continue
        reach_y = reach_x = OVERPRINT_SHIFT * size
        if OVERPRINT_WIDTH * (x1 - x0) < reach_x:
            reach_x = OVERPRINT_WIDTH * (x1 - x0)
        # Most letters are far enough from the edges of their square to be looked for in it alone.
        i, j = int(x0 // SQUARE), int(top // SQUARE)
        aside, down = x0 - i * SQUARE, top - j * SQUARE
        if reach_x <= aside < SQUARE - reach_x and reach_y <= down < SQUARE - reach_y:
            left = right = i
            high = low = j
        else:
            left, right = int((x0 - reach_x) // SQUARE), int((x0 + reach_x) // SQUARE)
            high, low = int((top - reach_y) // SQUARE), int((top + reach_y) // SQUARE)
        twin = None
        for column in (left,) if left == right else (left, right):
            for row in (high,) if high == low else (high, low):
                for other in seen.get((text, column, row), ()):
                    if (
                        twin is None
                        and abs(other.x0 - x0) <= reach_x
                        and abs(other.top - top) <= reach_y
                        and abs(other.size - size) <= reach_y
                    ):
                        twin = other
        if twin is None:
            seen.setdefault((text, i, j), []).append(glyph)
        else:
            twins[glyph.order] = twin.order
    return twins
