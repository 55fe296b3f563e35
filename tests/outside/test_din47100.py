"""Core colours of DIN 47100, which names 44 cores by one and two colours."""

from collections import Counter

from xref.colors.choose import choose_scheme
from xref.colors.decode import decode

#: DIN 47100 cores 1 to 44, as printed on kabelkonfektion.com (core 37 there reads "gr/b", a misprint).
CORES = [
    "ws",
    "br",
    "gn",
    "ge",
    "gr",
    "rs",
    "bl",
    "rt",
    "sw",
    "vi",
    "gr/rs",
    "rt/bl",
    "ws/gn",
    "br/gn",
    "ws/ge",
    "ge/br",
    "ws/gr",
    "gr/br",
    "ws/rs",
    "rs/br",
    "ws/bl",
    "br/bl",
    "ws/rt",
    "br/rt",
    "ws/sw",
    "br/sw",
    "gr/gn",
    "ge/gr",
    "rs/gn",
    "ge/rs",
    "gn/bl",
    "ge/bl",
    "gn/rt",
    "ge/rt",
    "gn/sw",
    "ge/sw",
    "gr/bl",
    "rs/bl",
    "gr/rt",
    "rs/rt",
    "gr/sw",
    "rs/sw",
    "bl/sw",
    "rt/sw",
]


def test_scheme_is_found_by_vote() -> None:
    """A list of the 44 cores is known for German codes without a key."""
    assert choose_scheme(Counter(CORES), None).scheme == "din47002"


def test_44_cores_are_distinct() -> None:
    """The 44 cores decode without doubt to 44 different wires, whichever colour is the base."""
    choice = choose_scheme(Counter(CORES), None)
    found = [decode(core, choice) for core in CORES]
    assert not any(core.doubts for core in found)
    assert len({(core.base, core.stripe) for core in found}) == 44
    assert len({frozenset((core.base, core.stripe)) for core in found}) == 44


def test_misprinted_core_is_in_doubt() -> None:
    """The misprint `gr/b` is named unknown, and does not cost the other cores their scheme."""
    printed = [core if core != "gr/bl" else "gr/b" for core in CORES]
    choice = choose_scheme(Counter(printed), None)
    assert choice.scheme == "din47002"
    assert [core for core in printed if decode(core, choice).doubts] == ["gr/b"]
