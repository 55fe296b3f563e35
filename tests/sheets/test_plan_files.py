"""A plan to work by, read back by programs that did not write it: PyMuPDF, openpyxl, html.parser, csv."""

from __future__ import annotations

import csv
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pymupdf
import pytest

from tests.moves.winch import AFT, WINCH, at, planned, wire
from xref.errors import UsageError
from xref.moves.metering import readings_of
from xref.moves.records import Plan
from xref.records import PageNote
from xref.sheets.plan import PLAN_SUFFIXES, write_plan
from xref.sheets.printed_plan import PLAN_TICKS

CAUTION = "Meter every wire before cutting."
ATTACK = "<script>alert(1)</script>&amp;<b>x</b>"
FORMULA = '=HYPERLINK("x")'
UNREAD = (PageNote(document="loom.pdf", page=7, page_label="", outcome="unread", why="only a picture"),)
BOTH = AFT + '[drop]\ncomponents = ["Lamp"]\n[safety]\naccepted = ["Brake light switch"]\n'


class Text(HTMLParser):
    """Collects text, tags and addresses of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.text = ""
        self.tags: Counter[str] = Counter()
        self.sources: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Count the tag."""
        self.tags[tag] += 1
        self.sources += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        """Keep the text."""
        self.text += " " + " ".join(data.split())


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The winch with a wire whose texts attack what reads them."""
    folder = tmp_path_factory.mktemp("plan")
    more = wire("130", "pink", ATTACK, at("A1", "8", "Winch controller"), at("Z1", "1", FORMULA))
    return planned(folder, BOTH, *more)


@pytest.fixture(scope="module")
def files(plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The plan in every format."""
    folder = tmp_path_factory.mktemp("files")
    found = {suffix: folder / f"plan{suffix}" for suffix in PLAN_SUFFIXES}
    for path in found.values():
        write_plan(plan, path, unread=UNREAD)
    return found


def pdf_pages(path: Path) -> list[str]:
    """Return the text of every page with white space folded."""
    with pymupdf.open(path) as document:
        return [" ".join(page.get_text().split()) for page in document]


def everything(files: dict[str, Path]) -> dict[str, str]:
    """Return all text of every format."""
    html = Text()
    html.feed(files[".html"].read_text(encoding="utf-8"))
    book = openpyxl.load_workbook(files[".xlsx"])
    cells = [str(cell) for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row if cell]
    return {
        ".pdf": " ".join(pdf_pages(files[".pdf"])),
        ".html": html.text,
        ".xlsx": " ".join(" ".join(cells).split()),
        ".csv": " ".join(files[".csv"].read_text(encoding="utf-8").split()),
    }


def test_every_format_holds_every_cut_with_both_labels(plan: Plan, files: dict[str, Path]) -> None:
    """Id, labels, joint and the way to meter it stand in all four files."""
    for suffix, text in everything(files).items():
        folded = text.replace(" ", "").replace("\u00ad", "")
        for cut in plan.cuts:
            for label in cut.labels:
                assert label.replace(" ", "") in folded, (suffix, label)
        for join in plan.joins:
            assert join.id in text, (suffix, join.id)
        assert "green with yellow stripe" in text, suffix


def test_every_format_says_cautions_counts_and_questions(plan: Plan, files: dict[str, Path]) -> None:
    """What must be said before a cut is in every file, with how each figure was got."""
    for suffix, text in everything(files).items():
        squeezed = text.replace('""', '"').replace(" ", "")
        for caution in plan.cautions:
            assert caution.replace(" ", "") in squeezed, suffix
        for question in plan.questions:
            assert question.text.replace(" ", "") in squeezed, (suffix, question.text)
        assert "counted" in text and "estimated" in text and "onlyapicture" in squeezed, suffix
        assert "Nevercutbythisplan" in squeezed or "refused" in text, suffix
        assert "105" in text and "airbag" in text, suffix


def test_the_caution_stands_on_every_page_and_worksheet(files: dict[str, Path]) -> None:
    """No sheet that may lie alone on a bench is without it."""
    pages = pdf_pages(files[".pdf"])
    assert len(pages) > 2 and all(CAUTION in page for page in pages)
    assert all(f"page {n} of {len(pages)}" in page for n, page in enumerate(pages, start=1))
    for sheet in openpyxl.load_workbook(files[".xlsx"]):
        assert CAUTION in str(sheet["A1"].value) and CAUTION in str(sheet.oddFooter.left.text), sheet.title
        assert sheet.print_title_rows == "$1:$2" and sheet.print_area
    html = files[".html"].read_text(encoding="utf-8")
    assert html.count(CAUTION) > 3 and "@bottom-left" in html


