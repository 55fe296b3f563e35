"""Marks of the work: what a command confirmed is in the file, whatever happens to the machine it runs on."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.store.test_work import decision
from xref.store import work_schema
from xref.store.work import Work
from xref.store.work_progress import Mark, MarkEnd, Marks
from xref.workspace import Workspace

#: Marks the killed process has confirmed before it is killed: enough that it is in the middle of its work.
CONFIRMED = 25


def mark(line: str = "FMTP", step: str = "labelled", machine: str = "lift", **fields: object) -> Mark:
    """Make a mark."""
    end = MarkEnd(connector="X5", half="A", cavity="7", circuit="2316")
    return Mark(machine=machine, kind="cut", line=line, step=step, ends=(end,), **fields)  # type: ignore[arg-type]


def keep(folder: Path, *marks: Mark, machine: str = "lift") -> list[Mark]:
    """Keep marks in the file of a folder."""
    with Marks.open(Workspace(folder), write=True) as work:
        return work.add(machine, lambda _: marks)


def kept(folder: Path, machine: str = "lift") -> list[Mark]:
    """Return the marks in the file of a folder."""
    with Marks.open(Workspace(folder)) as work:
        return work.marks(machine)


def sound(path: Path) -> bool:
    """Say whether SQLite finds nothing wrong in a file."""
    with closing(sqlite3.connect(path)) as file:
        rows = file.execute("PRAGMA integrity_check").fetchall()
        return rows == [("ok",)] and not file.execute("PRAGMA foreign_key_check").fetchall()


def test_a_mark_comes_back_as_it_was(tmp_path: Path) -> None:
    """With its number, its time in UTC, all its texts and its wire ends in their order."""
    stubs = tuple(
        MarkEnd(connector=name, half="", cavity="07", circuit="Ω1", side=side)
        for name, side in (("X9", "plug"), ("B1", "loom"))
    )
    made = replace(
        mark(value="0,3 Ω", note="wet", said="a | b", anyway="not metered", plan="p.toml"),
        kind="join",
        ends=stubs,
    )
    (added,) = keep(tmp_path, made)
    assert kept(tmp_path) == [added] == [replace(made, id=1, at=added.at)]
    assert added.at.endswith("Z") and len(added.at) == len("2026-01-01T00:00:00Z")


def test_machines_are_kept_apart_and_reading_makes_no_file(tmp_path: Path) -> None:
    """A mark of one machine is none of another; without a file there are none."""
    assert kept(tmp_path) == [] and list(tmp_path.iterdir()) == []
    keep(tmp_path, mark(machine="crane"), machine="crane")
    assert kept(tmp_path) == [] and len(kept(tmp_path, "crane")) == 1


def test_a_mark_taken_back_stays_with_its_time(tmp_path: Path) -> None:
    """It no longer holds and is still there; a second time nothing is taken back."""
    keep(tmp_path, mark(), mark(step="metered", value="1 ohm"))
    with Marks.open(Workspace(tmp_path), write=True) as work:
        (taken,) = work.undo("lift", lambda marks: [marks[1]])
        assert work.undo("lift", lambda marks: [marks[1]]) == []
    assert kept(tmp_path)[1] == taken and taken.undone_at and not taken.holds
    assert kept(tmp_path)[0].holds


def test_a_command_that_is_refused_keeps_nothing(tmp_path: Path) -> None:
    """All marks of a command or none: one that fails in the middle leaves no line of it."""
    keep(tmp_path, mark())

    def refused(_: list[Mark]) -> list[Mark]:
        raise ValueError("no")

    with Marks.open(Workspace(tmp_path), write=True) as work, pytest.raises(ValueError, match="no"):
        work.add("lift", refused)
    with Marks.open(Workspace(tmp_path), write=True) as work, pytest.raises(AttributeError):
        work.add("lift", lambda _: [mark("K4CJ"), None])  # type: ignore[list-item]
    assert [m.line for m in kept(tmp_path)] == ["FMTP"]


WRITES = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from tests.store.test_work_progress import mark
from xref.store.work_progress import Marks
from xref.workspace import Workspace
with Marks.open(Workspace(Path(sys.argv[1])), write=True) as work:
    for number in range(int(sys.argv[3])):
        (added,) = work.add("lift", lambda _: [mark(f"{sys.argv[4]}{number}")])
        print(added.line, flush=True)
"""


