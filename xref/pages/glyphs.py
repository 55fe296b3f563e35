"""Glyphs made plain: characters folded, overprinted doubles dropped."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import replace

from xref.pages.marks import Glyph

#: Stands for a character whose meaning the PDF does not say.
UNKNOWN = "\ufffd"
#: Takes no room in the text: soft hyphen, zero-width characters, direction marks, byte-order mark.
_INVISIBLE = frozenset("\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\u2061\u2062\u2063\u2064\ufeff")
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


def fold_glyphs(glyphs: Iterable[Glyph]) -> list[Glyph]:
    """Fold each glyph's text: blanks to " ", ligatures to letters, invisible to "", unmapped to `UNKNOWN`."""
    return [glyph if glyph.text.isascii() and glyph.text.isalnum() else _folded(glyph) for glyph in glyphs]


def _folded(glyph: Glyph) -> Glyph:
    text = _UNMAPPED.sub(UNKNOWN, glyph.text)
    text = "".join(_folded_character(c) for c in text)
    return glyph if text == glyph.text else replace(glyph, text=text)


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
    """Drop characters printed again almost in place; return the rest and the `order` of those made bold."""
    seen: dict[tuple[str, int, int], list[Glyph]] = {}
    kept: list[Glyph] = []
    bold: set[int] = set()
    for glyph in glyphs:
        if glyph.text.strip() == "":
            kept.append(glyph)
            continue
        reach_x = min(OVERPRINT_SHIFT * glyph.size, OVERPRINT_WIDTH * (glyph.x1 - glyph.x0))
        reach_y = OVERPRINT_SHIFT * glyph.size
        column, row = int(glyph.x0 // 8), int(glyph.top // 8)
        twin = next(
            (
                other
                for i in (column - 1, column, column + 1)
                for j in (row - 1, row, row + 1)
                for other in seen.get((glyph.text, i, j), ())
                if abs(other.x0 - glyph.x0) <= reach_x
                and abs(other.top - glyph.top) <= reach_y
                and abs(other.size - glyph.size) <= reach_y
            ),
            None,
        )
        if twin is None:
            kept.append(glyph)
            seen.setdefault((glyph.text, column, row), []).append(glyph)
        else:
            bold.add(twin.order)
    return kept, frozenset(bold)
