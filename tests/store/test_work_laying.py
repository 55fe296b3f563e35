"""Decisions and the index: what was decided holds over every change of what was read."""

from __future__ import annotations

import json
import shutil
import zlib
from dataclasses import replace
from pathlib import Path

import pytest

from tests.store.sample import connector, document, pin
from xref.errors import UsageError
from xref.harness.doubts import adrift
from xref.harness.settle import settle
from xref.pins.corrections import UNCONFIRMED
from xref.records import PageNote, Pin
from xref.store import work_deciding as deciding
from xref.store.index import Index
from xref.store.work import Work
from xref.store.work_laying import is_current, lay_document
from xref.store.work_pack import AsRead, pack, unpack
from xref.workspace import Workspace


def rows(name: str = "loom.pdf", circuit: str = "1440") -> list[Pin]:
    """Make three rows of X5, the second in doubt."""
    at = {"document": name, "x0": 50.0, "x1": 400.0}
    return [
        pin("X5", "1", circuit, top=100.0, bottom=110.0, row_no=1, **at),
        pin("X5", "2", "1441", top=120.0, bottom=130.0, row_no=2, flags=("row-assembled",), **at),
        pin("X5", "3", "1442", top=140.0, bottom=150.0, row_no=3, **at),
    ]


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """A workspace with one document."""
    found = Workspace(tmp_path)
    store(found)
    return found


def store(workspace: Workspace, name: str = "loom.pdf", sha256: str = "old", circuit: str = "1440") -> None:
    """Store a document as an indexing run does, decisions laid over."""
    of = document(name, sha256=sha256)
    note = PageNote(document=name, page=1, page_label="1", outcome="read", why="header", machine="lift")
    with Index.open(workspace, write=True) as index, Work.open(workspace) as work:
        heads = [connector("X5", document=name, role="inline", pages=(1,))]
        laid = lay_document(index, work.decisions(), of, heads, rows(name, circuit), [note])
        index.replace(of, laid.connectors, laid.pins, laid.page_notes, laid.note)
        settle(index, work)


def decide(workspace: Workspace, row: str, **changes: str) -> None:
    """Correct a row, or accept it where nothing is to be changed, as a command does."""
    with Work.open(workspace, write=True) as work:
        with Index.open(workspace) as index:
            found = deciding.rows_asked(index, work, [row])
            if changes:
                deciding.correct(work, found[0], changes)
            else:
                deciding.accept(work, found)
        with Index.open(workspace, write=True) as index:
            settle(index, work)


def circuits(workspace: Workspace) -> list[str]:
    """Return the circuits in the index, in printed order."""
    with Index.open(workspace) as index:
        return [p.circuit for p in index.all_pins()]


def flags(workspace: Workspace) -> list[tuple[str, ...]]:
    """Return the doubts in the index, in printed order."""
    with Index.open(workspace) as index:
        return [p.flags for p in index.all_pins()]


def test_a_correction_is_in_every_answer_at_once(workspace: Workspace) -> None:
    """The old circuit is nowhere any more, the new one is looked up like any other."""
    decide(workspace, "X5:2", circuit="9999")
    with Index.open(workspace) as index:
        assert index.pins_on_circuit("1441") == []
        assert [p.cavity for p in index.pins_on_circuit("9999")] == ["2"]
        assert ("lift", "9999") in index.circuit_names() and ("lift", "1441") not in index.circuit_names()


def test_decisions_outlive_the_index(workspace: Workspace) -> None:
    """The folder .xref may be deleted: what is read again is laid over again."""
    decide(workspace, "X5:2", circuit="9999")
    decide(workspace, "X5:2")
    shutil.rmtree(workspace.derived)
    store(workspace)
    assert circuits(workspace) == ["1440", "9999", "1442"] and flags(workspace) == [(), (), ()]


def test_decisions_outlive_a_move_and_a_new_name(workspace: Workspace) -> None:
    """A decision belongs to the content of the document, wherever it lies and whatever it is called."""
    decide(workspace, "X5:2", circuit="9999")
    with Index.open(workspace, write=True) as index:
        index.forget("loom.pdf", "lift")
    store(workspace, name="renamed.pdf")
    assert circuits(workspace) == ["1440", "9999", "1442"] and UNCONFIRMED not in flags(workspace)[1]


