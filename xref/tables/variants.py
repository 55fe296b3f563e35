"""Header texts that name a variant of the machine (`48 V`, `ohne Heizung`), or what a pin is like."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from xref.data.legend_words import legend_words
from xref.data.words import REMEMBERED, fold
from xref.tables.lines import is_wide_script

#: Machines have batteries of so many volts at least; `5 V` says what a pin is supplied with.
LEAST_VOLTS = 12


@lru_cache(maxsize=REMEMBERED)
def names_variant(text: str) -> bool:
    """True for a header that names a variant of the machine, and nothing that a pin is like."""
    folded = fold(text)
    if not folded or names_property(text) or len(_quantity().findall(text)) > 1:
        return False
    if is_wide_script(folded) and any(word in folded for word in _wide("variant") | _wide("with")):
        return True
    padded = f" {folded} "
    if any(f" {word} " in padded for word in legend_words("variant") | legend_words("with")):
        return True
    found = _quantity().search(text)
    return found is not None and not (
        found["unit"].casefold().startswith("v") and _number(found) < LEAST_VOLTS
    )


@lru_cache(maxsize=REMEMBERED)
def names_property(text: str) -> bool:
    """True for a header that says what a pin or its signal is like, or what is wrong with it."""
    return fold(text) in legend_words("property")


def _number(found: re.Match[str]) -> float:
    return float(found["number"].replace(",", "."))


@cache
def _wide(role: str) -> frozenset[str]:
    return frozenset(word for word in legend_words(role) if is_wide_script(word))


@cache
def _quantity() -> re.Pattern[str]:
    units = "|".join(sorted(map(re.escape, legend_words("unit")), key=len, reverse=True))
    number = r"(?<![\w.,])(?P<number>\d{1,4}(?:[.,]\d{1,2})?)"
    return re.compile(rf"{number}[ \u00a0-]?(?P<unit>{units})(?![^\W_])", re.IGNORECASE)
