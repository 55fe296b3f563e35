"""The command line as a whole: options, errors, exit codes."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.cli.sample import fill
from tests.conftest import ROOT, RunXref
from xref import __version__
from xref.cli.app import COMMANDS, globals_first, load_command

LOOK_UPS = [("circuit", "1440"), ("connector", "X5"), ("find", "lamp")]


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_and_a_place_in_the_readme(name: str) -> None:
    """A command, and each of its options, says what it does; README shows every command."""
    command = load_command(name)
    assert re.fullmatch(r"[A-Z].+\.", (command.help or "").splitlines()[0])
    for parameter in command.params:
        if "--help" not in parameter.opts:
            assert getattr(parameter, "help", None), f"{name} {parameter.opts}"
    assert f"xref {name}" in (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_stands_in_the_readme(name: str) -> None:
    """README names each option of each command."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    options = {option for parameter in load_command(name).params for option in parameter.opts}
    missing = {option for option in options if option.startswith("--") and option not in readme}
    assert missing <= {"--help", "--output"}


def test_the_version_is_printed(xref: RunXref) -> None:
    """`--version` prints name and version and is done."""
    done = xref("--version")
    assert (done.returncode, done.stdout) == (0, f"xref {__version__}\n")


def test_without_a_command_help_is_shown_and_the_use_is_wrong(xref: RunXref) -> None:
    """`xref` alone shows what there is, with exit code 2 as grep's."""
    done = xref()
    assert done.returncode == 2
    assert all(f"  {name} " in done.stdout for name in COMMANDS)


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("circuit",),
        ("circuit", "1", "--colour"),
        ("circuit", "1440"),  # no index here
        ("connector", "X5"),
        ("find", "pump"),
        ("export", "out.csv"),
        ("sheet", "A1", "-o", "a.pdf"),
        ("index",),
    ],
)
def test_errors_are_one_sentence_or_one_object(xref: RunXref, arguments: tuple[str, ...]) -> None:
    """Exit code 2, one sentence on stderr and nothing on stdout; with --json one error object on stdout."""
    plain = xref(*arguments)
    assert plain.returncode == 2
    assert plain.stdout == ""
    assert plain.stderr.startswith("xref: ") and "Traceback" not in plain.stderr
    as_json = xref(*arguments, "--json")
    assert as_json.returncode == 2
    answer = json.loads(as_json.stdout)
    assert set(answer) == {"error"}
    assert set(answer["error"]) == {"code", "message", "hint"}
    assert answer["error"]["message"]
    assert as_json.stderr == ""


@pytest.mark.parametrize(("command", "asked"), LOOK_UPS)
def test_a_machine_that_is_not_indexed_is_wrong_use(
    xref: RunXref, tmp_path: Path, command: str, asked: str
) -> None:
    """A misspelt machine is no empty answer: the machines there are get named."""
    fill(tmp_path, machine="forklift")
    done = xref(command, asked, "--machine", "forklit")
    assert done.returncode == 2
    assert "forklift" in done.stderr


def test_a_damaged_index_is_said(xref: RunXref, tmp_path: Path) -> None:
    """An index that is no database gives a sentence with what to do, from every command."""
    (tmp_path / ".xref").mkdir()
    (tmp_path / ".xref" / "index.db").write_bytes(b"this is no database" * 400)
    done = xref("circuit", "1440")
    assert done.returncode == 2
    assert done.stderr.startswith("xref: ") and "Traceback" not in done.stderr
    assert xref("doctor").returncode == 1


def test_global_options_may_stand_anywhere_before_a_double_dash() -> None:
    """What a person types after the command's name is meant as they mean it."""
    asked = ["circuit", "1", "-w", "d", "--workspace=e", "-q", "--", "-w", "x"]
    assert globals_first(asked) == ["-w", "d", "--workspace=e", "-q", "circuit", "1", "--", "-w", "x"]
    assert globals_first(["find", "-w"]) == ["-w", "find"]


def test_the_workspace_is_found_upward(xref: RunXref, tmp_path: Path) -> None:
    """From a folder below the workspace, and with --workspace from anywhere, the same index is used."""
    inside = tmp_path / "job 1" / "deep"
    inside.mkdir(parents=True)
    fill(tmp_path / "job 1")
    assert json.loads(xref("doctor", "--json", cwd=inside).stdout)["counts"]["pins"] == 6
    assert json.loads(xref("doctor", "--json", "-w", "job 1").stdout)["counts"]["pins"] == 6
