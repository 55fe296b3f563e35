"""Labels as files, measured with other programs than wrote them: true scale, every word."""

from __future__ import annotations

import csv
import struct
from pathlib import Path

import pymupdf
import pytest
from openpyxl import load_workbook
from PIL import Image

from xref.errors import UsageError
from xref.moves.label_fit import Kind, Label, Tape, labelled
from xref.moves.labels import WireEnd
from xref.records import Pin
from xref.sheets.labels import measure, write_labels

MM = 25.4 / 72
#: A tenth of a millimetre: below what a tape cutter or printer keeps.
NEAR = 0.1


def ends(sizes: tuple[float, ...] = (0.35, 0.5, 1.5, 6.0) * 3) -> list[WireEnd]:
    """Make wire ends of several sizes; one of a circuit that a spreadsheet would run."""
    return [
        WireEnd(
            order=number,
            id=f"FMT{number}P",
            text=f"FMT{number} +24V B16:{number}>A30 X1:B3",
            head=(f"FMT{number}", "+24V"),
            way=(f"B16:{number}", ">A30 X1:B3"),
            color="wht/pink",
            cut=f"FMT{number}",
            side="plug",
            place="",
            pin=Pin(document="m.pdf", page=1, connector="B16", cavity=str(number), circuit="+24V"),
            size_mm2=size,
            color_code="WH-PK",
        )
        for number, size in enumerate(sizes, start=1)
    ]


def made(kind: Kind = "flag", **tape: float) -> tuple[Label, ...]:
    """Make labels on a tape."""
    return labelled(ends(), Tape(kind=kind, **tape), measure)  # type: ignore[arg-type]


@pytest.mark.parametrize(("kind", "width"), [("flag", 12.0), ("flag", 18.0), ("sleeve", 9.0), ("wrap", 24.0)])
def test_each_page_of_a_tape_is_one_label_at_true_size(tmp_path: Path, kind: Kind, width: float) -> None:
    """As long as the label and as high as the tape; nothing stands outside."""
    labels = made(kind, width_mm=width)
    assert all(label.fits for label in labels)
    (path,) = write_labels(labels, tmp_path / "labels.pdf", title="t")
    with pymupdf.open(path) as document:
        assert len(document) == len(labels)
        for page, label in zip(document, labels, strict=True):
            assert page.rect.width * MM == pytest.approx(label.length_mm, abs=NEAR)
            assert page.rect.height * MM == pytest.approx(width, abs=NEAR)
            boxes = [pymupdf.Rect(word[:4]) for word in page.get_text("words")]
            assert boxes and all(_grown(page.rect, 1).contains(box) for box in boxes)


def _grown(box: pymupdf.Rect, by: float) -> pymupdf.Rect:
    return pymupdf.Rect(box.x0 - by, box.y0 - by, box.x1 + by, box.y1 + by)


def test_a_flag_bears_its_text_on_both_halves(tmp_path: Path) -> None:
    """Each half holds every word, and neither reaches into the turn round the wire."""
    labels = made()
    (path,) = write_labels(labels, tmp_path / "labels.pdf", title="t")
    with pymupdf.open(path) as document:
        for page, label in zip(document, labels, strict=True):
            words = page.get_text("words")
            turn = (20.0, label.length_mm - 20.0)
            left = [word[4] for word in words if word[2] * MM <= turn[0]]
            right = [word[4] for word in words if word[0] * MM >= turn[1]]
            assert len(left) + len(right) == len(words)
            assert sorted(left) == sorted(right)
            assert sorted(left) == sorted(" ".join(line.text for line in label.lines).split())


def test_type_is_never_smaller_than_six_points(tmp_path: Path) -> None:
    """What is set smaller is not read under a dash."""
    (path,) = write_labels(made(width_mm=9.0), tmp_path / "labels.pdf", title="t")
    with pymupdf.open(path) as document:
        sizes = [
            span["size"]
            for page in document
            for block in page.get_text("dict")["blocks"]
            for line in block.get("lines", ())
            for span in line["spans"]
        ]
    assert sizes and min(sizes) >= 6.0 - 1e-3


def test_a_wrap_reads_along_the_wire(tmp_path: Path) -> None:
    """Its lines run across the tape, within the first turn; the tail stays clear."""
    labels = [label for label in made("wrap", width_mm=24.0) if label.kind == "wrap"]
    assert labels
    (path,) = write_labels(labels, tmp_path / "labels.pdf", title="t")
    with pymupdf.open(path) as document:
        for page, label in zip(document, labels, strict=True):
            for block in page.get_text("dict")["blocks"]:
                for line in block.get("lines", ()):
                    assert line["dir"] == pytest.approx((0, -1))
                    assert line["bbox"][2] * MM <= label.length_mm / 2 + 0.5


