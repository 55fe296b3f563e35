"""A new plan as a file: it is TOML whatever the manual printed, and open places never pass in silence."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from tests.moves.winch import WINCH, at, index, wire
from xref.errors import UsageError
from xref.moves.plan_file import PlanError, parse_plan
from xref.moves.start import PlanStart, start_plan
from xref.moves.work_out import work_out
from xref.sheets.plan_toml import plan_start_text, quoted, write_plan_start
from xref.store.index import Index

#: What a hostile or broken PDF may hold as the name of a component.
HOSTILE = 'Pump "A"\\ \u202egnik\u202c\x1b[31m \x7f'


def started(folder: Path, *names: str, machine: str | None = None) -> PlanStart:
    """Return what a plan of the winch is started from."""
    with Index.open(index(folder)) as opened:
        return start_plan(opened, names, machine, "xref plan new")


def filled_in(text: str, place: str = "aft") -> str:
    """Fill in every place, as a person does."""
    return text.replace('= "" ', f'= "{place}" ')


def test_a_new_plan_must_be_filled_in_and_then_works(tmp_path: Path) -> None:
    """The file names what moves as the manual does; open it is an error, filled in it is a plan."""
    start = started(tmp_path, "winch CONTROLLER")
    text = plan_start_text(start, "move.toml")
    assert tomllib.loads(text)["place"] == {WINCH: ""}
    with pytest.raises(PlanError, match=f"No place is given yet for {WINCH}"):
        parse_plan(text, "move.toml")
    plan = parse_plan(filled_in(text))
    assert plan.place == {WINCH: "aft"} and plan.machine == "lift"
    with Index.open(index(tmp_path / "again")) as opened:
        assert work_out(opened, plan).cuts


def test_everything_offered_is_right_once_its_mark_is_taken_away(tmp_path: Path) -> None:
    """Taking the # from every offered line and filling it in gives a plan without an error."""
    text = plan_start_text(started(tmp_path, WINCH), "move.toml")
    offered = filled_in(
        "\n".join(line.removeprefix("# ") if ' = "" ' in line else line for line in text.split("\n"))
    )
    plan = parse_plan(offered)
    assert {"Winch motor", "Rope sensor", "Pedal"} <= plan.place.keys()
    assert {"A1:1", "A1:3"} <= plan.host.keys()
    alone = replace(plan, rest="left behind", place={WINCH: "aft"})  # as the host's lines were asked for
    with Index.open(index(tmp_path / "again")) as opened:
        assert not [q for q in work_out(opened, alone).questions if q.kind == "unused"]


def test_a_new_plan_says_what_the_index_knows(tmp_path: Path) -> None:
    """Plugs, in-lines on the way, safety circuits with their page, and what is never cut."""
    text = plan_start_text(started(tmp_path, WINCH), "move.toml")
    comments = [line for line in text.split("\n") if "#" in line]
    said = "\n".join(comments)
    assert "A1, 7 cavities in use" in said and "X5: 1 of their circuits" in said
    assert '"Brake light switch": 106, brake; loom.pdf p. 1' in said
    assert "105: airbag" in said and "Confirm every wire with a meter" in said


def test_names_of_a_manual_stay_one_line_and_run_nothing(tmp_path: Path) -> None:
    """Quotes, control characters and direction marks come through as they are, and as escapes only."""
    assert tomllib.loads(f"name = {quoted(HOSTILE)}") == {"name": HOSTILE}
    assert quoted(HOSTILE).isprintable() and quoted("\ud800").isprintable()
    pins = wire("9", "red", "x\n[drop]\n" + HOSTILE, at("P1", "1", HOSTILE), at("Q1", "1", "B\n[place]"))
    workspace = index(tmp_path, *pins)
    with Index.open(workspace) as opened:
        start = start_plan(opened, ["P1"], None, "xref plan new")
    text = plan_start_text(start, "move.toml")
    assert all(line.isprintable() for line in text.split("\n"))
    assert tomllib.loads(text)["place"] == {"P1": ""}


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (("Winch contoller",), "stands nowhere in the pages that were read"),
        (("X5",), "lies on the way and has no place"),
        ((WINCH, "winch controller"), "is named twice"),
    ],
)
def test_names_that_cannot_be_taken_are_errors(tmp_path: Path, names: tuple[str, ...], wanted: str) -> None:
    """What fits nothing, is an in-line, or stands twice is said before a file is written."""
    with pytest.raises(PlanError, match=wanted) as raised:
        started(tmp_path, *names)
    if "contoller" in names[0]:
        assert WINCH in raised.value.hint


def test_a_connector_may_have_a_line_beside_its_component(tmp_path: Path) -> None:
    """A plug's own line goes before that of its component, so both may be named."""
    assert [module.name for module in started(tmp_path, WINCH, "A1").modules] == [WINCH, "A1"]


def test_a_plan_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    """Only --force replaces a file, and only a .toml is written."""
    start = started(tmp_path, WINCH)
    path = tmp_path / "move.toml"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError, match="is there already"):
        write_plan_start(start, path)
    assert path.read_text(encoding="utf-8") == "mine"
    write_plan_start(start, path, force=True)
    assert "[place]" in path.read_text(encoding="utf-8")
    with pytest.raises(UsageError, match=r"a plan is a \.toml file"):
        write_plan_start(start, tmp_path / "move.txt")
