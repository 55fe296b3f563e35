"""Which halves are plugged together, by which evidence, and what changes between cavities that touch."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.harness.settle import settle_roles
from xref.pins.corrections_records import MateDecision
from xref.records import Pin
from xref.store.index import Index
from xref.store.settled import Mate

FOUR = {"1": "101", "2": "102", "3": "103", "4": "104"}


def loom(name: str, circuits: dict[str, str] | None = None, **fields: Any) -> list[Pin]:
    """Make a connector's pins from cavity to circuit."""
    return [pin(name, cavity, circuit, **fields) for cavity, circuit in (circuits or FOUR).items()]


def said(one: str, other: str, **halves: str) -> MateDecision:
    """Make the person's word that two connectors mate."""
    return MateDecision(
        id=1,
        at="2026-01-01T00:00Z",
        machine="lift",
        connector_a=one,
        half_a=halves.get("half_a", ""),
        connector_b=other,
        half_b=halves.get("half_b", ""),
    )


def mates(folder: Path, *pins: Pin, decisions: tuple[MateDecision, ...] = ()) -> list[Mate]:
    """Store the pins and return the mates that were settled."""
    with Index.open(filled(folder, *pins), write=True) as index:
        settle_roles(index, decisions)
        return index.mates()


def pairs(folder: Path, *pins: Pin, decisions: tuple[MateDecision, ...] = ()) -> set[tuple[str, str, str]]:
    """Return the paired halves with the evidence."""
    return {
        (mate.connector_a + mate.half_a, mate.connector_b + mate.half_b, mate.how)
        for mate in mates(folder, *pins, decisions=decisions)
    }


def between(folder: Path, one: dict[str, Any], other: dict[str, Any]) -> tuple[str, ...]:
    """Return the differences between two cavities of an in-line with three more that agree."""
    given = {"role": "inline", "base_color": "red"}
    here = [
        pin("X5", "1", half="A", **{**given, **one}),
        *loom("X5", {"2": "2", "3": "3", "4": "4"}, half="A"),
    ]
    there = [
        pin("X5", "1", half="B", **{**given, **other}),
        *loom("X5", {"2": "2", "3": "3", "4": "4"}, half="B"),
    ]
    return mates(folder, *here, *there)[0].differences


# --- evidence -----------------------------------------------------------------------------------------------


def test_halves_of_one_designator(tmp_path: Path) -> None:
    """Two halves printed under one name are one in-line, whatever their circuits are called."""
    b = loom("X5", {"1": "901", "2": "902"}, half="B", document="rear.pdf")
    assert pairs(tmp_path, *loom("X5", half="A"), *b) == {("X5A", "X5B", "designator")}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("C210M", "C210F"),
        ("C210 male", "C210 female"),
        ("X5 plug", "X5 receptacle"),
        ("X5 Stecker", "X5 Buchse"),
        ("C7-A", "C7-B"),
    ],
)
def test_half_marks_of_inlines(tmp_path: Path, one: str, other: str) -> None:
    """Names of in-lines that differ by a half mark are two halves; numbers may all change."""
    pins = [*loom(one, role="inline"), *loom(other, {"1": "901", "2": "902"}, role="inline")]
    assert {how for *_, how in pairs(tmp_path, *pins)} == {"marks"}


def test_half_marks_need_likeness_where_no_document_calls_them_inline(tmp_path: Path) -> None:
    """Two numbers in common at their cavities bear a half mark out; one may be chance."""
    two, one = {"1": "101", "2": "102"}, {"1": "101", "2": "902"}
    assert pairs(tmp_path / "two", *loom("C210M", two), *loom("C210F", two))
    assert not pairs(tmp_path / "one", *loom("C210M", two), *loom("C210F", one))


def test_two_plugs_of_one_module_are_no_halves(tmp_path: Path) -> None:
    """C1A and C1B of one module are named like halves, and are not: they are the module's."""
    module = {"component": "Mast controller"}
    assert not pairs(tmp_path / "a", *loom("C1A", **module), *loom("C1B", **module))
    other = {"1": "901", "2": "902", "3": "903", "4": "904"}
    assert not pairs(tmp_path / "b", *loom("C1A", role="component"), *loom("C1B", other, role="component"))


