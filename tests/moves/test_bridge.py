"""Circuits that a module which goes passes on inside: joined where it sat, if the plan says so."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, rows, worked
from xref.moves.plan_file import PlanError

#: A line of three modules; the middle one passes it on from one cavity to the other.
LINE = ("M1:1 2501 M2:1", "M2:2 2501 M3:1")
MOVES: dict[str, Any] = {"place": {"M1": "bow"}, "drop": ("M2",)}


def asked(plan: dict[str, Any], kind: str) -> list[dict[str, str]]:
    """Return the questions of a kind."""
    return [question for question in plan["questions"] if question["kind"] == kind]


def test_a_circuit_led_through_a_module_that_goes_is_a_question(tmp_path: Path) -> None:
    """Nobody says that it passes on inside: no line joins its wires, and the question names the key."""
    plan = worked(tmp_path, rows(*LINE), **MOVES)
    assert not plan["joins"]
    (parted,) = asked(plan, "parted")
    assert "led through M2" in parted["text"] and '[bridge] nets = ["2501"]' in parted["settle"]


def test_a_bridged_circuit_is_joined_past_the_module(tmp_path: Path) -> None:
    """Both wires are cut at its plug and one extension joins them; what that rests on stands at each cut."""
    plan = worked(tmp_path, rows(*LINE), **MOVES, bridge=("2501",))
    assert not asked(plan, "parted") and not plan["caps"]
    assert cut_places(plan) == ["M2:1", "M2:2"]
    (join,) = plan["joins"]
    assert sorted(join["cuts"]) == sorted(cut["id"] for cut in plan["cuts"]) and join["wire"]
    assert all("only if this is passed on inside" in " ".join(cut["checks_before"]) for cut in plan["cuts"])


def test_a_bridge_is_as_if_both_wires_sat_in_one_cavity(tmp_path: Path) -> None:
    """Fates, crossings, cuts and joints are those of a harness that chains the wires in one cavity of it."""
    two = rows(LINE[0], "M2:2 2501 C1A:1", "C1B:1 2501 M4:1", "M4:2 2501 G1:1")
    one = [replace(pin, cavity="1", goes_to=pin.goes_to.replace(":2", ":1")) for pin in two]
    moves: dict[str, Any] = {"place": {"M1": "bow"}, "drop": ("M2", "M4")}
    bridged = worked(tmp_path / "two", two, **moves, bridge=("2501",))
    chained = worked(tmp_path / "one", one, **moves)
    assert not asked(bridged, "unseen")
    assert [cut["where"] for cut in bridged["cuts"]] == [cut["where"] for cut in chained["cuts"]]
    assert len(bridged["joins"]) == len(chained["joins"]) > 0
    assert [net["crossings"] for net in bridged["nets"]] == [net["crossings"] for net in chained["nets"]]


def test_a_module_that_lives_is_not_bridged(tmp_path: Path) -> None:
    """It still passes the circuit on itself, if it does: the plan is what it is without the key."""
    plain = worked(tmp_path / "a", rows(*LINE), place={"M2": "bow"})
    told = worked(tmp_path / "b", rows(*LINE), place={"M2": "bow"}, bridge=("2501",))
    assert plain["cuts"] and plain["cuts"] == told["cuts"] and plain["joins"] == told["joins"]


def test_a_bridge_names_a_circuit_that_is_there(tmp_path: Path) -> None:
    """A misprint would leave a bus open in silence."""
    with pytest.raises(PlanError, match=r"bridge\.nets names the circuit 2510"):
        worked(tmp_path, rows(*LINE), **MOVES, bridge=("2510",))


def test_wires_that_are_all_stated_meet_in_no_unseen_splice(tmp_path: Path) -> None:
    """Led on through modules they need none; two wires that share nothing but a number may."""
    led = worked(tmp_path / "a", rows(*LINE), place={"M1": "bow"})
    assert not asked(led, "unseen")
    apart = worked(tmp_path / "b", rows(LINE[0], "M4:2 2501 M3:1"), place={"M1": "bow"})
    assert asked(apart, "unseen")
