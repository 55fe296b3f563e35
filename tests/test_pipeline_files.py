"""Documents as people keep them: copied, moved, cut short, oddly named, half of them pictures."""

from __future__ import annotations

import os
import shutil
import sys
import unicodedata
from pathlib import Path

import pytest

import xref.pipeline as pipeline
from tests.drawn_manual import draw_manual
from xref.pipeline import index_paths
from xref.settings import Settings
from xref.store.account import Summary, Tally
from xref.store.index import Index
from xref.workspace import Workspace

ONE = Settings(workers=1)


def _index(folder: Path, *paths: Path, machine: str = "") -> Summary:
    return index_paths(paths or (folder,), Workspace(folder), machine=machine, settings=ONE)


def _rows(folder: Path) -> list[tuple[str, str, str]]:
    with Index.open(Workspace(folder)) as index:
        return [(p.document, p.connector, p.cavity) for p in index.all_pins()]


def test_the_same_file_twice_is_one_document(tmp_path: Path) -> None:
    """A copy brings no second set of rows, neither in the first run nor later, and is named."""
    original = draw_manual(tmp_path / "manual.pdf")
    shutil.copyfile(original, tmp_path / "Kopie von manual.pdf")
    first = _index(tmp_path)
    assert (first.documents_read, len(first.copies), len(_rows(tmp_path))) == (1, 1, 3)
    shutil.copyfile(original, tmp_path / "a third.pdf")
    again = _index(tmp_path)
    assert (again.documents_read, len(again.copies)) == (0, 2)
    assert {document for document, _, _ in _rows(tmp_path)} == {"Kopie von manual.pdf"}


def test_pages_in_two_documents_are_told(tmp_path: Path) -> None:
    """An extract of a manual is another document, and which of its pages stand in both is said."""
    import pypdfium2

    whole = draw_manual(tmp_path / "whole.pdf", pages=4)
    source, part = pypdfium2.PdfDocument(whole), pypdfium2.PdfDocument.new()
    part.import_pages(source, [2, 3])
    part.save(tmp_path / "zz extract.pdf")
    summary = _index(tmp_path)
    assert [(s.document, s.page, s.other, s.other_page) for s in summary.same_pages] == [
        ("zz extract.pdf", 1, "whole.pdf", 3),
        ("zz extract.pdf", 2, "whole.pdf", 4),
    ]


def test_many_short_documents_are_read_as_one_by_one(tmp_path: Path) -> None:
    """However many are under way at once, each keeps its own pages, also beside one that cannot be read."""
    for n in range(7):
        draw_manual(tmp_path / f"{n}.pdf", f"C{n}")
    (tmp_path / "3x.pdf").write_bytes(b"no PDF")
    summary = _index(tmp_path)
    assert (summary.documents_read, len(summary.problems)) == (7, 1)
    with Index.open(Workspace(tmp_path)) as index:
        assert {(p.document, p.connector) for p in index.all_pins()} == {
            (f"{n}.pdf", f"C{n}") for n in range(7)
        }


def test_a_fault_in_one_document_costs_only_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error nobody foresaw is named with its file, kept in the log, and the other files are read."""
    for name in ("a.pdf", "b.pdf", "c.pdf"):
        draw_manual(tmp_path / name, f"C{ord(name[0])}")
    whole = pipeline.readings_to_pins

    def breaking(machine: str, document: str, *more: object) -> object:
        if document == "b.pdf":
            raise ZeroDivisionError("a fault planted by the test")
        return whole(machine, document, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(pipeline, "readings_to_pins", breaking)
    summary = _index(tmp_path)
    assert summary.documents_read == 2
    ((path, message, fault),) = [(Path(p.path).name, p.message, p.fault) for p in summary.problems]
    assert (path, fault) == ("b.pdf", True)
    assert message.count("b.pdf") == 1 and "ZeroDivisionError" in message and "planted" not in message
    log = Workspace(tmp_path).error_log.read_text(encoding="utf-8")
    assert "planted by the test" in log and "Traceback" in log
    monkeypatch.undo()
    assert _index(tmp_path).documents_read == 1


def test_a_run_stopped_before_the_end_is_finished_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is judged over all documents is judged by the next run, also where it has nothing to read."""
    draw_manual(tmp_path / "a.pdf", "C1")
    draw_manual(tmp_path / "b.pdf", "C2")

    whole = Tally.add

    def stopped(tally: Tally, *document: object, changed: bool) -> None:
        whole(tally, *document, changed=changed)  # type: ignore[arg-type]
        if tally.read == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(Tally, "add", stopped)
    with pytest.raises(KeyboardInterrupt):
        _index(tmp_path)
    monkeypatch.undo()
    with Index.open(Workspace(tmp_path)) as index:
        assert not index.is_settled() and len(index.documents()) == 2
    assert _index(tmp_path).documents_read == 0
    with Index.open(Workspace(tmp_path)) as index:
        assert index.is_settled()
        assert {p.notices for p in index.all_pins()} == {()}, "every circuit stands in both documents"


