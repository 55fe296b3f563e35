"""The colour schemes as data: names, provenance, and what they print."""

import pytest

from xref.colors.choose import SchemeChoice
from xref.colors.decode import decode
from xref.colors.language import color_words
from xref.colors.schemes import code_or_pair, fold_code, one_code_two_colors, schemes

PLAIN = {
    "black",
    "brown",
    "red",
    "orange",
    "yellow",
    "green",
    "blue",
    "violet",
    "grey",
    "white",
    "pink",
    "turquoise",
    "gold",
    "silver",
    "beige",
    "tan",
    "natural",
}

GOLDEN = {
    # IEC 60757:1983 Table 1 (as reproduced in GOST 28763-90)
    "iec60757": "BK black BN brown RD red OG orange YE yellow GN green BU blue VT violet GY grey WH white "
    "PK pink GD gold TQ turquoise SR silver",
    # DIN 47002 (as reproduced on de.wikipedia.org/wiki/Farb-Kurzzeichen)
    "din47002": "sw black br brown rt red or orange ge yellow gn green bl blue vi violet gr grey ws white "
    "rs pink tk turquoise",
    # BS AU 7a:1983; slate is grey, purple is violet (common trade practice)
    "bs_au7a": "N brown U blue R red P violet G green W white Y yellow B black K pink S grey O orange",
    # JIS C 3406 single letters, corroborated by us.ok.com; the two-letter ones are from memory
    "jis_jaso": "B black W white R red G green Y yellow L blue O "
    "orange P pink V violet Br brown Gr grey T tan",
    # English abbreviations, etopwh.com in part
    "en3": "BLK black BRN brown RED red ORN orange YEL yellow GRN green BLU blue VIO violet GRY grey "
    "WHT white PNK pink TAN tan NAT natural",
    # English two letters: common trade practice, from memory
    "en2": "BK black BR brown RD red OR orange YL yellow GR green LG green BL blue LB blue DB blue PL violet",
}


@pytest.mark.parametrize("name", sorted(GOLDEN))
def test_golden_table(name: str) -> None:
    """Every code of a scheme decodes to the colour its published table gives."""
    pairs = GOLDEN[name].split()
    for code, color in zip(pairs[::2], pairs[1::2], strict=True):
        found = decode(code, SchemeChoice(scheme=name, why="", case_kept=True))
        assert found.base.split()[-1] == color, code
        assert (found.stripe, found.doubts) == ("", ())


def test_names_are_the_tables_own() -> None:
    """Every scheme yields only colour names of the normalised table."""
    for scheme in schemes().values():
        for color in scheme.codes.values():
            shade, _, plain = color.rpartition(" ")
            assert shade in ("", "light", "dark") and plain in PLAIN, (scheme.name, color)


def test_remembered_schemes_say_so() -> None:
    """A scheme without a published text is marked `memory`, and no national letters win without a key."""
    for name in ("en2", "din_extra", "jis_jaso", "fr", "it", "es", "sv"):
        assert schemes()[name].status.startswith("memory") and "memory" in schemes()[name].source
    assert {s.name for s in schemes().values() if s.legend_only} == {"fr", "it", "es", "sv"}


def test_folded_names_do_not_collide_within_a_scheme() -> None:
    """Ivory stays apart from beige, lilac from violet, chocolate from brown."""
    german = schemes()["din_extra"].codes
    assert len({german["el"], german["be"], german["li"], "violet", "natural"}) == 5
    assert schemes()["jis_jaso"].codes["Ch"] != schemes()["jis_jaso"].codes["Br"]


UNDECIDED = SchemeChoice(scheme="", why="")


@pytest.mark.parametrize("code", sorted(one_code_two_colors()))
def test_one_code_two_colors_is_a_doubt(code: str) -> None:
    """A code that means two colours in two schemes is never read while the scheme is undecided."""
    found = decode(code.upper(), UNDECIDED)
    assert found.doubts == ("color-undecided",) and not (found.base or found.stripe or found.ring)
    assert len({r.colors for r in found.readings}) > 1


@pytest.mark.parametrize("code", sorted(code_or_pair()))
def test_code_or_pair_is_a_doubt(code: str) -> None:
    """A text that is one colour here and base with stripe there is never read while undecided."""
    found = decode(code.upper(), UNDECIDED)
    assert found.doubts == ("color-undecided",) and not (found.base or found.stripe or found.ring)
    assert {bool(r.stripe) for r in found.readings} == {True, False}


def test_conflict_lists_agree_with_the_schemes() -> None:
    """Each listed conflict can be worked out anew from the schemes it names."""
    for code, readings in one_code_two_colors().items():
        for color, names in readings.items():
            for name in names:
                assert set(schemes()[name].folded[fold_code(code)]) <= set(color.split("/")), (code, name)
    every: dict[str, set[str]] = {}
    for scheme in schemes().values():
        for code, colors in scheme.folded.items():
            every.setdefault(code, set()).update(colors)
    conflicting = {code for code, colors in every.items() if len(colors) > 1}
    assert conflicting == set(one_code_two_colors())


def test_no_code_and_no_word_holds_a_figure() -> None:
    """A text with a figure is no colour in any scheme, so that such texts need not be tried."""
    codes = [c for s in schemes().values() for c in (*s.codes, *s.special)]
    assert not [text for text in (*codes, *color_words()) if any(map(str.isdigit, text))]
