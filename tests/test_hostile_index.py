"""`xref index` as a process over bad files: each is named in one line, the good ones are read."""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import psutil
import pytest
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas

from fixtures.hostile import HOSTILE, ODD_NAME, PASSWORD, not_a_pdf, one_page, stream, write_hostile
from tests.conftest import ROOT, RunXref
from xref.settings import DEFAULT
from xref.workspace import Workspace

GOOD = "good.pdf"
ROWS = (("1", "BU/YE", "1440", "Lift valve"), ("2", "BK", "3001", "Ground"), ("3", "RD", "1001", "Supply"))
CANNOT_OPEN = [name for name, (_, outcome) in HOSTILE.items() if outcome == "open"]
MEGABYTE = 1024 * 1024
#: One page at a time may reach a worker's bound, and runs over it until the next look at its memory.
LARGEST_MEGABYTES = 1.4 * DEFAULT.worker_megabytes
#: What the parent and each idle worker may hold beside that.
IDLE_MEGABYTES = 250
#: A worker with so much memory is in the middle of the page that inflates.
BUSY_MEGABYTES = 300


def _manual(path: Path, password: str = "") -> Path:
    lock = StandardEncryption(password, ownerPassword="owner", strength=128) if password else None
    canvas = Canvas(str(path), encrypt=lock, invariant=1)
    canvas.drawString(60, 760, "Connector C1 - Pump controller")
    for line, row in enumerate((("Cavity", "Color", "Circuit", "Function"), *ROWS)):
        for column, text in enumerate(row):
            canvas.rect(60 + 110 * column, 722 - 18 * line, 110, 18)
            canvas.drawString(64 + 110 * column, 727 - 18 * line, text)
    canvas.save()
    return path


def _manual_with_control_characters(path: Path) -> Path:
    """Write escapes, a title-setting sequence and a direction override into heading and cells."""
    odd = rb"\033[31m"
    lines = [(60, 760, rb"Connector C9 - Pump " + odd)]
    for line, row in enumerate((("Cavity", "Color", "Circuit", "Function"), *ROWS)):
        for column, text in enumerate(row):
            tail = odd + rb"\033]0;x\007" if column == 3 and line else b""
            lines.append((60 + 110 * column, 740 - 18 * line, text.encode("ascii") + tail))
    drawn = b" ".join(b"BT /F1 10 Tf %d %d Td (%s) Tj ET" % line for line in lines)
    path.write_bytes(one_page(stream(drawn)))
    return path


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """What one run over the folder of bad files came to."""

    folder: Path
    code: int
    out: str
    talk: str
    peak_megabytes: float


def _environment(**more: str) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("XREF_", "COLUMNS"))}
    return {**kept, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", **more}


def _start(*arguments: str, cwd: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "xref", *arguments],
        cwd=cwd,
        env=_environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        start_new_session=os.name != "nt",
    )


def _resident(process: psutil.Process) -> int:
    try:
        return int(process.memory_info().rss)
    except psutil.Error:
        return 0


def _family(number: int) -> list[psutil.Process]:
    try:
        parent = psutil.Process(number)
        return [parent, *parent.children(recursive=True)]
    except psutil.Error:
        return []


@pytest.fixture(scope="module")
def bad_run(tmp_path_factory: pytest.TempPathFactory) -> _Run:
    """Index all bad files and a good one, watching the memory of all its processes together."""
    folder = tmp_path_factory.mktemp("hostile")
    write_hostile(folder / "manuals")
    _manual(folder / "manuals" / GOOD)
    peak = [0]
    process = _start("index", "manuals", cwd=folder)

    def watch() -> None:
        while process.poll() is None:
            peak[0] = max(peak[0], sum(map(_resident, _family(process.pid))))
            time.sleep(0.05)

    watcher = threading.Thread(target=watch)
    watcher.start()
    out, talk = process.communicate(timeout=300)
    watcher.join()
    return _Run(folder=folder, code=process.returncode, out=out, talk=talk, peak_megabytes=peak[0] / MEGABYTE)


def _harmless(text: str) -> bool:
    return all(c == "\n" or c.isprintable() for c in text)


@pytest.mark.long
def test_the_good_manual_among_bad_files_is_indexed(bad_run: _Run, xref: RunXref) -> None:
    """Exit code 0, and the good manual answers, however many files beside it are bad."""
    assert bad_run.code == 0
    answer = json.loads(xref("circuit", "1440", "--json", cwd=bad_run.folder).stdout)
    found = [(a["connector"], a["cavity"]) for a in answer["appearances"] if a["document"] == GOOD]
    assert found == [("C1", "1")]


@pytest.mark.long
@pytest.mark.parametrize("name", CANNOT_OPEN)
def test_each_file_that_cannot_be_opened_is_named_in_one_line(bad_run: _Run, name: str) -> None:
    """The summary has one sentence about it; what stderr says of it, if anything, is the same."""
    summed = [line.strip() for line in bad_run.out.splitlines() if name in line]
    assert len(summed) == 1
    assert summed[0].startswith(f"{name}: ") and summed[0].endswith(".")
    assert [line for line in bad_run.talk.splitlines() if name in line] in ([], summed)


@pytest.mark.long
@pytest.mark.parametrize("page", ["enormous.pdf p. 1", "inflating.pdf p. 2", "deep-tree.pdf p. 1"])
def test_each_page_that_cannot_be_read_is_named(bad_run: _Run, page: str) -> None:
    """What stands on a page that was given up is in no answer, and that is said once."""
    assert [line.strip().startswith(f"{page}: ") for line in bad_run.out.splitlines() if page in line] == [
        True
    ]


