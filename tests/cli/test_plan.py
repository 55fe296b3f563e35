"""`xref plan new` and `xref plan show` as processes."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.conftest import ROOT, RunXref
from tests.moves.winch import AFT, WINCH, at, index, wire
from xref.cli.app import load_command
from xref.cli.plan import SUBCOMMANDS

README = (ROOT / "README.md").read_text(encoding="utf-8")

KEYS = {
    *("nets", "cuts", "joins", "caps", "links", "inlines", "refused", "host", "counts", "cautions"),
    *("questions", "unread_pages"),
}


@pytest.mark.parametrize("name", SUBCOMMANDS)
def test_every_word_behind_plan_has_help_and_a_place_in_the_readme(name: str) -> None:
    """What can be done with a plan, with each of its options, is described; README shows it."""
    command = load_command("plan").commands[name]
    assert re.fullmatch(r"[A-Z].+\.", (command.help or "").splitlines()[0])
    assert all(
        getattr(parameter, "help", None) for parameter in command.params if "--help" not in parameter.opts
    )
    assert f"xref plan {name}" in README
    missing = {option for p in command.params for option in p.opts if option not in README}
    assert {option for option in missing if option.startswith("--")} <= {"--help", "--output"}


def plan_file(folder: Path, text: str = AFT) -> Path:
    """Write a plan beside the index of the winch."""
    index(folder)
    path = folder / "move.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_new_fill_in_show_is_the_way(xref: RunXref, tmp_path: Path) -> None:
    """A plan is started, cannot be shown while a place is open, and is shown once it is filled in."""
    index(tmp_path)
    done = xref("plan", "new", WINCH, "-o", "move.toml")
    assert (done.returncode, done.stderr) == (0, "")
    assert "Plan started: move.toml" in done.stdout and "xref plan show move.toml" in done.stdout
    done = xref("plan", "show", "move.toml")
    assert (done.returncode, done.stdout) == (2, "")
    assert f"No place is given yet for {WINCH}" in " ".join(done.stderr.split())
    path = tmp_path / "move.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('= "" ', '= "aft" '), encoding="utf-8")
    done = xref("plan", "show", "move.toml")
    assert done.returncode == 0 and "CUTS (" in done.stdout


def test_what_is_open_is_said_first_and_each_part_in_its_order(xref: RunXref, tmp_path: Path) -> None:
    """Questions, refused, fates, in-lines, cuts, joints, wire, counts, cautions: in this order."""
    plan_file(tmp_path)
    done = xref("plan", "show", "move.toml")
    parts = (
        *("NOT DECIDED", "REFUSED", "WHAT HAPPENS", "IN-LINES THAT STAY", "CUTS (3)", "JOINTS (3)"),
        *("WIRE NEEDED", "COUNTS", "BEFORE YOU CUT"),
    )
    places = [done.stdout.index(part) for part in parts]
    assert places == sorted(places) and (done.returncode, done.stderr) == (0, "")
    assert '-> Read its page; then name it: [safety] accepted = ["Brake light switch"].' in done.stdout
    assert "one by one: " in done.stdout and "red with white stripe" in done.stdout


def test_json_has_every_key_and_nothing_else_on_stdout(xref: RunXref, tmp_path: Path) -> None:
    """One object; lengths of the lists stand in the counts under their names."""
    plan_file(tmp_path)
    answer = json.loads(xref("plan", "show", "move.toml", "--json").stdout)
    assert answer.keys() >= KEYS
    for name in (
        "nets",
        "cuts",
        "joins",
        "caps",
        "links",
        "inlines",
        "refused",
        "host",
        "cautions",
        "questions",
    ):
        assert answer["counts"][name] == len(answer[name]), name
    assert answer["counts"]["one_by_one"].keys() == {"cuts", "joins"}
    assert {question["kind"] for question in answer["questions"]} == {
        "blocked",
        "safety",
        "unknown",
        "ground",
    }
    (refused,) = answer["refused"]
    assert refused["circuit"] == "105" and not [c for c in answer["cuts"] if c["net"] == refused["net"]]


def test_an_empty_plan_is_answered_like_any_other(xref: RunXref, tmp_path: Path) -> None:
    """Nothing is cut; only --strict finds that wanting."""
    plan_file(tmp_path, "")
    done = xref("plan", "show", "move.toml")
    assert done.returncode == 0 and "Nothing moves" in done.stdout
    answer = json.loads(xref("plan", "show", "move.toml", "--json").stdout)
    assert (answer["cuts"], answer["counts"]["stays"], answer["questions"]) == ([], 7, [])
    assert xref("plan", "show", "move.toml", "--strict").returncode == 1


def test_strict_asks_for_a_plan_without_an_open_question(xref: RunXref, tmp_path: Path) -> None:
    """A question left open is exit code 1 where --strict asks, 0 where it does not."""
    plan_file(tmp_path, '[place]\n"Lamp" = "aft"\n[route]\n"aft - as fitted" = 2\n')
    assert xref("plan", "show", "move.toml", "--strict").returncode == 0
    plan_file(tmp_path)
    assert xref("plan", "show", "move.toml", "--strict").returncode == 1


def test_a_wrong_plan_is_one_sentence_and_exit_code_2(xref: RunXref, tmp_path: Path) -> None:
    """An unknown key offers the near one; a name that fits nothing offers near names."""
    plan_file(tmp_path, "[plase]\n")
    done = xref("plan", "show", "move.toml")
    assert done.returncode == 2 and "Did you mean place?" in " ".join(done.stderr.split())
    plan_file(tmp_path, '[place]\n"Winch contoller" = "aft"\n')
    error = json.loads(xref("plan", "show", "move.toml", "--json").stdout)["error"]
    assert error["code"] == "plan" and WINCH in error["hint"]
    assert xref("plan", "show", "none.toml").returncode == 2
    assert xref("plan", "show", "move.toml", "-o", "other.toml").returncode == 2


def test_a_file_of_the_plan_is_written_whole_and_said(xref: RunXref, tmp_path: Path) -> None:
    """-o writes the file and says what is open; an unknown ending writes nothing."""
    plan_file(tmp_path)
    done = xref("plan", "show", "move.toml", "-o", "plan.csv")
    assert done.returncode == 0 and "Plan written: plan.csv" in done.stdout and "OPEN: " in done.stdout
    assert (tmp_path / "plan.csv").is_file()
    assert xref("plan", "show", "move.toml", "-o", "plan.doc").returncode == 2
    assert not (tmp_path / "plan.doc").exists()


def test_an_existing_plan_is_not_written_over(xref: RunXref, tmp_path: Path) -> None:
    """Without --force a file that is there stays, and nothing is lost."""
    path = plan_file(tmp_path)
    done = xref("plan", "new", WINCH, "-o", "move.toml")
    assert done.returncode == 2 and "--force" in done.stderr
    assert path.read_text(encoding="utf-8") == AFT
    assert xref("plan", "new", WINCH, "-o", "move.toml", "--force").returncode == 0
    answer = json.loads(xref("plan", "new", "A1", "Lamp", "-o", "two.toml", "--json").stdout)
    assert [module["name"] for module in answer["modules"]] == ["A1", "Lamp"] and answer["refused"] == ["105"]


def test_plan_alone_says_what_it_is_good_for(xref: RunXref, tmp_path: Path) -> None:
    """Without a word behind it the help is shown."""
    index(tmp_path)
    done = xref("plan")
    assert done.returncode == 0 and "new" in done.stdout and "show" in done.stdout


def test_bus_pairs_and_supplies_are_shown_to_people_and_programs(xref: RunXref, tmp_path: Path) -> None:
    """Each under its heading, with what the ohms rest on; the same in the object for programs."""
    index(
        tmp_path,
        *wire("2501", "yellow", "CAN high", at("A1", "11", WINCH), at("T1", "1", "Terminator aft")),
        *wire("2502", "green", "CAN low", at("A1", "12", WINCH), at("T1", "2", "Terminator aft")),
    )
    (tmp_path / "move.toml").write_text(AFT, encoding="utf-8")
    said = " ".join(xref("plan", "show", "move.toml").stdout.split())
    assert "BUS PAIRS (1)" in said and "120 ohm" in said and "in no table" in said
    assert (
        "FEEDS AND GROUNDS, Winch controller: feeds before 1" in said and "grounds before 1, after 1" in said
    )
    plan = json.loads(xref("plan", "show", "move.toml", "--json").stdout)
    (pair,) = plan["buses"]
    assert (pair["family"], pair["same"], pair["ohms"]["before"]) == ("CAN", True, 120.0)
    assert {"module", "feeds", "grounds", "lines"} == plan["supplies"][0].keys()
    assert (plan["counts"]["buses"], plan["counts"]["supplies"]) == (1, 1)
