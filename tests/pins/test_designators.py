"""What in a text may be a designator: always a whole token."""

from __future__ import annotations

import pytest

from xref.pins.heading import is_ambiguous, parse_heading
from xref.pins.several import all_alike, mark_behind


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Connector 60.7", "60.7"),
        ("Stecker 4/12, 6-polig", "4/12"),
        ("Connector No. 23: Pump", "23"),
        ("Connector =K12 (pump)", "=K12"),
        ("=27+S4-X131 Bu", "=27+S4-X131"),
        ("X60.B Pump", "X60.B"),
        ("CN.34 Pump", "CN.34"),
        ("コネクタST 13（ポンプ）", "ST 13"),
        ("CN07 (8P)", "CN07"),
        ("Connector con60", "con60"),
    ],
)
def test_a_name_is_a_whole_token(text: str, name: str) -> None:
    """Half of one (`60` of `60.7`) would be another connector's name."""
    assert parse_heading(text).connector == name


@pytest.mark.parametrize("text", ["Fig. 7", "Rev. A", "NO.12 of 20", "Type X5-black"])
def test_no_name_is_made_of_other_words(text: str) -> None:
    """Numbers of figures and parts of words in small letters are none."""
    assert parse_heading(text).connector not in {"Fig. 7", "NO.12", "X5-black"}


@pytest.mark.parametrize(
    ("text", "ambiguous"),
    [
        ("J2 PC 65 – Fuse box", True),
        ("J7 Connector 25 – Axle", True),
        ("X5 Fan, 12-way", False),
        ("X5", False),
    ],
)
def test_two_names_of_other_kinds_are_ambiguous(text: str, ambiguous: bool) -> None:
    """The first may be the number of a section, or the second the component's."""
    assert is_ambiguous(text) is ambiguous


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Table 2.7: X7 and X8, encoders (both wired alike)", ("X7", "X8")),
        ("X7, X8 und X9 (jeweils gleich)", ("X7", "X8", "X9")),
        ("X7 and X8, encoders", ()),
        ("X7, both sides", ()),
    ],
)
def test_a_heading_may_hold_for_several_connectors(text: str, names: tuple[str, ...]) -> None:
    """Only where it says that they are alike."""
    assert all_alike(text) == names


@pytest.mark.parametrize(
    ("text", "mark"), [("X5 M", "M"), ("X5 Bu (cab)", "Bu"), ("X5 Pump", ""), ("X5", ""), ("X5 (F)", "F")]
)
def test_the_mark_of_a_half_stands_behind_the_name(text: str, mark: str) -> None:
    """One to three letters; a word is what the connector belongs to."""
    assert mark_behind(text, "X5") == mark
