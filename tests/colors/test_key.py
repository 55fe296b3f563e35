"""A document's own colour key, from pairs and from running text."""

from itertools import pairwise

import pytest

from xref.colors.key import read_key
from xref.colors.keytext import key_pairs_in_text


def test_key_in_several_languages() -> None:
    """Colour words of every language of the word list make a key."""
    for words in (
        ("black", "red", "light green"),
        ("schwarz", "rot", "hellgrün"),
        ("noir", "rouge", "vert clair"),
        ("negro", "rojo", "verde claro"),
        ("nero", "rosso", "verde chiaro"),
        ("svart", "röd", "ljusgrön"),
        ("黒", "赤", "薄緑"),
        ("Schwarz / black", "Rot / red", "light green (hellgrün)"),
    ):
        key = read_key(zip(("B", "R", "LG"), words, strict=True))
        assert key is not None and dict(key.codes) == {"B": "black", "R": "red", "LG": "light green"}, words


def test_code_for_two_colors_is_reported_and_not_used() -> None:
    """A code that the key gives for two colours stands in `duplicates` only."""
    key = read_key([("BK", "black"), ("RD", "red"), ("BU", "blue"), ("BK", "brown"), ("RD", "red")])
    assert key is not None
    assert dict(key.codes) == {"RD": "red", "BU": "blue"}
    assert dict(key.duplicates) == {"BK": ("black", "brown")}


def test_columns_may_stand_the_other_way_round() -> None:
    """A key printed with the word before the code is the same key."""
    key = read_key([("black", "BK"), ("red", "RD"), ("blue", "BU")])
    assert key is not None and key.codes["BK"] == "black"


@pytest.mark.parametrize(
    "pairs",
    [
        [("A", "red"), ("B", "green"), ("C", "white"), ("D", "red")],
        [("1", "red"), ("2", "blue"), ("3", "black")],
        [("BK", "black"), ("RD", "red")],
        [("F1", "10 A red"), ("F2", "15 A blue"), ("F3", "20 A yellow")],
        [
            ("BK", "black"),
            ("GND", "ground"),
            ("PWR", "supply"),
            ("SIG", "signal"),
            ("RD", "red"),
            ("BU", "blue"),
        ],
        [],
        [("", "black"), ("RD", "")],
    ],
)
def test_other_pairs_are_no_key(pairs: list[tuple[str, str]]) -> None:
    """Cavities with colours, fuse ratings, abbreviations and remarks are no colour key."""
    assert read_key(pairs) is None


@pytest.mark.parametrize(
    "text",
    [
        "BK = black, RD = red, LT GRN = light green",
        "BK black   RD red   LT GRN light green",
        "BK: black\nRD: red\nLT GRN: light green",
        "BK – black; RD – red; LT GRN – light green.",
        "Black (BK), red (RD), LT GRN light green",
        "BK .... black\nRD .... red.\nLT GRN .... light green",
    ],
)
def test_key_in_text(text: str) -> None:
    """A key in running text is found with its ties, with blanks and with brackets."""
    key = read_key(key_pairs_in_text(text))
    assert key is not None
    assert dict(key.codes) == {"BK": "black", "RD": "red", "LT GRN": "light green"}


@pytest.mark.parametrize(
    "text",
    [
        "Colour codes: BK black, BN brown, RD red, LG light green",
        "In the tables BK stands for black, BN for brown,\nRD for red and LG for light green.",
        "Key: black (BK), brown (BN), red (RD), light green (LG).",
        "Colors: BK/black, BN/brown, RD/red, LG = light green",
        "BK = black, BN =\nbrown, RD\nred, LG = light green",
        "Farben: BK schwarz, BN braun; RD rot und LG hellgrün.",
        "Es bedeuten: BK: schwarz, BN: braun, RD: rot sowie LG: hellgrün.",
        "Couleurs : BK noir, BN marron, RD rouge et LG vert clair",
        "Colores: BK = negro; BN = marrón; RD = rojo y LG = verde claro.",
        "Colori dei cavi: BK nero, BN marrone, RD rosso e LG verde chiaro",
        "線色：BK＝黒、BN＝茶、RD＝赤、LG＝薄緑",
        "線色 BK（黒）、BN（茶）、RD（赤）、LG（薄緑）",
        "BK (black), BN (brown), RD (red), LG (light green)",
        "schwarz BK braun BN\nrot RD hellgrün LG",
    ],
)
def test_key_in_a_sentence(text: str) -> None:
    """A key set as a sentence, over the ends of lines too, is found in every language of the word list."""
    key = read_key(key_pairs_in_text(text))
    assert key is not None and not key.duplicates
    assert dict(key.codes) == {"BK": "black", "BN": "brown", "RD": "red", "LG": "light green"}


