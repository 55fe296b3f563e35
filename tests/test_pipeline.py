"""The whole way from files to pins: the demo manuals against what was drawn, real documents, re-indexing."""

from __future__ import annotations

import csv
import os
import shutil
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import psutil
import pymupdf
import pytest

from tests.bench.reading import WITHOUT_PINOUTS
from tests.bench.reading_score import Score, known_from_csv, score_document
from tests.conftest import ROOT
from tests.drawn_manual import draw_manual
from tests.real_pdfs import REAL_PDFS, needs_real_pdfs
from tests.tables.drawn import Page
from xref.errors import UsageError
from xref.pages.reader import DocumentReader
from xref.pins.document import readings_to_pins
from xref.pipeline import DocumentReading, Summary, find_pdfs, index_paths, page_task, read_document
from xref.records import Pin
from xref.settings import Settings
from xref.store.index import Index
from xref.workspace import Workspace

MANUALS = ROOT / "examples" / "manuals"
TRUTH = ROOT / "fixtures" / "demo" / "truth"
SCAN = "q16-charging-socket-scan"
WIRE_LIST = "q16-wire-list"
READABLE = (
    "q16-drive-and-power",
    "q16-harness-reference",
    "q16-mast-and-hydraulics",
    "q16-nachtrag-fahrerplatz",
    WIRE_LIST,
)

#: What must agree in every row, letter for letter.
EXACT = (
    *("page", "connector", "half", "cavity", "color_code", "circuit", "size", "status"),
    *("goes_to", "base_color", "stripe_color", "option"),
)
#: One worker: the documents of these tests are small.
ONE = Settings(workers=1)


@cache
def _reading(name: str) -> DocumentReading:
    """Each demo manual is read once for all tests."""
    return read_document(MANUALS / f"{name}.pdf")


