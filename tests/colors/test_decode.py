"""Colour codes as printed -> base, stripe, ring, order and doubts."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.colors.answer import color_readings
from xref.colors.choose import SchemeChoice
from xref.colors.decode import decode
from xref.colors.key import ColorKey
from xref.colors.schemes import schemes
from xref.records import DOUBTS


def by(scheme: str, *, case_kept: bool = False) -> SchemeChoice:
    """Return a choice of one scheme."""
    return SchemeChoice(scheme=scheme, why="", case_kept=case_kept)


def colors(code: str, scheme: str) -> tuple[str, str, str]:
    """Return base, stripe and ring, which must be free of doubt."""
    found = decode(code, by(scheme))
    assert found.doubts == (), found
    return found.base, found.stripe, found.ring


@pytest.mark.parametrize(
    "code",
    [
        "BU/YE",
        "BU-YE",
        "BU–YE",
        "BU—YE",
        "BU−YE",
        "BU YE",
        "BU w/ YE",
        "BU w/YE",
        "BU W/ YE",
        "BU / YE",
        "bu/ye",
        "BU(YE)",
        "BU (YE)",
        "BU[YE]",
        "BU/YE*",
        "BU/YE¹",
        "BU\u00a0/\u00a0YE",
        "BU with YE stripe",
        "BU/YE (blue/yellow)",
        "blue with yellow stripe",
        "blue/yellow",
        "BLUE WITH YELLOW TRACER",
        "blau/gelb",
        "blau mit gelbem Streifen",
        "bleu/jaune",
        "azul con raya amarilla",
        "blu/giallo",
        "blå/gul",
        "青/黄",
    ],
)
def test_every_writing_of_two_colors(code: str) -> None:
    """Blue with yellow is read from every way it is printed, in codes and in words."""
    found = decode(code, by("iec60757"))
    assert (found.base, found.stripe, found.ring) == ("blue", "yellow", "")
    assert found.doubts == () and found.order_known


@pytest.mark.parametrize(
    ("code", "scheme", "expected"),
    [
        ("BLU WITH YEL STRIPE", "en3", ("blue", "yellow", "")),
        ("YEL/DK GRN", "en3", ("yellow", "dark green", "")),
        ("DK GRN/LT BLU", "en3", ("dark green", "light blue", "")),
        ("DK GRN LT BLU", "en3", ("dark green", "light blue", "")),
        ("LT-GRN/BLK", "en3", ("light green", "black", "")),
        ("LTGRN", "en3", ("light green", "", "")),
        ("LT. BLU", "en3", ("light blue", "", "")),
        ("LT GN/BK", "iec60757", ("light green", "black", "")),
        ("sw/rt", "din47002", ("black", "red", "")),
        ("SW-RT", "din47002", ("black", "red", "")),
        ("swrt", "din47002", ("black", "red", "")),
        ("bl(ge)", "din47002", ("blue", "yellow", "")),
        ("dbl/ws", "din47002", ("dark blue", "white", "")),
        ("L/Y", "jis_jaso", ("blue", "yellow", "")),
        ("LY", "jis_jaso", ("blue", "yellow", "")),
        ("Br/W", "jis_jaso", ("brown", "white", "")),
        ("BR/W", "jis_jaso", ("brown", "white", "")),
        ("LgR", "jis_jaso", ("light green", "red", "")),
        ("WG", "bs_au7a", ("white", "green", "")),
        ("LGK", "bs_au7a", ("light green", "pink", "")),
        ("WH/RD/BK", "iec60757", ("white", "red", "black")),
        ("WH BU", "iec60757", ("white", "blue", "")),
        ("BK*", "iec60757", ("black", "", "")),
        ("BU (blue)", "iec60757", ("blue", "", "")),
        ("blue (BU)", "iec60757", ("blue", "", "")),
        ("TN", "en2", ("tan", "", "")),
        ("hellblau", "", ("light blue", "", "")),
        ("dark green/white", "", ("dark green", "white", "")),
        ("bleu clair", "", ("light blue", "", "")),
    ],
)
def test_writings_by_scheme(code: str, scheme: str, expected: tuple[str, str, str]) -> None:
    """Each scheme's own way of printing is read as base, stripe and ring."""
    assert colors(code, scheme) == expected


