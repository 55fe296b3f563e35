"""Glyphs in, words out, whichever engine read them.

The way: fold characters, drop overprints, take watermarks out, sort glyphs into lines by their
baseline, lines into words by real blanks and wide gaps, letter-spaced headings and raised marks last.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from operator import attrgetter
from statistics import median

from xref.pages.content import Word
from xref.pages.glyphs import UNKNOWN, fold_glyphs, without_overprints
from xref.pages.marks import Drawing, Glyph
from xref.pages.raised import attach_raised_words, split_superscripts
from xref.pages.spacing import join_letter_spaced
from xref.pages.turned import turn_box, turn_glyph
from xref.pages.watermark import crosses_any, split_layers
from xref.records import Box

#: Two baselines this close, as a share of the smaller font size, are one line.
SAME_LINE = 0.2
#: A gap wider than this share of the font size parts words, where the page draws its blanks …
GAP_WITH_BLANKS = 0.25
#: … and where it never does (typesetters that only move on; their narrowest blank is about 0.2).
GAP_WITHOUT_BLANKS = 0.15
#: Share of blanks among a page's glyphs from which on it is said to draw its blanks.
BLANKS_DRAWN = 0.02
#: Japanese and Chinese are set in full squares whose declared widths are often half: a wider gap is no blank.
GAP_SQUARE = 0.5
#: A glyph that begins further back than this share of the font size belongs to other text lying over it.
OVERLAP = 0.3
#: Pieces of one word drawn at different times meet within this share of the font size.
MEET = 0.05
#: A real blank counts only where there is some room for it, as a share of the font size.
BLANK_ROOM = 0.08
#: Smaller than its neighbour by this factor and raised by `RAISED` of it: a mark, not part of the word.
SMALLER = 0.8
RAISED = 0.08
#: What the engine calls fonts without a name; they share nothing, so nothing is concluded from them.
NAMELESS = "unknown"
_size = attrgetter("size")
_BOLD = ("bold", "black", "heavy", "demi")


@dataclass(slots=True)
class _Line:
    base: float
    glyphs: list[Glyph]


def drawing_words(drawing: Drawing) -> tuple[Word, ...]:
    """Return the words of a drawing, top to bottom and left to right, whatever order they were drawn in."""
    glyphs, bold = without_overprints(fold_glyphs(drawing.glyphs))
    layers = split_layers(glyphs)
    placed: list[tuple[float, Word]] = []
    for angle in (0, 90, 180, 270):
        chosen = [g for g in layers.text if g.angle == angle]
        if chosen:
            placed.extend(_turned_words(chosen, angle, drawing, bold))
    for run in layers.slanted:
        word = _slanted_word(run, bold)
        placed.append((word.box.bottom, word))
    if layers.underlay:
        placed = [(b, replace(w, underlay=crosses_any(w.box, layers.underlay))) for b, w in placed]
    return tuple(word for _, word in _in_reading_order(placed))


def _in_reading_order(placed: list[tuple[float, Word]]) -> list[tuple[float, Word]]:
    """Sort by lines, then from left to right; baselines within `SAME_LINE` are one line."""
    placed = sorted(placed, key=lambda item: (item[0], item[1].box.x0))
    ordered: list[tuple[float, Word]] = []
    line: list[tuple[float, Word]] = []
    for item in placed:
        if line and item[0] - line[0][0] > SAME_LINE * min(item[1].size, line[0][1].size):
            ordered.extend(sorted(line, key=lambda i: i[1].box.x0))
            line = []
        line.append(item)
    ordered.extend(sorted(line, key=lambda i: i[1].box.x0))
    return ordered


def _turned_words(
    glyphs: list[Glyph], angle: int, drawing: Drawing, bold: frozenset[int]
) -> list[tuple[float, Word]]:
    """Make words of glyphs that run at one angle; boxes come back in the drawing's frame."""
    if angle == 0:
        return _line_words(glyphs, bold)
    width, height = drawing.width, drawing.height
    upright = [turn_glyph(g, angle, width, height) for g in glyphs]
    back_width, back_height = (height, width) if angle in (90, 270) else (width, height)
    found = []
    for _, word in _line_words(upright, bold):
        old = (word.box.x0, word.box.top, word.box.x1, word.box.bottom)
        x0, top, x1, bottom = turn_box(old, 360 - angle, back_width, back_height)
        box = Box(x0=x0, top=top, x1=x1, bottom=bottom)
        # A word that climbs the page cannot be cut at a column border: each character spans its width.
        edges = tuple((x0, x1) for _ in word.edges) if angle != 180 else _mirrored(word, back_width)
        found.append((bottom, replace(word, box=box, edges=edges)))
    return found