def _odd_names() -> list[str]:
    names = [
        "with several  blanks.pdf",
        "-leading dash.pdf",
        "100 % %20 %s {} $HOME.pdf",
        "o'brien “quoted” `it`.pdf",
        unicodedata.normalize("NFC", "Zündschloß é.pdf"),
        unicodedata.normalize("NFD", "Führerhaus é.pdf"),
        "配線図 車両.pdf",
        "x" * 200 + ".pdf",
        "UPPER.PDF",
        "#hash?query&amp;.pdf",
    ]
    if os.name != "nt":
        names += ['"double".pdf', "a:b|c<d>*.pdf", "line\nbreak.pdf", "\x1b[31mred.pdf", "back\\slash.pdf"]
    return names


def test_odd_names_are_read_and_shown(tmp_path: Path) -> None:
    """Whatever a file is called, it is read once, and its name is shown as one writes it."""
    folder = tmp_path / "my manuals, 100 %"
    for n, name in enumerate(_odd_names()):
        draw_manual(folder / name, f"C{n + 1}", circuit=str(2000 + n))
    first = _index(tmp_path, folder)
    assert (first.problems, first.documents_read) == ((), len(_odd_names()))
    names = {document for document, _, _ in _rows(tmp_path)}
    assert names == {unicodedata.normalize("NFC", name) for name in _odd_names()}
    again = _index(tmp_path, folder)
    assert (again.documents_read, again.documents_unchanged) == (0, len(_odd_names()))


@pytest.mark.skipif(os.name == "nt" or sys.platform == "darwin", reason="names are Unicode there")
def test_a_name_that_is_no_text_is_read(tmp_path: Path) -> None:
    """A name in an old code page is read, shown byte by byte, and found again."""
    draw_manual(tmp_path / "m.pdf").rename(os.fsdecode(os.fsencode(tmp_path) + b"/sch\xe9ma.pdf"))
    summary = _index(tmp_path)
    assert (summary.problems, summary.documents_read) == ((), 1)
    assert {document for document, _, _ in _rows(tmp_path)} == {"sch\\xe9ma.pdf"}
    assert _index(tmp_path).documents_unchanged == 1


def test_files_of_one_name_are_two_documents(tmp_path: Path) -> None:
    """Files of one name, also in folders of one name, are documents with names of their own."""
    draw_manual(tmp_path / "2019" / "left" / "loom.pdf", "C1")
    draw_manual(tmp_path / "2020" / "left" / "loom.pdf", "C2")
    assert _index(tmp_path).documents_read == 2
    assert {(document, connector) for document, connector, _ in _rows(tmp_path)} == {
        ("2019/left/loom.pdf", "C1"),
        ("2020/left/loom.pdf", "C2"),
    }
    assert _index(tmp_path).documents_unchanged == 2


def test_pages_of_pictures_are_named_every_time(tmp_path: Path) -> None:
    """A page nobody can read is named when it is indexed and also when nothing is read anew."""
    draw_manual(tmp_path / "m.pdf", picture_pages=2)
    for _ in range(2):
        summary = _index(tmp_path)
        assert [(note.document, note.page) for note in summary.unread] == [("m.pdf", 2), ("m.pdf", 3)]
        assert all("m.pdf" not in note.why and "picture" in note.why for note in summary.unread)


def test_a_file_that_changes_while_it_is_read_is_not_stored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows are never kept under the hash of other content."""
    path = draw_manual(tmp_path / "m.pdf")
    whole = pipeline.readings_to_pins

    def changing(*arguments: object) -> object:
        draw_manual(path, circuit="9999")
        return whole(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(pipeline, "readings_to_pins", changing)
    summary = _index(tmp_path)
    assert (summary.documents_read, _rows(tmp_path)) == (0, [])
    assert "changed while it was read" in summary.problems[0].message
