"""The person's own file: nothing in it is ever lost, whatever happens around it."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest

from tests.conftest import ROOT
from xref.errors import WorkDamaged
from xref.pins.corrections_records import MateDecision, RowAsRead, RowDecision
from xref.store import work_schema
from xref.store.work import Work
from xref.workspace import Workspace


def row(cavity: str = "1", sha256: str = "s", top: float = 100.0) -> RowAsRead:
    """Make a row as read."""
    place = {"x0": 10.0, "top": top, "x1": 90.0, "bottom": top + 9}
    return RowAsRead(sha256=sha256, document="loom.pdf", machine="lift", page=1, cavity=cavity, **place)


def decision(cavity: str = "1", circuit: str = "7") -> RowDecision:
    """Make a correction."""
    return RowDecision(id=0, at="", row=row(cavity), changes=(("circuit", circuit),))


def test_what_was_decided_comes_back_as_it_was(tmp_path: Path) -> None:
    """A decision is read back with its number and time, and nothing else about it changed."""
    with Work.open(Workspace(tmp_path), write=True) as work:
        (added,) = work.add([decision()])
    with Work.open(Workspace(tmp_path)) as work:
        (kept,) = work.kept()
    assert kept == added and isinstance(kept, RowDecision)
    assert (kept.id, kept.row, kept.changes) == (1, row(), (("circuit", "7"),))
    assert kept.at.endswith("Z") and "T" in kept.at


def test_without_a_work_file_nothing_was_decided_and_none_is_made(tmp_path: Path) -> None:
    """Reading makes no file: a folder that is only looked at stays as it was."""
    with Work.open(Workspace(tmp_path)) as work:
        assert work.kept() == [] and work.decisions() == [] and work.mates() == []
    assert list(tmp_path.iterdir()) == []


def test_an_undone_decision_is_kept_in_the_file_and_no_longer_holds(tmp_path: Path) -> None:
    """Undoing writes the time beside the decision; its line stays, and its number is not used again."""
    with Work.open(Workspace(tmp_path), write=True) as work:
        work.add([decision("1"), decision("2")])
        assert [d.id for d in work.undo([2, 5])] == [2]
        assert [d.id for d in work.kept()] == [1]
        assert work.undo([2]) == []
        assert [d.id for d in work.add([decision("3")])] == [3]
    with closing(sqlite3.connect(tmp_path / "xref-work.db")) as file:
        assert file.execute("SELECT id, undone_at <> '' FROM decisions").fetchall() == [
            (1, 0),
            (2, 1),
            (3, 0),
        ]


def test_numbers_of_rows_stay(tmp_path: Path) -> None:
    """A row has the same number whenever and in whatever company it is shown."""
    with Work.open(Workspace(tmp_path), write=True) as work:
        assert work.numbers_of([row("1"), row("2")]) == [1, 2]
        assert work.numbers_of([row("3"), row("2"), row("1"), row("1")]) == [3, 2, 1, 1]
        assert work.numbers_of([row("1", sha256="t")]) == [4]
        assert work.row_keys([2, 99]) == {2: ("s", 1, 10.0, 100.0, 90.0, 109.0, "2", 1)}


def test_the_file_is_written_through_to_the_disk(tmp_path: Path) -> None:
    """WAL, so that others read meanwhile; synchronous FULL (2), so that a power cut takes no decision."""
    for _ in ("made", "opened again"):
        connection = work_schema.open_work(tmp_path / "w.db", write=True)
        assert connection is not None
        with closing(connection):
            assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
            assert connection.execute("PRAGMA synchronous").fetchone() == (2,)


def test_the_file_is_copied_before_its_tables_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new version of the tables leaves a whole copy of the old file beside it, and loses nothing."""
    workspace = Workspace(tmp_path)
    with Work.open(workspace, write=True) as work:
        work.add([decision()])
    steps = (*work_schema.STEPS, "CREATE TABLE further (id INTEGER PRIMARY KEY)")
    monkeypatch.setattr(work_schema, "STEPS", steps)
    with Work.open(workspace, write=True) as work:
        assert len(work.kept()) == 1
    before = len(steps) - 1
    copy = work_schema.backup_name(workspace.work_db, before)
    with closing(sqlite3.connect(copy)) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (before,)
        assert file.execute("SELECT COUNT(*) FROM decisions").fetchone() == (1,)


