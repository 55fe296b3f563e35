"""The module sheet read back by programs that did not write it: PyMuPDF, openpyxl, html.parser, csv."""

from __future__ import annotations

import csv
import dataclasses
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pymupdf
import pytest
from PIL import Image
from sample import LONG, answer, crop, mast_sheet

from xref.errors import UsageError
from xref.harness.answers import ModuleSheet, Near
from xref.records import DOUBTS
from xref.sheets.module import write_module_sheet

#: ISO 216 A4 and ANSI/ASME Y14.1 Letter, lying, in points.
A4, LETTER = (841.89, 595.28), (792.0, 612.0)
CAUTION = "Confirm every wire with a meter before cutting."
WHOLE_CAUTION = (
    "does not replace the maker's instructions",
    "airbag, brake, steering and high-voltage",
    CAUTION,
)
ATTACK = "<script>alert(1)</script>&amp;<b>x</b><font size=90>"


class Text(HTMLParser):
    """Collects text and tags of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.tags: Counter[str] = Counter()
        self.sources: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Count the tag."""
        self.tags[tag] += 1
        self.sources += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        """Keep the text."""
        if data.strip():
            self.parts.append(" ".join(data.split()))


def html_of(path: Path) -> Text:
    """Parse an HTML file."""
    parser = Text()
    parser.feed(path.read_text(encoding="utf-8"))
    return parser


def pdf_text(path: Path) -> str:
    """Return the text of all pages with white space folded."""
    with pymupdf.open(path) as document:
        return " ".join(" ".join(page.get_text() for page in document).split())


def own_circuits(sheet: ModuleSheet) -> Counter[str]:
    """Return every printed circuit of the sheet with how often it must stand."""
    return Counter(line.pin.circuit for part in sheet.parts for line in part.lines if line.pin.circuit)


def test_pdf_has_every_circuit_as_often_as_it_is_wired(written: dict[str, Path]) -> None:
    """Every cavity's circuit stands on paper once for each wire, none is lost between pages."""
    with pymupdf.open(written[".pdf"]) as document:
        words = Counter(word[4] for page in document for word in page.get_text("words"))
    for circuit, times in own_circuits(mast_sheet()).items():
        assert words[circuit] == times, circuit


def test_pdf_has_every_cavity_in_bold_once_a_line(written: dict[str, Path]) -> None:
    """The first column holds each cavity, also unused and unread ones, in bold of at least 12 points."""
    with pymupdf.open(written[".pdf"]) as document:
        spans = [
            span
            for page in document
            for block in page.get_text("dict")["blocks"]
            for line in block.get("lines", ())
            for span in line["spans"]
            if span["bbox"][0] < 80 and span["size"] > 13.5 and "CondensedBo" in span["font"]
        ]
    found = Counter(span["text"].strip() for span in spans)
    expected = Counter(line.pin.cavity for part in mast_sheet().parts for line in part.lines)
    expected["40"] += 1  # stated, but not read
    assert {cavity: found[cavity] for cavity in expected} == dict(expected)


def test_every_pdf_page_has_head_foot_and_number(written: dict[str, Path]) -> None:
    """Page n of m, the caution and the column heads stand on each page with lines on it."""
    with pymupdf.open(written[".pdf"]) as document:
        for number, page in enumerate(document, start=1):
            text = " ".join(page.get_text().split())
            assert f"page {number} of {len(document)}" in text
            assert "Mast controller" in text
            assert CAUTION in text
            for head in ("Cavity", "Circuit", "Other ends", "On the way", "Fed by", "Manual", "labelled"):
                assert head in text, (number, head)


def test_nothing_on_paper_lies_outside_what_a4_and_letter_print(written: dict[str, Path]) -> None:
    """All words keep 12 points within A4 and, centred on it at full size, within US Letter."""
    across = min(A4[0], LETTER[0])
    left = (A4[0] - across) / 2 + 12
    with pymupdf.open(written[".pdf"]) as document:
        for page in document:
            assert abs(page.rect.width - A4[0]) < 0.1
            assert abs(page.rect.height - A4[1]) < 0.1
            for x0, top, x1, bottom, word, *_ in page.get_text("words"):
                assert left <= x0 <= x1 <= A4[0] - left, word
                assert 12 <= top <= bottom <= A4[1] - 12, word