def _mirrored(word: Word, width: float) -> tuple[tuple[float, float], ...]:
    return tuple((width - x1, width - x0) for x0, x1 in word.edges)


def _line_words(glyphs: list[Glyph], bold: frozenset[int]) -> list[tuple[float, Word]]:
    blanks = sum(g.text == " " for g in glyphs)
    gap = GAP_WITH_BLANKS if blanks >= BLANKS_DRAWN * len(glyphs) else GAP_WITHOUT_BLANKS
    placed: list[tuple[float, Word]] = []
    for line in _baseline_lines(glyphs):
        chunks = _merged_chunks(_drawn_chunks(line.glyphs, gap), line.glyphs, gap)
        drawn = (_word(chunk, spaced, bold) for chunk, spaced in chunks)
        words = join_letter_spaced([word for word in drawn if word.text])
        placed.extend((line.base, word) for word in words)
    return [(base, split_superscripts(word)) for base, word in attach_raised_words(placed)]


def _baseline_lines(glyphs: list[Glyph]) -> list[_Line]:
    """Sort glyphs into lines by their baselines, from the top."""
    lines: list[_Line] = []
    last = _Line(base=-math.inf, glyphs=[])
    size = 0.0
    for glyph in sorted(_with_true_baselines(glyphs), key=attrgetter("origin_y")):
        below = glyph.origin_y - last.base
        if below <= SAME_LINE * glyph.size and below <= SAME_LINE * size:
            last.glyphs.append(glyph)
            last.base += below / len(last.glyphs)
        else:
            last = _Line(base=glyph.origin_y, glyphs=[glyph])
            lines.append(last)
        size = glyph.size
    return lines


def _with_true_baselines(glyphs: list[Glyph]) -> list[Glyph]:
    """Lift the origin of text raised by the PDF's rise operator, which moves the box but not the origin.

    Each font's own descent is the median of its glyphs; what departs from it was raised or lowered.
    """
    drops: dict[str, list[float]] = {}
    for g in glyphs:
        if g.font != NAMELESS:
            drops.setdefault(g.font, []).append((g.bottom - g.origin_y) / g.size)
    usual = {font: median(drop) for font, drop in drops.items() if max(drop) - min(drop) > RAISED}
    if not usual:
        return glyphs  # nothing was raised
    result = []
    for g in glyphs:
        base = g.bottom - usual[g.font] * g.size if g.font in usual else g.origin_y
        moved = abs(base - g.origin_y) > RAISED * g.size
        result.append(g._replace(origin_y=base) if moved else g)
    return result


def _drawn_chunks(glyphs: list[Glyph], gap: float) -> list[list[Glyph]]:
    """Group glyphs that were drawn one after the other and touch; blanks part them and are left out.

    Text drawn in one go stays together even where other text lies over it.
    """
    chunks: list[list[Glyph]] = []
    fresh = True
    for glyph in sorted(glyphs, key=attrgetter("order")):
        if glyph.text == " ":
            fresh = True
            continue
        if not fresh and chunks and _follows(chunks[-1][-1], glyph, gap):
            chunks[-1].append(glyph)
        else:
            chunks.append([glyph])
        fresh = False
    return chunks


def _follows(one: Glyph, other: Glyph, gap: float) -> bool:
    """True when `other` goes on where `one` ends, as letters of one word do."""
    distance = other.x0 - one.x1
    size = other.size
    if one.size != size:
        size = min(size, one.size)
        if _is_raised(other, one) or _is_raised(one, other):
            return False
    if not (one.text.isascii() and other.text.isascii()) and (_is_square(one) or _is_square(other)):
        gap = GAP_SQUARE if _is_square(one) and _is_square(other) else max(gap, GAP_WITH_BLANKS)
    return -OVERLAP * max(one.size, other.size) <= distance <= gap * size


def _is_raised(small: Glyph, large: Glyph) -> bool:
    """True for a smaller glyph that stands higher than its neighbour's baseline."""
    return small.size <= SMALLER * large.size and large.origin_y - small.origin_y > RAISED * large.size


