"""Which scheme a document is read by: evidence, noise, the key, and undecided."""

import random
from collections import Counter

import pytest

from xref.colors.choose import SchemeChoice, choose_scheme
from xref.colors.decode import decode
from xref.colors.key import ColorKey


def chosen(codes: str) -> SchemeChoice:
    """Vote over codes given as one text, without a key."""
    return choose_scheme(Counter(codes.split()), None)


@pytest.mark.parametrize(
    ("codes", "scheme"),
    [
        ("BK RD BU/YE WH", "iec60757"),
        ("BK RD BUYE GNYE", "iec60757"),
        ("sw ws rt/ge", "din47002"),
        ("SW WS GR BR dbl/ws", "din47002"),
        ("L B/R W Y Br", "jis_jaso"),
        ("L LY WR BR GR", "jis_jaso"),
        ("N U K LG R", "bs_au7a"),
        ("BLK RED DKGRN/WHT", "en3"),
        ("BK BR RD OR YL GR BL", "en2"),
        ("BK RD WH BU YE LG DG LB/BK TN", "en2"),
    ],
)
def test_evidence_settles(codes: str, scheme: str) -> None:
    """Codes that hardly another scheme prints settle the vote."""
    assert chosen(codes).scheme == scheme


@pytest.mark.parametrize(
    "codes", ["R W Y O", "B R G L V", "B R N G", "BK BN", "A M N V Z", "GR", "red black", ""]
)
def test_undecided_is_an_answer(codes: str) -> None:
    """Codes that fit several schemes, only key-bound schemes or none leave the scheme undecided."""
    assert chosen(codes).scheme == "" and chosen(codes).why


def test_schemes_that_read_alike_are_no_conflict() -> None:
    """Where two schemes read every code of the document alike, one is chosen and the other named."""
    choice = chosen("B W R G Y")
    assert choice.scheme and "alike" in choice.why
    assert decode("B", choice).base == "black" and decode("G", choice).doubts == ()


def test_nothing_in_doubt_when_nothing_hangs_on_it() -> None:
    """A document of R, W, Y, O only stays undecided, and its codes are read without doubt."""
    choice = chosen("R W Y O")
    assert [decode(code, choice).doubts for code in "RWYO"] == [()] * 4


@pytest.mark.parametrize(
    ("scheme", "codes"),
    [
        ("iec60757", "BK BN RD OG YE GN BU VT GY WH BU/YE RD/WH"),
        ("din47002", "sw br rt or ge gn bl vi gr ws rt/sw ws/ge"),
        ("jis_jaso", "B W R G Y L Br Gr Lg L/Y B/R W/G"),
        ("bs_au7a", "N U R P G LG W Y B K S WG NU"),
        ("en3", "BLK BRN ORG YEL GRN BLU WHT BLK/WHT"),
    ],
)
def test_misprints_do_not_overturn_the_vote(scheme: str, codes: str) -> None:
    """Three per cent of misread codes change nothing, whatever they look like."""
    noise = ["8K", "WN", "GV", "BR", "SW", "L", "U", "XX", "BLK", "VI"]
    for seed in range(20):
        dice = random.Random(seed)
        cells = dice.choices(codes.split(), k=200)
        for at in dice.sample(range(200), 6):
            cells[at] = dice.choice(noise)
        assert choose_scheme(Counter(cells), None).scheme == scheme, seed


def test_misprint_does_not_become_a_color_of_a_wider_scheme() -> None:
    """One stray `BR` in an IEC document stays unknown; it is not read by a scheme that has it."""
    choice = choose_scheme(Counter({"BK": 30, "RD": 30, "BU/YE": 30, "WH": 30, "BR": 1}), None)
    assert choice.scheme == "iec60757" and decode("BR", choice).doubts == ("color-unknown",)


def test_two_schemes_mixed_stay_undecided() -> None:
    """A document printed half in one scheme and half in another is read by neither."""
    assert choose_scheme(Counter({"BU": 50, "YE": 50, "sw": 50, "ws": 50}), None).scheme == ""


KEY = ColorKey(codes={"BL": "white", "RD": "red", "WS": "violet", "SW": "black", "RT": "red"}, duplicates={})


def test_key_wins_and_disagreement_is_reported() -> None:
    """The document's key beats the vote, and the reason names where they differ."""
    choice = choose_scheme(Counter({"WS": 10, "SW": 10, "RT": 10}), KEY)
    assert choice.scheme == "key" and choice.key is KEY
    assert "WS" in choice.why and "key counts" in choice.why
    assert decode("WS", choice).base == "violet"


def test_key_reports_what_it_does_not_cover() -> None:
    """Cells outside the key and codes it gives twice are named in the reason."""
    key = ColorKey(codes={"BK": "black", "RD": "red"}, duplicates={"GN": ("green", "grey")})
    choice = choose_scheme(Counter({"BK": 9, "RD": 9, "GN": 1, "QQ": 1}), key)
    assert choice.scheme == "key" and "2 of 20 cells" in choice.why and "GN" in choice.why


def test_letter_case_of_the_document_is_noted() -> None:
    """Mixed-case codes show that `BR` means two colours; all capitals leave it in doubt."""
    kept = chosen("L L/Y Br Br/W Gr W B BR")
    lost = chosen("L L/Y BR GR W B")
    assert kept.case_kept and decode("BR", kept).stripe == "red"
    assert not lost.case_kept and decode("BR", lost).doubts == ("color-undecided",)
