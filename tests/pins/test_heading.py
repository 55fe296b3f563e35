"""What a heading says of a connector, in many wordings (common trade practice; no published source)."""

from __future__ import annotations

import pytest

from xref.pins.heading import (
    Head,
    color_of_word,
    is_ambiguous,
    may_name,
    parse_heading,
    parse_pairs,
)
from xref.pins.plain import plain
from xref.pins.several import two_named
from xref.pins.wordings import has_word


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Connector X5 - Pump controller", {"connector": "X5", "name": "Pump controller"}),
        ("X5 Pump controller, 24-way, black", {"name": "Pump controller", "ways": 24, "color": "black"}),
        ("3.7.2 Connector C204 (grey, 12 pins)", {"connector": "C204", "color": "grey", "ways": 12}),
        ("12) Connector C204", {"connector": "C204"}),
        ("Table 3.7: Connector C7", {"connector": "C7", "caption": "table"}),
        ("Stecker X12, 8-polig, schwarz", {"connector": "X12", "ways": 8, "color": "black"}),
        ("Steckverbinder X9, Hälfte B", {"connector": "X9", "half": "B"}),
        ("Connecteur C12, 16 voies, noir", {"connector": "C12", "ways": 16, "color": "black"}),
        ("Conector X7 – bomba hidráulica", {"connector": "X7", "name": "bomba hidráulica"}),
        ("コネクタ C12 端子配列", {"connector": "C12", "worded": True}),
        ("-X31 Kabelbaum Mast", {"connector": "-X31", "name": "Kabelbaum Mast"}),
        ("4.2 Pump controller A20", {"connector": "A20", "name": "Pump controller"}),
        ("A10 X2 (continued)", {"connector": "A10 X2", "continued": True, "name": ""}),
        ("A10-X2 Fortsetzung", {"connector": "A10-X2", "continued": True}),
        ("In-line connector X5, half A, male", {"connector": "X5", "half": "A", "gender": "male"}),
        ("Trennstelle X5", {"connector": "X5", "kinds": ("inline",)}),
        ("Splice SP12", {"connector": "SP12", "kinds": ("splice",)}),
        ("Ground stud G5, frame left", {"connector": "G5", "kinds": ("ground",)}),
        ("Fuse and relay box F100", {"connector": "F100", "kinds": ("fuse",)}),
        ("12-way connector J3", {"connector": "J3", "ways": 12}),
        ("Connector X5.2", {"connector": "X5.2"}),
        ("Wire list, mast harness", {"harness": "mast harness"}),
        ("X5-A Main harness", {"connector": "X5-A", "harness": "Main harness"}),
        ("X5 – In-line, main to mast harness", {"connector": "X5", "harness": ""}),
        ("Connector CN-AB-12", {"connector": "CN-AB-12"}),
        ("Connector 7", {"connector": "7", "worded": True}),
        ("Connector C", {"connector": "C", "worded": True}),
        ("J1 Connector (view on mating side)", {"connector": "J1", "view": "view on mating side"}),
        ("M60 – Edge module (8-way)", {"name": "Edge module", "ways": 8}),
        ("M10-A – Gateway CAN – 16 vie", {"connector": "M10-A", "name": "Gateway CAN", "ways": 16}),
        ("M3 Centralina (12 poli)", {"name": "Centralina", "ways": 12}),
        ("M3 Steuergerät (18-polig)", {"name": "Steuergerät", "ways": 18}),
        ("M3 – Calculateur (10 voies)", {"name": "Calculateur", "ways": 10}),
        ("M3: Level sensor, 6 ways", {"name": "Level sensor", "ways": 6}),
        ("M3 Módulo de agua (12 vías)", {"name": "Módulo de agua", "ways": 12}),
    ],
)
def test_a_heading_gives_what_is_printed(text: str, said: dict[str, object]) -> None:
    """Designator, name, ways, colour, half, gender and view are each taken from where they stand."""
    head = parse_heading(text)
    assert {key: getattr(head, key) for key in said} == said
    assert head.text == text


@pytest.mark.parametrize("text", ["Connector X5", "A10 X2", "Splice SP12", "Stecker X12", "G5"])
def test_what_is_not_printed_stays_blank(text: str) -> None:
    """A heading without ways, colour, half, gender or view gives none."""
    head = parse_heading(text)
    assert (head.ways, head.color, head.half, head.gender, head.view, head.harness) == (
        None,
        "",
        "",
        "",
        "",
        "",
    )


def test_a_heading_without_designator_says_so() -> None:
    """A name alone may be a heading, but it is no designator, and whoever uses it must know."""
    head = parse_heading("Pump controller")
    assert (head.connector, head.designator, head.worded) == ("Pump controller", False, False)


