"""Exported tables: columns, formula guard, atomic writing, memory."""

from __future__ import annotations

import csv
import json
import tracemalloc
from pathlib import Path

import openpyxl
import pytest

from xref.errors import CannotWrite, UsageError
from xref.records import COLUMNS, Pin
from xref.sheets.table import export_pins, export_table


def a_pin(**more: object) -> Pin:
    """Return a pin with the least it must have."""
    return Pin(**{"connector": "M1", "cavity": "1", "document": "d.pdf", "page": 3, **more})  # type: ignore[arg-type]


def csv_rows(path: Path) -> list[dict[str, str]]:
    """Read a CSV file with the standard library."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_columns_are_those_of_the_normalised_table_in_order(tmp_path: Path) -> None:
    """Every format has exactly the columns of the table, in their order, with numbers as numbers."""
    for suffix in (".csv", ".xlsx", ".json"):
        assert export_pins([a_pin(size_mm2=0.75)], tmp_path / f"t{suffix}") == 1
    assert tuple(csv_rows(tmp_path / "t.csv")[0]) == COLUMNS
    row = json.loads((tmp_path / "t.json").read_text(encoding="utf-8"))[0]
    assert tuple(row) == COLUMNS
    assert (row["size_mm2"], row["page"], row["function"]) == (0.75, 3, "")
    sheet = openpyxl.load_workbook(tmp_path / "t.xlsx").active
    assert tuple(cell.value for cell in sheet[1]) == COLUMNS
    assert sheet[2][COLUMNS.index("page")].value == 3


@pytest.mark.parametrize("text", ["=1+1", "+12V", "@A1", "\tx", "\rx", '=HYPERLINK("x")'])
def test_formula_like_text_is_text(text: str, tmp_path: Path) -> None:
    """What a spreadsheet would run is a text cell in XLSX and has an apostrophe before it in CSV."""
    export_pins([a_pin(function=text)], tmp_path / "t.xlsx")
    cell = openpyxl.load_workbook(tmp_path / "t.xlsx").active[2][COLUMNS.index("function")]
    assert cell.data_type == "s"
    assert cell.quotePrefix
    export_pins([a_pin(function=text)], tmp_path / "t.csv")
    assert csv_rows(tmp_path / "t.csv")[0]["function"].startswith("'")
    export_pins([a_pin(function=text)], tmp_path / "plain.csv", plain=True)
    assert not csv_rows(tmp_path / "plain.csv")[0]["function"].startswith("'")


@pytest.mark.parametrize("text", ["-", "-5", "0087", "'quoted", " =x"])
def test_other_text_is_left_alone_in_csv(text: str, tmp_path: Path) -> None:
    """A dash or a leading zero gets no apostrophe."""
    export_pins([a_pin(circuit=text)], tmp_path / "t.csv")
    assert csv_rows(tmp_path / "t.csv")[0]["circuit"] == text


def test_text_too_long_for_a_cell_is_cut_where_one_sees_it(tmp_path: Path) -> None:
    """A spreadsheet cell holds 32,767 characters; a longer text ends with a word about it."""
    export_pins([a_pin(function="x" * 40_000)], tmp_path / "t.xlsx")
    text = openpyxl.load_workbook(tmp_path / "t.xlsx").active[2][COLUMNS.index("function")].value
    assert len(text) <= 32_767
    assert "cut here" in text


def test_unknown_suffix_names_the_four(tmp_path: Path) -> None:
    """A suffix that is none of the four is refused with the four in the message, and nothing is written."""
    with pytest.raises(UsageError, match=r"\.csv, \.xlsx, \.parquet or \.json"):
        export_pins([a_pin()], tmp_path / "t.ods")
    assert list(tmp_path.iterdir()) == []


def test_a_failing_source_leaves_the_old_file(tmp_path: Path) -> None:
    """When the rows break off, the file that was there stays and no remains lie beside it."""
    target = tmp_path / "t.csv"
    target.write_text("old", encoding="utf-8")

    def breaking():  # type: ignore[no-untyped-def]
        yield a_pin()
        raise RuntimeError("source broke")

    with pytest.raises(RuntimeError):
        export_pins(breaking(), target)
    assert target.read_text(encoding="utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["t.csv"]


@pytest.mark.parametrize("suffix", [".csv", ".xlsx", ".parquet", ".json"])
def test_missing_folder_is_a_sentence(suffix: str, tmp_path: Path) -> None:
    """A folder that does not exist is named in one sentence."""
    with pytest.raises(CannotWrite, match=r"The folder .*nowhere does not exist"):
        export_pins([a_pin()], tmp_path / "nowhere" / f"t{suffix}")


def test_a_folder_as_target_is_a_sentence(tmp_path: Path) -> None:
    """A target that is a folder is said to be one."""
    (tmp_path / "t.csv").mkdir()
    with pytest.raises(CannotWrite, match="is a folder"):
        export_pins([a_pin()], tmp_path / "t.csv")


def test_other_tables_take_mappings(tmp_path: Path) -> None:
    """Any table goes through the same formats; a key that is missing is a blank."""
    rows = [{"connector": "X5", "pages": (3, 4), "cavities_stated": 12}, {"connector": "=X"}]
    columns = ("connector", "cavities_stated", "pages")
    assert export_table("connectors", columns, rows, tmp_path / "t.csv") == 2
    assert csv_rows(tmp_path / "t.csv") == [
        {"connector": "X5", "cavities_stated": "12", "pages": "3 4"},
        {"connector": "'=X", "cavities_stated": "", "pages": ""},
    ]
    export_table("connectors", columns, rows, tmp_path / "t.xlsx")
    assert openpyxl.load_workbook(tmp_path / "t.xlsx").sheetnames == ["connectors"]


def test_an_empty_table_has_its_columns(tmp_path: Path) -> None:
    """No rows make a file with a header in every format, not an error."""
    for suffix in (".csv", ".xlsx", ".parquet", ".json"):
        assert export_pins([], tmp_path / f"t{suffix}") == 0
    assert (tmp_path / "t.csv").read_text(encoding="utf-8").strip() == ",".join(COLUMNS)
    assert json.loads((tmp_path / "t.json").read_text(encoding="utf-8")) == []


def test_rows_are_not_collected(tmp_path: Path) -> None:
    """Three times as many rows need no more memory: the table is written as it comes."""
    peaks = []
    for rows in (4_000, 12_000):
        tracemalloc.start()
        export_pins((a_pin(function="f" * 40) for _ in range(rows)), tmp_path / "t.csv")
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < peaks[0] * 1.5