@pytest.mark.parametrize("code", ["BR", "GR", "LG", "LGR", "br"])
def test_lost_case_is_a_doubt_even_when_decided(code: str) -> None:
    """All-capital Japanese codes that could be one colour or two give two readings, never one."""
    found = decode(code, by("jis_jaso"))
    assert found.doubts == ("color-undecided",) and len(found.readings) == 2 and found.base == ""


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("BR", ("black", "red")),
        ("Br", ("brown", "")),
        ("GR", ("green", "red")),
        ("LgR", ("light green", "red")),
        ("LG", ("blue", "green")),
        ("LGr", ("blue", "grey")),
    ],
)
def test_kept_case_tells_codes_apart(code: str, expected: tuple[str, str]) -> None:
    """Where the document is known to keep its letter case, `BR` is two colours and `Br` one."""
    found = decode(code, by("jis_jaso", case_kept=True))
    assert (found.base, found.stripe) == expected and found.doubts == ()


def test_glued_iec_codes_are_a_list_without_a_base() -> None:
    """IEC 60757:2021 joins colours in table order, so `RDBU` does not say which is the base; `RD/BU` does."""
    glued, separated = decode("RDBU", by("iec60757")), decode("RD/BU", by("iec60757"))
    assert (glued.base, glued.stripe, glued.order_known) == ("red", "blue", False)
    assert "not stated" in glued.words
    assert separated.order_known and separated.words == "red with blue stripe"


def test_green_yellow_is_one_thing() -> None:
    """`GNYE` is the one joint code of IEC 60757: green and yellow, neither the base."""
    for code, scheme in (("GNYE", "iec60757"), ("gnge", "din47002"), ("GNYE", "")):
        found = decode(code, by(scheme))
        assert ({found.base, found.stripe}, found.order_known, found.doubts) == (
            {"green", "yellow"},
            False,
            (),
        )


@pytest.mark.parametrize("code", ["BK/BK", "BK-BK", "BKBK", "BK/RD/RD"])
def test_repeated_color_is_a_doubt(code: str) -> None:
    """A colour printed as its own stripe is an error of the manual and is reported."""
    assert decode(code, by("iec60757")).doubts == ("color-repeated",)


@pytest.mark.parametrize(
    "code",
    ["XX", "BU/XX", "BU/YE/WH/RD", "0.5 BU", "BK+BK+BN", "BK & WH", "/", "()", "BU/", "ro", "GND", "a" * 500],
)
def test_what_is_no_color_of_the_scheme_is_unknown(code: str) -> None:
    """A text in no scheme is named unknown and never half read."""
    for scheme in ("iec60757", "din47002", ""):
        if (code, scheme) != ("ro", ""):
            found = decode(code, by(scheme))
            assert found.doubts == ("color-unknown",) and found.base == "", (code, scheme)


def test_blank_is_no_doubt() -> None:
    """An empty cell has no colours and no doubt."""
    assert decode(" ", by("")).doubts == () and decode("", by("en2")).words == ""


@pytest.mark.parametrize("code", ["R", "W", "YE", "BU/YE", "W/R", "GRN", "BLK/WHT", "red"])
def test_undecided_scheme_without_a_conflict_is_read(code: str) -> None:
    """Where every scheme reads a code alike, nothing hangs on the choice and there is no doubt."""
    found = decode(code, by(""))
    assert found.doubts == () and found.base


@pytest.mark.parametrize("code", ["B/W", "G/R", "BV", "V/R"])
def test_pairs_of_ambiguous_codes_are_doubts_too(code: str) -> None:
    """A pair is as ambiguous as its parts while the scheme is undecided."""
    assert decode(code, by("")).doubts == ("color-undecided",)