def test_pdf_embeds_fonts_that_have_every_character(written: dict[str, Path]) -> None:
    """German, Japanese and signs come back as text, and every font is inside the file."""
    text = pdf_text(written[".pdf"])
    for said in ("Überdruckschalter", "Größe ½ Ω → 5 V", "マスト制御器", "圧力センサ電源（左）"):
        assert said in text
    with pymupdf.open(written[".pdf"]) as document:
        inside = {
            font[3].split("+")[-1] for page in document for font in page.get_fonts() if font[1] == "ttf"
        }
        used = {
            span["font"]
            for page in document
            for block in page.get_text("dict")["blocks"]
            for line in block.get("lines", ())
            for span in line["spans"]
        }
    assert len(used) >= 4
    assert all(any(name.startswith(font) for name in inside) for font in used), (used, inside)


def test_a_character_no_font_has_is_written_out(tmp_path: Path) -> None:
    """What cannot be drawn shows its code instead of a box."""
    write_module_sheet(with_function("lamp \U0001f9ff on"), tmp_path / "s.pdf")
    assert "lamp [U+1F9FF] on" in pdf_text(tmp_path / "s.pdf")


def with_function(text: str) -> ModuleSheet:
    """Return the second connector's sheet with this function (and more) in its first line."""
    sheet = mast_sheet()
    part = sheet.parts[1]
    line = part.lines[0]
    pin = dataclasses.replace(line.pin, function=text)
    lines = (dataclasses.replace(line, pin=pin), *part.lines[1:])
    return dataclasses.replace(sheet, parts=(dataclasses.replace(part, lines=lines),))


def test_swatches_are_drawn_with_base_stripe_and_outline(written: dict[str, Path]) -> None:
    """A red wire with a yellow stripe is a red area with a yellow band, outlined in black."""
    with pymupdf.open(written[".pdf"]) as document:
        drawings = document[0].get_drawings()
    red = [d["rect"] for d in drawings if d.get("fill") == (1.0, 0.0, 0.0) and d["rect"].width > 20]
    yellow = [d["rect"] for d in drawings if d.get("fill") == (1.0, 1.0, 0.0)]
    assert red
    assert any(band in area for band in yellow for area in red)
    assert any(d["type"] == "s" and d["rect"].intersects(red[0]) for d in drawings)


@pytest.mark.parametrize("suffix", [".pdf", ".html", ".xlsx", ".csv"])
def test_every_format_says_the_same(suffix: str, written: dict[str, Path]) -> None:
    """Caution, choice of connectors, counts, doubts, ends, fuses and colours stand in every format."""
    text = all_text(written[suffix])
    for said in (
        *WHOLE_CAUTION,
        "Mast lamp",
        "another component whose name begins alike",
        "same designator M12",
        "only a picture",
        "drive-and-body.pdf",
        "view not stated",
        "from the wire side",
        DOUBTS["readings-disagree"],
        DOUBTS["under-watermark"],
        DOUBTS["heading-uncertain"],
        "no row of it could be read",
        "blue with white stripe and red ring",
        "colour not known",
        "Cavities 2, 12, 22",
        "COLOURS REVERSED in cavity 3",
        "SAME COLOURS as cavity 12, 22",
        "wire 2 of 2 in this cavity",
        "P35 X2:8",
        "Pump motor controller 6",
        "X7:12",
        "only half A in the documents",
        "continues as 1452 beyond",
        "splice S14",
        "F12:1 10 A",
        "not fitted",
        "no circuit number to follow",
        "Found in the plug",
        "Left mast foot, behind the cover",
        LONG,
    ):
        assert squeezed(said) in squeezed(text), said


def all_text(path: Path) -> str:
    """Return all text of a sheet in any format."""
    if path.suffix == ".pdf":
        return pdf_text(path)
    if path.suffix == ".html":
        return " ".join(html_of(path).parts)
    if path.suffix == ".xlsx":
        sheet = openpyxl.load_workbook(path).active
        return " ".join(str(cell.value) for row in sheet for cell in row if cell.value is not None)
    with path.open(encoding="utf-8", newline="") as file:
        return " ".join(cell for row in csv.reader(file) for cell in row)


def squeezed(text: str) -> str:
    """Return the text without white space: lines break where a format likes."""
    return "".join(text.split())


def test_counts_are_stated(written: dict[str, Path]) -> None:
    """Stated, read, not fitted and missing are numbers beside their words."""
    text = all_text(written[".csv"])
    for said in (
        "cavities stated: 40",
        "read: 39",
        "not fitted: 1",
        "missing: 1",
        "cavities stated: not stated",
    ):
        assert said in text