@cache
def _truth(name: str) -> tuple[dict[str, str], ...]:
    with (TRUTH / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def _as_read(pin: Pin, columns: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(str(getattr(pin, column)) for column in columns)


@pytest.mark.parametrize("name", READABLE)
def test_every_row_of_the_demo_manuals_is_read_exactly(name: str) -> None:
    """Every drawn row is read once, letter for letter, on its page, and nothing else is."""
    drawn = Counter(tuple(row[c] for c in EXACT) for row in _truth(name))
    read = Counter(_as_read(pin, EXACT) for pin in _reading(name).pins)
    assert not drawn - read, "not read"
    assert not read - drawn, "read, but not drawn"


@pytest.mark.parametrize("name", READABLE)
def test_functions_of_the_demo_manuals_are_read_exactly(name: str) -> None:
    """The function of a row is the printed one; a fuse's rating may follow it."""
    places = ("page", "connector", "half", "cavity", "circuit", "goes_to")
    drawn = Counter((*(row[c] for c in places), row["function"]) for row in _truth(name))
    read = Counter((*_as_read(p, places), p.function) for p in _reading(name).pins if p.role != "fuse")
    fuses = {(*_as_read(p, places), p.function.rpartition(", ")[0] or p.function)
             for p in _reading(name).pins if p.role == "fuse"}  # fmt: skip
    assert not read - drawn
    assert fuses <= set(drawn)


@pytest.mark.parametrize("name", [n for n in READABLE if n != WIRE_LIST])
def test_roles_of_the_demo_manuals_are_those_drawn(name: str) -> None:
    """Roles are those drawn, wherever headings or lists state them; a wire list states none."""
    drawn = Counter((row["connector"], row["half"], row["role"]) for row in _truth(name))
    read = Counter((p.connector, p.half, p.role) for p in _reading(name).pins)
    assert read == drawn


@pytest.mark.parametrize("name", READABLE)
def test_a_harness_that_is_read_is_the_one_drawn(name: str) -> None:
    """A heading's other words (`Wire list, mast harness`) are no part of the harness; no page invents one."""
    places = ("page", "connector", "half", "cavity", "circuit")
    drawn = {(*(row[c] for c in places), row["harness"].casefold()) for row in _truth(name)}
    read = {(*_as_read(p, places), p.harness.casefold()) for p in _reading(name).pins if p.harness}
    assert not read - drawn


@pytest.mark.parametrize("name", READABLE)
def test_clean_rows_carry_no_doubt(name: str) -> None:
    """The demo manuals are drawn clearly: a doubt on a right row would teach the reader to skip doubts."""
    doubted = [(p.page, p.connector, p.cavity, p.flags) for p in _reading(name).pins if p.flags]
    assert not doubted


@pytest.mark.parametrize("name", READABLE)
def test_each_page_is_read_or_skipped_with_a_reason(name: str) -> None:
    """Pages with drawn rows are read, all others skipped, and each says why."""
    with_rows = {int(row["page"]) for row in _truth(name)}
    notes = _reading(name).page_notes
    assert [n.page for n in notes] == list(range(1, len(notes) + 1))
    assert {n.page for n in notes if n.outcome == "read"} == with_rows
    assert {n.outcome for n in notes if n.page not in with_rows} <= {"skipped"}
    assert all(n.why for n in notes)


def _drawn_heads(name: str) -> dict[tuple[str, str], dict[str, str]]:
    with (TRUTH / "connectors.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["document"] == f"{name}.pdf"]
    return {(row["connector"], row["half"]): row for row in rows}


@pytest.mark.parametrize(
    "name",
    [
        "q16-drive-and-power",
        pytest.param(
            "q16-harness-reference",
            marks=pytest.mark.xfail(
                strict=True,
                reason="`Location: Mast foot, left. Housing: black, 16 cavities.` is taken for one value",
            ),
        ),
        "q16-mast-and-hydraulics",
        "q16-nachtrag-fahrerplatz",
    ],
)
def test_connectors_carry_what_their_heads_state(name: str) -> None:
    """Where a stated count or a location is read, it is the drawn one, whole and without more."""
    drawn = _drawn_heads(name)
    for connector in _reading(name).connectors:
        row = drawn.get((connector.connector, connector.half), {})
        if connector.cavities_stated is not None and row.get("cavities_stated"):
            assert connector.cavities_stated == int(row["cavities_stated"]), connector.connector
        if connector.location and row.get("location"):
            assert connector.location == row["location"], connector.connector


@pytest.mark.parametrize("name", ["q16-drive-and-power", "q16-mast-and-hydraulics"])
def test_stated_cavities_are_read_from_most_heads(name: str) -> None:
    """The count that a head states is what checks the rows, so it must not get lost."""
    drawn = {key for key, row in _drawn_heads(name).items() if row["cavities_stated"]}
    read = {(c.connector, c.half) for c in _reading(name).connectors if c.cavities_stated is not None}
    assert len(drawn & read) >= 0.9 * len(drawn), drawn - read


def _holds(pin: Pin, x: float, y: float) -> bool:
    return pin.x0 - 1 <= x <= pin.x1 + 1 and pin.top - 1 <= y <= pin.bottom + 1


@pytest.mark.parametrize("name", READABLE)
def test_a_row_s_box_holds_its_texts_on_the_page_as_displayed(name: str) -> None:
    """PyMuPDF's `get_text("words")`, a reader of its own, finds each row's texts inside the row's box."""
    with pymupdf.open(MANUALS / f"{name}.pdf") as document:
        for number in sorted({p.page for p in _reading(name).pins}):
            page = document[number - 1]
            words = []
            for x0, top, x1, bottom, text, *_ in page.get_text("words"):
                box = pymupdf.Rect(x0, top, x1, bottom) * page.rotation_matrix
                words.append(((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, text))
            for pin in (p for p in _reading(name).pins if p.page == number):
                inside = " ".join(
                    t
                    for x, y, t in words
                    if pin.x0 - 1 <= x <= pin.x1 + 1 and pin.top - 1 <= y <= pin.bottom + 1
                )
                for text in (pin.circuit, *pin.color_code.split()):
                    assert text in inside, (number, pin.connector, pin.cavity, text, inside)


def test_a_page_of_pictures_is_named_and_gives_nothing() -> None:
    """A scanned page holds no text; nobody may think it was read."""
    reading = _reading(SCAN)
    assert _truth(SCAN) and not reading.pins
    (note,) = reading.page_notes
    assert (note.page, note.outcome) == (1, "unread")
    assert "picture" in note.why


def test_workers_read_what_this_process_reads() -> None:
    """Page workers change nothing: the same pins, connectors and notes in the same order."""
    alone = _reading("q16-mast-and-hydraulics")
    pooled = read_document(MANUALS / "q16-mast-and-hydraulics.pdf", in_process=False)
    assert pooled == alone


# -- real documents ------------------------------------------------------------------------------------

#: Percent of required rows that are read right at least. It may rise, never fall. Documents whose
#: tables are out of reach (no lines that part their rows, no header words) are left out.
REAL_RECALL = {"bbb.pdf": 60.0, "ds009.pdf": 100.0, "eps2.pdf": 16.0, "gevcu7.pdf": 60.0, "px4pin.pdf": 97.0}


def _pages_to_pins(path: Path, pages: set[int]) -> tuple[Pin, ...]:
    """Read some pages only: the longest document has more than a hundred."""
    with DocumentReader(path) as reader:
        readings = [page_task(reader, number) for number in sorted(pages)]
    return readings_to_pins("", path.name, readings).pins


@needs_real_pdfs
@pytest.mark.parametrize("name", REAL_RECALL)
def test_real_documents_keep_their_recall(name: str) -> None:
    """Pages of real documents, whose rows were written down by hand, are read no worse than before."""
    if not (REAL_PDFS / name).is_file():
        pytest.skip(f"{name} is not there")
    known = known_from_csv(REAL_PDFS / "truth" / f"{Path(name).stem}.csv", name)
    pages = {row.page for row in known}
    score = Score()
    score_document(score, name, known, _pages_to_pins(REAL_PDFS / name, pages), ())
    assert score.total.recall >= REAL_RECALL[name]


@needs_real_pdfs
@pytest.mark.parametrize("name", WITHOUT_PINOUTS)
def test_real_documents_without_pinouts_give_no_rows(name: str) -> None:
    """Technical documents full of tables, none of them a pinout, give nothing."""
    if not (REAL_PDFS / name).is_file():
        pytest.skip(f"{name} is not there")
    reading = read_document(REAL_PDFS / name)
    assert reading.pins == () and reading.connectors == ()
    assert all(note.outcome != "read" for note in reading.page_notes)


# -- indexing ------------------------------------------------------------------------------------------


def _index(folder: Path, *paths: Path, machine: str = "", **more: object) -> Summary:
    return index_paths(paths or (folder,), Workspace(folder), machine=machine, settings=ONE, **more)  # type: ignore[arg-type]


def _stored(folder: Path, machine: str | None = None) -> list[tuple[str, str, str, str]]:
    with Index.open(Workspace(folder)) as index:
        return sorted((p.machine, p.document, p.connector, p.circuit) for p in index.all_pins(machine))


def test_a_second_run_reads_nothing(tmp_path: Path) -> None:
    """Unchanged documents are told by their content and left as they are."""
    draw_manual(tmp_path / "a.pdf")
    draw_manual(tmp_path / "sub" / "b.pdf", "C2")
    first = _index(tmp_path)
    assert (first.documents_read, first.documents_unchanged, first.pins) == (2, 0, 6)
    stored = _stored(tmp_path)
    second = _index(tmp_path)
    assert (second.documents_read, second.documents_unchanged, second.pages_read) == (0, 2, 0)
    assert _stored(tmp_path) == stored


def test_a_changed_document_is_read_again_and_only_it(tmp_path: Path) -> None:
    """New content under an old name takes the place of the old rows."""
    draw_manual(tmp_path / "a.pdf", "C1", "1440")
    draw_manual(tmp_path / "b.pdf", "C2", "1500")
    _index(tmp_path)
    draw_manual(tmp_path / "a.pdf", "C1", "1999")
    again = _index(tmp_path)
    assert (again.documents_read, again.documents_unchanged) == (1, 1)
    circuits = {circuit for _, _, _, circuit in _stored(tmp_path)}
    assert circuits == {"1999", "1500", "3001", "1001"}


def test_a_moved_document_keeps_its_rows_under_its_new_name(tmp_path: Path) -> None:
    """A renamed file is the same document: it is not read again, and the old name is gone."""
    draw_manual(tmp_path / "a.pdf")
    _index(tmp_path)
    (tmp_path / "a.pdf").rename(tmp_path / "z.pdf")
    again = _index(tmp_path)
    assert {document for _, document, _, _ in _stored(tmp_path)} == {"z.pdf"}
    assert len(_stored(tmp_path)) == 3
    assert (again.documents_read, again.documents_unchanged) == (0, 1)


def test_a_deleted_document_is_forgotten_and_said(tmp_path: Path) -> None:
    """What is no longer there answers nothing, and the summary names it."""
    draw_manual(tmp_path / "a.pdf", "C1")
    draw_manual(tmp_path / "b.pdf", "C2")
    _index(tmp_path)
    (tmp_path / "b.pdf").unlink()
    again = _index(tmp_path)
    assert again.documents_forgotten == ("b.pdf",)
    assert {connector for _, _, connector, _ in _stored(tmp_path)} == {"C1"}


def test_two_machines_are_kept_apart(tmp_path: Path) -> None:
    """One file indexed for two machines is two documents; forgetting asks only for its own machine."""
    one, two = (
        draw_manual(tmp_path / "one" / "a.pdf"),
        draw_manual(tmp_path / "two" / "a.pdf", circuit="1500"),
    )
    _index(tmp_path, one, machine="forklift")
    _index(tmp_path, two, machine="crane")
    assert len(_stored(tmp_path, "forklift")) == len(_stored(tmp_path, "crane")) == 3
    two.unlink()
    again = _index(tmp_path, one, machine="forklift")
    assert (again.documents_unchanged, again.documents_forgotten) == (1, ())
    assert len(_stored(tmp_path, "crane")) == 3
    both = _index(tmp_path, one, machine="crane")
    assert both.documents_forgotten == ("a.pdf",)
    assert {circuit for _, _, _, circuit in _stored(tmp_path, "crane")} == {"1440", "3001", "1001"}


def test_two_files_of_one_name_are_told_apart_by_their_folders(tmp_path: Path) -> None:
    """An answer that names a document names one file."""
    draw_manual(tmp_path / "front" / "wiring.pdf", "C1")
    draw_manual(tmp_path / "rear" / "wiring.pdf", "C2")
    _index(tmp_path)
    assert {document for _, document, _, _ in _stored(tmp_path)} == {"front/wiring.pdf", "rear/wiring.pdf"}


def test_broken_files_are_named_while_the_others_go_on(tmp_path: Path) -> None:
    """Each file that cannot be read gets one sentence with its name; the good one is stored."""
    (tmp_path / "empty.pdf").write_bytes(b"")
    (tmp_path / "letter.pdf").write_bytes(b"Dear reader, this is no document of that kind.")
    good = draw_manual(tmp_path / "good.pdf").read_bytes()
    (tmp_path / "half.pdf").write_bytes(good[: len(good) // 3])
    told: list[str] = []
    summary = _index(tmp_path, on_message=told.append)
    assert (summary.documents_read, summary.pins) == (1, 3)
    named = {Path(p.path).name: p.message for p in summary.problems}
    assert set(named) >= {"empty.pdf", "letter.pdf"}
    assert set(named) <= {"empty.pdf", "letter.pdf", "half.pdf"}
    assert all(name in message and "\n" not in message for name, message in named.items())
    assert told == [p.message for p in summary.problems]


def test_unread_pages_stand_in_summary_and_index(tmp_path: Path) -> None:
    """A page of pictures is named by document and page, now and at every later look-up."""
    shutil.copy(MANUALS / f"{SCAN}.pdf", tmp_path / "scan.pdf")
    summary = _index(tmp_path)
    assert [(n.document, n.page) for n in summary.unread] == [("scan.pdf", 1)]
    with Index.open(Workspace(tmp_path)) as index:
        assert [(n.document, n.page) for n in index.unread_pages()] == [("scan.pdf", 1)]


def test_progress_comes_to_its_end(tmp_path: Path) -> None:
    """Pages done never go back, and end at the number that was announced."""
    draw_manual(tmp_path / "a.pdf", pages=3)
    draw_manual(tmp_path / "b.pdf", "D1")
    seen: list[tuple[int, int]] = []
    _index(tmp_path, on_progress=lambda now: seen.append((now.pages_done, now.pages_total)))
    assert seen == sorted(seen)
    assert seen[-1] == (4, 4)


def test_files_are_found_once_and_in_a_stable_order(tmp_path: Path) -> None:
    """A file named and lying in a named folder is one file; the suffix may be written large."""
    large, small = draw_manual(tmp_path / "B.PDF"), draw_manual(tmp_path / "sub" / "a.pdf")
    (tmp_path / "notes.txt").write_text("no document", encoding="utf-8")
    assert list(find_pdfs([tmp_path, small, large])) == [large, small]
    with pytest.raises(UsageError, match="nowhere"):
        list(find_pdfs([tmp_path / "nowhere"]))


_RUN = (
    "import sys\n"
    "from pathlib import Path\n"
    "from xref.pipeline import index_paths\n"
    "from xref.settings import Settings\n"
    "from xref.workspace import Workspace\n"
    "if __name__ == '__main__':\n"
    "    folder = Path(sys.argv[1])\n"
    "    def say(now):\n"
    "        print(now.document, now.page, flush=True)\n"
    "    index_paths([folder], Workspace(folder), settings=Settings(workers=1), on_progress=say)\n"
)


@pytest.mark.long
def test_killed_while_indexing_whole_documents_remain_and_the_next_run_goes_on(tmp_path: Path) -> None:
    """Killed in its second document, the index holds the first one whole, and only the rest is read later."""
    folder = tmp_path / "manuals"
    draw_manual(folder / "a.pdf", "C1", pages=2)
    draw_manual(folder / "b.pdf", "D1", pages=100)
    script = tmp_path / "run.py"
    script.write_text(_RUN, encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, str(script), str(folder)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        encoding="utf-8",
    )
    assert process.stdout is not None
    while not (line := process.stdout.readline()).startswith("b.pdf"):
        assert line, "ended before it could be killed"
    workers = psutil.Process(process.pid).children(recursive=True)
    process.kill()
    process.wait(timeout=60)
    for worker in workers:
        if worker.is_running():
            worker.kill()
    with Index.open(Workspace(folder)) as index:
        (document,) = index.documents()
        assert (document.name, document.pages) == ("a.pdf", 2)
        assert len(list(index.all_pins())) == 6 and len(index.page_notes()) == 2
    rest = _index(folder)
    assert (rest.documents_read, rest.documents_unchanged) == (1, 1)
    assert len(_stored(folder)) == 306


def test_a_key_in_a_paragraph_of_notes_is_the_document_s_key(tmp_path: Path) -> None:
    """Codes are read by a key that stands among notes, on a page of its own, set over two lines."""
    page = Page(tmp_path / "a.pdf").heading("Notes").line("Take the battery off before any work.")
    page.line("Wire colours: GR = green, GY = grey, BR = brown, BL =").line(
        "blue, SW = black. Splices are sealed."
    )
    page.line("Do not pinch a harness.").next().heading("Connector X5 - Pump controller")
    page.ruled(
        (
            ("Cavity", "Color", "Circuit", "Function"),
            ("1", "GR", "1440", "Lamp"),
            ("2", "BR/BL", "1441", "Horn"),
            ("3", "SW", "1442", "Fan"),
        ),
        (60, 80, 70, 150),
    )
    reading = read_document(page.save())
    assert [(p.base_color, p.stripe_color) for p in reading.pins] == [
        ("green", ""),
        ("brown", "blue"),
        ("black", ""),
    ]
    assert reading.document.scheme == "key"
