"""A phrase that stands within a sentence in one place, and by itself in another."""

from __future__ import annotations


def as_sentence(phrase: str) -> str:
    """Return a phrase as a sentence of its own: with a capital, and a full stop."""
    return f"{phrase[0].upper()}{phrase[1:]}."
