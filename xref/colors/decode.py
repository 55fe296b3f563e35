"""A colour code as printed -> base, stripe and ring, or a named doubt."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from xref.colors.choose import SchemeChoice
from xref.colors.combine import Colors, is_glued, writing_readings
from xref.colors.key import scheme_of_key
from xref.colors.language import colors_of_word
from xref.colors.schemes import (
    Scheme,
    code_or_pair,
    extension_of,
    fold_code,
    one_code_two_colors,
    schemes,
)
from xref.colors.words import in_words
from xref.colors.writing import MOST_PARTS, Writing, read_writing
from xref.data.words import REMEMBERED


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One way a code can be meant, by which scheme, and where that scheme is published."""

    base: str
    stripe: str = ""
    ring: str = ""
    scheme: str
    source: str

    @property
    def colors(self) -> Colors:
        """Base, stripe and ring as one value, to compare readings of several schemes."""
        return (self.base, self.stripe, self.ring)


@dataclass(frozen=True, slots=True, kw_only=True)
class Decoded:
    """A decoded colour code. In doubt, base, stripe and ring are empty and `readings` hold what it may be.

    `order_known` is False where the code lists colours without saying which is the base.
    A colour repeated as its own stripe is kept as read, with its doubt.
    """

    raw: str
    base: str = ""
    stripe: str = ""
    ring: str = ""
    order_known: bool = True
    readings: tuple[Reading, ...] = ()
    doubts: tuple[str, ...] = ()
    words: str = ""


def all_words(writing: Writing) -> bool:
    """Tell whether every part is a full colour word, which needs no scheme."""
    return all(len(p) > 2 and colors_of_word(p) for p in writing.parts + writing.bracket) or (
        not writing.bracket and all(colors_of_word(p) and not p.isascii() for p in writing.parts)
    )


def _source(writing: Writing, scheme: Scheme) -> str:
    extension = extension_of(scheme.name)
    folded = [fold_code(part) for part in writing.parts + writing.bracket]
    if extension is not None and any(f in extension.folded and f not in scheme.folded for f in folded):
        return extension.source
    return scheme.source


def readings_by(writing: Writing, scheme: Scheme, *, case_kept: bool) -> tuple[Reading, ...]:
    """Return every reading of a colour text by one scheme."""
    source = _source(writing, scheme)
    spoken = all_words(writing)
    found = []
    for colors in writing_readings(writing, scheme, case_kept):
        base, stripe, ring = (*colors, "", "")[:MOST_PARTS]
        name, where = ("words", "colour words in full") if spoken else (scheme.name, source)
        found.append(Reading(base=base, stripe=stripe, ring=ring, scheme=name, source=where))
    return tuple(found)


def _is_pair_glued(writing: Writing, reading: Reading) -> bool:
    return is_glued(writing, tuple(c for c in reading.colors if c))


def _order_known(writing: Writing, reading: Reading, scheme: Scheme) -> bool:
    if not _is_pair_glued(writing, reading):
        return True
    return scheme.base_first and fold_code(writing.parts[0]) not in scheme.special


def _settled(raw: str, reading: Reading, readings: tuple[Reading, ...], *, order_known: bool) -> Decoded:
    named = [c for c in reading.colors if c]
    repeated = any(first == second for first, second in pairwise(named))
    words = in_words(*reading.colors)
    if not order_known and len(named) > 1:
        words = f"{', '.join(named[:-1])} and {named[-1]} (which is the base is not stated)"
    return Decoded(
        raw=raw,
        base=reading.base,
        stripe=reading.stripe,
        ring=reading.ring,
        order_known=order_known,
        readings=readings,
        doubts=("color-repeated",) if repeated else (),
        words=words,
    )


def _in_doubt(raw: str, readings: tuple[Reading, ...]) -> Decoded:
    meanings = dict.fromkeys(in_words(*reading.colors) for reading in readings)
    return Decoded(
        raw=raw,
        order_known=False,
        readings=readings,
        doubts=("color-undecided",),
        words=f"undecided: {' or '.join(meanings)}",
    )


