"""Connectors, mates and nets as flat tables."""

from __future__ import annotations

import csv
import json
from pathlib import Path

from tests.conftest import RunXref
from tests.harness.sample import filled
from tests.store.sample import pin

PINS = (
    pin("A1", "1", "101", role="component", color_code="RD"),
    pin("X5", "1", "101", half="A", role="inline", color_code="RD"),
    pin("X5", "01", "201", half="B", role="inline", color_code="BU"),
    pin("M1", "1", "201", role="component", flags=("cavity-gap",)),
    pin("M2", "1", status="unused"),
)


def table(xref: RunXref, folder: Path, name: str) -> list[dict[str, str]]:
    """Export a table and read it back."""
    path = folder / f"{name}.csv"
    assert xref("export", str(path), "--table", name).returncode == 0
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def test_mates_say_what_stands_on_both_sides(xref: RunXref, tmp_path: Path) -> None:
    """A line per two cavities that touch, as each side prints them, with what changes and the evidence."""
    filled(tmp_path, *PINS)
    (line,) = table(xref, tmp_path, "mates")
    assert line == {
        **{"machine": "lift", "connector_a": "X5", "half_a": "A", "cavity_a": "1", "connector_b": "X5"},
        **{"half_b": "B", "cavity_b": "01", "circuit_a": "101", "circuit_b": "201", "color_a": "RD"},
        **{"color_b": "BU", "differences": "number-changes", "how": "designator"},
    }


def test_nets_are_a_line_per_pin_that_carries_a_wire(xref: RunXref, tmp_path: Path) -> None:
    """Pins of one net share its number and flags; an unused cavity is in none."""
    filled(tmp_path, *PINS)
    lines = table(xref, tmp_path, "nets")
    assert list(lines[0]) == [
        *("net", "machine", "connector", "half", "cavity", "circuit", "role", "document", "page", "flags")
    ]
    assert {line["net"] for line in lines} == {lines[0]["net"]}
    assert [line["connector"] for line in lines] == ["A1", "X5", "X5", "M1"]
    assert lines[0]["flags"] == "pins-in-doubt" and lines[3]["flags"] == "pins-in-doubt cavity-gap"


def test_connectors_are_a_line_per_document(xref: RunXref, tmp_path: Path) -> None:
    """Each connector (half) stands with its role and what was read of it."""
    filled(tmp_path, *PINS)
    lines = table(xref, tmp_path, "connectors")
    assert [(line["connector"], line["half"], line["role"]) for line in lines] == [
        *(("A1", "", "component"), ("M1", "", "component"), ("M2", "", "unknown")),
        *(("X5", "A", "inline"), ("X5", "B", "inline")),
    ]


def test_a_table_with_nothing_in_it_is_written_with_its_columns(xref: RunXref, tmp_path: Path) -> None:
    """No mates: exit code 1, and a file with the column heads."""
    filled(tmp_path, PINS[0])
    path = tmp_path / "mates.json"
    assert xref("export", str(path), "--table", "mates").returncode == 1
    assert json.loads(path.read_text(encoding="utf-8")) in ([], {"mates": []}, {"columns": [], "rows": []})