@pytest.mark.parametrize("suffix", [".html", ".pdf", ".xlsx", ".csv"])
def test_text_of_a_manual_is_shown_not_obeyed(suffix: str, tmp_path: Path) -> None:
    """Markup, control characters and formulas in a manual's text stay text."""
    path = tmp_path / f"s{suffix}"
    sheet = with_function(f"{ATTACK}\x00\x1b[31m")
    sheet = dataclasses.replace(sheet, asked=(f"=cmd {ATTACK}",), not_taken=(Near(name=ATTACK, why=ATTACK),))
    write_module_sheet(sheet, path)
    text = all_text(path)
    assert squeezed(text).count(squeezed(ATTACK)) >= 3
    assert "\x1b" not in text
    if suffix == ".html":
        page = html_of(path)
        assert page.tags["script"] == 0
        assert page.tags["font"] == 0


def test_html_needs_nothing_else(written: dict[str, Path]) -> None:
    """The page holds its pictures and points to no other place."""
    page = html_of(written[".html"])
    assert page.tags["img"] == 2
    assert all(source.startswith("data:image/png;base64,") for source in page.sources)
    assert page.tags["link"] == page.tags["script"] == 0
    assert page.tags["svg"] == sum(bool(line.pin.color_code) for p in mast_sheet().parts for line in p.lines)


def test_workbook_prints_and_is_text(written: dict[str, Path]) -> None:
    """Heads are frozen and repeated in print, the width fits a page, colours are fills, circuits text."""
    sheet = openpyxl.load_workbook(written[".xlsx"]).active
    assert sheet.freeze_panes == "A3"
    assert sheet.print_title_rows == "$1:$2"
    assert sheet.page_setup.fitToWidth == 1
    assert sheet.page_setup.fitToHeight == 0
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.page_setup.orientation == "landscape"
    assert CAUTION in sheet.oddFooter.left.text
    heads = [cell.value for cell in sheet[2]]
    row = next(row for row in sheet if row[2].value == "1402")
    assert row[2].data_type == "s"
    assert [row[heads.index(part)].value for part in ("Base", "Stripe", "Ring")] == ["red", "yellow", None]
    assert row[heads.index("Base")].fill.fgColor.rgb[-6:] == "FF0000"
    assert row[heads.index("Stripe")].fill.fgColor.rgb[-6:] == "FFFF00"
    assert [row[heads.index(step)].value for step in ("cut", "labelled", "joined", "tested")] == ["☐"] * 4
    assert len(sheet._images) == 2


def test_a_monstrous_sheet_still_comes_out(tmp_path: Path) -> None:
    """A hundred ends, a text of pages, a word without a break and a huge picture lose nothing on paper."""
    sheet = mast_sheet()
    part = sheet.parts[0]
    first, second, third, fourth, *rest = part.lines
    lines = (
        dataclasses.replace(first, others=answer(first.pin, 100, 30)),
        dataclasses.replace(
            second, pin=dataclasses.replace(second.pin, function="word " * 1500 + "end-of-it")
        ),
        dataclasses.replace(third, pin=dataclasses.replace(third.pin, function="X_" * 300, circuit="9" * 40)),
        dataclasses.replace(fourth, pin=dataclasses.replace(fourth.pin, flags=tuple(DOUBTS))),
        *rest[:3],
    )
    sheet = dataclasses.replace(
        sheet,
        parts=(dataclasses.replace(part, lines=lines),),
        taken=tuple((f"M{n}", "a reason " * 20) for n in range(60)),
    )
    write_module_sheet(sheet, tmp_path / "s.pdf", pictures=lambda pin: Image.new("RGB", (3000, 2000), "grey"))
    text = squeezed(pdf_text(tmp_path / "s.pdf"))
    assert "P129X2:102" in text
    assert "end-of-it" in text
    assert "9" * 40 in text
    assert "M59" in text


def test_pictures_are_asked_for_doubtful_lines_only(tmp_path: Path) -> None:
    """A crop is made for each line in doubt and for no other."""
    asked = []

    def ask(pin):  # type: ignore[no-untyped-def]
        asked.append(pin.circuit)
        return crop(pin)

    write_module_sheet(mast_sheet(), tmp_path / "s.html", pictures=ask)
    assert asked == ["1435A", "1402"]


def test_unknown_suffix_names_the_four(tmp_path: Path) -> None:
    """A sheet's suffix is one of four, said in the message."""
    with pytest.raises(UsageError, match=r"\.pdf, \.xlsx, \.html or \.csv"):
        write_module_sheet(mast_sheet(), tmp_path / "s.docx")
