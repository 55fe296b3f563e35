"""Header words for the two sides of a fuse: `Input circuit` is a circuit, and of the side that is fed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from xref.data.fuse_sides import SIDES, Side, side_words
from xref.data.words import REMEMBERED, fold
from xref.tables.lines import is_wide_script
from xref.tables.piece import P, Piece

#: Words that are a side's only where nothing else is said: in `Circuito de salida` the `de` is none.
LITTLE = frozenset({"de", "da"})
#: What each side of a fuse may have of its own: two headers of each side at least stand under its word.
WIRE = frozenset({"circuit", "color", "size"})
FEWEST = 2


def over_sides(
    upper: Sequence[P], lower: Sequence[P], role_of: Callable[[str], tuple[str, float]]
) -> list[tuple[P, list[P]]]:
    """Return the words for the two sides of a fuse that stand over the headers of a wire, with those.

    Each has the same headers under it: `Input` and `Output` over `Circuit`, `Colour` twice.
    """
    heads = [u for u in upper if (said := side_of(u.text)) and not said[0]]
    if sorted(said[1] for u in heads if (said := side_of(u.text))) != list(SIDES):
        return []
    wires = [p for p in lower if role_of(p.text)[0] in WIRE]
    found: dict[int, list[P]] = {0: [], 1: []}
    for piece in wires:
        nearest = min((0, 1), key=lambda n: abs(_middle(heads[n]) - _middle(piece)))
        found[nearest].append(piece)
    one, other = ([role_of(p.text)[0] for p in found[n]] for n in (0, 1))
    if len(one) < FEWEST or one != other:
        return []
    return [(heads[n], of) for n, of in found.items()]


def _middle(piece: Piece) -> float:
    return (piece.x0 + piece.x1) / 2


@lru_cache(maxsize=REMEMBERED)
def side_of(header: str) -> tuple[str, Side] | None:
    """Return what a header says beside the word for a side of a fuse, and the side.

    None where it names neither or both: `Input circuit` gives `circuit`, `Feed` gives "".
    """
    folded = fold(header)
    found = [(rest, side) for side in SIDES if (rest := _without(folded, side_words(side))) is not None]
    return found[0] if len(found) == 1 else None


def _without(folded: str, words: frozenset[str]) -> str | None:
    """Return a header without the longest of these words in it; None where it has none of them."""
    if is_wide_script(folded):
        bare = folded.replace(" ", "")
        inside = max((w for w in words if is_wide_script(w) and w in bare), key=len, default="")
        return bare.replace(inside, "") if inside else None
    tokens = folded.split()
    if len(tokens) > 1:
        words = words - LITTLE
    for size in range(len(tokens), 0, -1):
        for start in range(len(tokens) - size + 1):
            if " ".join(tokens[start : start + size]) in words:
                return " ".join((*tokens[:start], *tokens[start + size :]))
    return None