def _is_square(glyph: Glyph) -> bool:
    """True for a character set in a full square: kana, CJK ideographs, full-width forms."""
    if not glyph.text:
        return False
    code = ord(glyph.text[0])
    return 0x2E80 <= code <= 0x9FFF or 0xF900 <= code <= 0xFAFF or 0xFF01 <= code <= 0xFF60


def _merged_chunks(
    chunks: list[list[Glyph]], glyphs: list[Glyph], gap: float
) -> list[tuple[list[Glyph], bool]]:
    """Join chunks that touch from left to right; say for each word whether a real blank stood before it."""
    blanks = [g for g in glyphs if g.text == " "]
    chunks.sort(key=lambda chunk: chunk[0].x0)
    words: list[tuple[list[Glyph], bool]] = []
    for chunk in chunks:
        if not words:
            words.append((list(chunk), True))
            continue
        before = words[-1][0]
        blank = _blank_between(before[-1], chunk[0], blanks)
        if not blank and _follows(before[-1], chunk[0], gap) and not _strangers(before, chunk):
            before.extend(chunk)
        else:
            words.append((list(chunk), blank))
    return words


def _strangers(one: list[Glyph], other: list[Glyph]) -> bool:
    """True for two pieces of text drawn apart that come close by chance, as in columns set too narrow."""
    if other[0].order == one[-1].order + 1 or min(len(one), len(other)) < 2:
        return False
    return abs(other[0].x0 - one[-1].x1) > MEET * max(one[-1].size, other[0].size)


def _blank_between(one: Glyph, other: Glyph, blanks: Iterable[Glyph]) -> bool:
    """True when a blank was drawn between the two, or lies in the room between them."""
    room = other.x0 - one.x1
    size = max(one.size, other.size)
    for blank in blanks:
        if one.order < blank.order < other.order and other.order - one.order <= 3:
            return True
        if room >= BLANK_ROOM * size and one.x1 - BLANK_ROOM * size <= _middle(blank) <= other.x0:
            return True
    return False


def _middle(glyph: Glyph) -> float:
    return (glyph.x0 + glyph.x1) / 2


def _word(glyphs: list[Glyph], spaced: bool, bold: frozenset[int]) -> Word:
    inked = [g for g in glyphs if g.text] or glyphs
    first = inked[0]
    text = "".join([g.text for g in inked])
    return Word(
        text=text,
        box=_box(inked),
        size=max(map(_size, inked)),
        bold=_is_bold(first.font) or (bool(bold) and any(g.order in bold for g in inked)),
        color=first.color,
        edges=_edges(inked) if len(text) != len(inked) else tuple([(g.x0, g.x1) for g in inked]),
        spaced=spaced,
        unmapped=UNKNOWN in text,
        hidden=first.hidden,
    )


def _edges(glyphs: list[Glyph]) -> tuple[tuple[float, float], ...]:
    """Return each character's edges; those of one glyph share its width."""
    edges: list[tuple[float, float]] = []
    for glyph in glyphs:
        step = (glyph.x1 - glyph.x0) / max(len(glyph.text), 1)
        for place in range(len(glyph.text)):
            edges.append((glyph.x0 + place * step, glyph.x0 + (place + 1) * step))
    return tuple(edges)


@lru_cache(maxsize=256)
def _is_bold(font: str) -> bool:
    return any(name in font.casefold() for name in _BOLD)


def _slanted_word(run: list[Glyph], bold: frozenset[int]) -> Word:
    """Make one word of a slanted run; it reads along its slope, so gaps are measured along it."""
    parts: list[str] = [run[0].text]
    for one, other in pairwise(run):
        step = math.dist((one.origin_x, one.origin_y), (other.origin_x, other.origin_y))
        blank = other.order - one.order > 1 or step > 1.3 * one.size
        parts.append((" " if blank else "") + other.text)
    word = _word(run, True, bold)
    box = word.box
    return replace(word, text="".join(parts), edges=tuple((box.x0, box.x1) for _ in "".join(parts)))


def _box(glyphs: list[Glyph]) -> Box:
    _, x0, top, x1, bottom, *_ = zip(*glyphs, strict=True)
    return Box(x0=min(x0), top=min(top), x1=max(x1), bottom=max(bottom))