def _unknown(raw: str, readings: tuple[Reading, ...] = ()) -> Decoded:
    return Decoded(raw=raw, order_known=False, readings=readings, doubts=("color-unknown",), words="unknown")


def scheme_of(choice: SchemeChoice) -> Scheme | None:
    """Return the scheme a choice stands for; None when undecided."""
    if choice.key is not None and choice.scheme == "key":
        return scheme_of_key(choice.key)
    return schemes()[choice.scheme] if choice.scheme else None


def _duplicate_readings(writing: Writing, choice: SchemeChoice) -> tuple[Reading, ...]:
    """Return the colours a key gives for a code that it explains twice."""
    if choice.key is None:
        return ()
    twice = {fold_code(code): colors for code, colors in choice.key.duplicates.items()}
    hit = [colors for part in writing.parts + writing.bracket if (colors := twice.get(fold_code(part)))]
    return (
        tuple(Reading(base=c, scheme="key", source="given twice in the document's key") for c in hit[0])
        if hit
        else ()
    )


def _decode_by(raw: str, writing: Writing, scheme: Scheme, choice: SchemeChoice) -> Decoded:
    if scheme.name == "key" and (twice := _duplicate_readings(writing, choice)):
        return _in_doubt(raw, twice)
    readings = readings_by(writing, scheme, case_kept=choice.case_kept)
    if not readings:
        return _unknown(raw)
    if len(readings) > 1:
        return _in_doubt(raw, readings)
    return _settled(raw, readings[0], readings, order_known=_order_known(writing, readings[0], scheme))


def _stands_in_conflicts(writing: Writing) -> bool:
    parts = [fold_code(part) for part in writing.parts + writing.bracket]
    return any(p in one_code_two_colors() for p in parts) or (len(parts) == 1 and parts[0] in code_or_pair())


def _decode_undecided(raw: str, writing: Writing) -> Decoded:
    """Read a code by every scheme; settled only where nothing contradicts.

    Schemes that need a key contradict too, except that two codes glued by one of them do not
    contradict what is a single code elsewhere (`GRN` is no grey-black).
    """
    voted: list[Reading] = []
    objecting: list[Reading] = []
    order_known = True
    for scheme in schemes().values():
        found = readings_by(writing, scheme, case_kept=False) if not scheme.extends else ()
        if not scheme.legend_only:
            voted += found
            order_known &= all(_order_known(writing, reading, scheme) for reading in found)
        else:
            objecting += found
    glued = any(_is_pair_glued(writing, reading) for reading in voted)
    weighty = [r for r in objecting if glued or not _is_pair_glued(writing, r)]
    everything = tuple(dict.fromkeys(voted + objecting))
    readings = tuple(dict.fromkeys(voted + weighty))
    if not everything:
        return _unknown(raw)
    if _stands_in_conflicts(writing) and not all_words(writing):
        return _in_doubt(raw, everything)
    if len({r.colors for r in readings}) > 1:
        return _in_doubt(raw, readings)
    if not voted:
        return _unknown(raw, everything)
    return _settled(raw, voted[0], readings, order_known=order_known)


@lru_cache(maxsize=REMEMBERED)
def decode(code: str, choice: SchemeChoice) -> Decoded:
    """Decode a colour as printed by the document's scheme.

    Doubts: `color-unknown` (in no key or scheme), `color-undecided` (several meanings), and
    `color-repeated` (base and stripe alike). An empty code has no colours and no doubt.
    """
    if not code.strip():
        return Decoded(raw=code)
    writing = read_writing(code)
    if writing is None:
        return _unknown(code)
    scheme = scheme_of(choice)
    if scheme is None:
        return _decode_undecided(code, writing)
    return _decode_by(code, writing, scheme, choice)
