"""`xref index` as a process, and what it says."""

from __future__ import annotations

import io
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from reportlab.lib import pagesizes
from reportlab.pdfgen.canvas import Canvas

import xref.pipeline as pipeline
from tests.conftest import ROOT, RunXref
from tests.drawn_manual import draw_manual
from xref.cli import main
from xref.cli.index import print_summary, progress_words
from xref.cli.terminal import Screen
from xref.pipeline import Problem, Progress, Summary
from xref.records import PageNote

ROWS = (("1", "BU/YE", "1440", "Lift valve"), ("2", "BK", "3001", "Ground"), ("3", "RD", "1001", "Supply"))


def _manual(path: Path, pages: int = 1) -> Path:
    canvas = Canvas(str(path), pagesize=pagesizes.A4)
    for page in range(pages):
        canvas.drawString(60, 760, f"Connector C{page + 1} - Pump controller")
        top = 740
        for row in (("Cavity", "Color", "Circuit", "Function"), *ROWS):
            for column, text in enumerate(row):
                x = 60 + 110 * column
                canvas.rect(x, top - 18, 110, 18)
                canvas.drawString(x + 4, top - 13, text)
            top -= 18
        canvas.showPage()
    canvas.save()
    return path


def test_a_manual_is_read_once_and_answers(xref: RunXref, tmp_path: Path) -> None:
    """Index, look up, index again: rows are found, and an unchanged document is not read twice."""
    folder = tmp_path / "my manuals"
    folder.mkdir()
    _manual(folder / "pump.pdf")
    first = json.loads(xref("index", folder, "--machine", "forklift", "--json").stdout)
    assert (first["documents_read"], first["pins"], first["problems"]) == (1, 3, [])
    answer = json.loads(xref("circuit", "1440", "--json").stdout)
    assert [(a["connector"], a["cavity"], a["base_color"]) for a in answer["appearances"]] == [
        ("C1", "1", "blue")
    ]
    again = json.loads(xref("index", folder, "--machine", "forklift", "--json").stdout)
    assert (again["documents_read"], again["documents_unchanged"]) == (0, 1)


def test_a_bad_file_does_not_stop_the_others(xref: RunXref, tmp_path: Path) -> None:
    """One sentence names the bad file; the exit code is 2 only if nothing could be read."""
    (tmp_path / "bad.pdf").write_bytes(b"this is no PDF\x1b[31m")
    alone = xref("index", "bad.pdf")
    assert alone.returncode == 2
    assert "bad.pdf" in alone.stdout and "Traceback" not in alone.stderr
    _manual(tmp_path / "good.pdf")
    both = xref("index", ".")
    assert both.returncode == 0
    assert (both.stdout + both.stderr).count("bad.pdf") == 1, (
        "said once, not while reading and again at the end"
    )
    assert json.loads(xref("doctor", "--json").stdout)["counts"]["documents"] == 1


def test_what_became_of_files_is_said(xref: RunXref, tmp_path: Path) -> None:
    """Copies, moved, changed and deleted files are named by `index`, and by `doctor` while they stay so."""
    folder = tmp_path / "manuals"
    for name in ("a", "b", "c", "d"):
        draw_manual(folder / f"{name}.pdf", f"C{ord(name)}", picture_pages=name == "d")
    shutil.copyfile(folder / "a.pdf", folder / "copy of a.pdf")
    first = xref("index", "manuals")
    assert "is the same file as a.pdf" in first.stdout and "d.pdf p. 2: picture only" in first.stdout
    assert "is the same file as a.pdf" in xref("doctor").stdout
    (folder / "b.pdf").rename(folder / "moved b.pdf")
    draw_manual(folder / "c.pdf", "Q7", circuit="9999")
    (folder / "d.pdf").unlink()
    sick = json.loads(xref("doctor", "--json").stdout)
    assert [trouble.split(" (")[0] for trouble in sick["troubles"]] == [
        "b.pdf is no longer where it was read",
        "c.pdf has changed since it was read; run xref index again",
        "d.pdf is no longer where it was read",
    ]
    looked = xref("connector", "Q7")
    assert looked.returncode == 1 and "d.pdf p. 2: picture only" in looked.stdout
    assert "OUT OF DATE? c.pdf" in looked.stdout
    again = json.loads(xref("index", "manuals", "--json").stdout)
    assert again["documents_moved"][0]["to"] == "moved b.pdf"
    assert (again["documents_changed"], again["documents_forgotten"]) == (["c.pdf"], ["d.pdf"])
    assert xref("doctor").returncode == 0
    assert json.loads(xref("circuit", "9999", "--json").stdout)["outdated_documents"] == []


