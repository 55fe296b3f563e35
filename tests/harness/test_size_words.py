"""Sizes in words."""

from __future__ import annotations

import pytest

from tests.store.sample import pin
from xref.harness.size_words import size_words


@pytest.mark.parametrize(
    ("size", "mm2", "said"),
    [
        ("1", 1.0, "1 mm²"),
        ("0,5", 0.5, "0,5 mm²"),
        ("18", 0.8231, "18 AWG"),  # ASTM B258: AWG 18 is 0.823 mm²
        ("1", None, "1 (unit not stated)"),
        ("AWG 18", 0.8231, "AWG 18"),
        ("0.5 mm²", 0.5, "0.5 mm²"),
        ("", None, ""),
    ],
)
def test_a_bare_figure_is_shown_with_its_unit(size: str, mm2: float | None, said: str) -> None:
    """A size of 1 mm² cannot be taken for gauge 1."""
    assert size_words(pin("X1", "1", size=size, size_mm2=mm2)) == said