def test_own_key_beats_every_scheme() -> None:
    """A key's codes mean what the key says, its doubled codes are a doubt, others are unknown."""
    key = ColorKey(codes={"BL": "white", "R": "red"}, duplicates={"G": ("grey", "green")})
    choice = SchemeChoice(scheme="key", why="", key=key)
    assert (decode("BL/R", choice).base, decode("BL/R", choice).stripe) == ("white", "red")
    doubled = decode("R/G", choice)
    assert doubled.doubts == ("color-undecided",) and {r.base for r in doubled.readings} == {"grey", "green"}
    assert decode("BK", choice).doubts == ("color-unknown",)


SEPARATORS = ("/", "-", "–", " ", " w/ ", " / ", " with ")


@pytest.mark.parametrize("name", sorted(schemes()))
def test_round_trip_of_every_ordered_pair(name: str) -> None:
    """Printing any two codes of a scheme with any separator and reading them gives the two colours back."""
    codes = schemes()[name].codes
    for (one, first), (two, second) in product(codes.items(), repeat=2):
        for separator in SEPARATORS:
            found = decode(f"{one}{separator}{two}", by(name, case_kept=True))
            assert (found.base, found.stripe, found.order_known) == (first, second, True), (
                one,
                separator,
                two,
            )
            assert found.doubts == (("color-repeated",) if first == second else ())


@pytest.mark.parametrize("name", [s.name for s in schemes().values() if not s.legend_only])
def test_round_trip_of_glued_pairs(name: str) -> None:
    """Two codes printed without separator are read as these two, or are in doubt; never as others."""
    scheme = schemes()[name]
    singles = {code.casefold() for code in scheme.codes}
    for (one, first), (two, second) in product(scheme.codes.items(), repeat=2):
        glued = one + two
        stray = name == "en2" and 1 in (len(one), len(two))
        if " " in glued or stray or (glued.casefold() in singles and not scheme.letter_case):
            continue
        found = decode(glued, by(name, case_kept=True))
        assert {found.base, found.stripe} == {first, second} or "color-undecided" in found.doubts, glued
        assert found.base == first or not found.order_known, glued


SEPARATED = [s.name for s in schemes().values() if not s.letter_case]


@given(
    name=st.sampled_from(SEPARATED),
    picks=st.lists(st.integers(0, 50), min_size=3, max_size=3),
    separator=st.sampled_from(["/", "-", "–", " / "]),
    blanks=st.sampled_from(["", " ", "\u00a0", "\t"]),
    lower=st.booleans(),
)
def test_round_trip_of_three_colors(
    name: str, picks: list[int], separator: str, blanks: str, lower: bool
) -> None:
    """Base, stripe and ring survive printing in either case with stray blanks around."""
    codes = list(schemes()[name].codes.items())
    chosen = [codes[pick % len(codes)] for pick in picks]
    printed = blanks + separator.join(code for code, _ in chosen) + blanks
    found = decode(printed.lower() if lower else printed, by(name))
    assert [found.base, found.stripe, found.ring] == [color for _, color in chosen]


@given(st.text(max_size=40), st.sampled_from(["", *schemes()]))
def test_any_text_gives_an_answer(text: str, name: str) -> None:
    """No text breaks the reader; what is in doubt has no colours and a doubt that is known."""
    found = decode(text, by(name))
    assert found.raw == text and set(found.doubts) <= set(DOUBTS)
    assert bool(found.base) == (found.doubts in ((), ("color-repeated",)) and bool(text.strip()))


def test_answer_holds_every_scheme() -> None:
    """The look-up of one code lists every reading, remembered and key-only ones marked."""
    found = color_readings("BR")
    assert {(r.scheme, r.base, r.stripe) for r in found} >= {
        ("din47002", "brown", ""),
        ("jis_jaso", "brown", ""),
        ("jis_jaso", "black", "red"),
        ("bs_au7a", "black", "red"),
        ("it", "white", "red"),
    }
    assert all("legend only" in r.source for r in found if r.scheme in ("fr", "it", "es", "sv"))
    assert [r.scheme for r in color_readings("red")] == ["words"]
    assert color_readings("12") == ()