def test_a_step_that_fails_leaves_the_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A change of the tables is done wholly or not at all."""
    workspace = Workspace(tmp_path)
    with Work.open(workspace, write=True) as work:
        work.add([decision()])
    bad = (*work_schema.STEPS, "CREATE TABLE further (id INTEGER); NONSENSE")
    with monkeypatch.context() as patch:
        patch.setattr(work_schema, "STEPS", bad)
        with pytest.raises(WorkDamaged):
            Work.open(workspace, write=True)
    with Work.open(workspace, write=True) as work:
        assert len(work.kept()) == 1


def test_a_file_of_a_later_version_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An older program does not touch what a later one wrote, and says so."""
    workspace = Workspace(tmp_path)
    with Work.open(workspace, write=True) as work:
        work.add([decision()])
    monkeypatch.setattr(work_schema, "STEPS", ())
    with pytest.raises(WorkDamaged, match="later version"):
        Work.open(workspace, write=True)


def test_a_file_that_is_no_work_file_is_left_alone(tmp_path: Path) -> None:
    """A damaged file is an error in words and stays byte for byte."""
    path = Workspace(tmp_path).work_db
    path.write_bytes(b"no database at all, but somebody's file" * 60)
    before = path.read_bytes()
    for write in (True, False):
        with pytest.raises(WorkDamaged, match="cannot be read"):
            Work.open(Workspace(tmp_path), write=write)
    assert path.read_bytes() == before


def test_many_hands_at_once_lose_no_decision(tmp_path: Path) -> None:
    """Writers wait for each other, from the first moment of the file on; numbers are given once."""
    numbers: list[int] = []

    def hand(name: str) -> None:
        for n in range(5):
            with Work.open(Workspace(tmp_path), write=True) as work:
                numbers.append(work.add([decision(name, str(n))])[0].id)

    hands = [threading.Thread(target=hand, args=(str(n),)) for n in range(4)]
    for thread in hands:
        thread.start()
    for thread in hands:
        thread.join()
    assert sorted(numbers) == list(range(1, 21))


def test_two_read_while_one_writes(tmp_path: Path) -> None:
    """Whoever reads sees the decisions before or after a write, never waits, never half of them."""
    workspace = Workspace(tmp_path)
    with Work.open(workspace, write=True) as writer:
        writer.add([decision()])
        with Work.open(workspace) as one, Work.open(workspace) as other, writer._transaction() as file:
            file.execute("DELETE FROM decisions")
            assert len(one.kept()) == len(other.kept()) == 1
            file.execute("INSERT INTO decisions SELECT NULL, '', 'mates', '', '', '', 0, '{}', 'x'")
        with Work.open(workspace) as reader:
            assert reader.kept() == []


KILLED = """
import os, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from tests.store.test_work import decision
from xref.store.work import Work
from xref.workspace import Workspace
with Work.open(Workspace(Path(sys.argv[1])), write=True) as work:
    work.add([decision("1"), decision("2")])
    with work._transaction() as file:
        file.execute("DELETE FROM decisions")
        os._exit(9)
"""


def test_a_process_that_dies_in_the_middle_of_a_write_loses_nothing(tmp_path: Path) -> None:
    """What was decided before is there, what was half written is not."""
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(tmp_path), str(ROOT)], env={**os.environ}, timeout=60, check=False
    )
    assert done.returncode == 9
    with Work.open(Workspace(tmp_path), write=True) as work:
        assert [d.id for d in work.kept()] == [1, 2]


def test_mates_are_kept(tmp_path: Path) -> None:
    """Which connectors are plugged together is a decision like any other."""
    said = MateDecision(
        id=0, at="", machine="lift", connector_a="X5", half_a="A", connector_b="X9", half_b=""
    )
    with Work.open(Workspace(tmp_path), write=True) as work:
        work.add([said])
        assert [(m.connector_a, m.half_a, m.connector_b, m.half_b) for m in work.mates()] == [
            ("X5", "A", "X9", "")
        ]
        assert work.decisions() == []