def test_a_changed_document_says_so_until_its_row_is_accepted(workspace: Workspace) -> None:
    """Another content under the same name: laid by text, in doubt, settled by accepting, for good."""
    decide(workspace, "X5:2", circuit="9999")
    store(workspace, sha256="new")
    assert circuits(workspace)[1] == "9999" and UNCONFIRMED in flags(workspace)[1]
    decide(workspace, "X5:2")
    assert circuits(workspace)[1] == "9999" and flags(workspace)[1] == ()
    store(workspace, sha256="new")
    assert circuits(workspace)[1] == "9999" and flags(workspace)[1] == ()


def test_a_decision_that_fits_nothing_is_named_and_kept(workspace: Workspace) -> None:
    """The row is gone from the changed document: the decision is listed with why, and laid over nothing."""
    decide(workspace, "X5:1", circuit="7")
    changed = document("loom.pdf", sha256="new")
    with Index.open(workspace, write=True) as index, Work.open(workspace, write=True) as work:
        laid = lay_document(index, work.decisions(), changed, [], rows()[1:], [])
        index.replace(changed, laid.connectors, laid.pins, laid.page_notes, laid.note)
        assert ["was changed since" in item.why for item in adrift(index, work)] == [True]
        index.forget("loom.pdf", "lift")
        assert ["is not in the index" in item.why for item in adrift(index, work)] == [True]
        assert len(work.kept()) == 1


def test_undoing_brings_back_what_was_read(workspace: Workspace) -> None:
    """Without its decision a row is again as the document prints it, in the same order, roles included."""
    with Index.open(workspace) as index:
        before = list(index.all_pins()), index.connectors()
    decide(workspace, "X5:2", circuit="9999", connector="X7")
    assert circuits(workspace)[1] == "9999"
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        work.undo([1])
        settle(index, work)
        assert (list(index.all_pins()), index.connectors()) == before


def test_a_decision_that_was_not_laid_yet_is_noticed(workspace: Workspace) -> None:
    """Killed between keeping and laying, the next command sees that the index is not current."""
    with Work.open(workspace, write=True) as work, Index.open(workspace) as index:
        deciding.correct(work, deciding.rows_asked(index, work, ["X5:1"])[0], {"circuit": "7"})
        assert not is_current(index, work)
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        assert settle(index, work) and is_current(index, work) and not settle(index, work)
    assert circuits(workspace)[0] == "7"


def test_accepting_a_corrected_row_is_no_word_about_the_row_as_read(workspace: Workspace) -> None:
    """Once the correction is taken back, what was accepted is not what stands there: that is a doubt."""
    decide(workspace, "X5:1", circuit="7")
    decide(workspace, "X5:1")
    assert flags(workspace)[0] == ()
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        work.undo([1])
        settle(index, work)
    assert circuits(workspace)[0] == "1440" and flags(workspace)[0] == (UNCONFIRMED,)


def test_the_persons_role_beats_the_evidence(workspace: Workspace) -> None:
    """What the person says a connector is stays, whatever the documents together seem to say."""
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        deciding.set_head(work, "lift", "X5", "", {"role": "splice"}, None)
        settle(index, work)
        (head,) = index.connectors()
        assert head.role == "splice" and "by the person" in head.role_why
        assert {p.role for p in index.all_pins()} == {"splice"}


def test_mates_are_paired_cavity_by_cavity(workspace: Workspace) -> None:
    """Connectors the person says are plugged together mate where both print the cavity, and are in-lines."""
    other = document("other.pdf", sha256="other")
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        pins = [replace(p, connector="X9") for p in rows("other.pdf")[:2]]
        index.replace(other, [], pins, [])
        deciding.set_mates(work, "lift", ("X5", ""), ("X9", ""))
        assert not is_current(index, work)
        settle(index, work)
        assert [(m.cavity_a, m.cavity_b, m.how) for m in index.mates()] == [
            ("1", "1", "person"),
            ("2", "2", "person"),
        ]
        assert {c.role for c in index.connectors()} == {"inline"}
        work.undo([1])
        settle(index, work)
        assert [m.how for m in index.mates()] == []


