"""`xref export` and `xref doctor` as processes."""

from __future__ import annotations

import csv
import json
from pathlib import Path

from tests.cli.sample import HOSTILE, fill, pins
from tests.conftest import RunXref
from xref.records import COLUMNS


def test_export_writes_every_row_in_the_fixed_columns(xref: RunXref, tmp_path: Path) -> None:
    """One line per pin, the columns of the normalised table, and the count on stdout."""
    fill(tmp_path)
    done = xref("export", "out.csv")
    assert done.returncode == 0
    assert done.stdout == "6 rows written to out.csv.\n"
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert tuple(rows[0]) == COLUMNS
    assert sorted(row["circuit"] for row in rows) == sorted(pin.circuit for pin in pins())


def test_export_of_one_machine_leaves_the_other_out(xref: RunXref, tmp_path: Path) -> None:
    """With --machine only that machine's rows are written."""
    fill(tmp_path, machine="forklift")
    fill(tmp_path, machine="tug", document="tug.pdf")
    assert xref("export", "all.json", "--json").stdout.count('"rows": 12') == 1
    assert xref("export", "tug.json", "--machine", "tug", "--json").stdout.count('"rows": 6') == 1


def test_an_ending_that_is_no_table_is_refused(xref: RunXref, tmp_path: Path) -> None:
    """The ending decides the format; another one is wrong use, and no file is left behind."""
    fill(tmp_path)
    done = xref("export", "out.doc")
    assert done.returncode == 2
    assert ".xlsx" in done.stderr
    assert not list(tmp_path.glob("out*"))


def test_the_doctor_names_documents_unread_pages_and_troubles(xref: RunXref, tmp_path: Path) -> None:
    """What was not read and what is gone is said, with exit code 1."""
    fill(tmp_path, settled=False)
    done = xref("doctor")
    assert done.returncode == 1
    assert "loom.pdf p. 2: a picture without text" in done.stdout
    assert "no longer where it was read" in done.stdout
    answer = json.loads(xref("doctor", "--json").stdout)
    assert answer["unread_pages"] == [{"document": "loom.pdf", "page": 2, "why": "a picture without text"}]
    assert [trouble.split()[0] for trouble in answer["troubles"]] == ["loom.pdf", "The"]


def test_the_sample_holds_hostile_text() -> None:
    """The tests of this folder look at text with an escape, an override and a NUL in it."""
    assert {"\x1b", "\u202e", "\x00"} <= set(HOSTILE)
