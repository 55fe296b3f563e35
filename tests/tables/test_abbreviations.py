"""Header words cut short with a dot."""

from __future__ import annotations

import pytest

from xref.tables.abbreviations import in_full
from xref.tables.vocabulary import best_role


@pytest.mark.parametrize(
    ("text", "role"),
    [("Alv.", "cavity"), ("Kl.", "cavity"), ("Ausf.", "option"), ("Opz. Opt.", "option"), ("Sez.", "size")],
)
def test_a_word_cut_short_means_what_the_words_mean_that_begin_so(text: str, role: str) -> None:
    """A dot behind the beginning of a header word stands for the rest of it."""
    assert best_role(text)[0] == role


@pytest.mark.parametrize("text", ["No.", "Nr.", "Gr.", "Xyz.", "Pin", "V."])
def test_what_may_mean_several_things_is_left_as_it_is(text: str) -> None:
    """Words for number, beginnings of words with different meanings, and words without a dot stay."""
    assert in_full(text) == text