@pytest.mark.parametrize(("one", "other"), [("C210M", "C210A"), ("C1", "C2"), ("HORN", "HORF")])
def test_marks_that_are_not_opposite_pair_nothing(tmp_path: Path, one: str, other: str) -> None:
    """Male and A are no two halves; nor do names without a mark differ by one."""
    other_circuits = {"1": "901", "2": "902", "3": "903", "4": "904"}
    assert not pairs(tmp_path, *loom(one, role="inline"), *loom(other, other_circuits, role="inline"))


def test_mirrored_lists(tmp_path: Path) -> None:
    """Connectors of different names whose cavity lists mirror each other mate."""
    assert pairs(tmp_path, *loom("C11"), *loom("D7")) == {("C11", "D7", "mirrored")}


def test_mirrored_lists_beside_a_complete_inline(tmp_path: Path) -> None:
    """An in-line with both its halves needs no third."""
    pins = [*loom("X5", half="A"), *loom("X5", half="B"), *loom("D7")]
    assert pairs(tmp_path, *pins) == {("X5A", "X5B", "designator")}


def test_three_mirrors_pair_nothing(tmp_path: Path) -> None:
    """Which two of three alike mate is not known."""
    assert not pairs(tmp_path, *loom("C11"), *loom("D7"), *loom("E8"))


def test_three_halves_of_one_name(tmp_path: Path) -> None:
    """Of three halves under one name those two mate whose marks are opposite; three alike in kind do not."""
    three = [*loom("X5", half="M"), *loom("X5", half="F"), *loom("X5", half="C")]
    assert pairs(tmp_path / "marks", *three) == {("X5F", "X5M", "designator")}
    none = [*loom("X5", half="1"), *loom("X5", half="2"), *loom("X5", half="3")]
    assert not pairs(tmp_path / "none", *none)


def test_three_marked_names(tmp_path: Path) -> None:
    """A plug named with two opposites, socket and receptacle, mates with neither by its name."""
    pins = [
        *loom("X5 plug", role="inline"),
        *loom("X5 socket", role="inline"),
        *loom("X5 receptacle", role="inline"),
    ]
    assert not pairs(tmp_path, *pins)


# --- the person's word --------------------------------------------------------------------------------------


def test_the_person_counts_before_any_evidence(tmp_path: Path) -> None:
    """Named by the person, two connectors mate; what evidence had made of either is undone."""
    pins = [*loom("C11"), *loom("D7"), *loom("E8", {"1": "801", "2": "802"})]
    found = pairs(tmp_path, *pins, decisions=(said("C11", "E8"),))
    assert found == {("C11", "E8", "person")}


def test_the_last_word_counts(tmp_path: Path) -> None:
    """A later word about a connector takes the place of the earlier one."""
    pins = [*loom("C11"), *loom("D7", {"1": "7"}), *loom("E8", {"1": "8"})]
    found = pairs(tmp_path, *pins, decisions=(said("C11", "D7"), said("C11", "E8")))
    assert found == {("C11", "E8", "person")}


def test_the_person_is_not_doubted(tmp_path: Path) -> None:
    """Halves the person named join, though nothing about them agrees."""
    other = {"1": "901", "2": "902", "3": "903", "4": "904"}
    found = mates(tmp_path, *loom("C11"), *loom("D7", other), decisions=(said("C11", "D7"),))
    assert [mate.differences for mate in found] == [("number-changes",)] * 4
    assert not any(mate.doubtful for mate in found)


def test_the_person_may_name_a_connector_that_is_gone(tmp_path: Path) -> None:
    """A word about a connector no document has pairs nothing and is no error."""
    assert not pairs(tmp_path, *loom("C11"), decisions=(said("C11", "D7"),))


# --- differences --------------------------------------------------------------------------------------------


def test_nothing_changes(tmp_path: Path) -> None:
    """The same number, colour and size on both sides is no difference."""
    same = {"circuit": "1", "size_mm2": 0.5}
    assert between(tmp_path, same, same) == ()


def test_number_changes(tmp_path: Path) -> None:
    """Another number beyond; also another segment letter."""
    assert between(tmp_path / "a", {"circuit": "1440"}, {"circuit": "1452"}) == ("number-changes",)
    assert between(tmp_path / "b", {"circuit": "1440A"}, {"circuit": "1440B"}) == ("number-changes",)
    assert between(tmp_path / "c", {"circuit": "1440"}, {"circuit": ""}) == ()


