"""Colours in words, and swatches."""

import pytest

from xref.colors.schemes import schemes, swatches
from xref.colors.words import css_hex, in_words, luminance, text_on


def test_in_words() -> None:
    """Base, stripe and ring are said in one phrase."""
    assert in_words("blue", "yellow") == "blue with yellow stripe"
    assert in_words("white", "red", "black") == "white with red stripe and black ring"
    assert (in_words("white", ring="black"), in_words("red"), in_words("")) == (
        "white with black ring",
        "red",
        "",
    )


def test_every_color_has_a_swatch_of_its_own() -> None:
    """Every colour of every scheme is drawn, and no two of them alike."""
    names = {color for scheme in schemes().values() for color in scheme.codes.values()}
    drawn = {name: css_hex(name) for name in names}
    assert len(set(drawn.values())) == len(names) and css_hex("no colour") not in drawn.values()


def test_light_and_dark_lie_on_their_side() -> None:
    """A light form is lighter and a dark form darker than the plain colour."""
    for name in ("red", "orange", "violet", "brown", "grey", "green", "blue", "yellow"):
        plain = luminance(css_hex(name))
        assert luminance(css_hex(f"light {name}")) > plain > luminance(css_hex(f"dark {name}"))


def test_text_is_readable_on_every_swatch() -> None:
    """Black or white text reaches 4.5:1 on every swatch, the minimum of WCAG 2.1, 1.4.3."""
    for name, swatch in swatches().items():
        light, text = luminance(swatch), text_on(swatch)
        contrast = (light + 0.05) / 0.05 if text == "#000000" else 1.05 / (light + 0.05)
        assert contrast >= 4.5, name
    assert (text_on("#FFFFFF"), text_on("#000000")) == ("#000000", "#FFFFFF")


def test_what_is_no_swatch_is_refused() -> None:
    """A text that is no #RRGGBB is an error, not a colour."""
    with pytest.raises(ValueError, match="RRGGBB"):
        text_on("blue")
