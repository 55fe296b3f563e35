"""Where a wire is cut: at in-lines that stay, where wires meet, where a supply is lost."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, inline_of, pin, rows, worked

BOW = {"M1": "bow"}
#: Circuit 10 passes two in-lines; of these C1 also carries 20, between modules nobody moves.
CHAIN = ("M1:1 10 C1A:1", "C1B:1 10 C2A:1", "C2B:1 10 M2:1", "M3:1 20 C1A:2", "C1B:2 20 M4:1")


def links(plan: dict[str, Any]) -> list[set[str]]:
    """Return the connectors each link runs between."""
    return [{link["from"]["connector"], link["to"]["connector"]} for link in plan["links"]]


def test_no_wire_comes_along_through_an_in_line_that_stays(tmp_path: Path) -> None:
    """The wire is cut at the half that faces the moved plug, though another in-line beyond it goes."""
    plan = worked(tmp_path, rows(*CHAIN), place=BOW)
    assert inline_of(plan, "C1")["fate"] == "stays" and inline_of(plan, "C2")["fate"] == "goes"
    assert "C1A:1" in cut_places(plan)
    assert inline_of(plan, "C1")["cavities_used_after"] == 2


@pytest.mark.parametrize("rest", ["stays", "left behind"])
def test_between_two_moved_ends_an_in_line_that_stays_is_left_out(tmp_path: Path, rest: str) -> None:
    """Both its halves are cut off, and the wires go on without it."""
    held = [pin("M3:1", "20"), pin("C1A:2", "20"), pin("C1B:2", "20")]  # unknown: it keeps the in-line
    plan = worked(tmp_path, [*rows(*CHAIN[:3]), *held], place={**BOW, "M2": "stern"}, rest=rest)
    assert inline_of(plan, "C1")["fate"] == "stays"
    assert {"C1A:1", "C1B:1"} <= set(cut_places(plan))
    assert inline_of(plan, "C1")["cavities_used_after"] == 1


def test_one_extension_replaces_several_in_lines_in_a_row(tmp_path: Path) -> None:
    """A crossing wire is cut at the first and the last of them: what lies between comes out with them."""
    row = ("M1:1 10 C1A:1", "C1B:1 10 C2A:1", "C2B:1 10 C3A:1", "C3B:1 10 M2:1")
    plan = worked(tmp_path / "row", rows(*row), place=BOW)
    assert {item["fate"] for item in plan["inlines"]} == {"goes"}
    assert cut_places(plan) == ["C1A:1", "C3B:1"]
    (join,) = plan["joins"]
    assert join["wire"] and not plan["caps"]
    # a branch ends the row: beyond it all stays as fitted
    branched = (*row[:2], "C2B:1 10 S1:a", "S1:b 10 C3A:1", "C3B:1 10 M2:1", "S1:c 10 M3:1")
    two = worked(tmp_path / "branched", rows(*branched), place=BOW)
    assert cut_places(two) == ["C1A:1", "C2B:1"] and inline_of(two, "C3")["fate"] == "stays"


def test_in_lines_between_ends_of_one_place_keep_their_loom(tmp_path: Path) -> None:
    """Nothing new runs there: each piece stays as long as it was, and is joined past what goes."""
    row = ("M1:1 10 C1A:1", "C1B:1 10 C2A:1", "C2B:1 10 M2:1")
    plan = worked(tmp_path, rows(*row), place={**BOW, "M2": "bow"})
    assert cut_places(plan) == ["C1A:1", "C1B:1", "C2A:1", "C2B:1"] and len(plan["joins"]) == 2


def test_a_loop_is_cut_out_past_in_lines_that_stay_and_go(tmp_path: Path) -> None:
    """`[shorten]` counts whatever in-lines the loop passes, and nothing is asked about them any more."""
    plan = worked(tmp_path, rows(*CHAIN), place={**BOW, "M2": "bow"}, shorten=("10",))
    assert cut_places(plan) == ["M1:1", "M2:1"] and links(plan) == [{"M1", "M2"}]
    assert not any("travels, but passes" in question["text"] for question in plan["questions"])
    whole = worked(tmp_path / "whole", rows(*CHAIN), place={**BOW, "M2": "bow"})
    assert any("travels, but passes C1" in question["text"] for question in whole["questions"])


def test_what_only_the_plan_keeps_comes_along_plugged(tmp_path: Path) -> None:
    """An in-line between two modules that move together may be kept: then nothing is cut nor asked."""
    pins = rows("M1:1 10 C1A:1", "C1B:1 10 M2:1")
    plan = worked(tmp_path, pins, place={**BOW, "M2": "bow"}, keep=("C1",))
    assert not plan["cuts"]
    assert not any("passes C1" in question["text"] for question in plan["questions"])


def test_a_link_joins_moved_ends(tmp_path: Path) -> None:
    """A link names the two moved ends, not the in-line or the dropped module that lay between."""
    pins = rows("M1:1 10 M2:1", "M2:1 10 C1A:1", "C1B:1 10 M3:1")
    plan = worked(tmp_path, pins, place={"M1": "bow", "M3": "bow"}, drop=("M2",))
    assert links(plan) == [{"M1", "M3"}]
    stays = worked(tmp_path / "stays", pins, drop=("M2",))
    assert not stays["links"]


def test_wires_that_one_extension_replaces_are_cut_where_they_meet(tmp_path: Path) -> None:
    """Of a cavity with two wires that moves, both are cut at it: their far plugs may be metres apart."""
    plan = worked(tmp_path, rows("M1:1 10 M5:8", "M5:8 10 M2:1"), place={"M5": "bow"})
    assert cut_places(plan) == ["M5:8", "M5:8"]
    (join,) = plan["joins"]
    assert [stub["side"] for stub in join["stubs"]] == ["plug", "loom", "loom"] and join["wire"]


@pytest.mark.parametrize("answered", ["M1:1", "M1:2"])
def test_the_new_vehicle_feeds_what_lost_its_fuse(tmp_path: Path, answered: str) -> None:
    """Whichever pin of a net is answered, the stub that led to its fuse is joined to what is named."""
    pins = rows("M1:1 10 S1:a", "M1:2 10 S1:b", "F1:1 10 S1:c")
    plan = worked(tmp_path, pins, place=BOW, rest="left behind", host={answered: "fuse H4"})
    (need,) = plan["host"]
    assert need["answer"] == "fuse H4" and need["pin"]["cavity"] == answered[-1]
    (join,) = plan["joins"]
    assert join["host"] == "fuse H4" and not plan["caps"]
    without = worked(tmp_path / "without", pins, place=BOW, rest="left behind")
    assert without["caps"] and not without["joins"]


def test_a_label_names_what_lies_on_its_side(tmp_path: Path) -> None:
    """Where several wires meet unseen, a label names what its loom leads to, nothing behind a plug."""
    front = [pin(where, "10", harness="front") for where in ("A9:1", "C1A:1")]
    rear = [pin(where, "10", harness="rear") for where in ("C1B:1", "M2:1", "M3:1")]
    (cut,) = worked(tmp_path, [*front, *rear], place={"M2": "bow"})["cuts"]
    assert cut["connector"] == "M2"
    assert all("C1B:1+1" in text and "A9" not in text for text in cut["labels"])


def test_an_extension_is_as_thick_as_either_row_says(tmp_path: Path) -> None:
    """Where the page of the cavity that is cut prints no size, the wire's other end may."""
    pins = rows("M1:1 10 M2:1", but={"M1:1": {"size_mm2": 2.5}})
    (join,) = worked(tmp_path, pins, place=BOW)["joins"]
    assert join["wire"]["size_mm2"] == 2.5


