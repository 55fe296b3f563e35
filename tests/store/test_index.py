"""The index keeps documents whole, machines apart and gives back what was put in."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from tests.store.sample import connector, document, pin, unread
from xref.errors import IndexDamaged, NoIndex, XrefError
from xref.records import PageNote, Pin
from xref.store.filing import Move
from xref.store.index import Index
from xref.store.schema import SCHEMA_VERSION
from xref.store.settled import Mate, SettledRole
from xref.workspace import Workspace

FULL = Pin(
    machine="lift",
    connector="X5",
    half="A",
    cavity="87a",
    color_code="RD/WH",
    circuit="0440",
    function="Pump — feed\u3000",
    size="0,5",
    base_color="red",
    stripe_color="white",
    ring_color="blue",
    size_mm2=0.5,
    status="not stated",
    option="with heater",
    goes_to="X9:1",
    role="inline",
    component="M1",
    connector_name="Loom joint",
    harness="mast",
    document="loom.pdf",
    page=4,
    page_label="iv",
    table_no=2,
    row_no=3,
    x0=1.25,
    top=2.5,
    x1=3.75,
    bottom=5.0,
    flags=("cavity-gap", "row-assembled"),
    notices=("circuit-once",),
)


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """Give an empty workspace."""
    return Workspace(tmp_path)


def test_gives_back_every_field(workspace: Workspace) -> None:
    """A pin, connector, document and page note come back exactly as they were put in."""
    head = connector(
        "X5", half="A", cavities_stated=12, pages=(4, 5), flags=("role-undecided",), view="wire side"
    )
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [head], [FULL], [unread()])
    with Index.open(workspace) as index:
        assert list(index.all_pins()) == [FULL]
        assert index.connectors() == [head]
        assert index.documents() == [document()]
        assert index.unread_pages() == [index.page_note("loom.pdf", 3)] == [unread()]


def test_replaces_a_document_of_the_same_name(workspace: Workspace) -> None:
    """Putting a document in twice leaves only its newer rows."""
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7"), pin("X1", "2", "8")], [unread()])
        index.replace(document(sha256="new"), [], [pin("X2", "1", "9")], [])
        assert [p.circuit for p in index.all_pins()] == ["9"]
        assert index.circuit_names() == [("lift", "9")]
        assert index.unread_pages() == []
        assert [d.sha256 for d in index.documents()] == ["new"]


def test_order_is_that_of_the_documents(workspace: Workspace) -> None:
    """Pins come by machine, document, page, table and row, whatever order they were written in."""
    rows = [
        pin("X1", str(n), page=p, table_no=t, row_no=n)
        for p, t, n in [(2, 1, 1), (1, 2, 1), (1, 1, 2), (1, 1, 1)]
    ]
    with Index.open(workspace, write=True) as index:
        index.replace(document("b.pdf"), [], [pin("X9", "1", document="b.pdf")], [])
        index.replace(document(), [], rows, [])
        index.replace(document("a.pdf"), [], [pin("X8", "1", document="a.pdf")], [])
        seen = [(p.document, p.page, p.table_no, p.row_no) for p in index.all_pins()]
    assert seen == sorted(seen)


def test_machines_never_mix(workspace: Workspace) -> None:
    """The same names in two machines are asked and answered apart."""
    with Index.open(workspace, write=True) as index:
        for machine in ("lift", "boat"):
            index.replace(
                document(f"{machine}.pdf", machine),
                [],
                [pin("X1", "1", "1440", machine=machine, document=f"{machine}.pdf")],
                [unread(document=f"{machine}.pdf", machine=machine)],
            )
        assert index.machines() == ["boat", "lift"]
        assert [p.machine for p in index.pins_on_circuit("1440")] == ["boat", "lift"]
        assert [p.machine for p in index.pins_on_circuit("1440", "boat")] == ["boat"]
        assert [p.machine for p in index.pins_of("X1", "lift")] == ["lift"]
        assert [c.machine for c in index.connectors_like("x 1", "lift")] == ["lift"]
        assert [n.machine for n in index.unread_pages("boat")] == ["boat"]
        assert index.near_circuits("144O", "boat") == [("boat", "1440")]
        assert [p.machine for p in index.all_pins("boat")] == ["boat"]
        with pytest.raises(ValueError, match="other documents"):
            index.replace(document(machine="boat"), [], [pin("X1", "1")], [])


def test_empty_text_is_the_unnamed_machine(workspace: Workspace) -> None:
    """The unnamed machine is one of the machines, not all of them."""
    with Index.open(workspace, write=True) as index:
        index.replace(document("a.pdf", ""), [], [pin("X1", "1", "7", machine="", document="a.pdf")], [])
        index.replace(document(), [], [pin("X1", "1", "7")], [])
        assert [p.machine for p in index.pins_on_circuit("7", "")] == [""]


def test_failed_write_leaves_the_old_document(workspace: Workspace) -> None:
    """An error in the middle of a document leaves what was there before, whole."""

    def rows() -> object:
        yield pin("X1", "1", "8")
        raise RuntimeError("reader broke")

    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7")], [])
        with pytest.raises(RuntimeError, match="reader broke"):
            index.replace(document(), [], rows(), [])  # type: ignore[arg-type]
        assert [p.circuit for p in index.all_pins()] == ["7"]


_WRITER = """
import sys
from pathlib import Path
from tests.store.sample import document, pin
from xref.store.index import Index
from xref.workspace import Workspace

