"""Files are told by their content, and named so that no two are taken for each other."""

from __future__ import annotations

import os
import sys
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.store.sample import document
from xref.errors import UsageError
from xref.records import Document
from xref.store.filing import (
    Copy,
    Filing,
    Move,
    file_stamp,
    find_pdfs,
    look_at,
    names_of_files,
    path_to_text,
    plan_filing,
    same_stamp,
    text_to_path,
)


def _write(path: Path, content: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(content, encoding="utf-8")
    return path


def _indexed(path: Path, name: str = "", reader: str = "1") -> Document:
    """Make the document that indexing this file would have left."""
    return document(name or path.name, path=str(path), sha256=look_at(path, {}).sha256, reader=reader)


def _plan(
    folder: Path, *documents: Document, known: dict[str, tuple[str, str]] | None = None, reader: str = "1"
) -> Filing:
    files = [look_at(path, {}) for path in find_pdfs([folder])]
    return plan_filing(files, documents, [folder], known or {}, reader)


def test_copies_are_read_once(tmp_path: Path) -> None:
    """Of files with one content the first is the document, the others are named as its copies."""
    a, b = _write(tmp_path / "a.pdf", "x"), _write(tmp_path / "sub" / "b.pdf", "x")
    plan = _plan(tmp_path)
    assert [(job.file.path, job.name) for job in plan.to_read] == [(a, "a.pdf")]
    assert plan.copies == (Copy(path=str(b), document="a.pdf"),)


def test_a_copy_that_comes_first_renames_nothing(tmp_path: Path) -> None:
    """A copy never takes the place of the file that was indexed."""
    original = _write(tmp_path / "m.pdf", "x")
    known = _indexed(original)
    _write(tmp_path / "a copy of m.pdf", "x")
    plan = _plan(tmp_path, known)
    assert (plan.to_read, plan.moves, plan.unchanged) == ((), (), ("m.pdf",))
    assert [copy.document for copy in plan.copies] == ["m.pdf"]


def test_a_copy_elsewhere_is_no_move_while_the_original_lies_there(tmp_path: Path) -> None:
    """Indexing only the folder of the copy leaves the document where it was read."""
    known = _indexed(_write(tmp_path / "one" / "m.pdf", "x"))
    _write(tmp_path / "two" / "n.pdf", "x")
    plan = _plan(tmp_path / "two", known)
    assert (plan.moves, plan.gone, plan.to_read) == ((), (), ())
    assert [copy.document for copy in plan.copies] == ["m.pdf"]


def test_a_renamed_file_is_a_move(tmp_path: Path) -> None:
    """The same content under another name is the same document."""
    path = _write(tmp_path / "m.pdf", "x")
    known = _indexed(path)
    path.rename(tmp_path / "n.pdf")
    plan = _plan(tmp_path, known)
    assert plan.moves == (Move(old_name="m.pdf", name="n.pdf", path=str(tmp_path / "n.pdf")),)
    assert (plan.to_read, plan.gone) == ((), ())


def test_two_files_that_exchange_names_are_two_moves(tmp_path: Path) -> None:
    """Nothing is read anew where content only changed places."""
    a, b = _write(tmp_path / "a.pdf", "x"), _write(tmp_path / "b.pdf", "y")
    known = (_indexed(a), _indexed(b))
    a.rename(tmp_path / "c"), b.rename(a), (tmp_path / "c").rename(b)
    plan = _plan(tmp_path, *known)
    assert plan.to_read == ()
    assert {(move.old_name, move.name) for move in plan.moves} == {("a.pdf", "b.pdf"), ("b.pdf", "a.pdf")}


def test_changed_content_keeps_the_name(tmp_path: Path) -> None:
    """A document whose file has other content is read anew in its place."""
    path = _write(tmp_path / "m.pdf", "x")
    known = _indexed(path, "old/m.pdf")
    _write(path, "y")
    plan = _plan(tmp_path, known)
    assert [(job.name, job.changed) for job in plan.to_read] == [("old/m.pdf", True)]
    assert (plan.gone, plan.moves) == ((), ())


def test_content_that_became_another_document_is_gone(tmp_path: Path) -> None:
    """A file overwritten with a copy of another document leaves one document and one copy."""
    a, b = _write(tmp_path / "a.pdf", "x"), _write(tmp_path / "b.pdf", "y")
    known = (_indexed(a), _indexed(b))
    _write(a, "y")
    plan = _plan(tmp_path, *known)
    assert (plan.to_read, plan.gone, plan.unchanged) == ((), ("a.pdf",), ("b.pdf",))
    assert [copy.document for copy in plan.copies] == ["b.pdf"]


def test_deleted_is_gone_but_an_unplugged_drive_is_away(tmp_path: Path) -> None:
    """A document is given up where its folder is still there, or a folder above was looked through."""
    here = _write(tmp_path / "here" / "m.pdf", "x")
    away = _write(tmp_path / "stick" / "deep" / "n.pdf", "y")
    other = _write(tmp_path / "other" / "o.pdf", "z")
    known = (_indexed(here), _indexed(away))
    here.unlink(), away.unlink(), away.parent.rmdir(), away.parent.parent.rmdir()
    plan = _plan(other.parent, *known)
    assert (plan.gone, plan.away) == (("m.pdf",), ("n.pdf",))
    assert _plan(tmp_path, *known).gone == ("m.pdf", "n.pdf")


def test_a_known_copy_takes_over(tmp_path: Path) -> None:
    """Where the file of a document is deleted, a copy seen before becomes its file."""
    path, copy = _write(tmp_path / "m.pdf", "x"), _write(tmp_path / "far" / "n.pdf", "x")
    known = _indexed(path)
    other = _write(tmp_path / "other" / "o.pdf", "z")
    seen = look_at(copy, {})
    path.unlink()
    plan = _plan(other.parent, known, known={str(copy): (seen.stamp, seen.sha256)})
    assert plan.moves == (Move(old_name="m.pdf", name="n.pdf", path=str(copy)),)


def test_another_reader_reads_anew(tmp_path: Path) -> None:
    """What an older reader read is read again under the same name."""
    path = _write(tmp_path / "m.pdf", "x")
    plan = _plan(tmp_path, _indexed(path, reader="0"))
    assert [(job.name, job.changed) for job in plan.to_read] == [("m.pdf", False)]


def test_the_hash_is_taken_once_while_size_and_times_stay(tmp_path: Path) -> None:
    """An old file whose size and times are as before is not read again; a young one is, always."""
    path = _write(tmp_path / "m.pdf", "x")
    young = file_stamp(path)
    assert look_at(path, {str(path): (young, "said")}).sha256 != "said"
    old = young.rstrip("?")
    assert same_stamp(old, young) and old != young
    _write(path, "xx")
    assert not same_stamp(file_stamp(path), young)


def test_files_of_one_name_are_told_apart_by_their_folders() -> None:
    """As many folders as are needed stand before the name, also where the folders have one name."""
    paths = {
        "a": Path("/m/2019/left/loom.pdf"),
        "b": Path("/m/2020/left/loom.pdf"),
        "c": Path("/m/2020/right/loom.pdf"),
        "d": Path("/m/2020/right/other.pdf"),
    }
    assert names_of_files(paths, {"x.pdf"}) == {
        "a": "2019/left/loom.pdf",
        "b": "2020/left/loom.pdf",
        "c": "right/loom.pdf",
        "d": "other.pdf",
    }
    assert names_of_files({"a": Path("/m/loom.pdf")}, {"loom.pdf"}) == {"a": "m/loom.pdf"}


def test_names_that_only_look_alike_are_numbered() -> None:
    """Two spellings of one name (Unicode NFC and NFD) look the same and are told apart all the same."""
    composed = "Zündschloß.pdf"
    paths = {
        "c": Path("/") / composed,
        "d": Path("/") / unicodedata.normalize("NFD", composed),
    }
    names = names_of_files(paths, set())
    assert len(set(names.values())) == 2
    assert all(unicodedata.is_normalized("NFC", name) for name in names.values())


@given(
    st.lists(st.lists(st.sampled_from("ab"), min_size=1, max_size=4), min_size=1, max_size=8, unique_by=tuple)
)
def test_no_two_files_get_one_name(folders: list[list[str]]) -> None:
    """Whatever folders files of one name lie in, every file has a name of its own."""
    paths = {str(n): Path("/", *parts, "loom.pdf") for n, parts in enumerate(folders)}
    names = names_of_files(paths, {"loom.pdf", "a/loom.pdf"})
    assert set(names) == set(paths)
    assert len(set(names.values()) | {"loom.pdf", "a/loom.pdf"}) == len(paths) + 2


@pytest.mark.skipif(os.name == "nt" or sys.platform == "darwin", reason="names are Unicode there")
def test_names_that_are_no_text_come_back_byte_by_byte(tmp_path: Path) -> None:
    """A file name of bytes that are no UTF-8 is kept, found again and shown."""
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/loom\xff.pdf"))
    _write(path, "x")
    (found,) = find_pdfs([tmp_path])
    text = path_to_text(str(found))
    assert text.isascii() and text_to_path(text) == str(found)
    assert names_of_files({"a": found}, set()) == {"a": "loom\\xff.pdf"}


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1))
def test_paths_come_back_as_they_were(text: str) -> None:
    """A resolved path is stored and given back letter for letter."""
    path = f"/{text}"
    assert text_to_path(path_to_text(path)) == path


@pytest.mark.parametrize("name", ["nowhere", "x" * 5000, "a\0b"])
def test_what_does_not_exist_is_said(tmp_path: Path, name: str) -> None:
    """A path that is not there, or that no system could hold, is wrong use."""
    with pytest.raises(UsageError):
        list(find_pdfs([tmp_path / name]))
