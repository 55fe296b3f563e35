"""`xref plan done` and `todo` as processes: what a person at the machine types, and what is true then."""

from __future__ import annotations

import csv
import json
import re
import shutil
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.conftest import ROOT, RunXref
from tests.moves.progress_sample import PLAN, pins, workspace
from tests.store.sample import pin
from xref.cli.app import load_command

README = (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Make a folder with the small harness and its plan."""
    workspace(tmp_path)
    (tmp_path / "plan.toml").write_text(PLAN, encoding="utf-8")
    return tmp_path


def todo(xref: RunXref, *options: str) -> dict[str, Any]:
    """Return what `xref plan todo --json` answers."""
    answer: dict[str, Any] = json.loads(xref("plan", "todo", "plan.toml", *options, "--json").stdout)
    return answer


def id_of(xref: RunXref, circuit: str, kind: str = "cut") -> str:
    """Return the id of a line."""
    lines = todo(xref, "--all")["lines"]
    (found,) = (line["id"] for line in lines if (line["circuit"], line["kind"]) == (circuit, kind))
    return str(found)


def cut(xref: RunXref, circuit: str) -> str:
    """Label, meter and cut a wire, and return its id."""
    id_ = id_of(xref, circuit)
    for options in (("--step", "labelled"), ("--value", "0.3 ohm"), ()):
        done = xref("plan", "done", "plan.toml", id_, *options)
        assert done.returncode == 0, done.stderr
    return id_


@pytest.mark.parametrize("name", ["done", "todo"])
def test_each_has_help_and_a_place_in_the_readme(name: str) -> None:
    """Every option is described, in the help and in README."""
    command = load_command("plan").commands[name]
    assert re.fullmatch(r"[A-Z].+\.", (command.help or "").splitlines()[0])
    assert f"xref plan {name}" in README
    for parameter in command.params:
        assert "--help" in parameter.opts or getattr(parameter, "help", None), f"{name} {parameter.opts}"
    options = {option for p in command.params for option in p.opts if option.startswith("--")}
    assert {option for option in options if option not in README} <= {"--help", "--output"}


def test_a_wire_is_done_step_by_step(xref: RunXref, job: Path) -> None:
    """Labels, meter, cut, joint, meter: each step says the next one, and where wires lie open."""
    id_, joint = id_of(xref, "100"), id_of(xref, "100", "join")
    done = xref("plan", "done", "plan.toml", id_.lower(), "--step", "labelled")
    assert done.returncode == 0 and f"Next: {id_} meter." in done.stdout
    assert re.search(rf"{id_} +labelled · 100 B1:1 +20\d\d-\d\d-\d\d \d\d:\d\d:\d\d UTC", done.stdout)
    assert f"Next: {id_} cut." in xref("plan", "done", "plan.toml", id_, "--value", "0.3 ohm").stdout
    assert f"NOT WHOLE: 1 wire lies open: {id_}." in xref("plan", "done", "plan.toml", id_).stdout
    answer = todo(xref)
    assert (answer["whole"], answer["open"]) == (False, [id_])
    assert "the machine is whole now" in xref("plan", "done", "plan.toml", joint).stdout
    xref("plan", "done", "plan.toml", joint, "--step", "labelled")
    xref("plan", "done", "plan.toml", joint, "--value", "0.2 ohm")
    answer = todo(xref, "--all")
    assert [line["next"] for line in answer["lines"] if line["circuit"] == "100"] == [None, None]
    assert answer["counts"]["joined"] == {"done": 1, "left": 1}
    assert [item["name"] for item in answer["crossing"]] == ["200", "400"]


def test_a_cut_before_labels_and_meter_is_refused(xref: RunXref, job: Path) -> None:
    """A sentence and exit code 2, nothing marked; with --anyway it is marked, and says so ever after."""
    id_ = id_of(xref, "100")
    refused = xref("plan", "done", "plan.toml", id_)
    assert refused.returncode == 2 and refused.stdout == ""
    said = " ".join(refused.stderr.split())
    assert f"{id_} cannot be marked cut yet: its two labels are not marked; it was not metered." in said
    assert todo(xref)["counts"]["cut"]["done"] == 0
    assert "although its two labels" in xref("plan", "done", "plan.toml", id_, "--anyway").stdout
    assert "although its two labels" in xref("plan", "todo", "plan.toml", "--history").stdout
    assert "marked cut although its two labels" in " ".join(xref("plan", "todo", "plan.toml").stdout.split())


def test_unknown_ids_are_errors_and_nothing_is_marked(xref: RunXref, job: Path) -> None:
    """One wrong id among right ones: a sentence with near ids, nothing of it kept."""
    id_ = id_of(xref, "100")
    done = xref("plan", "done", "plan.toml", id_, id_[:3] + "7", "--step", "labelled", "--json")
    error = json.loads(done.stdout)["error"]
    assert done.returncode == 2 and f"Did you mean {id_}" in error["hint"]
    assert todo(xref)["counts"]["labelled"]["done"] == 0
    for options in (("--step", "soldered"), ("--value", "good"), ("--undo", "--note", "x"), ("--undo",)):
        wrong = xref("plan", "done", "plan.toml", id_, *options)
        assert wrong.returncode == 2 and wrong.stderr.startswith("xref: "), options
        assert "Traceback" not in wrong.stderr
    assert xref("plan", "done", "nowhere.toml", id_).returncode == 2


def test_exit_codes_are_those_of_grep(xref: RunXref, job: Path) -> None:
    """0 while something is left, 1 when nothing is, or nothing new: none of it an error; help says so."""
    assert xref("plan", "todo", "plan.toml").returncode == 0
    assert xref("plan", "todo", "plan.toml", "--history").returncode == 1
    id_ = id_of(xref, "100")
    assert xref("plan", "done", "plan.toml", id_, "--step", "labelled").returncode == 0
    again = xref("plan", "done", "plan.toml", id_, "--step", "labelled")
    assert again.returncode == 1 and "was marked labelled already" in again.stdout
    assert xref("plan", "todo", "plan.toml", "--history").returncode == 0
    (job / "empty.toml").write_text("", encoding="utf-8")
    nothing = xref("plan", "todo", "empty.toml")
    assert nothing.returncode == 1 and nothing.stderr == "" and "the plan has no lines" in nothing.stdout
    assert "1 when nothing is left" in " ".join(xref("plan", "todo", "--help").stdout.split())


def test_marks_outlive_a_new_index_and_another_plan(xref: RunXref, job: Path) -> None:
    """Deleted and rebuilt index, more wires, another plan: what was done stays where it was done."""
    id_ = cut(xref, "100")
    shutil.rmtree(job / ".xref")
    more = [pin("A1", "9", "900", component="Lift controller", role="component", function="Extra", row_no=21)]
    workspace(job, [*more, *reversed(pins())])
    assert [line["next"] for line in todo(xref, "--all")["lines"] if line["id"] == id_] == [None]
    (job / "plan.toml").write_text('[place]\n"Lift controller" = "stern"\n', encoding="utf-8")
    answer = todo(xref, "--all")
    assert [line["next"] for line in answer["lines"] if line["id"] == id_] == [None]
    assert answer["no_longer_asked"] == [] and answer["open"] == [id_]
    (job / "plan.toml").write_text("", encoding="utf-8")
    (gone,) = todo(xref)["no_longer_asked"]
    assert (gone["line"], gone["steps"], gone["open"]) == (id_, ["labelled", "metered", "cut"], True)
    screen = " ".join(xref("plan", "todo", "plan.toml").stdout.split())
    assert "was labelled, metered and cut, the plan no longer asks for it" in screen
    assert f"NOT WHOLE: 1 wire lies open: {id_}." in screen
    assert xref("plan", "done", "plan.toml", id_, "--undo").returncode == 0
    assert todo(xref)["whole"]


def test_the_last_mark_is_taken_back_and_stays_in_the_history(xref: RunXref, job: Path) -> None:
    """One after the other, the last first; the history shows both times, the list none of it."""
    id_ = cut(xref, "100")
    undone = xref("plan", "done", "plan.toml", id_, "--undo")
    assert undone.returncode == 0 and "1 line taken back." in undone.stdout and f"{id_} cut" in undone.stdout
    assert todo(xref)["counts"]["cut"]["done"] == 0
    marks = todo(xref, "--history")["marks"]
    assert [(m["step"], bool(m["undone_at"])) for m in marks] == [
        ("labelled", False),
        ("metered", False),
        ("cut", True),
    ]
    assert marks[1]["value"] == "0.3 ohm"
    assert "taken back 20" in xref("plan", "todo", "plan.toml", "--history").stdout


def test_the_record_is_written_as_built(xref: RunXref, job: Path) -> None:
    """Line, wire end, circuit, step, value and time of every mark that holds; in all formats the same."""
    id_ = cut(xref, "200")
    xref("plan", "done", "plan.toml", id_of(xref, "200", "join"), "--note", "=1+1")
    xref("plan", "done", "plan.toml", id_of(xref, "100"), "--step", "label")
    xref("plan", "done", "plan.toml", id_of(xref, "100"), "--undo")
    for suffix in ("csv", "xlsx", "json"):
        done = xref("plan", "todo", "plan.toml", "-o", f"built.{suffix}")
        assert done.stdout == f"4 marks written to built.{suffix}.\n" and done.returncode == 0
    with (job / "built.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [
        (r["line"], r["connector"], r["cavity"], r["circuit"], r["step"], r["value"]) for r in rows[:3]
    ] == [
        (id_, "B1", "02", "200", "labelled", ""),
        (id_, "B1", "02", "200", "metered", "0.3 ohm"),
        (id_, "B1", "02", "200", "cut", ""),
    ]
    assert [(r["step"], r["side"], r["note"]) for r in rows[3:]] == [
        ("joined", "plug", "'=1+1"),
        ("joined", "loom", "'=1+1"),
    ]
    assert all(re.fullmatch(r"20\d\d-\d\d-\d\dT\d\d:\d\d:\d\dZ", r["at"]) for r in rows)
    sheet = openpyxl.load_workbook(job / "built.xlsx").worksheets[0]
    assert [c.value for c in next(sheet.iter_rows())][:4] == ["line", "kind", "machine", "connector"]
    assert sheet.max_row == 6
    assert xref("plan", "todo", "plan.toml", "-o", "built.docx").returncode == 2


def test_the_list_is_grouped_by_plug_in_the_order_of_work(xref: RunXref, job: Path) -> None:
    """Plug by plug, each line with its next step and what it waits for; then stop points and crossings."""
    text = xref("plan", "todo", "plan.toml").stdout
    assert text.startswith("plan.toml · machine lift – 6 of 6 lines left.\n")
    order = ["B1 · Sensor", "H1 · Horn", "STOP POINTS", "STILL CROSSES BETWEEN PLACES"]
    assert [text.index(name) for name in order] == sorted(text.index(name) for name in order)
    horn = id_of(xref, "300")
    assert f"waits until {horn} is cut" in " ".join(text.split())
    assert "may be a safety circuit (brake)" in " ".join(text.split())
    assert "xref-work.db" not in {path.name for path in job.iterdir()}, "looking makes no file"


def test_plan_alone_shows_what_it_can_do(xref: RunXref) -> None:
    """The help, without an error."""
    done = xref("plan")
    assert done.returncode == 0 and "todo" in done.stdout and "done" in done.stdout


def test_a_voltage_on_a_wire_to_be_cut_is_cried_out(xref: RunXref, job: Path) -> None:
    """A reading in volts before a cut is a live wire: it is kept, and the answer says not to cut."""
    id_ = id_of(xref, "100")
    xref("plan", "done", "plan.toml", id_, "--step", "labelled")
    live = xref("plan", "done", "plan.toml", id_, "--step", "metered", "--value", "24 V")
    assert f"{id_} IS LIVE: 24 V. Do not cut." in " ".join(live.stdout.split())


def test_a_later_bad_reading_stops_the_cut(xref: RunXref, job: Path) -> None:
    """Through, then live: the next step is metering, on the screen and for programs, and a cut is refused."""
    id_ = id_of(xref, "100")
    xref("plan", "done", "plan.toml", id_, "--step", "labelled")
    xref("plan", "done", "plan.toml", id_, "--value", "0.2 ohm")
    live = xref("plan", "done", "plan.toml", id_, "--value", "24 V")
    assert f"Next: {id_} meter." in live.stdout
    refused = xref("plan", "done", "plan.toml", id_)
    said = " ".join(refused.stderr.split())
    assert refused.returncode == 2 and "its last reading shows no continuity: 24 V, it is live" in said
    assert f"{id_} --undo --step metered" in said
    (line,) = (line for line in todo(xref)["lines"] if line["id"] == id_)
    assert line["next"] == "metered" and "24 V" in line["remarks"][0]
    open_ = xref("plan", "done", "plan.toml", id_, "--value", "OL")
    assert f"{id_} shows no continuity: OL, it is open. Do not cut by it." in " ".join(open_.stdout.split())
    answer = json.loads(xref("plan", "done", "plan.toml", id_, "--value", "2 kohm", "--json").stdout)
    assert answer["next"] == [
        {
            "line": id_,
            "next": "metered",
            "remarks": [
                "the last reading shows no continuity: 2 kohm, a wire has at most 50 ohm",
            ],
        }
    ]
    for _ in range(3):
        xref("plan", "done", "plan.toml", id_, "--undo", "--step", "metered")
    assert xref("plan", "done", "plan.toml", id_).returncode == 0


def test_ids_may_be_parted_by_commas(xref: RunXref, job: Path) -> None:
    """As they are copied from a list: `A,B`, `A, B`; a wrong one among them is still an error."""
    one, two, three = (id_of(xref, circuit) for circuit in ("100", "200", "300"))
    done = xref("plan", "done", "plan.toml", f"{one},{two}", "--step", "labelled")
    assert done.returncode == 0 and done.stdout.startswith("2 lines marked.")
    done = xref("plan", "done", "plan.toml", f"{two},", three, "--step", "labelled")
    assert done.returncode == 0 and f"{two} was marked labelled already" in done.stdout
    assert xref("plan", "done", "plan.toml", f"{one},77777", "--step", "labelled").returncode == 2
    assert xref("plan", "done", "plan.toml", ",", "--step", "labelled").returncode == 2
    assert xref("plan", "done", "plan.toml", one, "--value", "0,4 ohm").returncode == 0
