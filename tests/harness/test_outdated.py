"""Answers say when a document is no longer as it was when its rows were read."""

from __future__ import annotations

import os
from pathlib import Path

from tests.store.sample import document, pin
from xref.harness.lookup import answer_circuit, answer_connector
from xref.harness.outdated import CHANGED, GONE, TOUCHED, outdated_documents
from xref.store.filing import file_hash, file_stamp
from xref.store.index import Index
from xref.workspace import Workspace


def _indexed(folder: Path, name: str, circuit: str) -> Path:
    path = folder / name
    path.write_text(f"content of {name}", encoding="utf-8")
    with Index.open(Workspace(folder), write=True) as index:
        record = document(name, path=str(path), sha256=file_hash(path))
        index.replace(record, [], [pin(f"X{circuit}", "1", circuit, document=name)], [])
        index.note_files([(str(path), file_stamp(path), file_hash(path))], ())
    return path


def test_gone_and_changed_documents_are_said_beside_their_rows(tmp_path: Path) -> None:
    """An answer names the documents of its rows that are gone or changed, and no others."""
    same, gone, changed = (_indexed(tmp_path, f"{n}.pdf", n) for n in ("1", "2", "3"))
    gone.unlink()
    changed.write_text("other content", encoding="utf-8")
    with Index.open(Workspace(tmp_path)) as index:
        said = {n: [(o.document, o.why) for o in answer_circuit(index, n).outdated] for n in ("1", "2", "3")}
        assert said == {"1": [], "2": [("2.pdf", GONE)], "3": [("3.pdf", TOUCHED)]}
        assert [o.document for o in answer_connector(index, "X3").outdated] == ["3.pdf"]
        nothing = answer_circuit(index, "4")
        assert [o.document for o in nothing.outdated] == ["2.pdf", "3.pdf"], "what is missed may stand there"
        assert [(o.document, o.why) for o in outdated_documents(index, thorough=True)] == [
            ("2.pdf", GONE),
            ("3.pdf", CHANGED),
        ]
    assert same.is_file()


def test_a_file_that_was_only_touched_is_told_from_a_changed_one(tmp_path: Path) -> None:
    """New times on old content are a question for a look-up and nothing for the doctor."""
    path = _indexed(tmp_path, "1.pdf", "1")
    os.utime(path, (1_000_000_000, 1_000_000_000))
    with Index.open(Workspace(tmp_path)) as index:
        assert [o.why for o in answer_circuit(index, "1").outdated] == [TOUCHED]
        assert outdated_documents(index, thorough=True) == ()
