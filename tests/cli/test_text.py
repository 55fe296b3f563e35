"""Text on its way to a terminal."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from xref.cli.text import counted, harmless, listed, padded, page_ranges, span, width_of, wrapped


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("\x1b[31mred", r"\x1b[31mred"),  # ECMA-48 CSI: colour
        ("\x1b]0;title\x07", r"\x1b]0;title\x07"),  # OSC: window title
        ("\x9b2J", r"\x9b2J"),  # C1 form of CSI: clear screen
        ("\u202e0441\u202c", r"\u202e0441\u202c"),  # UAX #9: right-to-left override
        ("a\u2066b\u2069", r"a\u2066b\u2069"),  # UAX #9: isolates
        ("14\x0040", r"14\x0040"),
        ("14\u200b40", r"14\u200b40"),
        ("14\x7f40\x08", r"14\x7f40\x08"),
        ("\U000e0041", r"\U000e0041"),
        ("two\nlines\tand\rmore\u2028", "two lines and more "),
        ("Größe 0,5 mm² 線色 BU/YE", "Größe 0,5 mm² 線色 BU/YE"),
    ],
)
def test_what_does_not_print_is_written_as_its_number(hostile: str, shown: str) -> None:
    """A control or format character becomes visible; it is neither obeyed nor dropped in silence."""
    assert harmless(hostile) == shown


@given(st.text())
@example("\ud800")
@example("\x1c\x1d\x85")
def test_harmless_text_holds_only_characters_that_print(text: str) -> None:
    """Whatever comes in, no control, format, surrogate or separator character comes out (Unicode ch. 4.5)."""
    clean = harmless(text)
    categories = {unicodedata.category(char) for char in clean}
    assert not categories & {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    assert harmless(clean) == clean
    clean.encode("utf-8")


@given(st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" ")), st.integers(2, 40))
@example("線色" * 9, 3)
def test_wrapping_loses_nothing_and_keeps_the_width(text: str, width: int) -> None:
    """Wrapped lines hold every character of the text, and none is wider than the screen."""
    lines = wrapped(text, width)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width_of(line) <= width for line in lines)


def test_wide_characters_take_two_columns() -> None:
    """East Asian wide characters take two columns, combining ones none (UAX #11)."""
    assert width_of("線色") == 4
    assert width_of("e\u0301") == 1
    assert padded("線", 4) == "線  "


def test_page_numbers_are_written_as_ranges() -> None:
    """Runs of pages are joined; order and repetition do not matter."""
    assert page_ranges([9, 3, 7, 8, 8]) == "3, 7–9"
    assert page_ranges([]) == ""


def test_numbers_and_lists_read_as_a_person_writes_them() -> None:
    """Nouns follow their number, lists end in 'and'."""
    assert counted(1, "page") == "1 page"
    assert counted(1200, "page") == "1,200 pages"
    assert counted(2, "cavity", "cavities") == "2 cavities"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert [span(s) for s in (0.42, 12, 180, 7500)] == ["0.4 s", "12 s", "3 min", "2 h 5 min"]
