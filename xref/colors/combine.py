"""Parts of a colour text, read by one scheme: every way they can be meant."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import product

from xref.colors.language import colors_of_word, shade_and_rest, shaded
from xref.colors.schemes import Scheme, extension_of, fold_code
from xref.colors.writing import MOST_PARTS, Writing
from xref.data.words import REMEMBERED

Colors = tuple[str, ...]

#: No code and no word for a colour holds a figure, in any scheme or key.
_FIGURE = re.compile(r"\d")


def _is_mixed(text: str) -> bool:
    return any(c.islower() for c in text) and any(c.isupper() for c in text)


@lru_cache(maxsize=REMEMBERED)
def single_colors(part: str, scheme: Scheme) -> tuple[str, ...]:
    """Return the colours one part may name by itself: a code, a shaded code or a full word."""
    if scheme.letter_case and part in scheme.codes:
        return (scheme.codes[part],)
    folded = fold_code(part)
    found = scheme.folded.get(folded)
    if found is not None:
        return found
    extension = extension_of(scheme.name)
    if extension is not None and folded not in extension.needs_key and folded in extension.folded:
        return extension.folded[folded]
    word = colors_of_word(part)
    if word:
        return word
    shade, rest = shade_and_rest(part)
    if not shade or not rest or " " in rest:
        return ()
    plain = scheme.folded.get(fold_code(rest), ())
    return tuple(c for color in plain if (c := shaded(color, shade)))


def _splits(text: str, codes: frozenset[str], most: int) -> list[tuple[str, ...]]:
    """Return every way to cut a text into two to `most` codes."""
    found: list[tuple[str, ...]] = []

    def cut(rest: str, taken: tuple[str, ...]) -> None:
        if not rest:
            found.append(taken)
        elif len(taken) < most:
            for length in range(1, len(rest) + 1):
                if rest[:length] in codes:
                    cut(rest[length:], (*taken, rest[:length]))

    cut(text, ())
    return [cuts for cuts in found if len(cuts) > 1]


def _glue_codes(scheme: Scheme, *, exact: bool) -> dict[str, tuple[str, ...]]:
    """Return the codes that take part in glued writing.

    In sets of longer codes the stray single letters (`T`, `N`) do not: `TN` is tan there, and
    nobody prints two of them without a separator.
    """
    codes: dict[str, tuple[str, ...]] = (
        {code: (color,) for code, color in scheme.codes.items()} if exact else dict(scheme.folded)
    )
    extension = extension_of(scheme.name)
    if extension is not None and not exact:
        codes |= {c: v for c, v in extension.folded.items() if c not in extension.needs_key}
    singles = [c for c in codes if len(c) == 1]
    if len(singles) * 4 < len(codes):
        return {c: v for c, v in codes.items() if len(c) > 1}
    return codes


def _glued(text: str, scheme: Scheme, *, exact: bool) -> list[Colors]:
    """Read a text without separators as two codes, or as three where no code is a single letter."""
    codes = _glue_codes(scheme, exact=exact)
    known = frozenset(codes)
    wanted = text if exact else fold_code(text)
    found = _splits(wanted, known, 2)
    if not found and all(len(c) > 1 for c in known):
        found = _splits(wanted, known, MOST_PARTS)
    return [colors for cuts in found for colors in product(*(codes[c] for c in cuts))]


def part_readings(part: str, scheme: Scheme, case_kept: bool) -> tuple[Colors, ...]:
    """Return every reading of a text that stands alone, without separators."""
    special = scheme.special.get(fold_code(part))
    if special is not None:
        return (special,)
    word = colors_of_word(part) if len(part) > 2 else ()
    if word and fold_code(part) not in scheme.folded:
        return tuple((color,) for color in word)
    if not scheme.letter_case:
        single = single_colors(part, scheme)
        found = [(color,) for color in single] or (
            _glued(part, scheme, exact=False) if part.isalpha() else []
        )
        return tuple(dict.fromkeys(found))
    return _by_case(part, scheme, case_kept)


def _by_case(part: str, scheme: Scheme, case_kept: bool) -> tuple[Colors, ...]:
    """Read a part where case carries meaning: exactly if it kept its case, else both ways."""
    found: list[Colors] = []
    if case_kept or _is_mixed(part):
        if part in scheme.codes:
            return ((scheme.codes[part],),)
        if part.isalpha():
            found = _glued(part, scheme, exact=True)
    if not found:
        found = [(color,) for color in single_colors(part, scheme)]
        found += _glued(part, scheme, exact=False) if part.isalpha() else []
    return tuple(dict.fromkeys(found))


@lru_cache(maxsize=REMEMBERED)
def parts_readings(parts: tuple[str, ...], scheme: Scheme, case_kept: bool) -> tuple[Colors, ...]:
    """Return every reading of separated parts as base, stripe and ring by one scheme."""
    if len(parts) == 1:
        return part_readings(parts[0], scheme, case_kept)
    meant = []
    for part in parts:
        colors = single_colors(part, scheme)
        if not colors:
            return ()
        meant.append(colors)
    return tuple(dict.fromkeys(product(*meant)))


def writing_readings(writing: Writing, scheme: Scheme, case_kept: bool) -> tuple[Colors, ...]:
    """Return every reading of a colour text by one scheme; () if it does not fit the scheme.

    A bracket that says the same again in other words (`BU (blue)`) adds nothing; otherwise it
    holds the further colours (`bl(ge)`).
    """
    if any(map(_FIGURE.search, writing.parts)):
        return ()
    outside = parts_readings(writing.parts, scheme, case_kept)
    if not writing.bracket or not outside:
        return outside
    inside = parts_readings(writing.bracket, scheme, case_kept)
    written_alike = [fold_code(p) for p in writing.parts] == [fold_code(p) for p in writing.bracket]
    if not written_alike and (same := tuple(colors for colors in outside if colors in inside)):
        return same
    both = (first + second for first, second in product(outside, inside))
    return tuple(dict.fromkeys(colors for colors in both if len(colors) <= MOST_PARTS))


def is_glued(writing: Writing, colors: Colors) -> bool:
    """Tell whether several colours were read out of a text without any separator."""
    return len(writing.parts) == 1 and not writing.bracket and len(colors) > 1