with Index.open(Workspace(Path(sys.argv[1])), write=True) as index:
    number = 0
    while True:
        name = f"{number % 3}.pdf"
        rows = [pin(f"X{n // 40}", str(n % 40), str(number), document=name, row_no=n) for n in range(2000)]
        index.replace(document(name, sha256=str(number)), [], rows, [])
        print(number, flush=True)
        number += 1
"""


def test_killed_at_any_moment_holds_whole_documents(workspace: Workspace) -> None:
    """After a kill in the middle of writing, every document is there with all its rows of one state."""
    for round_no in range(3):
        writer = subprocess.Popen(
            [sys.executable, "-c", _WRITER, str(workspace.folder)],
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
        )
        assert writer.stdout is not None
        for _ in range(4 + round_no):
            writer.stdout.readline()
        writer.kill()
        writer.wait()
        writer.stdout.close()
        with Index.open(workspace) as index:
            for there in index.documents():
                pins = [p for p in index.all_pins() if p.document == there.name]
                assert len(pins) == 2000
                assert {p.circuit for p in pins} == {there.sha256}
        with sqlite3.connect(workspace.index_db) as raw:
            assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        raw.close()


def test_reader_sees_one_picture_while_another_writes(workspace: Workspace) -> None:
    """What is written while an index is open for reading is seen only by those who open it later."""
    with Index.open(workspace, write=True) as writer:
        writer.replace(document(), [], [pin("X1", "1", "7")], [])
        with Index.open(workspace) as reader:
            assert reader.counts()["pins"] == 1
            writer.replace(document(), [], [pin("X1", "1", "8"), pin("X1", "2", "9")], [])
            assert reader.counts()["pins"] == 1
            assert [p.circuit for p in reader.all_pins()] == ["7"]
        with Index.open(workspace) as later:
            assert later.counts()["pins"] == 2


def test_two_writers_wait_for_each_other(workspace: Workspace) -> None:
    """Two writers at once lose no document of either."""

    def write(names: list[str]) -> None:
        with Index.open(workspace, write=True) as index:
            for name in names:
                rows = [pin("X1", str(n), f"{n}", document=name) for n in range(200)]
                index.replace(document(name), [], rows, [])

    threads = [threading.Thread(target=write, args=([f"{who}{n}.pdf" for n in range(8)],)) for who in "ab"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with Index.open(workspace) as index:
        assert (index.counts()["documents"], index.counts()["pins"]) == (16, 3200)


def test_two_writers_may_make_the_index_at_once(tmp_path: Path) -> None:
    """Neither is turned away while the other switches the new file to its write-ahead log."""
    failed: list[str] = []

    def make(folder: Path) -> None:
        try:
            Index.open(Workspace(folder), write=True).close()
        except XrefError as error:
            failed.append(error.message)

    for number in range(60):
        threads = [threading.Thread(target=make, args=(tmp_path / str(number),)) for _ in range(2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert not failed


def test_moved_documents_keep_their_rows(workspace: Workspace) -> None:
    """Two documents may exchange names; one that is gone leaves nothing; where nothing is moved all stays."""
    with Index.open(workspace, write=True) as index:
        for name, circuit in (("a.pdf", "7"), ("b.pdf", "8"), ("c.pdf", "9")):
            index.replace(document(name), [], [pin("X1", "1", circuit, document=name)], [])
        stamp = index.stamp()
        index.refile("lift", (), ())
        assert index.stamp() == stamp
        moves = [
            Move(old_name="a.pdf", name="b.pdf", path="/else/b.pdf"),
            Move(old_name="b.pdf", name="a.pdf", path="/else/a.pdf"),
        ]
        index.refile("lift", moves, ["c.pdf"])
        assert [(p.document, p.circuit) for p in index.all_pins()] == [("a.pdf", "8"), ("b.pdf", "7")]
        assert [d.path for d in index.documents()] == ["/else/a.pdf", "/else/b.pdf"]
        assert index.forget("a.pdf", "lift") and not index.forget("a.pdf", "lift")


def test_looks_at_files_change_no_answer(workspace: Workspace) -> None:
    """Files looked at are kept beside the documents, and what was derived from the index stays valid."""
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7")], [])
        stamp = index.stamp()
        index.note_files([("/manuals/loom.pdf", "9:1:1", "sha-loom.pdf"), ("/b\udcff.pdf", "1:1:1", "s")], ())
        assert index.stamp() == stamp
        assert set(index.known_files()) == {"/manuals/loom.pdf", "/b\udcff.pdf"}
        assert index.document_files() == {
            ("lift", "loom.pdf"): ("/manuals/loom.pdf", "9:1:1", "sha-loom.pdf")
        }
        index.note_files([], ["/b\udcff.pdf"])
        assert set(index.known_files()) == {"/manuals/loom.pdf"}


def test_once_is_settled_over_the_machine(workspace: Workspace) -> None:
    """A circuit in two documents of one machine is not there once; another machine's does not count."""
    once = ("circuit-once",)
    with Index.open(workspace, write=True) as index:
        index.replace(document("a.pdf"), [], [pin("X1", "1", "7", document="a.pdf", notices=once)], [])
        index.replace(
            document("b.pdf"),
            [],
            [
                pin("X2", "1", "7", document="b.pdf", notices=("potential-name", *once)),
                pin("X2", "2", "8", document="b.pdf"),
            ],
            [],
        )
        other = pin("X1", "1", "8", document="c.pdf", machine="crane")
        index.replace(document("c.pdf", "crane"), [], [other], [])
        assert not index.is_settled()
        index.set_roles([])
        index.mark_settled()
        assert index.is_settled()
        assert [(p.connector, p.circuit, p.notices) for p in index.all_pins()] == [
            ("X1", "8", once),
            ("X1", "7", ()),
            ("X2", "7", ("potential-name",)),
            ("X2", "8", once),
        ]
        assert index.count_of_notice("circuit-once", "lift", ["a.pdf", "b.pdf"]) == 1
        index.forget("b.pdf", "lift")
        index.set_roles([])
        index.mark_settled()
        assert [p.notices for p in index.all_pins("lift")] == [once]


