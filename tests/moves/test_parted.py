"""What would come apart in silence, and what a meter finds with the plugs off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import rows, worked
from xref.moves.plan_file import PlanError
from xref.records import Connector

#: A bus from module to module, each of which has it on two cavities: one in, one on.
BUS = ("M1:1 700 C1A:1", "C1B:1 700 M2:1", "M2:2 700 S1:a", "S1:b 700 M3:1", "S1:c 700 M4:1")


def questions(plan: Mapping[str, Any], kind: str) -> list[str]:
    """Return the questions of one kind."""
    return [item["text"] for item in plan["questions"] if item["kind"] == kind]


def checks(plan: Mapping[str, Any]) -> dict[str, str]:
    """Return what is metered first, cut by cut."""
    return {
        f"{cut['connector']}{cut['half']}:{cut['cavity']}": text.removeprefix("continuity from ")
        for cut in plan["cuts"]
        for text in cut["checks_before"]
        if text.startswith("continuity")
    }


def test_a_bus_through_a_module_that_is_left_behind_is_asked_about(tmp_path: Path) -> None:
    """No wire leads past it, so no extension can be proposed; a module that comes along still joins."""
    moved = {"M1": "bow", "M3": "stern"}
    (said,) = questions(worked(tmp_path / "a", rows(*BUS), place=moved, rest="left behind"), "parted")
    assert "700 led through M2, left behind or dropped" in said
    assert "M1:1; M3:1" in said
    with_it = worked(tmp_path / "b", rows(*BUS), place={**moved, "M2": "bow"}, rest="left behind")
    assert not questions(with_it, "parted")
    assert not questions(worked(tmp_path / "c", rows(*BUS), place=moved), "parted")


def test_a_meter_is_led_along_the_one_wire_and_through_no_module(tmp_path: Path) -> None:
    """With both plugs of a wire off a meter reaches nothing beyond its in-line, nor through a module."""
    plan = worked(tmp_path, rows(*BUS), place={"M2": "bow"})
    said = checks(plan)
    assert said and all(
        text in ("C1 B:1 to M2:1", "M2:1 to C1 B:1", "C1 A:1 to M1:1", "S1:a to M2:2", "M2:2 to M3:1, M4:1")
        for text in said.values()
    )


def test_plugs_of_one_module_in_two_places_are_asked_about(tmp_path: Path) -> None:
    """One plug named, the other forgotten: one housing cannot be in two places."""
    box = {"component": "Winch box"}
    wires = ("M1:1 100 M3:1", "M2:1 101 M3:2")
    pins = rows(*wires, but={"M1:1": box, "M2:1": box})
    (said,) = questions(worked(tmp_path / "a", pins, place={"M1": "bow"}), "split")
    assert "Winch box go to different places: M1 to bow and M2 stays as fitted" in said
    assert not questions(worked(tmp_path / "b", pins, place={"Winch box": "bow"}), "split")
    assert not questions(worked(tmp_path / "c", pins, place={"M3": "bow"}), "split")


def test_a_splice_has_no_place(tmp_path: Path) -> None:
    """It lies on a loom; a place for it would change nothing, and the plan would not say so."""
    splice = Connector(machine="", connector="S1", role="splice", document="manual.pdf")
    with pytest.raises(PlanError, match="is an in-line connector or a splice"):
        worked(tmp_path, rows(*BUS), connectors=[splice], place={"S1": "bow"})


def test_a_supply_that_no_fuse_feeds_may_be_one_the_module_gave(tmp_path: Path) -> None:
    """A supply for a sensor leaves the module: nobody must feed it from outside unread."""
    feed = {"function": "Limit switch supply"}
    pins = rows("M1:1 100 M3:1", "M1:2 101 F1:1", but={"M1:1": feed, "M1:2": {"function": "Supply"}})
    out, fed = questions(worked(tmp_path, pins, place={"M1": "bow"}, rest="left behind"), "host")
    if "M1:2" in out:
        out, fed = fed, out
    assert "M1:1 (100: Limit switch supply) needs a supply from the new vehicle, or gave one itself" in out
    assert fed == "M1:2 (101: Supply) needs a supply from the new vehicle."


def test_a_fuse_that_a_supply_comes_to_does_not_feed_it(tmp_path: Path) -> None:
    """A module may give the supply that a fuse takes on: nobody must feed it from outside unread."""
    supply = {"function": "Supply"}
    pins = rows("M1:1 100 F1:a", "M1:2 101 F1:b", but={"M1:1": supply, "M1:2": supply})
    sides = {"a": "F1 in", "b": "F1 out"}
    pins = [replace(pin, cavity=sides.get(pin.cavity, pin.cavity)) for pin in pins]
    found = questions(worked(tmp_path, pins, place={"M1": "bow"}, rest="left behind"), "host")
    assert any(
        "M1:1 (100: Supply) needs a supply from the new vehicle, or gave one itself" in t for t in found
    )
    assert "M1:2 (101: Supply) needs a supply from the new vehicle." in found


def test_an_answer_that_is_not_followed_is_said(tmp_path: Path) -> None:
    """Where the rest stays, a moved supply is lengthened: what the new vehicle would give is not used."""
    wires, fuse = rows("M1:1 100 F1:1"), {"M1:1": "fuse H1"}
    (said,) = questions(worked(tmp_path / "a", wires, place={"M1": "bow"}, host=fuse), "unused")
    assert "host names M1:1: nothing asks for it" in said
    behind = worked(tmp_path / "b", wires, place={"M1": "bow"}, host=fuse, rest="left behind")
    assert not questions(behind, "unused")