def test_there_is_a_box_for_every_step_of_every_cut(plan: Plan, files: dict[str, Path]) -> None:
    """Labelled, cut, joined, metered: each can be ticked, and the reading has a field."""
    html = Text()
    html.feed(files[".html"].read_text(encoding="utf-8"))
    fields = len(plan.cuts) + 2 * len(readings_of(plan))
    assert html.tags["input"] >= len(PLAN_TICKS) * len(plan.cuts) + fields
    work = openpyxl.load_workbook(files[".xlsx"])["Work"]
    boxes = [cell for row in work.iter_rows(values_only=True) for cell in row if cell == "☐"]
    assert len(boxes) == len(PLAN_TICKS) * len(plan.cuts)
    with pymupdf.open(files[".pdf"]) as document:
        squares = sum(
            1
            for page in document
            for path in page.get_drawings()
            if path["type"] == "s"
            and abs(path["rect"].width - 16) < 0.5
            and abs(path["rect"].height - 16) < 0.5
        )
        reads = sum(page.get_text().count("reads") for page in document)
    assert squares >= len(PLAN_TICKS) * len(plan.cuts) and reads >= len(plan.cuts)


def test_csv_has_a_row_for_every_line_and_runs_nothing(plan: Plan, files: dict[str, Path]) -> None:
    """One row a cut, each list under its kind; a cell that looks like a formula is a text."""
    with files[".csv"].open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    kinds = Counter(row["kind"] for row in rows)
    assert (kinds["cut"], kinds["question"]) == (len(plan.cuts), len(plan.questions))
    assert kinds["cap"] == len(plan.caps) and kinds["refused"] == len(plan.refused) + 1
    assert not [cell for row in rows for cell in row.values() if (cell or "").startswith(("=", "+", "@"))]
    (odd,) = [row for row in rows if row["circuit"] == "130" and row["kind"] == "cut"]
    assert odd["color"] == "pink" and odd["label_plug"] and odd["label_loom"]


def test_texts_of_a_manual_are_shown_and_never_obeyed(files: dict[str, Path]) -> None:
    """No tag, no script, no outside address comes from a document."""
    html = Text()
    html.feed(files[".html"].read_text(encoding="utf-8"))
    assert not html.tags["script"] and not html.sources
    book = openpyxl.load_workbook(files[".xlsx"])
    assert not [c for sheet in book for row in sheet.iter_rows() for c in row if c.data_type == "f"]


def test_an_empty_plan_says_that_nothing_is_cut(tmp_path: Path) -> None:
    """Nothing moves: the files say so and hold the cautions, in every format."""
    plan = planned(tmp_path, "")
    for suffix in PLAN_SUFFIXES:
        write_plan(plan, tmp_path / f"empty{suffix}")
    assert "nothing is cut" in pdf_pages(tmp_path / "empty.pdf")[0]
    assert "nothing is cut" in (tmp_path / "empty.html").read_text(encoding="utf-8")
    assert "nothing is cut" in (tmp_path / "empty.csv").read_text(encoding="utf-8")
    with pytest.raises(UsageError, match="is written as"):
        write_plan(plan, tmp_path / "plan.docx")


def test_texts_longer_than_a_page_are_printed_and_not_lost(tmp_path: Path) -> None:
    """A hostile manual's endless names and answers make long lines, no fault and no missing page."""
    far = "Z" * 390
    more = wire("9" * 120, "red", "x" * 3000, at("A1", "8", "Winch controller"), at(far, "1", "Comp " * 200))
    host = 'rest = "left behind"\n' + AFT
    plan = planned(tmp_path, host + '[host]\n"A1:1" = "' + "long answer " * 400 + '"\n', *more)
    write_plan(plan, tmp_path / "long.pdf")
    text = "".join(pdf_pages(tmp_path / "long.pdf"))
    assert text.replace(" ", "").count("longanswer") >= 400
    assert text.count("Z") > 700 and all(CAUTION in page for page in pdf_pages(tmp_path / "long.pdf"))


def test_every_format_shows_bus_pairs_and_all_feeds_and_grounds(tmp_path: Path) -> None:
    """Order, terminators, ohms with what is assumed, and each supply before and after."""
    more = [
        *wire("2501", "yellow", "CAN high", at("A1", "11", WINCH), at("T1", "1", "Terminator aft")),
        *wire("2502", "green", "CAN low", at("A1", "12", WINCH), at("T1", "2", "Terminator aft")),
    ]
    plan = planned(tmp_path, AFT, *more)
    found = {suffix: tmp_path / f"bus{suffix}" for suffix in PLAN_SUFFIXES}
    for path in found.values():
        write_plan(plan, path)
    for suffix, text in everything(found).items():
        squeezed = text.replace(" ", "")
        said = [
            "2501 / 2502",
            "120 ohm (108-132)",
            "in no table",
            "feeds before 1, after 1",
            "two terminators",
        ]
        assert not [word for word in said if word.replace(" ", "") not in squeezed], suffix
