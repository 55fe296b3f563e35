"""Halves and roles: what makes an in-line, and what words and shapes decide."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pins.manual import OTHERS, ROWS, manual
from tests.tables.drawn import Page, pins


def test_two_mirrored_connectors_are_halves_of_one_in_line(tmp_path: Path) -> None:
    """`X5-A` and `X5-B` with the same circuits in the same cavities are X5, halves A and B."""
    made = pins(manual(tmp_path, ("X5-A Main harness", ROWS), ("X5-B Mast harness", ROWS)))
    assert {(p.connector, p.half, p.role) for p in made.pins} == {
        ("X5", "A", "inline"),
        ("X5", "B", "inline"),
    }
    assert {(c.connector, c.half) for c in made.connectors} == {("X5", "A"), ("X5", "B")}
    assert all("circuits" in c.role_why for c in made.connectors)


def test_a_harness_named_in_a_heading_is_no_component(tmp_path: Path) -> None:
    """An in-line half hangs on a harness and plugs into no component."""
    made = pins(manual(tmp_path, ("X5-A Main harness", ROWS), ("X5-B Mast harness", ROWS)))
    assert {(p.half, p.component, p.harness) for p in made.pins} == {
        ("A", "", "Main harness"),
        ("B", "", "Mast harness"),
    }


@pytest.mark.parametrize("names", [("X5-A", "X5-B"), ("C12M", "C12F"), ("C12/A", "C12/B")])
def test_connectors_that_do_not_mirror_each_other_are_kept_apart(
    tmp_path: Path, names: tuple[str, str]
) -> None:
    """A mark alone proves nothing: a component may have connectors called A and B."""
    one, two = names
    made = pins(manual(tmp_path, (f"Connector {one}", ROWS), (f"Connector {two}", OTHERS)))
    assert {(p.connector, p.half) for p in made.pins} == {(one, ""), (two, "")}
    assert not any(p.role == "inline" for p in made.pins)


@pytest.mark.parametrize("shared", [1, 2])
def test_a_few_shared_circuits_make_no_halves(tmp_path: Path, shared: int) -> None:
    """Two connectors of one component may share supply and ground; that is no mirror."""
    one = (*ROWS, ("4", "GN", "1443", "Pump"), ("5", "WH", "1444", "Valve"))
    two = (*OTHERS, ("4", "GN", "2443", "Pump"), ("5", "WH", "2444", "Valve"))
    made = pins(manual(tmp_path, ("Connector X5-A", one), ("Connector X5-B", (*one[:shared], *two[shared:]))))
    assert {(p.connector, p.half) for p in made.pins} == {("X5-A", ""), ("X5-B", "")}


@pytest.mark.parametrize(
    ("one", "two", "halves"),
    [
        ("X5 (male)", "X5 (female)", {"male", "female"}),
        ("X5 plug, main harness", "X5 receptacle, mast harness", {"plug", "receptacle"}),
        ("Stecker X5, Stift", "Stecker X5, Buchse", {"Stift", "Buchse"}),
        ("Connecteur X5 mâle", "Connecteur X5 femelle", {"mâle", "femelle"}),
    ],
)
def test_a_male_and_a_female_table_of_one_name_are_halves(
    tmp_path: Path, one: str, two: str, halves: set[str]
) -> None:
    """What is headed once with pins and once with sockets, and has the same cavities, is an in-line."""
    made = pins(manual(tmp_path, (one, ROWS), (two, ROWS)))
    assert {(p.connector, p.half, p.role) for p in made.pins} == {("X5", half, "inline") for half in halves}


def test_one_cavity_alone_is_no_mirror(tmp_path: Path) -> None:
    """A single shared circuit may be chance, even when it is all that both connectors hold."""
    two = (ROWS[0], ("2", "", "", "not used"))
    made = pins(manual(tmp_path, ("Connector X5-A", two), ("Connector X5-B", two)))
    assert {(p.connector, p.half) for p in made.pins} == {("X5-A", ""), ("X5-B", "")}


@pytest.mark.parametrize("name", ["S5", "G7", "F1", "SP7", "X5", "K3", "C204"])
def test_letters_of_a_designator_decide_no_role(tmp_path: Path, name: str) -> None:
    """Every maker has letters of its own: without a word or shape, what a connector is stays unknown."""
    made = pins(manual(tmp_path, (name, ROWS)))
    assert {(p.connector, p.role) for p in made.pins} == {(name, "unknown")}


@pytest.mark.parametrize(
    ("heading", "role"),
    [
        ("Splice SP12", "splice"),
        ("Bus bar BB2", "splice"),
        ("Sammelschiene BB2", "splice"),
        ("Barre omnibus BB2", "splice"),
        ("Ground stud G5", "ground"),
        ("In-line connector X5, half A", "inline"),
        ("Trennstelle X5", "inline"),
        ("Connector X5 - Pump controller", "component"),
    ],
)
def test_words_of_a_heading_decide_the_role(tmp_path: Path, heading: str, role: str) -> None:
    """Where the manual says what a connector is, that is its role, and the evidence is kept."""
    made = pins(manual(tmp_path, (heading, ROWS)))
    assert {p.role for p in made.pins} == {role}
    assert all(c.role_why for c in made.connectors)


def test_the_half_is_named_in_the_heading_of_an_in_line(tmp_path: Path) -> None:
    """`half A` in the heading of an in-line connector is the half of all its pins."""
    made = pins(manual(tmp_path, ("In-line connector X5, half A, male", ROWS)))
    assert {(p.connector, p.half) for p in made.pins} == {("X5", "A")}


def test_a_fuse_list_gives_pins_of_the_box_with_ratings(tmp_path: Path) -> None:
    """The fuse is the cavity of its box, and its rating follows the function."""
    page = Page(tmp_path / "a.pdf").heading("Fuse box F100")
    page.ruled(
        (
            ("Fuse", "Rating", "Circuit", "Color", "Function"),
            ("F1", "10 A", "1440", "BK", "Lamp"),
            ("F2", "5", "1441", "RD", "Horn"),
        ),
        (60,) * 5,
    )
    assert [(p.connector, p.cavity, p.function, p.role) for p in pins(page).pins] == [
        ("F100", "F1", "Lamp, 10 A", "fuse"),
        ("F100", "F2", "Horn, 5 A", "fuse"),
    ]
