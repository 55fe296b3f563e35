"""What a code may mean at all: every reading by every scheme, for the look-up of one code."""

from __future__ import annotations

from collections.abc import Sequence

from xref.colors.choose import SchemeChoice
from xref.colors.decode import Reading, decode, readings_by
from xref.colors.key import pairs_to_key
from xref.colors.schemes import schemes
from xref.colors.writing import read_writing


def color_readings(code: str) -> tuple[Reading, ...]:
    """Return every reading of a code over all schemes; the source says `memory` and `legend only`."""
    writing = read_writing(code)
    if writing is None:
        return ()
    found = (readings_by(writing, scheme, case_kept=False) for scheme in schemes().values())
    # A colour with its own stripe is no wire: a code without a separator that reads so is just not known.
    parted = len(writing.parts) > 1
    return tuple(dict.fromkeys(r for readings in found for r in readings if parted or r.base != r.stripe))


def key_readings(code: str, pairs: Sequence[tuple[str, str]]) -> tuple[Reading, ...]:
    """Return what a code means by a document's own key, kept as pairs of code and colour."""
    if not pairs:
        return ()
    return decode(code, SchemeChoice(scheme="key", why="", key=pairs_to_key(pairs))).readings
