"""Nets of which documents say too little, or two things at once: unknown, and never cut."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.moves.sample import cut_places, net_of, pin, rows, worked

BOW = {"M1": "bow"}


def test_round_plug_with_both_cases(tmp_path: Path) -> None:
    """Round plugs have a cavity `A` and a cavity `a`: one table that prints both means two."""
    plan = worked(tmp_path, rows("M1:A 5 M2:1", "M1:a 6 M3:1"), place=BOW)
    assert net_of(plan, "5")["circuits"] == ["5"] and net_of(plan, "6")["circuits"] == ["6"]
    assert len(plan["joins"]) == 2


@pytest.mark.parametrize("cavity", ["1-1", "1.1"])
def test_cavities_with_a_mark_inside(tmp_path: Path, cavity: str) -> None:
    """`1-1` is not `11` where one table prints both."""
    plan = worked(tmp_path, rows(f"M1:{cavity} 5 M2:1", "M1:11 6 M3:1"), place=BOW)
    assert net_of(plan, "5")["circuits"] == ["5"]


def test_zeros_before_a_cavity_make_no_second_one(tmp_path: Path) -> None:
    """`01` in one row and `1` in another are one cavity with two wires."""
    plan = worked(tmp_path, rows("M1:1 5 M2:1", "M1:01 6 M3:1"), place=BOW)
    assert net_of(plan, "5")["circuits"] == ["5", "6"]


def test_an_option_that_puts_another_circuit_into_a_cavity(tmp_path: Path) -> None:
    """Whether the option's wire comes beside the other or in its stead is not said: nothing is cut."""
    heater = {"option": "with heater"}
    pins = [*rows("M1:1 5 M2:1"), pin("M1:1", "6", **heater), pin("M3:1", "6", **heater)]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "5")["circuits"] == ["5"]
    assert {net["fate"] for net in plan["nets"]} == {"unknown"} and not plan["cuts"]


def test_a_table_without_numbers_that_prints_another_color(tmp_path: Path) -> None:
    """Two documents of one cavity disagree on its colour, though one of them prints no circuit."""
    other = pin("M1:1", base_color="blue", color_code="BU", document="second.pdf")
    plan = worked(tmp_path, [*rows("M1:1 5 M2:1"), other], place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"]
    same = pin("M1:1", document="second.pdf")
    assert cut_places(worked(tmp_path / "same", [*rows("M1:1 5 M2:1"), same], place=BOW)) == ["M2:1"]


def test_a_wire_to_an_in_line_that_no_table_prints(tmp_path: Path) -> None:
    """Two ends in two looms, whose rows name halves nowhere read, are no wire from one to the other."""
    pins = [
        pin("M1:1", "5", "C9A:1", harness="fore loom"),
        pin("M2:1", "5", "C9B:1", harness="aft loom"),
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"]
    assert "C9A:1" in net_of(plan, "5")["reason"]
