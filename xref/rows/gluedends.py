"""Wire lists whose ends are connector and cavity in one text (`C8/2`), whatever the headers over them say."""

from __future__ import annotations

from collections.abc import Sequence

from xref.rows.cavities import connectors_listed

#: Of the texts of a column of ends so many are one place each, and so many rows have one.
PLACES = 0.9
FILLED = 0.8
#: So many rows at least show it.
FEWEST = 3
#: Roles that a header may have given such a column.
OPEN = frozenset({"", "goes_from", "goes_to", "connector", "component", "location", "function", "signal"})
#: Something of a wire must be told beside its ends.
WIRES = frozenset({"circuit", "color"})


def glued_ends(texts: Sequence[Sequence[str]], roles: Sequence[str]) -> tuple[int, int] | None:
    """Return the columns of the two ends of each row's wire; None where it is no list of wires.

    `texts` are the texts of each column, band by band; `roles` its role so far. The end that a header names
    decides which one is the far end, else the second is.
    """
    if "cavity" in roles or not WIRES & set(roles):
        return None
    ends = [j for j, own in enumerate(texts) if roles[j] in OPEN and _are_places(own)]
    if len(ends) != 2:
        return None
    one, other = ends
    turned = roles[one] == "goes_to" or roles[other] == "goes_from"
    return (other, one) if turned else (one, other)


def _are_places(texts: Sequence[str]) -> bool:
    filled = [t for t in texts if t]
    single = sum(len(connectors_listed(t)) == 1 for t in filled)
    return len(filled) >= max(FEWEST, FILLED * len(texts)) and single >= PLACES * len(filled)
