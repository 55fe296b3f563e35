"""Connectors numbered anew for each component (`X1`, `X2` under `A20`, then under `A21`) get both names."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from xref.pins.heading import Head
from xref.pins.naming import Naming
from xref.pins.wordings import has_word

#: The heading of a component is larger than those of its connectors by this factor.
LARGER = 1.12


#: Tables with the same circuit in this share of the cavities they have in common show one connector.
AGREE = 0.6

#: Cavities of a table with what is in them.
Content = dict[str, str]


def chapter_of(best: Naming | None, namings: Sequence[Naming]) -> str:
    """Return the designator of a larger heading over the one that names a table, "" without one."""
    if best is None or best.near is None or not best.head.designator:
        return ""
    size, gap = best.near.line.size, best.near.gap
    over = [
        n
        for n in namings
        if n.near is not None
        and n.head.designator
        and n.head.connector != best.head.connector
        and not has_word(n.head.text, "harness")
        and n.near.line.size > LARGER * size
        and (n.near.gap > gap or n.where == "page")
    ]
    nearest = min(over, key=lambda n: n.near.gap if n.near else 0.0, default=None)
    return nearest.head.connector if nearest else ""


def with_chapters(
    heads: Sequence[tuple[Head, ...]], chapters: Sequence[str], contents: Sequence[Content]
) -> list[tuple[Head, ...]]:
    """Put the component's designator before the names that stand under several components.

    `chapters` holds, for each table, the component whose chapter it stands in, "" where none is known;
    `contents` its cavities with what is in them. A name that stands once outside of any chapter is left as
    it is: its rows contradict each other and say so. So is one whose tables agree: they show one connector,
    or its two halves.
    """
    places: dict[str, dict[str, Content]] = defaultdict(lambda: defaultdict(dict))
    for own, chapter, content in zip(heads, chapters, contents, strict=True):
        for head in own:
            places[head.connector][chapter].update(content)
    several = {
        name
        for name, found in places.items()
        if name
        and len(found) > 1
        and "" not in found
        and all(_contradict(a, b) for a, b in combinations(found.values(), 2))
    }
    return [
        tuple(
            replace(h, connector=f"{chapter} {h.connector}", component=h.component or chapter)
            if h.connector in several
            else h
            for h in own
        )
        for own, chapter in zip(heads, chapters, strict=True)
    ]


def _contradict(a: Content, b: Content) -> bool:
    shared = [c for c in a if c in b and a[c] and b[c]]
    return bool(shared) and sum(a[c] == b[c] for c in shared) < AGREE * len(shared)