def test_pages_with_the_same_rows_are_told(workspace: Workspace) -> None:
    """The same rows at the same places are the same page; fewer than three may be chance."""

    def rows(document: str, page: int, number: int) -> list[Pin]:
        return [
            pin("X1", str(n), str(n), document=document, page=page, top=20.0 * n, bottom=20.0 * n + 9)
            for n in range(number)
        ]

    def note(document: str, page: int) -> PageNote:
        return replace(unread(page, document), outcome="read")

    with Index.open(workspace, write=True) as index:
        a = [*rows("a.pdf", 4, 3), *rows("a.pdf", 5, 2)]
        b = [*rows("b.pdf", 1, 3), *rows("b.pdf", 2, 2)]
        index.replace(document("a.pdf"), [], a, [note("a.pdf", 4), note("a.pdf", 5)])
        index.replace(document("b.pdf"), [], b, [note("b.pdf", 1), note("b.pdf", 2)])
        assert [(s.document, s.page, s.other, s.other_page) for s in index.same_pages("lift")] == [
            ("b.pdf", 1, "a.pdf", 4)
        ]


def test_settled_roles_are_laid_over_and_taken_back(workspace: Workspace) -> None:
    """A role settled over all documents holds until the next settling, then the document's own returns."""
    mate = Mate(
        machine="lift",
        connector_a="X1",
        half_a="",
        cavity_a="1",
        connector_b="X2",
        half_b="",
        cavity_b="1",
        how="mirrored",
    )
    role = SettledRole(machine="lift", connector="X1", half="", role="inline", why="mirrors X2")
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7")], [])
        index.set_roles([role], [mate])
        index.mark_settled()
        assert [p.role for p in index.pins_of("X1")] == ["inline"]
        assert index.connectors()[0].role_why == "mirrors X2"
        assert index.mates("lift", "X2") == [mate]
        index.set_roles([])
        index.mark_settled()
        assert [p.role for p in index.pins_of("X1")] == ["unknown"]
        assert index.connectors()[0].role == "unknown" and index.mates() == []