def test_a_fault_of_the_program_is_exit_code_2(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Although other files were read, the run does not count as done; no traceback reaches the person."""
    draw_manual(tmp_path / "a.pdf"), draw_manual(tmp_path / "b.pdf", "C2")
    whole = pipeline.readings_to_pins

    def breaking(machine: str, document: str, *more: object) -> object:
        if document == "a.pdf":
            raise RecursionError
        return whole(machine, document, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(pipeline, "readings_to_pins", breaking)
    assert main(["-w", str(tmp_path), "index", str(tmp_path)]) == 2
    said = capsys.readouterr()
    assert said.out.count("a.pdf: a fault of xref (RecursionError)") == 1
    assert "Traceback" not in said.out + said.err


def test_a_folder_without_pdfs_is_nothing_found(xref: RunXref, tmp_path: Path) -> None:
    """A folder that holds no PDF is said to hold none, and the exit code is that of nothing found."""
    (tmp_path / "empty").mkdir()
    done = xref("index", "empty")
    assert done.returncode == 1 and "No PDF was found" in done.stdout


def test_a_path_that_is_not_there_is_wrong_use(xref: RunXref) -> None:
    """A misspelt folder is said before anything is read."""
    done = xref("index", "nowhere")
    assert (done.returncode, done.stdout) == (2, "")
    assert "nowhere" in done.stderr


def test_progress_goes_to_stderr_and_quiet_silences_it(xref: RunXref, tmp_path: Path) -> None:
    """In a pipe each document gets one line, without a bar; with --quiet there is none."""
    _manual(tmp_path / "a.pdf", pages=2)
    _manual(tmp_path / "b.pdf")
    done = xref("index", "a.pdf", "b.pdf")
    assert done.stderr.splitlines() == ["1/2 a.pdf: 2 pages", "2/2 b.pdf: 1 page"]
    assert "\x1b" not in done.stderr and "\r" not in done.stderr
    _manual(tmp_path / "c.pdf", pages=3)
    assert xref("index", "c.pdf", "--quiet").stderr == ""


def test_wildcards_the_shell_left_alone_are_expanded(xref: RunXref, tmp_path: Path) -> None:
    """The shell of Windows hands `*.pdf` over as it stands."""
    _manual(tmp_path / "a.pdf")
    assert json.loads(xref("index", "*.pdf", "--json").stdout)["documents_read"] == 1


@pytest.mark.long
@pytest.mark.skipif(os.name == "nt", reason="Windows sends Ctrl-C to a whole console, not to one process")
def test_ctrl_c_keeps_what_is_done_and_the_next_run_goes_on(xref: RunXref, tmp_path: Path) -> None:
    """Stopped in the second document: exit code 130, the first is kept, the rest is read later."""
    _manual(tmp_path / "a.pdf")
    _manual(tmp_path / "b.pdf", pages=400)
    process = subprocess.Popen(
        [sys.executable, "-m", "xref", "index", "a.pdf", "b.pdf"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    assert process.stderr is not None
    while not process.stderr.readline().startswith("2/2 b.pdf"):
        assert process.poll() is None
    time.sleep(0.2)
    process.send_signal(signal.SIGINT)
    _, talk = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "kept" in talk and "Traceback" not in talk
    documents = json.loads(xref("doctor", "--json").stdout)["documents"]
    assert [document["document"] for document in documents] == ["a.pdf"]
    rest = json.loads(xref("index", "a.pdf", "b.pdf", "--json").stdout)
    assert (rest["documents_read"], rest["documents_unchanged"]) == (1, 1)


def test_progress_says_pages_per_second_and_time_left() -> None:
    """10 of 40 pages in 5 s are 2 pages a second, and 15 s are left."""
    now = Progress(
        document="loom.pdf",
        document_no=1,
        documents=2,
        page=10,
        pages=20,
        pages_done=10,
        pages_total=40,
        seconds=5.0,
    )
    assert progress_words(now) == "1/2 loom.pdf p. 10 · 2 pages/s · 15 s left"


def test_the_summary_names_what_was_not_read() -> None:
    """Pages of pictures and bad files are named, doubts are counted by kind and said in words."""
    stream = io.StringIO()
    note = PageNote(document="scan.pdf", page=3, page_label="", outcome="unread", why="picture only")
    summary = Summary(
        documents_read=2,
        documents_unchanged=1,
        documents_forgotten=("old.pdf",),
        problems=(Problem(path="x.pdf", message="x.pdf is not a PDF."),),
        pages_read=10,
        pages_skipped={"no sign of a pinout": 7},
        unread=(note,),
        connectors=4,
        pins=1234,
        unused=5,
        doubts={"cavity-gap": 2},
        notices={},
        schemes={"loom.pdf": ""},
        seconds=3.0,
    )
    print_summary(Screen(stream=stream, width=100), summary)
    text = stream.getvalue()
    for part in (
        "Done in 3.0 s.",
        "1,234",
        "7  no sign of a pinout",
        "2  cavity-gap  the cavity breaks the sequence, or the one before it is missing",
        "scan.pdf p. 3: picture only",
        "x.pdf is not a PDF.",
        "old.pdf",
        "undecided",
    ):
        assert part in text