@pytest.mark.long
def test_bad_files_give_no_traceback(bad_run: _Run) -> None:
    """Nothing of the inside of the program reaches the person."""
    for text in (bad_run.out, bad_run.talk):
        assert "Traceback" not in text and 'File "' not in text


@pytest.mark.long
def test_control_characters_of_file_names_do_no_harm(bad_run: _Run) -> None:
    """A file name with escapes is shown with the numbers of its characters instead."""
    assert _harmless(bad_run.out) and _harmless(bad_run.talk)
    assert "bold.pdf" in bad_run.talk


@pytest.mark.long
def test_bad_files_do_not_take_all_memory(bad_run: _Run) -> None:
    """Files of a few kB that inflate to gigabytes cost one worker its bound, never more."""
    idle = IDLE_MEGABYTES * ((os.cpu_count() or 1) + 1)
    assert 0 < bad_run.peak_megabytes < LARGEST_MEGABYTES + idle


def test_only_bad_files_is_unreadable_input(xref: RunXref, tmp_path: Path) -> None:
    """Exit code 2 if nothing could be read at all, still with one harmless line a file."""
    write_hostile(tmp_path / "manuals", CANNOT_OPEN)
    (tmp_path / "manuals" / ODD_NAME).write_bytes(not_a_pdf() + b"\n")  # no copy of another
    done = xref("index", "manuals")
    assert done.returncode == 2
    assert sum(".pdf: " in line for line in done.stdout.splitlines()) == len(CANNOT_OPEN) + 1
    assert _harmless(done.stdout) and _harmless(done.stderr)
    told = json.loads(xref("index", "manuals", "--json", "--quiet").stdout)
    assert len(told["problems"]) == len(CANNOT_OPEN) + 1 and told["documents_read"] == 0


def test_control_characters_of_a_page_do_no_harm(xref: RunXref, tmp_path: Path) -> None:
    """Escapes in a heading or a cell reach no screen, whether the row is looked up or searched."""
    _manual_with_control_characters(tmp_path / "odd.pdf")
    told = json.loads(xref("index", "odd.pdf", "--json").stdout)
    assert told["pins"] == len(ROWS)
    for command in (["connector", "C9"], ["circuit", "1440"], ["find", "lift", "valve"], ["doctor"]):
        done = xref(*command)
        assert done.returncode == 0 and "\x1b" not in done.stdout
        assert _harmless(done.stdout) and _harmless(done.stderr)
        assert "\x1b" not in xref(*command, "--json").stdout


def _bytes_of(folder: Path) -> Iterator[bytes]:
    yield from (path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.suffix != ".pdf")


@pytest.mark.parametrize(
    ("option", "variable", "why"),
    [
        ("", "", "needs a password"),
        ("", "not this one", "password"),
        ("not this one", "", "password"),
        (PASSWORD, "", ""),
        ("", PASSWORD, ""),
    ],
    ids=["none", "wrong variable", "wrong option", "right option", "right variable"],
)
def test_a_password_opens_and_is_never_kept(
    xref: RunXref, tmp_path: Path, option: str, variable: str, why: str
) -> None:
    """By option or variable, right or wrong: it stands in no file of the workspace and on no screen."""
    _manual(tmp_path / "locked.pdf", PASSWORD)
    given = ["--password", option] if option else []
    more = {"XREF_PASSWORD": variable} if variable else {}
    done = xref("index", "locked.pdf", *given, "--json", **more)
    told = json.loads(done.stdout)
    if why:
        assert (done.returncode, told["documents_read"]) == (2, 0)
        assert [why in problem["message"] for problem in told["problems"]] == [True]
    else:
        assert (done.returncode, told["pins"], told["problems"]) == (0, len(ROWS), [])
    word = option or variable
    if word:
        assert word not in done.stdout + done.stderr
        kept = list(_bytes_of(tmp_path))
        assert kept
        assert not any(word.encode(code) in held for held in kept for code in ("utf-8", "utf-16-le"))


@pytest.mark.skipif(os.name == "nt", reason="Windows sends Ctrl-C to a whole console, not to one group")
def test_ctrl_c_in_the_middle_of_a_bad_page_leaves_whole_documents(xref: RunXref, tmp_path: Path) -> None:
    """Ctrl-C to the whole group, as from a keyboard: code 130, no process left, no half document."""
    _manual(tmp_path / "a-good.pdf")
    write_hostile(tmp_path, ["inflating.pdf"])
    process = _start("index", "a-good.pdf", "inflating.pdf", cwd=tmp_path)
    family = _family(process.pid)
    while process.poll() is None and max(map(_resident, family[1:]), default=0) < BUSY_MEGABYTES * MEGABYTE:
        time.sleep(0.05)
        family = _family(process.pid)
    assert process.poll() is None, "ended before the page that inflates was reached"
    os.killpg(process.pid, signal.SIGINT)
    _, talk = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "kept" in talk and "Traceback" not in talk
    assert psutil.wait_procs(family, timeout=10)[1] == []
    with closing(sqlite3.connect(Workspace(tmp_path).index_db)) as index:
        assert index.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    documents = json.loads(xref("doctor", "--json").stdout)["documents"]
    assert [document["document"] for document in documents] == ["a-good.pdf"]
    again = json.loads(xref("index", "a-good.pdf", "--json").stdout)
    assert (again["documents_read"], again["documents_unchanged"]) == (0, 1)