@pytest.mark.parametrize(("function", "said"), [("CAN high", True), ("Lamp", False)])
def test_two_wires_nobody_tells_apart_are_extended_each_by_itself(
    tmp_path: Path, function: str, said: bool
) -> None:
    """Of a bus no one wire may stand for both that led on; of a lamp's feed one will do."""
    rows_of = ("M1:1", "M2:1", "M2:1", "M3:1")
    pins = [pin(where, "10", function=function) for where in rows_of]
    plan = worked(tmp_path, pins, place={"M2": "bow"})
    checks = " ".join(text for cut in plan["cuts"] for text in cut["checks_before"])
    assert plan["cuts"] and ("extend each by itself" in checks) is said


def test_legs_of_a_splice_that_go_on_overleaf_are_all_its_wires(tmp_path: Path) -> None:
    """A row for each wire and no cavities: the rows of both tables are its wires."""
    ends = ("M1:1", "M2:1", "M3:1", "M4:1")
    pins = [row for end in ends for row in (pin(end, "10", "S1"), pin("S1", "10", end))]
    pins = [replace(row, page=2 if row.goes_to in ends[2:] else 1) for row in pins]
    plan = worked(tmp_path, pins, place=BOW)
    (cut,) = plan["cuts"]
    assert (cut["connector"], cut["to"]["connector"]) == ("S1", "M1") and not plan["caps"]
    assert all(len(join["stubs"]) == 2 for join in plan["joins"])


