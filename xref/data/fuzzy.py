"""The only door to rapidfuzz: how alike two short texts are. Loaded when first used."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def likeness(a: str, b: str) -> float:
    """Return how alike two texts are, 0–100 (normalised edit distance)."""
    from rapidfuzz import fuzz

    return float(fuzz.ratio(a, b))


def likest(asked: str, names: Sequence[str], *, score: float) -> str:
    """Return the name most alike to `asked` (normalised edit distance), or "" below `score` (0–100)."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(asked, names, scorer=fuzz.ratio, score_cutoff=score)
    return str(found[0]) if found else ""


def best_matches(asked: str, names: Iterable[str], *, score: float, limit: int) -> list[tuple[str, float]]:
    """Return the `limit` names most alike to `asked`, best first, none below `score` (0–100)."""
    from rapidfuzz import fuzz, process

    found = process.extract(asked, list(names), scorer=fuzz.WRatio, score_cutoff=score, limit=limit)
    return [(name, float(points)) for name, points, _ in found]
