"""A header over several variants of the machine (`Circuit` over `24 V` and `48 V`): each gets its words."""

from __future__ import annotations

from collections.abc import Sequence

from xref.tables.piece import P, Piece
from xref.tables.variants import names_variant
from xref.tables.vocabulary import best_role, header_roles

#: So many variants stand side by side.
FEWEST = 2
#: This share of a line of variants has names that are known for such.
SHARE = 0.5
#: A header is a known word from this score on.
KNOWN = 0.45
#: A header says that options stand under it from this score on.
OPTION = 0.9
#: What stands over one other piece reaches over it by so much, points.
REACH = 2.0


def are_variants(texts: Sequence[str]) -> bool:
    """True for a line of variants only, two at least, none twice; some may have names that nobody knows."""
    sure = [t for t in texts if names_variant(t)]
    others = [t for t in texts if t not in sure]
    distinct = len(set(texts)) == len(texts)
    return len(sure) >= max(FEWEST, SHARE * len(texts)) and distinct and not any(map(_is_known, others))


def _is_known(text: str) -> bool:
    return best_role(text)[1] >= KNOWN


def under_one(piece: Piece, headers: Sequence[Piece]) -> bool:
    """True where a piece stands under one header, or under none: then it heads a column of its own."""
    return sum(h.x0 - REACH <= piece.x1 and piece.x0 <= h.x1 + REACH for h in headers) <= 1


def over_variants(upper: Sequence[P], lower: Sequence[P]) -> list[tuple[P, list[P]]]:
    """Return each header that stands over several variants of the line below, with those.

    It may be narrower than what it stands over; a variant belongs to the header whose middle is nearest.
    """
    run = _run(lower)
    if len(run) < FEWEST:
        options = [u for u in upper if header_roles(u.text).get("option", 0.0) >= OPTION]
        run = [p for p in lower if not _alone_under(p, upper)] if options else []
    if len(run) < FEWEST:
        return []
    low, high = run[0].x0, run[-1].x1
    heads = [u for u in upper if low < _middle(u) < high and not _has_own(u, run)]
    found: dict[int, list[P]] = {}
    for piece in run if heads else ():
        nearest = min(range(len(heads)), key=lambda n: abs(_middle(heads[n]) - _middle(piece)))
        found.setdefault(nearest, []).append(piece)
    if any(len(of) < FEWEST for of in found.values()):
        return []
    return [(heads[n], of) for n, of in found.items()]


def _run(pieces: Sequence[P]) -> list[P]:
    """Return the variants among pieces, with those of unknown names beside them."""
    places = [n for n, p in enumerate(pieces) if names_variant(p.text)]
    if not places:
        return []
    first, last = places[0], places[-1]
    while first > 0 and not _is_known(pieces[first - 1].text):
        first -= 1
    while last + 1 < len(pieces) and not _is_known(pieces[last + 1].text):
        last += 1
    run = list(pieces[first : last + 1])
    return run if are_variants([p.text for p in run]) else [pieces[n] for n in places]


def _middle(piece: Piece) -> float:
    return (piece.x0 + piece.x1) / 2


def _has_own(head: Piece, run: Sequence[Piece]) -> bool:
    """True where a header stands over the middle of a single variant, and over no other."""
    own = [p for p in run if p.x0 - REACH <= head.x1 and head.x0 <= p.x1 + REACH]
    return len(own) == 1 and abs(_middle(own[0]) - _middle(head)) <= REACH


def _alone_under(piece: Piece, upper: Sequence[Piece]) -> bool:
    """True where a piece goes on with a header over it that is no word for options."""
    over = [u for u in upper if u.x0 - REACH <= piece.x1 and piece.x0 <= u.x1 + REACH]
    return any(header_roles(u.text).get("option", 0.0) < OPTION for u in over)
