"""Names that a reader may take for one another meet under a key."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from xref.store.fold import CONFUSIONS, confusion_key, plain_key, stem_key, unpadded_key

CODES = st.text(alphabet="0123456789ABCDILOSX", min_size=1, max_size=8)


@given(st.text(max_size=20))
@example("ǰ")
@example("ﬁ1")
@example("H¨")
@example("_0_0")
@example("٠1")
def test_keys_are_stable(text: str) -> None:
    """Folding a folded key again changes nothing, whatever the text."""
    for key in (plain_key, confusion_key, unpadded_key):
        assert key(key(text)) == key(text)
    stem_key(text)


@given(CODES, st.data())
def test_look_alikes_meet(code: str, data: st.DataObject) -> None:
    """Changing any letters of a code to their look-alikes, or its case, keeps its confusion key."""
    twins = {**{k.upper(): v for k, v in CONFUSIONS.items()}, "0": "O", "1": "l", "5": "s", "8": "B"}
    changed = "".join(
        twins.get(letter, letter) if data.draw(st.booleans(), label=letter) else letter.lower()
        for letter in code
    )
    assert confusion_key(changed) == confusion_key(code)


@given(st.integers(1, 99999), st.integers(0, 3), st.sampled_from(["", "X", "C", "FU"]))
def test_padding_meets(number: int, zeros: int, before: str) -> None:
    """Zeros before a number keep its unpadded key."""
    assert unpadded_key(f"{before}{'0' * zeros}{number}") == unpadded_key(f"{before}{number}")


@given(st.integers(10, 99999), st.sampled_from(["A", "B", "-A", " C", "AB", "/2", "-1"]))
def test_segments_meet(number: int, mark: str) -> None:
    """A segment of a number has the number's stem."""
    assert stem_key(f"{number}{mark}") == stem_key(str(number))


def test_segment_letters_of_published_marking() -> None:
    """The segment letter changes along one wire: 215A and 215B have one stem.

    Source: NAVEDTRA 14176, wire marking systems (wire 215, segment A in P215A4N).
    """
    assert stem_key("P215A") == stem_key("P215B") == stem_key("P215")
    assert stem_key("215A") != stem_key("216A")


@pytest.mark.parametrize(
    ("one", "other"), [("B+", "B-"), ("1440", "1441"), ("A1", "1"), ("12", "21"), ("D+", "D")]
)
def test_different_names_stay_apart(one: str, other: str) -> None:
    """Signs, other digits and other letters make another name."""
    assert confusion_key(one) != confusion_key(other)
    assert unpadded_key(one) != unpadded_key(other)