def test_codes_behind_their_words_are_not_those_of_the_next_word() -> None:
    """`schwarz BK blau BU` says what BK is, and not that BK is blue."""
    lines = ("schwarz BK blau BU", "braun BN violett VT", "rot RD grau GY")
    key = read_key(key_pairs_in_text("\n".join(lines)))
    assert key is not None
    assert key.codes["BK"] == "black" and key.codes["BU"] == "blue"


@pytest.mark.parametrize(
    "text",
    [
        "Join the red wire RD to the black wire BK and the blue BU wire to the stud.",
        "Measure RD red to BK black: 24 V. Measure GN green to BU blue: 12 V. Do not cut YE yellow.",
        "Pin 1 red, pin 2 blue, pin 3 black, pin 4 green",
        "Connector A black, B grey, C green",
        "The lamp is red when faulty, green when ready, yellow when waiting, blue when charging.",
        "Colour codes: BK black, RD red.",
    ],
)
def test_prose_that_holds_codes_gives_no_key(text: str) -> None:
    """Codes and colours in sentences about wires, plugs and lamps explain no codes; two are no key."""
    assert read_key(key_pairs_in_text(text)) is None


def test_two_color_words_are_a_wire() -> None:
    """`gelb-grün` prints the colours of a wire and explains no code `gelb`."""
    printed = [("gelb", "grün"), ("grün", "braun"), ("braun", "orange"), ("violett", "gelb")]
    assert read_key(printed) is None


def test_key_with_full_width_signs() -> None:
    """A Japanese key with full-width signs is found."""
    key = read_key(key_pairs_in_text("B：黒　R＝赤　L：青"))
    assert key is not None and dict(key.codes) == {"B": "black", "R": "red", "L": "blue"}


def test_prose_gives_no_key() -> None:
    """Sentences about coloured wires give no pairs."""
    text = "The red wire is joined to the blue wire by a black sleeve. Do not cut a yellow or orange wire."
    assert read_key(key_pairs_in_text(text)) is None


def test_a_key_of_several_columns_pairs_each_word_with_one_code() -> None:
    """On a line `BK black BN brown` every word has one code, whichever comes first; none is given twice."""
    lines = (
        ("black", "BK", "brown", "BN", "blue", "BU"),
        ("red", "RD", "green", "GN", "grey", "GY"),
    )
    pairs = [pair for line in lines for pair in pairwise(line)]
    key = read_key(pairs)
    assert key is not None
    assert key.codes == {
        "BK": "black",
        "BN": "brown",
        "BU": "blue",
        "RD": "red",
        "GN": "green",
        "GY": "grey",
    }
    assert not key.duplicates


def test_a_code_that_is_a_word_for_another_color_stays_a_code() -> None:
    """In a key with its codes behind the words, `brown BLU` says that BLU is brown."""
    words = ("black", "white", "violet", "grey", "blue", "brown", "red")
    key = read_key(zip(words, ("BLK", "WHT", "VIO", "GRY", "BRN", "BLU", "RED"), strict=True))
    assert key is not None
    assert key.codes == {
        "BLK": "black",
        "WHT": "white",
        "VIO": "violet",
        "GRY": "grey",
        "BRN": "blue",
        "BLU": "brown",
        "RED": "red",
    }
