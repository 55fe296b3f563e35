"""Decisions as a CSV table, there and back."""

from __future__ import annotations

import csv
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from xref.errors import UsageError
from xref.pins.corrections_records import (
    CORRECTABLE,
    HeadDecision,
    MateDecision,
    PutAside,
    Region,
    RowAsRead,
    RowDecision,
)
from xref.store.work_csv import BLANK, COLUMNS, decisions_to_rows, rows_in_file
from xref.store.work_json import Kept, Taught, of_machine, where
from xref.tables.layout import TaughtLayout

AT = "2026-11-25T14:03:00Z"
#: What survives a table file: control characters become pictures there, and BLANK stands for "".
TEXT = st.text(st.characters(exclude_categories=("C",)), max_size=12).filter(lambda t: t != BLANK)
#: Fields in which any text may be said, also none.
SAYABLE = tuple(name for name in CORRECTABLE if name not in ("connector", "cavity", "status"))
PLACE: dict[str, Any] = {"sha256": "a" * 64, "document": "loom.pdf", "machine": "lift", "page": 3}
BOX = {"x0": 1.5, "top": 2.0, "x1": 300.2, "bottom": 14.0}


def written(decisions: list[Kept]) -> list[Kept]:
    """Write decisions to a file as the command does, and read it."""
    from xref.sheets.table import export_table

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "decisions.csv"
        export_table("decisions", COLUMNS, decisions_to_rows(decisions), path, plain=True)
        return rows_in_file(path)


@given(
    read=st.fixed_dictionaries(dict.fromkeys(("connector", "cavity", "circuit", "function", "size"), TEXT)),
    said=st.dictionaries(st.sampled_from(SAYABLE), TEXT.map(lambda t: " ".join(t.split())), max_size=4),
    accepted=st.booleans(),
)
@example(read={"connector": "'X5", "cavity": "=1+1"}, said={"circuit": ""}, accepted=True)
@example(read={"connector": "-12V", "cavity": "''"}, said={"function": "@home"}, accepted=False)
@settings(max_examples=60, deadline=None)
def test_a_decision_about_a_row_comes_back_the_same(
    read: dict[str, str], said: dict[str, str], accepted: bool
) -> None:
    """Whatever a PDF prints and a person types survives the file, formulas and apostrophes too."""
    row = RowAsRead(**PLACE, **BOX, wire=2, **read)
    ordered = sorted(said.items(), key=lambda pair: CORRECTABLE.index(pair[0]))
    decision = RowDecision(
        id=0, at=AT, row=row, changes=tuple(ordered), accepted=accepted, shown=("X5", "", "1")
    )
    assert written([decision]) == [decision]


def test_every_kind_of_decision_comes_back_the_same() -> None:
    """Tables put aside, connectors set, mates and taught columns are in the file as well."""
    region = Region(**PLACE, **BOX, rows=("1|1440|BU/YE||", "2||||"))
    layout = TaughtLayout(roles=("cavity", ""), edges=(1.0, 20.5, 70.25), header=("Pin", "=x"), anew=True)
    decisions: list[Kept] = [
        PutAside(id=0, at=AT, region=region),
        HeadDecision(
            id=0, at=AT, machine="lift", connector="X5", half="A", changes=(("half", ""),), region=region
        ),
        HeadDecision(
            id=0, at=AT, machine="lift", connector="X5", half="", changes=(("role", "inline"),), region=None
        ),
        MateDecision(id=0, at=AT, machine="", connector_a="X5", half_a="A", connector_b="X9", half_b=""),
        Taught(id=0, at=AT, **PLACE, layout=layout),
    ]
    assert written(decisions) == decisions


def test_decisions_can_be_taken_over_for_a_machine_of_another_name() -> None:
    """Everything about a decision stays but its machine."""
    region = Region(**PLACE, **BOX)
    head = HeadDecision(id=0, at=AT, machine="lift", connector="X5", half="", changes=(), region=None)
    decisions: list[Kept] = [
        RowDecision(id=0, at=AT, row=RowAsRead(**PLACE, **BOX)),
        PutAside(id=0, at=AT, region=region),
        head,
        replace(head, region=region),
        MateDecision(id=0, at=AT, machine="lift", connector_a="X5", half_a="A", connector_b="X9", half_b=""),
    ]
    moved = [of_machine(decision, "tug") for decision in decisions]
    assert {where(decision)[2] for decision in moved} == {"tug"}
    assert [of_machine(decision, "lift") for decision in moved] == decisions


def test_no_cell_is_run_by_a_spreadsheet() -> None:
    """A cell that begins like a formula stands behind an apostrophe."""
    row = RowAsRead(**PLACE, **BOX, circuit="=1+1", function="@SUM(A1)", size="-5", cavity="+3")
    cells = decisions_to_rows([RowDecision(id=0, at=AT, row=row)])[0].values()
    assert not [cell for cell in cells if cell[:1] in ("=", "@", "-", "+")]


def test_a_person_may_write_a_line_by_hand(tmp_path: Path) -> None:
    """The columns for what is said are enough to add a correction to a line that was exported."""
    decision = RowDecision(id=0, at=AT, row=RowAsRead(**PLACE, **BOX, cavity="1"))
    (cells,) = decisions_to_rows([decision])
    path = tmp_path / "d.csv"
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        writer.writerow({**cells, "set_circuit": "1440", "set_function": BLANK})
    assert rows_in_file(path) == [replace(decision, changes=(("circuit", "1440"), ("function", "")))]


TAUGHT = (
    "kind;at;sha256;page;document;machine;more\ntaught;now;s;1;a.pdf;;"
    '{"sha256": "s", "page": 1, "document": "a.pdf", "machine": "",'
    ' "layout": {"roles": ["cavity", ""], "header": ["", ""], "edges": %s}}\n'
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b\n1,2\n", "no column"),
        ("kind,at,more\nrow,now,{}\n", "line 2"),
        ("kind,at,more\nwish,now,{}\n", "line 2"),
        ("kind,at,more\nmates,now,[1\n", "line 2"),
        ("kind,at,more\nput-aside,now,{}\n", "line 2"),
        (TAUGHT % "[1, 0, 5]", "no borders in order"),
        (TAUGHT % "[0, 5]", "no borders in order"),
        (TAUGHT % "[0, 1, NaN]", "no borders in order"),
        ("kind,at,machine,read_connector,set_role,more\nconnector,now,,X5,wombat,{}\n", "no role"),
        ("", "no column"),
    ],
)
def test_a_file_that_holds_no_decisions_is_refused(tmp_path: Path, text: str, said: str) -> None:
    """What cannot be understood is named with its line; nothing of the file is taken."""
    path = tmp_path / "d.csv"
    if ";" in text:
        rows = [line.split(";") for line in text.splitlines()]
        with path.open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(rows)
    else:
        path.write_text(text, encoding="utf-8")
    with pytest.raises(UsageError, match=said):
        rows_in_file(path)


def test_a_file_in_another_encoding_is_refused(tmp_path: Path) -> None:
    """Bytes that are no UTF-8 are an error in words."""
    path = tmp_path / "d.csv"
    path.write_bytes("kind,at,more\nWählhebel,,\n".encode("latin-1"))
    with pytest.raises(UsageError, match="UTF-8"):
        rows_in_file(path)