@pytest.mark.parametrize(("sheet", "wide", "high"), [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)])
def test_a_sheet_holds_labels_to_be_cut_apart(tmp_path: Path, sheet: str, wide: float, high: float) -> None:
    """Paper size, an outline of each label at true size, none over another, and a bar to check the scale."""
    labels = made() * 12
    (path,) = write_labels(labels, tmp_path / "labels.pdf", title="Labels of plan.toml", sheet=sheet)
    outlines = 0
    with pymupdf.open(path) as document:
        for page in document:
            assert (page.rect.width * MM, page.rect.height * MM) == pytest.approx((wide, high), abs=NEAR)
            drawings = page.get_drawings()
            boxes = [
                drawing["rect"]
                for drawing in drawings
                if drawing["rect"].height * MM == pytest.approx(12.0, abs=NEAR)
            ]
            lengths = sorted({label.length_mm for label in labels})
            for box in boxes:
                assert any(box.width * MM == pytest.approx(length, abs=NEAR) for length in lengths)
                assert box in page.rect
            for number, box in enumerate(boxes):
                inner = _grown(box, -0.5)
                assert not any(inner.intersects(other) for other in boxes[number + 1 :])
            outlines += len(boxes)
            assert any(drawing["rect"].width * MM == pytest.approx(50.0, abs=NEAR) for drawing in drawings)
            assert "this bar is 50 mm" in page.get_text()
    assert outlines == len(labels)


def test_a_label_larger_than_the_sheet_is_refused(tmp_path: Path) -> None:
    """Nothing is made smaller in silence."""
    with pytest.raises(UsageError, match="A4"):
        write_labels(made(flag_mm=120.0), tmp_path / "labels.pdf", title="t", sheet="A4")
    assert not list(tmp_path.iterdir())


def _physical(path: Path) -> tuple[int, int, int, int, int]:
    """Read width and height in dots, dots per metre both ways and the unit from a PNG's own chunks.

    Source: PNG specification, IHDR and pHYs chunks.
    """
    data = path.read_bytes()
    wide, high = struct.unpack(">II", data[16:24])
    at = data.index(b"pHYs") + 4
    return (wide, high, *struct.unpack(">IIB", data[at : at + 9]))


def test_a_picture_of_tape_has_its_true_size(tmp_path: Path) -> None:
    """300 dots per inch, said in the file; all strips together as long as the tape, each not over a metre."""
    labels = made() * 4
    paths = write_labels(labels, tmp_path / "labels.png", title="t")
    assert [path.name for path in paths] == ["labels.png", "labels-2.png", "labels-3.png"]
    total = 0.0
    for path in paths:
        wide, high, across, down, unit = _physical(path)
        assert (across, down, unit) == (11811, 11811, 1)
        assert high / down * 1000 == pytest.approx(12.0, abs=NEAR)
        assert wide / across <= 1.0
        total += wide / across * 1000
    assert total == pytest.approx(sum(label.length_mm for label in labels), abs=NEAR * len(paths))


def test_a_picture_of_a_sheet_has_its_true_size(tmp_path: Path) -> None:
    """A4 at 300 dots per inch is 2480 × 3508 dots."""
    (path,) = write_labels(made(), tmp_path / "labels.png", title="t", sheet="A4")
    with Image.open(path) as image:
        assert image.size == (2480, 3508)
        assert image.info["dpi"] == pytest.approx((300, 300), abs=0.01)


def test_what_does_not_fit_is_crossed_out(tmp_path: Path) -> None:
    """Its id stands there, no half of its text does, and a cross on each half says it is no label."""
    (label,) = labelled(ends((0.5,)), Tape(width_mm=6.0), measure)
    assert not label.fits
    (path,) = write_labels([label], tmp_path / "labels.pdf", title="t")
    with pymupdf.open(path) as document:
        page = document[0]
        assert page.get_text().split() == ["FMT1", "FMT1"]
        slanted = [d for d in page.get_drawings() if d["rect"].width > 20 and d["rect"].height > 5]
        assert len(slanted) == 4


def test_the_table_holds_every_line_and_length(tmp_path: Path) -> None:
    """CSV and XLSX hold the same rows, one per label."""
    labels = made()
    (path,) = write_labels(labels, tmp_path / "labels.csv", title="t", plain=True)
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [int(row["order"]) for row in rows] == list(range(1, len(labels) + 1))
    for row, label in zip(rows, labels, strict=True):
        lines = [row[name] for name in row if name.startswith("line_") and row[name]]
        assert lines == [line.text for line in label.lines]
        assert float(row["length_mm"]) == label.length_mm
        assert (row["id"], row["text"]) == (label.end.id, label.end.text)
        assert (row["connector"], row["cavity"], row["side"]) == ("B16", label.end.pin.cavity, "plug")
        assert (row["kind"], row["color_code"], row["does_not_fit"]) == ("flag", "WH-PK", "")
    (book,) = write_labels(labels, tmp_path / "labels.xlsx", title="t")
    sheet = load_workbook(book).active
    assert sheet is not None
    table = [["" if cell is None else str(cell) for cell in row] for row in sheet.iter_rows(values_only=True)]
    assert table == [list(rows[0]), *([row[name] for name in row] for row in rows)]


def test_a_circuit_that_looks_like_a_formula_is_guarded_unless_asked_otherwise(tmp_path: Path) -> None:
    """A spreadsheet shall not run `+24V`; a label printer shall not print the apostrophe."""
    labels = made()
    for plain, shown in ((False, "'+24V"), (True, "+24V")):
        (path,) = write_labels(labels, tmp_path / "labels.csv", title="t", plain=plain)
        with path.open(encoding="utf-8", newline="") as file:
            assert {row["circuit"] for row in csv.DictReader(file)} == {shown}
