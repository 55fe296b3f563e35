"""Names in the answers of a plan that stand nowhere in the documents."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.moves import progress_sample
from tests.moves.sample import pin, rows, worked
from tests.store.sample import pin as stored
from xref.moves.plan_file import PlanError
from xref.moves.records import Question


@pytest.mark.parametrize(
    ("answer", "said", "near"),
    [
        ({"host": {"M1:7": "fuse H1"}}, "host names the pin M1:7", "M1:1, M1:2"),
        ({"host": {"M11:1": "fuse H1"}}, "host names the pin M11:1", "M1:1"),
        ({"host": {"M1": "fuse H1"}}, "host names the pin M1,", ""),
        ({"shorten": ("1014",)}, "shorten.nets names the circuit 1014", "1041"),
    ],
)
def test_an_answer_that_names_nothing_is_an_error(
    tmp_path: Path, answer: dict[str, Any], said: str, near: str
) -> None:
    """A pin or circuit that stands nowhere is a misprint: the error lists what it is near to."""
    pins = rows("M1:1 1041 M2:1", "M1:2 1042 M2:2")
    with pytest.raises(PlanError) as raised:
        worked(tmp_path, pins, place={"M1": "bow"}, **answer)
    assert said in str(raised.value)
    assert near in (raised.value.hint or "")


def test_an_answer_for_a_pin_that_is_read_is_taken(tmp_path: Path) -> None:
    """A cavity is found with leading zeros or without; one no circuit is read of is there all the same."""
    pins = [*rows("M1:1 100 F1:1"), pin("M1:2", "", status="unused", base_color="", color_code="")]
    host = {"M1:01": "fuse H1", "M1:2": "nothing"}
    plan = worked(tmp_path, pins, place={"M1": "bow"}, rest="left behind", host=host)
    assert [need["answer"] for need in plan["host"]] == ["fuse H1"]
    assert not [q for q in plan["questions"] if q["about"] == "M1:01"]


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ({"route": {frozenset(("bow", "as fited")): 2.0}}, "Did you mean as fitted?"),
        ({"accepted": ("Brake lihgt switch",)}, "Did you mean Brake light switch?"),
        ({"route": {frozenset(("bow", "wheelhouse")): 2.0}}, "Correct or delete it."),
    ],
)
def test_a_place_or_function_that_is_not_known_is_asked_about(
    tmp_path: Path, answer: dict[str, Any], said: str
) -> None:
    """It changes no line and may be of a module yet to come: a question, with what was likely meant."""
    pins = rows("M1:1 100 M2:1", but={"M1:1": {"function": "Brake light switch"}})
    plan = worked(tmp_path, pins, place={"M1": "bow"}, **answer)
    assert [q["settle"] for q in plan["questions"] if q["kind"] == "unused"] == [
        said if said.startswith("Correct") else f"{said} Correct or delete it."
    ]


def test_a_component_whose_plugs_all_have_lines_of_their_own(tmp_path: Path) -> None:
    """A place that is given and not followed is an error; the same place twice is none."""
    pins = rows("M1:1 100 M2:1", but={"M1:1": {"component": "Winch"}})
    with pytest.raises(PlanError, match="is bow, but each of its plugs"):
        worked(tmp_path / "a", pins, place={"Winch": "bow", "M1": "stern"})
    assert worked(tmp_path / "b", pins, place={"Winch": "bow", "M1": "bow"})["cuts"]


@pytest.mark.parametrize("answer", [{"shorten": ("100",)}, {"bridge": ("100",)}])
def test_a_circuit_that_is_shortened_or_bridged_for_nothing(tmp_path: Path, answer: dict[str, Any]) -> None:
    """It crosses and no module leads it through: that the line changes nothing is said."""
    plan = worked(tmp_path, rows("M1:1 100 M2:1"), place={"M1": "bow"}, **answer)
    assert [q["about"] for q in plan["questions"] if q["kind"] == "unused"] == ["100"]


@pytest.mark.parametrize("name", ["A1", "Sensor", "SP1"])
def test_only_an_in_line_is_kept(tmp_path: Path, name: str) -> None:
    """A module, or a splice, in `[inlines] keep` is an error: it would have no effect."""
    splice = stored("SP1", "a", "100", row_no=90, role="splice")
    progress_sample.workspace(tmp_path, [*progress_sample.pins(), splice])
    with pytest.raises(PlanError, match=f"inlines.keep names {name}.*which is no in-line"):
        progress_sample.worked(tmp_path, f'{progress_sample.PLAN}[inlines]\nkeep = ["{name}"]\n')


def _alike(folder: Path, one: str, other: str) -> list[Question]:
    progress_sample.workspace(folder)
    plan = progress_sample.worked(folder, f'[place]\n"Lift controller" = "{one}"\n"Sensor" = "{other}"\n')
    return [q for q in plan.questions if "nearly alike" in q.text]


@pytest.mark.parametrize(
    ("one", "other"),
    [("wheelhouse", "whelhouse"), ("stern locker", "sternlocker"), ("stern locker", "stern lokcer")],
)
def test_places_written_nearly_alike_are_asked_about(tmp_path: Path, one: str, other: str) -> None:
    """One place misprinted makes two: that is a question with the name that may be meant, no error."""
    (asked,) = _alike(tmp_path, one, other)
    assert (asked.about, asked.kind) == (other, "unused") and f"Did you mean {one}?" in asked.settle


@pytest.mark.parametrize(
    ("one", "other"),
    [("locker 1", "locker 2"), ("bay A", "bay B"), ("upper deck", "lower deck"), ("bow", "box")],
)
def test_places_that_differ_in_a_number_or_a_word_are_two(tmp_path: Path, one: str, other: str) -> None:
    """What people number or letter is told apart by it."""
    assert _alike(tmp_path, one, other) == []
