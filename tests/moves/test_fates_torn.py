"""Nets of which documents say too little, or two things at once: unknown, and never cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.harness.sample import filled
from tests.moves.sample import cut_places, net_of, pin, rows, worked
from xref.moves.plan_file import PlanFile
from xref.moves.progress_lines import lines_of_plan
from xref.moves.work_out import work_out
from xref.store.index import Index

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


def test_a_splice_that_no_table_prints(tmp_path: Path) -> None:
    """Two rows that both name a splice nowhere read: its other legs are not known, so no host feeds it."""
    pins = [pin("M1:1", "5", "S7:2"), pin("M2:1", "5", "S7:3")]
    plan = worked(tmp_path, pins, place=BOW, rest="left behind", host={"M1:1": "host fuse"})
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"] and not plan["joins"]
    near = [pin("M1:1", "5", "M2:1"), pin("M2 X1:1", "5", "M1:1")]
    assert cut_places(worked(tmp_path / "near", near, place=BOW)) == ["M2 X1:1"]


@pytest.mark.parametrize("rest", ["stays", "left behind"])
def test_two_grounds_of_one_name_on_one_stud(tmp_path: Path, rest: str) -> None:
    """Each wire of a stud is a cut of its own: two would bear one label, and be marked done by one mark."""
    pins = []
    for module in ("M1", "M3"):
        pins += [pin(f"{module}:1", "GND", "G1:1"), pin("G1:1", "GND", f"{module}:1")]
    plan = worked(tmp_path, pins, place={"M1": "bow", "M3": "stern"}, rest=rest)
    assert cut_places(plan) == ["G1:1", "G1:1"]
    _all_apart(plan)


def test_one_circuit_of_two_options_in_one_cavity(tmp_path: Path) -> None:
    """The wires of two options in one cavity are told apart, though cavity and circuit are the same."""
    pins = [replace(row, option="with heater") for row in rows("M1:1 5 M2:1")]
    pins += [replace(row, option="without heater") for row in rows("M3:1 5 M2:1")]
    plan = worked(tmp_path, pins, place={"M1": "bow", "M3": "bow"})
    assert cut_places(plan) == ["M2:1", "M2:1"]
    _all_apart(plan)


def test_marks_of_two_wires_in_one_cavity(tmp_path: Path) -> None:
    """What was done at one wire of a cavity is not done at the other of the same circuit."""
    pins = [
        pin("M2:1", "5", "M1:1"),
        pin("M1:1", "5", "M2:1"),
        pin("M2:1", "5", "M3:1"),
        pin("M3:1", "5", "M2:1"),
    ]
    with Index.open(filled(tmp_path, *pins)) as index:
        plan = work_out(index, PlanFile(place={"M1": "bow", "M3": "stern"}))
    cuts = [line for line in lines_of_plan(plan) if line.kind == "cut"]
    assert len(cuts) == 2 and len({line.key for line in cuts}) == 2


def _all_apart(plan: Mapping[str, Any]) -> None:
    ids = [line["id"] for name in ("cuts", "joins", "caps") for line in plan[name]]
    labels = [text for name in ("cuts", "joins") for line in plan[name] for text in line["labels"]]
    assert len(ids) == len(set(ids)) and len(labels) == len(set(labels))


def test_one_row_that_names_an_end_no_table_prints(tmp_path: Path) -> None:
    """A wire that would lie between two ends is not known where one of their rows names a third one."""
    pins = [pin("M1:1", "5", "M2:1"), pin("M2:1", "5", "M3:1")]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"]
    assert "M3:1" in net_of(plan, "5")["reason"]
    lost = [*pins, pin("M3:2", "6", "M4:1"), pin("M4:1", "6", "M3:2")]
    assert net_of(worked(tmp_path / "row", lost, place=BOW), "5")["fate"] == "unknown"


def test_a_row_that_names_what_lies_beyond_a_fuse(tmp_path: Path) -> None:
    """A far device whose cavity is printed with another number lies beyond something: the wire is known."""
    pins = [
        *(pin("M1:1", "5", "F1:1"), pin("F1:1", "5", "M3:1")),
        *(pin("F1:2", "6", "M3:1"), pin("M3:1", "6", "F1:2")),
    ]
    assert cut_places(worked(tmp_path, pins, place=BOW)) == ["F1:1"]


def test_splice_and_end_lost_at_once(tmp_path: Path) -> None:
    """Rows that name legs of a splice nowhere read do not make up for an end that is lost as well."""
    pins = [
        *(pin("M1:1", "5", "S1:a"), pin("M2:1", "5", "S1:b"), pin("C1A:1", "5", "S1:c")),
        pin("C1B:1", "5", "M3:1"),
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"]


def test_more_legs_than_ends(tmp_path: Path) -> None:
    """A wire does not begin and end in one splice: four legs and two ends are four wires, two ends lost."""
    legs = [pin(f"S1:{leg}", "5") for leg in "abcd"]
    ends = [pin("M1:1", "5"), pin("M2:1", "5")]
    plan = worked(tmp_path, [*legs, *ends], place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and not plan["cuts"]
    more = [*legs, *ends, pin("M3:1", "5"), pin("M4:1", "5")]
    assert net_of(worked(tmp_path / "more", more, place=BOW), "5")["fate"] == "crosses"