@pytest.mark.parametrize("text", ["12-pin housing", "24 ways", "8-polig"])
def test_a_count_of_ways_is_no_designator(text: str) -> None:
    """`12-pin` says how many cavities there are, not what the connector is called."""
    head = parse_heading(text)
    assert not head.designator
    assert head.ways == int("".join(c for c in text if c.isdigit()))


def test_a_designator_before_the_word_pin_is_no_count() -> None:
    """`M12 X1 pin assignment` states no number of cavities."""
    assert parse_heading("Table 3.7: M12 X1 pin assignment").ways is None


def test_words_of_kinds_stand_by_themselves() -> None:
    """A word inside another one proves nothing: no ground in `background`, no fuse in `diffuse`."""
    assert has_word("Ground stud G5", "ground")
    assert not has_word("background light", "ground")
    assert not has_word("diffuse light", "fuse")


def test_a_color_word_counts_where_languages_agree() -> None:
    """A word is a colour only when it names one and the same colour in every language that has it."""
    assert color_of_word("black") == color_of_word("schwarz") == color_of_word("noir") == "black"
    assert color_of_word("pump") == "" == color_of_word("")


def test_pairs_of_keys_and_values_are_a_connector_s_head() -> None:
    """Each key is understood by its words; the values are kept as printed, colour and count decoded."""
    head = parse_pairs(
        [
            ("Connector", "A10 X1"),
            ("Component", "Traction controller"),
            ("Housing", "black"),
            ("Cavities", "24"),
            ("Location", "Front cover"),
            ("Gender", "Female"),
        ]
    )
    assert isinstance(head, Head)
    assert (head.connector, head.component, head.color, head.ways) == (
        "A10 X1",
        "Traction controller",
        "black",
        24,
    )
    assert (head.location, head.gender, head.designator) == ("Front cover", "Female", True)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("X5 (mates with X6)", "X5"),
        ("Pump controller M22, connector X5", "X5"),
        ("Harness W104 - X5", "X5"),
        ("燃料ポンプM13 X3コネクタ端子配列", "M13 X3"),
        ("J5/P5 Pump", "J5/P5"),
        ("CN_146 Pump", "CN_146"),
        ("C-328 Pump", "C-328"),
        ("X14.3M", "X14.3M"),
        ("Connector C-AL", "C-AL"),
        ("X5\u2011A Pump", "X5-A"),
    ],
)
def test_of_several_texts_the_connector_s_own_name_is_taken(text: str, name: str) -> None:
    """What is referred to, a component and a harness are other things; a name is never cut short."""
    assert parse_heading(plain(text)).connector == name


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("C380 (left) and C214 (right)", ("C380", "C214")),
        ("C380 (rechts) und C214 (links)", ("C214", "C380")),
        ("X5 & X6", ("X5", "X6")),
        ("X5 Pump, see X6", None),
        ("X5", None),
    ],
)
def test_a_heading_for_two_says_which_is_left(text: str, names: tuple[str, str] | None) -> None:
    """Words for the sides decide; without them the printed order holds."""
    assert two_named(text) == names


@pytest.mark.parametrize(
    ("text", "ambiguous"),
    [
        ("M22 Fan X12", True),
        ("Fan M22, connector X12", False),
        ("X12 - Fan M22", False),
        ("X12 Fan", False),
    ],
)
def test_two_names_in_one_run_of_words_are_ambiguous(text: str, ambiguous: bool) -> None:
    """Either may be the connector where nothing parts them."""
    assert is_ambiguous(text) is ambiguous


def test_pairs_that_name_no_connector_are_no_head() -> None:
    """A grid of other facts names nothing."""
    assert parse_pairs([("Location", "Front"), ("Housing", "black")]) is None
    assert parse_pairs([]) is None


@pytest.mark.parametrize(
    "text", ["1 BK 1440 Lamp left", "12 Work lamp relay", "Remove the cover", "0.5 BU/YE 27-357", "Pump"]
)
def test_a_text_without_designator_is_known_at_once(text: str) -> None:
    """What cannot name anything is not parsed; parsing would find no designator in it."""
    assert not may_name(text)
    assert not parse_heading(text).designator


@pytest.mark.parametrize(
    "text", ["Connector 12", "X5 Lamp", "Stecker A", "ST 72", "Table 3-X5", "X5 (cont.)"]
)
def test_a_text_that_may_name_is_parsed(text: str) -> None:
    """Nothing in which parsing finds a designator is passed over."""
    assert may_name(text) or not parse_heading(text).designator
