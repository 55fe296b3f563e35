"""`xref page` as a process."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.conftest import RunXref
from tests.drawn_manual import draw_manual


@pytest.fixture
def indexed(xref: RunXref, tmp_path: Path) -> RunXref:
    """Index two manuals, one of them in part a picture."""
    draw_manual(tmp_path / "manuals" / "Pump loom 2019.pdf", "C1", pages=2, picture_pages=1)
    draw_manual(tmp_path / "manuals" / "Mast loom 2019.pdf", "D1")
    assert xref("index", "manuals").returncode == 0
    return xref


def test_a_page_is_told_and_drawn(indexed: RunXref, tmp_path: Path) -> None:
    """Part of a name is enough; what was seen is said in words, and drawn into the file."""
    done = indexed("page", "pump", "2", "-o", "out.png")
    assert done.returncode == 0, done.stderr
    for words in (
        "page 2 of 3",
        "READ",
        "named C11",
        "1 cavity, by its header “Cavity”",
        "C11:3",
        "Drawn: out.png",
    ):
        assert words in done.stdout
    assert (tmp_path / "out.png").read_bytes().startswith(b"\x89PNG")


def test_the_answer_for_programs_says_the_same(indexed: RunXref) -> None:
    """One object: tables with columns, roles and reasons, rows with boxes, pages that nobody can read."""
    answer = json.loads(indexed("page", "Mast loom 2019.pdf", "1", "--json").stdout)
    (table,) = answer["tables"]
    assert table["pinout"] and [column["role"] for column in table["columns"]] == [
        "cavity",
        "color",
        "circuit",
        "function",
    ]
    assert [(row["connector"], row["cavity"], row["circuit"]) for row in answer["rows"]] == [
        ("D1", "1", "1440"),
        ("D1", "2", "3001"),
        ("D1", "3", "1001"),
    ]
    assert all(set(row["box"]) == {"x0", "top", "x1", "bottom"} for row in answer["rows"])
    unread = json.loads(indexed("page", "pump", "3", "--json").stdout)
    assert (unread["outcome"], len(unread["unread_pages"]), unread["rows"]) == ("unread", 1, [])


def test_a_file_that_is_not_indexed_is_read_too(xref: RunXref, tmp_path: Path) -> None:
    """Before anything is indexed a page can be looked at, and nothing is stored by that."""
    draw_manual(tmp_path / "-new.pdf")
    done = xref("page", "--json", "--", "-new.pdf", "1")
    assert done.returncode == 0 and len(json.loads(done.stdout)["rows"]) == 3
    assert not (tmp_path / ".xref").exists()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("loom", "1"), "may be 2 documents"),
        (("nowhere", "1"), "neither a document of the index nor a file"),
        (("pump", "9"), "no page 9"),
        (("pump", "1", "-o", "out.gif"), ".svg"),
        (("x" * 5000, "1"), "neither"),
    ],
    ids=lambda value: str(value)[:20],
)
def test_wrong_use_is_one_sentence(indexed: RunXref, arguments: tuple[str, ...], said: str) -> None:
    """A name that fits several documents or none, or a page that is not there, is said."""
    done = indexed("page", *arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr and "Traceback" not in done.stderr
