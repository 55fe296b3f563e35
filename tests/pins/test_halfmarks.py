"""What a text says of a half: its mark, its contacts, its harness, in six languages."""

from __future__ import annotations

import pytest

from xref.pins.halfmarks import said_of_half, two_halves


@pytest.mark.parametrize(
    ("text", "half", "harness"),
    [
        ("Half A", "A", ""),
        ("half A (engine harness)", "A", "engine harness"),
        ("Engine harness (A)", "A", "Engine harness"),
        ("Cab harness side (B)", "B", "Cab harness"),
        ("X51 M", "M", ""),
        ("X51-A engine harness", "A", "engine harness"),
        ("X51/M (engine harness)", "M", "engine harness"),
        ("X51A – engine harness", "A", "engine harness"),
        ("Side 1: engine harness", "1", "engine harness"),
        ("Male half, engine harness", "Male", "engine harness"),
        ("X51 (female)", "female", ""),
        ("X51, pin side", "pin side", ""),
        ("Fahrgestell (Buchse)", "Buchse", ""),
        ("X51 Bu (Wagen A)", "Bu", ""),
        ("Hälfte B – Motorkabelbaum", "B", "Motorkabelbaum"),
        ("Stiftseite (Motorkabelbaum)", "Stiftseite", "Motorkabelbaum"),
        ("Faisceau caisse (M)", "M", "Faisceau caisse"),
        ("Côté A – faisceau moteur", "A", "faisceau moteur"),
        ("X51 hembra (mazo de cabina)", "hembra", "mazo de cabina"),
        ("Lato motore (A)", "A", ""),
        ("X51 demi-connecteur A, faisceau moteur", "A", "faisceau moteur"),
        ("X51, A-Seite", "A", ""),
        ("Side-shift harness (B)", "B", "Side-shift harness"),
        ("X51 オス側 (エンジンハーネス)", "オス", "エンジンハーネス"),
        ("Tab. 7-9: X51", "", ""),
        ("X51 Pump controller", "", ""),
    ],
)
def test_the_short_mark_is_the_half_and_the_harness_is_none(text: str, half: str, harness: str) -> None:
    """Of all that stands over a half, the mark names it; a harness beside it is the harness."""
    said = said_of_half(text, "X51")
    assert (said.mark or said.short or said.gender, said.harness) == (half, harness)


@pytest.mark.parametrize(
    ("one", "other", "halves"),
    [
        ("Engine harness", "Cab harness", ("Engine harness", "Cab harness")),
        ("Half A (male)", "Half B (female)", ("A", "B")),
        ("Plug (A)", "Receptacle (A)", ("Plug", "Receptacle")),
        ("Chassis", "Cab", ("Chassis", "Cab")),
        ("Half A", "Half A", ("", "")),
    ],
)
def test_two_halves_are_told_apart_by_what_differs(one: str, other: str, halves: tuple[str, str]) -> None:
    """What both have in common tells nothing; without a mark their words do."""
    assert two_halves(said_of_half(one), said_of_half(other)) == halves