def test_missing_index_is_said(workspace: Workspace) -> None:
    """Asking where nothing was indexed says what to type, and makes no file."""
    with pytest.raises(NoIndex) as caught:
        Index.open(workspace)
    assert "xref index" in caught.value.hint
    assert not workspace.derived.exists()


@pytest.mark.parametrize(
    "content", [b"no database at all, but long enough " * 40, b"SQLite format 3\x00" + b"\xff" * 4000]
)
@pytest.mark.parametrize("write", [False, True])
def test_broken_index_is_said(workspace: Workspace, content: bytes, write: bool) -> None:
    """A broken file is one sentence that says it may be deleted."""
    workspace.derived.mkdir()
    workspace.index_db.write_bytes(content)
    with pytest.raises(IndexDamaged) as caught:
        Index.open(workspace, write=write)
    assert "rebuilt" in caught.value.hint


def test_damage_in_the_middle_is_said(workspace: Workspace) -> None:
    """Damage that shows only while reading rows is the same sentence, not a traceback."""
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", str(n), str(n)) for n in range(3000)], [])
    size = workspace.index_db.stat().st_size
    with workspace.index_db.open("r+b") as file:
        file.seek(4096 * 30)
        file.write(b"\xee" * (size - 4096 * 30))
    with pytest.raises(IndexDamaged), Index.open(workspace) as index:
        list(index.all_pins())
        index.circuit_names()


def test_another_schema_is_emptied_by_the_writer(workspace: Workspace) -> None:
    """An index of another schema version is no index for readers and is begun anew by a writer."""
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7")], [])
    raw = sqlite3.connect(workspace.index_db)
    raw.execute(f"PRAGMA user_version = {SCHEMA_VERSION + 1}")
    raw.close()
    with pytest.raises(NoIndex, match="another version"):
        Index.open(workspace)
    with Index.open(workspace, write=True) as index:
        assert index.documents() == []


def test_names_are_completed(workspace: Workspace) -> None:
    """What was typed is completed by the names that begin so, sorted, once, no more than asked for."""
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X2", "1", "75"), pin("X10", "1", "7"), pin("Y1", "1", "8")], [])
        assert index.circuits_beginning("7", 9) == ["7", "75"]
        assert index.connectors_beginning("X", 1) == ["X10"]
        assert index.connectors_beginning("x%_", 9) == []
