"""Near names: likeness with the confusions of reading at no cost."""

from __future__ import annotations

from rapidfuzz import fuzz

from xref.settings import DEFAULT
from xref.store.near import near_names


def test_look_alikes_come_first() -> None:
    """A name that differs only in look-alike letters scores as the same name."""
    found = near_names("I44O", ["1440", "1445", "9999"])
    assert found[0] == ("1440", 100.0)
    assert "9999" not in dict(found)


def test_never_offers_the_asked_name_nor_too_many() -> None:
    """The asked name itself is no near name, and no more are offered than settings say."""
    found = near_names("1440", [f"14{n:02}" for n in range(100)])
    assert "1440" not in dict(found)
    assert len(found) == DEFAULT.most_near


def test_many_names_give_the_closest() -> None:
    """Of many thousand names the offered ones score as high as comparing every name would give.

    Source: RapidFuzz's plain ratio over all names.
    """
    names = [str(n) for n in range(10_000, 40_000)]
    every = sorted((fuzz.ratio("1010q", name) for name in names), reverse=True)
    assert [score for _, score in near_names("1o1oq", names)] == every[: DEFAULT.most_near]


def test_nothing_resembles_nothing() -> None:
    """Blank texts and names of signs only resemble nothing."""
    assert near_names("", ["1440"]) == near_names("  ", ["1440"]) == []
