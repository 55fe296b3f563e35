"""Tables whose rows are wires: the column that says at which connectors and cavities each wire is.

`X5:3` in a row may be where the wire itself is, or only the far end of a wire whose own cavity another
column names. Taken for the wrong one, every row is another connector's.
"""

from __future__ import annotations

from collections.abc import Sequence

from xref.rows.cavities import connectors_listed, lists_places
from xref.rows.content import is_sequence
from xref.rows.evidence import filled_texts

#: A column said to hold these holds no places, though `L12-04` may be read as one.
NO_PLACES = frozenset({"circuit", "color", "size", "goes_from"})
#: Beside one of these a list of places says only where the wire of a row goes on.
ROWS_OF_PINS = frozenset({"cavity", "connector", "splice", "ground", "fuse", "goes_from"})
#: What names a wire. Of the rows that name one so many have a place, where each row is a wire.
WIRES = frozenset({"circuit", "color"})
PLACED = 0.9
#: Cavities that nobody named as such begin at one of these.
FIRST = frozenset({"1", "01", "A1", "A01", "A"})


def places_column(texts: Sequence[Sequence[str]], roles: Sequence[str]) -> int:
    """Return the index of the column that lists where the wire of each row is; -1 where none does.

    `texts` are the texts of each column, band by band; `roles` its role so far, "" for none.
    """
    found = [j for j, own in enumerate(texts) if roles[j] not in NO_PLACES and lists_places(own)]
    if len(found) != 1 or any(r in ROWS_OF_PINS for j, r in enumerate(roles) if j not in found):
        return -1
    at = found[0]
    wires = [own for j, own in enumerate(texts) if roles[j] in WIRES]
    rows = [n for n in range(len(texts[at])) if any(n < len(own) and own[n] for own in wires)]
    if sum(bool(texts[at][n]) for n in rows) < PLACED * len(rows):
        return -1  # wires without a place: only the far ends of some are told
    several = any(len(connectors_listed(t)) > 1 for t in texts[at])
    counted = any(_count_on(own) for j, own in enumerate(texts) if not roles[j])
    return -1 if roles[at] == "goes_to" and counted and not several else at


def _count_on(texts: Sequence[str]) -> bool:
    """True for texts that count on from the first cavity."""
    filled = filled_texts(texts)
    return bool(filled) and filled[0] in FIRST and is_sequence(filled)