def writer(folder: Path, many: int, name: str) -> subprocess.Popen[str]:
    """Start a process that keeps one mark after the other and says each when it is kept."""
    return subprocess.Popen(
        [sys.executable, "-c", WRITES, str(folder), str(ROOT), str(many), name],
        stdout=subprocess.PIPE,
        encoding="utf-8",
    )


def test_a_killed_process_loses_nothing_it_confirmed(tmp_path: Path) -> None:
    """Killed without warning amid its writing: every confirmed mark is there, the file is sound."""
    for turn in range(3):
        process = writer(tmp_path, 1_000_000, f"T{turn}-")
        assert process.stdout is not None
        said = [process.stdout.readline().strip() for _ in range(CONFIRMED)]
        process.kill()  # SIGKILL; TerminateProcess on Windows
        said += process.stdout.read().split()
        process.wait()
        here = kept(tmp_path)
        assert set(said) <= {m.line for m in here}
        assert all(len(m.ends) == 1 and m.at for m in here)
    assert sound(Workspace(tmp_path).work_db)
    assert keep(tmp_path, mark("after"))[0].id == len(kept(tmp_path))


def test_two_processes_at_once_keep_all_marks(tmp_path: Path) -> None:
    """They wait for each other, from the making of the file on; numbers are given once."""
    processes = [writer(tmp_path, 40, name) for name in ("A", "B")]
    said = [line for process in processes for line in process.communicate()[0].split()]
    assert [process.returncode for process in processes] == [0, 0]
    here = kept(tmp_path)
    assert sorted(said) == sorted(m.line for m in here) and len(said) == 80
    assert [m.id for m in here] == list(range(1, 81))


def test_what_was_looked_at_still_holds_when_the_mark_is_kept(tmp_path: Path) -> None:
    """Nobody writes between the look at the marks and the new one; whoever reads sees the state before."""
    keep(tmp_path, mark())
    with Marks.open(Workspace(tmp_path), write=True) as work, Marks.open(Workspace(tmp_path)) as reader:

        def made(marks: list[Mark]) -> list[Mark]:
            assert len(marks) == 1
            with closing(sqlite3.connect(Workspace(tmp_path).work_db, timeout=0)) as other:
                with pytest.raises(sqlite3.OperationalError, match="locked"):
                    other.execute("BEGIN IMMEDIATE")
                assert len(reader.marks("lift")) == 1
            return [mark("K4CJ")]

        work.add("lift", made)
        assert len(reader.marks("lift")) == 2


def test_a_file_from_before_the_marks_is_copied_and_brought_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Decisions stay, the copy is the old file, and marks can be kept; also when it is only read."""
    with monkeypatch.context() as patch:
        patch.setattr(work_schema, "STEPS", work_schema.STEPS[:1])
        with Work.open(Workspace(tmp_path), write=True) as work:
            work.add([decision("1"), decision("2")])
    assert kept(tmp_path) == []
    copy = work_schema.backup_name(Workspace(tmp_path).work_db, 1)
    with closing(sqlite3.connect(copy)) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (1,)
        assert file.execute("SELECT COUNT(*) FROM decisions").fetchone() == (2,)
        assert not file.execute("SELECT name FROM sqlite_master WHERE name = 'marks'").fetchall()
    keep(tmp_path, mark())
    with Work.open(Workspace(tmp_path)) as work:
        assert [d.id for d in work.kept()] == [1, 2]
    assert sound(Workspace(tmp_path).work_db) and sound(copy)


def test_the_steps_that_files_were_made_by_do_not_change() -> None:
    """A changed step would leave old files without what new code expects."""
    assert "CREATE TABLE decisions" in work_schema.STEPS[0] and "CREATE TABLE marks" in work_schema.STEPS[1]
