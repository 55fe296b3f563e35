"""All feeds and grounds of a moved module, before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from tests.moves.sample import rows, worked
from xref.data.ground_words import ground_kind
from xref.records import Pin

WINCH = "Winch controller"


def winch() -> list[Pin]:
    """A module with two feeds from one fuse, one from another, and two grounds."""
    pins = rows(
        "M1:1 101 F1:1",
        "M1:2 102 F1:2",
        "M1:3 103 G1:1",
        "M1:4 104 G2:1",
        "M1:5 105 F2:1",
        "M1:6 106 M2:1",
        but={
            "M1:1": {"function": "Supply"},
            "M1:2": {"function": "Supply"},
            "M1:3": {"function": "Power ground"},
            "M1:4": {"function": "Signal ground"},
            "M1:5": {"function": "Ignition feed"},
            "M1:6": {"function": "Lamp output"},
            "F1:1": {"function": "Winch 30 A"},
            "F1:2": {"function": "Winch 30 A"},
            "F2:1": {"component": "Fuse 7,5A"},
        },
    )
    return [replace(pin, component=WINCH) if pin.connector == "M1" else pin for pin in pins]


def lines(plan: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """Return the lines of the one module by cavity."""
    (module,) = plan["supplies"]
    assert module["module"] == WINCH
    return {line["pin"]["cavity"]: line for line in module["lines"]}


def asked(plan: Mapping[str, Any]) -> list[str]:
    """Return the questions about supplies."""
    return [item["text"] for item in plan["questions"] if item["kind"] == "supplies"]


def test_feeds_and_grounds_are_told_apart_with_fuse_and_rating(tmp_path: Path) -> None:
    """Ratings as printed; power and signal ground apart; an output is no supply."""
    plan = worked(tmp_path, winch(), place={"M1": "aft"})
    found = lines(plan)
    assert sorted(found) == ["1", "2", "3", "4", "5"]
    assert (found["1"]["kind"], found["5"]["before"]) == ("feed", "F2:1 7,5A")
    assert found["1"]["before"] == "F1:1 30 A"
    assert (found["3"]["ground"], found["4"]["ground"]) == ("power", "signal")
    assert {line["after"] for line in found.values()} == {"crosses"}
    assert plan["supplies"][0]["grounds"] == {"before": 2, "after": 2} and not asked(plan)


def test_parallel_feeds_are_kept_together(tmp_path: Path) -> None:
    """Two cavities from one fuse holder, or on one net, are named beside each other."""
    found = lines(worked(tmp_path, winch(), place={"M1": "aft"}))
    assert found["1"]["parallel"] == ["M1:2"] and found["2"]["parallel"] == ["M1:1"]
    assert found["5"]["parallel"] == []


def test_an_omitted_second_ground_is_asked_for_by_name(tmp_path: Path) -> None:
    """Of each kind the plan answers one: the questions name the others, and never the answered ones."""
    host = {"M1:1": "host fuse H1 30 A", "M1:3": "host ground bar"}
    plan = worked(tmp_path, winch(), place={"M1": "aft"}, rest="left behind", host=host)
    feeds, grounds = asked(plan)
    assert "M1:2 (102)" in feeds and "M1:5 (105)" in feeds and "M1:1 " not in feeds
    assert "has 2 grounds and keeps 1" in grounds and "M1:4 (104)" in grounds and "M1:3 " not in grounds
    assert plan["supplies"][0]["grounds"] == {"before": 2, "after": 1}
    assert lines(plan)["3"]["answer"] == "host ground bar"


def test_nothing_is_asked_twice_where_all_or_none_is_answered(tmp_path: Path) -> None:
    """None answered: the questions about the new vehicle name each already."""
    none = worked(tmp_path / "none", winch(), place={"M1": "aft"}, rest="left behind")
    assert not asked(none) and {line["after"] for line in lines(none).values()} == {"open"}
    host = {f"M1:{n}": "host" for n in range(1, 6)}
    every = worked(tmp_path / "all", winch(), place={"M1": "aft"}, rest="left behind", host=host)
    assert not asked(every) and every["supplies"][0]["feeds"] == {"before": 3, "after": 3}


def test_a_ground_is_of_the_kind_its_words_name(tmp_path: Path) -> None:
    """Words that name two kinds, or none, decide nothing."""
    assert ground_kind("Sensor ground") == "signal" and ground_kind("Lastmasse") == "power"
    assert ground_kind("Ground") == "" and ground_kind("Power and signal ground") == ""
    assert ground_kind("Case ground") == "case" and ground_kind("Shield") == "shield"