def test_color_changes(tmp_path: Path) -> None:
    """Another base, stripe or ring beyond; a half that names no colour is silent."""
    red = {"circuit": "1", "base_color": "red"}
    assert between(tmp_path / "a", red, {**red, "base_color": "blue"}) == ("color-changes",)
    assert between(tmp_path / "b", red, {**red, "stripe_color": "blue"}) == ("color-changes",)
    assert between(tmp_path / "c", red, {**red, "base_color": ""}) == ()


def test_size_changes(tmp_path: Path) -> None:
    """Another size beyond; silence on one side is none, nor is one size in two units (0.5 and 0.52 mm²)."""
    thin = {"circuit": "1", "size_mm2": 0.5}
    assert between(tmp_path / "a", thin, {**thin, "size_mm2": 1.0}) == ("size-changes",)
    assert between(tmp_path / "b", thin, {**thin, "size_mm2": None}) == ()
    assert between(tmp_path / "c", thin, {**thin, "size_mm2": 0.52}) == ()


def test_unused_beyond(tmp_path: Path) -> None:
    """A wire that ends at a cavity the other half calls unused; unused on both sides is no oddity."""
    unused = {"circuit": "", "base_color": "", "status": "unused"}
    assert between(tmp_path / "a", {"circuit": "1"}, unused) == ("unused-beyond",)
    assert between(tmp_path / "b", unused, unused) == ()


def test_most_cavities_disagree(tmp_path: Path) -> None:
    """Where most cavities say different things the pairing is in doubt, but for those that agree."""
    other = {"1": "101", "2": "902", "3": "903", "4": "904"}
    found = mates(tmp_path, *loom("X5", half="A"), *loom("X5", other, half="B"))
    assert [mate.cavity_a for mate in found if mate.doubtful] == ["2", "3", "4"]


def test_half_of_the_cavities_agree(tmp_path: Path) -> None:
    """Where half of them agree the pairing stands and the numbers change."""
    other = {"1": "101", "2": "102", "3": "903", "4": "904"}
    found = mates(tmp_path, *loom("X5", half="A"), *loom("X5", other, half="B"))
    assert [mate.differences for mate in found] == [(), (), ("number-changes",), ("number-changes",)]


def test_two_cavities_decide_nothing(tmp_path: Path) -> None:
    """A plug of two cavities may change both numbers: that is too little to doubt it by."""
    found = mates(
        tmp_path, *loom("X5", {"1": "1", "2": "2"}, half="A"), *loom("X5", {"1": "8", "2": "9"}, half="B")
    )
    assert not any(mate.doubtful for mate in found)


def test_segment_letters_agree(tmp_path: Path) -> None:
    """1440A here and 1440B there speak for the pairing."""
    letters = {cavity: f"{circuit}B" for cavity, circuit in FOUR.items()}
    found = mates(
        tmp_path, *loom("X5", {c: f"{n}A" for c, n in FOUR.items()}, half="A"), *loom("X5", letters, half="B")
    )
    assert [mate.differences for mate in found] == [("number-changes",)] * 4


def test_colors_agree(tmp_path: Path) -> None:
    """Renumbered throughout, but of the same colours: the pairing stands."""
    colors = dict(zip("1234", ("red", "blue", "green", "white"), strict=True))
    a = [pin("X5", c, f"10{c}", half="A", base_color=colors[c]) for c in "1234"]
    b = [pin("X5", c, f"90{c}", half="B", base_color=colors[c]) for c in "1234"]
    assert not any(mate.doubtful for mate in mates(tmp_path, *a, *b))


def test_cavities_touch_as_printed_but_for_padding(tmp_path: Path) -> None:
    """1 touches 01; a cavity without its like on the other half touches nothing."""
    b = loom("X5", {"01": "101", "02": "102", "A3": "103"}, half="B")
    found = mates(tmp_path, *loom("X5", half="A"), *b)
    assert [(mate.cavity_a, mate.cavity_b) for mate in found] == [("1", "01"), ("2", "02")]