def test_a_supplement_leads_more_wires_to_a_stud_than_its_table_prints(tmp_path: Path) -> None:
    """Where every wire end is led somewhere all are known; the one that moves is cut at the stud."""
    pins = [pin("G1", "31"), *(pin(f"M{n}:1", "31", "G1") for n in (1, 2, 3))]
    plan = worked(tmp_path / "a", pins, place=BOW)
    (cut,) = plan["cuts"]
    assert cut["connector"] == "G1" and "at the tail of ground G1" in cut["where"]
    assert any("every wire of a stud reads alike" in text for text in cut["checks_before"])
    # a column that may name the stud far beyond a splice proves nothing
    beyond = [*pins, pin("S1:a", "31"), pin("S1:b", "31"), pin("S1:c", "31")]
    assert "G1" not in {cut["connector"] for cut in worked(tmp_path / "b", beyond, place=BOW)["cuts"]}


def test_a_ground_that_is_joined_past_its_stud_gets_that_of_the_new_vehicle(tmp_path: Path) -> None:
    """Two modules that shared a stud left behind are joined, and the joint goes to what is answered."""
    pins = [
        pin("G1", "31", "M1:1"),
        pin("G1", "31", "M2:1"),
        pin("M1:1", "31", "G1"),
        pin("M2:1", "31", "G1"),
    ]
    host = {"M1:1": "ground bar H1"}
    plan = worked(tmp_path, pins, place={**BOW, "M2": "bow"}, rest="left behind", host=host)
    assert [join["host"] for join in plan["joins"]] == ["ground bar H1"]


def test_a_supply_whose_giver_may_be_gone_is_asked_about(tmp_path: Path) -> None:
    """No fuse is in the documents and a switch that may feed it stays behind: that is a question."""
    supply = {"function": "Ignition supply"}
    pins = rows("M1:1 15 S1:a", "M2:1 15 S1:b", "K1:1 15 S1:c", but={"M1:1": supply, "M2:1": supply})
    moved = {"place": {**BOW, "M2": "bow"}, "rest": "left behind"}
    plan = worked(tmp_path / "a", pins, **moved)
    assert any("may have been fed by K1:1" in q["text"] for q in plan["questions"])
    assert {line["after"] for module in plan["supplies"] for line in module["lines"]} == {"open"}
    fed = worked(tmp_path / "b", pins, **moved, host={"M2:1": "fuse H1"})
    assert not any("may have been fed" in q["text"] for q in fed["questions"])
    assert [join["host"] for join in fed["joins"]] == ["fuse H1"] and not fed["caps"]
    stays = worked(tmp_path / "c", pins, place=BOW)
    assert not any("may have been fed" in q["text"] for q in stays["questions"])


def test_a_fuse_that_a_list_names_is_no_wire_beside_its_box(tmp_path: Path) -> None:
    """The list says circuit and rating of a fuse, the box's own table the wire at its pin."""
    plain = {"base_color": "", "color_code": "", "component": "Fuse box"}
    wires = rows(*(f"F9:{n} 1{n} M1:{n}" for n in range(1, 5)))
    slots = [pin(f"F9:F{n}", f"1{n}", table_no=2, **plain) for n in range(1, 5)]
    plan = worked(tmp_path, [*slots, *wires], place=BOW)
    assert [(net["fate"], net["at_least"]) for net in plan["nets"]] == [("crosses", False)] * 4
    assert cut_places(plan) == [f"F9:{n}" for n in range(1, 5)] and len(plan["joins"]) == 4


def test_the_fed_side_of_a_fuse_feeds_nothing(tmp_path: Path) -> None:
    """What comes to `F1 in` is given elsewhere: where that may stay behind, it is asked about as well."""
    supply = {"function": "Ignition supply"}
    pins = rows("M1:1 15 S1:a", "F9:1 15 S1:b", "K1:1 15 S1:c", but={"M1:1": supply})
    pins = [replace(row, cavity="F1 in") if row.connector == "F9" else row for row in pins]
    pins = [replace(row, goes_to="F9:F1 in") if row.goes_to == "F9:1" else row for row in pins]
    moved: dict[str, Any] = {"place": {**BOW, "F9": "bow"}, "rest": "left behind"}
    plan = worked(tmp_path / "a", pins, **moved)
    assert any("may have been fed by K1:1" in q["text"] for q in plan["questions"])
    out = [replace(row, cavity="F1 out") if row.connector == "F9" else row for row in pins]
    out = [replace(row, goes_to="F9:F1 out") if row.goes_to == "F9:F1 in" else row for row in out]
    fed = worked(tmp_path / "b", out, **moved)
    assert not any("may have been fed" in q["text"] for q in fed["questions"])
