"""Words that headers share: `Circuit front harness`, `Colour front harness` belong to one half of a pair."""

from __future__ import annotations

from collections.abc import Sequence

from xref.tables.vocabulary import best_role, header_roles

#: A header of its own is a known phrase from this score on.
WHOLE = 0.96
#: What the headers of one half share has at most so many words.
LONGEST = 4


def without_shared(headers: Sequence[str]) -> list[tuple[str, str]]:
    """Return each header's own words, and the words by which it belongs to a group of headers ("" if none).

    Only where two groups at least stand beside each other and their headers have the same roles.
    """
    plain = [(text, "") for text in headers]
    for tail in (True, False):
        parted = [_parted(text, tail=tail) for text in headers]
        groups: dict[str, list[str]] = {}
        for text, rest in parted:
            if rest:
                groups.setdefault(rest, []).append(best_role(text)[0])
        roles = {tuple(sorted(g)) for g in groups.values()}
        if len(groups) >= 2 and len(roles) == 1 and len(next(iter(roles))) >= 2:
            return parted
    return plain


def _parted(text: str, *, tail: bool) -> tuple[str, str]:
    """Part a header into a known phrase and the rest behind it (`tail`) or before it."""
    tokens = text.split()
    if max(header_roles(text).values(), default=0.0) >= WHOLE:
        return text, ""
    for size in range(len(tokens) - 1, 0, -1):
        known = " ".join(tokens[:size] if tail else tokens[len(tokens) - size :])
        rest = tokens[size:] if tail else tokens[: len(tokens) - size]
        if best_role(known)[1] >= WHOLE and len(rest) <= LONGEST:
            return known, " ".join(rest)
    return text, ""
