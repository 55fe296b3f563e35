"""`--picture` and `xref sheet`: what leaves as files, against a page drawn for the test."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from tests.cli.sample import fill
from tests.conftest import RunXref


def _manual(path: Path) -> Path:
    canvas = Canvas(str(path), pagesize=(595, 842))
    canvas.drawString(60, 842 - 132, "7  BU/YE  1440")
    canvas.showPage()
    canvas.showPage()
    canvas.save()
    return path


def test_a_picture_shows_the_page_with_its_rows_marked(xref: RunXref, tmp_path: Path) -> None:
    """The picture has the page's shape, and the band lies on the row and not beside it."""
    fill(tmp_path, path=_manual(tmp_path / "loom.pdf"))
    done = xref("circuit", "1440", "--picture", "marked.png")
    assert done.returncode == 0, done.stderr
    assert "marked.png: loom.pdf p. 1, 3 rows marked" in done.stderr
    image = Image.open(tmp_path / "marked.png").convert("RGB")
    assert abs(image.width / image.height - 595 / 842) < 0.01
    scale = image.width / 595
    on_row, beside = image.getpixel((int(300 * scale), int(130 * scale))), image.getpixel((5, 5))
    assert beside == (255, 255, 255)
    assert on_row != beside


@pytest.mark.parametrize("change", ["gone", "changed"])
def test_no_mark_is_drawn_on_another_page_than_was_read(xref: RunXref, tmp_path: Path, change: str) -> None:
    """A document that is gone or changed gives a sentence and exit code 2, never a misplaced mark."""
    manual = _manual(tmp_path / "loom.pdf")
    fill(tmp_path, path=manual)
    if change == "gone":
        manual.unlink()
    else:
        manual.write_bytes(manual.read_bytes() + b"\n% changed")
    done = xref("circuit", "1440", "--picture", "marked.png")
    assert done.returncode == 2
    assert "Run xref index" in done.stderr and "Traceback" not in done.stderr
    assert not (tmp_path / "marked.png").exists()


def test_a_picture_that_cannot_be_drawn_leaves_one_json_object(xref: RunXref, tmp_path: Path) -> None:
    """With --json stdout holds exactly one object, the answer or the error."""
    fill(tmp_path)
    done = xref("circuit", "1440", "--json", "--picture", "marked.png")
    assert done.returncode == 2
    assert set(json.loads(done.stdout)) == {"error"}


def test_a_picture_is_a_png(xref: RunXref, tmp_path: Path) -> None:
    """Another ending is wrong use."""
    fill(tmp_path, path=_manual(tmp_path / "loom.pdf"))
    assert xref("circuit", "1440", "--picture", "marked.jpg").returncode == 2


@pytest.mark.parametrize("suffix", [".pdf", ".xlsx", ".html", ".csv"])
def test_a_sheet_is_written_and_what_was_taken_is_said(xref: RunXref, tmp_path: Path, suffix: str) -> None:
    """The sheet of a module exists, and which connectors stand for it is on stdout."""
    fill(tmp_path, path=_manual(tmp_path / "loom.pdf"))
    done = xref("sheet", "Mast controller", "-o", f"sheet{suffix}")
    assert done.returncode == 0, done.stderr
    assert (tmp_path / f"sheet{suffix}").stat().st_size > 500
    assert "M12 X1" in done.stdout
    answer = json.loads(xref("sheet", "Mast controller", "-o", f"sheet{suffix}", "--json").stdout)
    assert [item["connector"] for item in answer["taken"]] == ["M12 X1"]
    assert answer["lines"] >= 2


def test_a_module_that_is_nowhere_makes_no_file(xref: RunXref, tmp_path: Path) -> None:
    """Nothing taken, nothing written, exit code 1."""
    fill(tmp_path)
    done = xref("sheet", "Flux capacitor", "-o", "sheet.pdf")
    assert done.returncode == 1, done.stderr
    assert not (tmp_path / "sheet.pdf").exists()