def test_a_cavity_in_several_rows_must_be_named_by_number(workspace: Workspace) -> None:
    """A decision is never about a row that was not seen: two documents print X5:2."""
    store(workspace, name="other.pdf", sha256="other")
    with pytest.raises(UsageError, match=r"2 rows: D1 \(loom.pdf p. 1\), D2 \(other.pdf p. 1\)"):
        decide(workspace, "X5:2", circuit="7")
    decide(workspace, "D2", circuit="7")
    assert circuits(workspace) == ["1440", "1441", "1442", "1440", "7", "1442"]


@pytest.mark.parametrize("row", ["D77", "X5", "X5:44", "nothing"])
def test_a_row_that_is_not_there_is_said(workspace: Workspace, row: str) -> None:
    """A misspelt row is an error in words, and nothing is decided."""
    with pytest.raises(UsageError):
        decide(workspace, row, circuit="7")
    with Work.open(workspace) as work:
        assert work.kept() == []


@pytest.mark.parametrize("changes", [{"status": "maybe"}, {"cavity": " "}, {"connector": ""}])
def test_a_value_no_row_can_have_is_refused(workspace: Workspace, changes: dict[str, str]) -> None:
    """A status is one of three, and a row without cavity or connector is none."""
    with pytest.raises(UsageError):
        decide(workspace, "X5:1", **changes)


def test_a_reading_packed_by_another_version_is_still_read(workspace: Workspace) -> None:
    """A field that records no longer have is left out, one they did not have yet has its default."""
    pin_of = pin("X5", "1", "7", flags=("cavity-gap",))
    data = pack(AsRead(connectors=(), pins=(pin_of,), page_notes=()))
    assert unpack(data, "lift", "loom.pdf").pins == (pin_of,)
    tables = json.loads(zlib.decompress(data))
    at = tables[1][0].index("option")
    tables[1][0][at] = "forgotten"
    old = zlib.compress(json.dumps(tables).encode("utf-8"))
    (read,) = unpack(old, "tug", "new.pdf").pins
    assert (read.circuit, read.option, read.machine, read.document) == ("7", "", "tug", "new.pdf")


def test_what_the_person_says_about_mates_beats_what_the_lists_show(workspace: Workspace) -> None:
    """Two connectors mirror each other; the person plugs one of them into a third, and that alone counts."""
    circuits = [str(n) for n in range(10, 18)]
    pins = [
        pin(name, str(n), circuit, document="in.pdf")
        for name in ("X50", "X60", "X70")
        for n, circuit in enumerate(circuits[:8] if name != "X70" else circuits[:2], start=1)
    ]
    with Work.open(workspace, write=True) as work, Index.open(workspace, write=True) as index:
        index.replace(document("in.pdf", sha256="in"), [], pins, [])
        settle(index, work)
        assert {(m.connector_a, m.connector_b) for m in index.mates()} == {("X50", "X60")}
        deciding.set_mates(work, "lift", ("X50", ""), ("X70", ""))
        settle(index, work)
        assert {(m.connector_a, m.connector_b, m.how) for m in index.mates()} == {("X50", "X70", "person")}


def test_what_all_documents_settled_is_not_what_one_was_read_as(workspace: Workspace) -> None:
    """The reading that is kept has each connector's own role, not the one its halves together gave it."""
    halves = [pin("X9", "1", "5", half=half, document="in.pdf") for half in "AB"]
    heads = [connector("X9", half=half, document="in.pdf") for half in "AB"]
    with Work.open(workspace) as work, Index.open(workspace, write=True) as index:
        index.replace(document("in.pdf", sha256="in"), heads, halves, [])
        settle(index, work)
        assert {c.role for c in index.connectors(name="X9")} == {"inline"}
        read = index.as_read("lift", "in.pdf")
        assert {c.role for c in read.connectors} == {p.role for p in read.pins} == {"unknown"}
        assert {c.role_why for c in read.connectors} == {""}
