"""Colour codes against IEC 60757 and the W3C's colour names."""

import webcolors

from xref.colors.choose import SchemeChoice
from xref.colors.decode import decode
from xref.colors.schemes import schemes
from xref.colors.words import css_hex, luminance

#: IEC 60757:1983, Table 1, in its order, as reproduced in GOST 28763-90.
TABLE_1 = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "OG": "orange",
    "YE": "yellow",
    "GN": "green",
    "BU": "blue",
    "VT": "violet",
    "GY": "grey",
    "WH": "white",
    "PK": "pink",
    "GD": "gold",
    "TQ": "turquoise",
    "SR": "silver",
}
IEC = SchemeChoice(scheme="iec60757", why="")


def test_table_1() -> None:
    """The codes, their colours and their order are those of IEC 60757, Table 1."""
    assert list(schemes()["iec60757"].codes.items()) == list(TABLE_1.items())


def test_lower_case_means_the_same() -> None:
    """IEC 60757:1983 allows lower-case letters with the same meaning."""
    assert all(decode(code.lower(), IEC).base == color for code, color in TABLE_1.items())


def test_list_order_is_not_base_and_stripe() -> None:
    """By IEC 60757:2021 colours of one item are joined in table order, so no glued pair tells its base."""
    codes = list(TABLE_1)
    for at, first in enumerate(codes):
        for second in codes[at + 1 :]:
            found = decode(first + second, IEC)
            assert {found.base, found.stripe} == {TABLE_1[first], TABLE_1[second]}
            assert not found.order_known


def test_plus_joins_cores_not_colors() -> None:
    """`BK+BN+BU` are three cores of a cable (IEC 60757:1983), never one wire's colours."""
    assert decode("BK+BN+BU", IEC).doubts == ("color-unknown",)


def test_swatches_against_css_names() -> None:
    """Plain swatches are the colours of that name in W3C CSS Color 4 (package webcolors)."""
    for name in (
        "black",
        "red",
        "yellow",
        "green",
        "blue",
        "grey",
        "white",
        "turquoise",
        "tan",
        "beige",
        "silver",
    ):
        assert css_hex(name).lower() == webcolors.name_to_hex(name)


def test_luminance_against_the_published_example() -> None:
    """Pure red, green and blue have the relative luminances 0.2126, 0.7152 and 0.0722 (WCAG 2.1)."""
    found = [round(luminance(c), 4) for c in ("#FF0000", "#00FF00", "#0000FF", "#FFFFFF")]
    assert found == [0.2126, 0.7152, 0.0722, 1.0]
