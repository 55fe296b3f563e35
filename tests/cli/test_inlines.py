"""`xref inlines` and `xref connector --neighbors` as processes."""

from __future__ import annotations

import json
from pathlib import Path

from tests.conftest import RunXref
from tests.harness.sample import filled
from tests.store.sample import pin

PINS = (
    pin("A1", "1", "101", role="component", component="Winch controller"),
    pin("X5", "1", "101", half="A", role="inline", base_color="red", color_code="RD"),
    pin("X5", "1", "201", half="B", role="inline", base_color="blue", color_code="BU"),
    pin("M1", "1", "201", role="component", component="Winch \x1b[31mmotor"),
)


def test_inlines_are_listed_and_shown_cavity_by_cavity(xref: RunXref, tmp_path: Path) -> None:
    """The list counts what passes; a name shows both halves of each cavity and what changes."""
    filled(tmp_path, *PINS)
    done = xref("inlines")
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 through" in done.stdout and "Winch controller (1)" in done.stdout and "\x1b" not in done.stdout
    done = xref("inlines", "X5")
    assert "101 red" in done.stdout and "201 blue" in done.stdout
    assert "the circuit has another number beyond it" in done.stdout
    answer = json.loads(xref("inlines", "X5", "--json").stdout)
    (view,) = answer["inlines"]
    assert view["used"] == {"both": 1, "one": 0, "nothing": 0} and view["how"] == "designator"
    assert view["cavities"][0]["differences"] == ["number-changes", "color-changes"]


def test_no_inline_is_said_with_near_names(xref: RunXref, tmp_path: Path) -> None:
    """An unknown name: exit code 1, and what resembles it."""
    filled(tmp_path, *PINS)
    done = xref("inlines", "X05")
    assert done.returncode == 1 and "No in-line connector X05" in done.stdout and "X5" in done.stdout


def test_neighbors_are_shown_with_the_inlines_between(xref: RunXref, tmp_path: Path) -> None:
    """What the module is wired to, by how many circuits, through what; in JSON under one more key."""
    filled(tmp_path, *PINS)
    done = xref("connector", "Winch controller", "--neighbors")
    assert done.returncode == 0 and "through X5" in done.stdout and "ONLY" in done.stdout
    answer = json.loads(xref("connector", "A1", "--neighbors", "--json").stdout)
    (neighbor,) = answer["neighbors"]
    assert (neighbor["count"], neighbor["through"], neighbor["circuits"]) == (1, ["X5"], ["101"])
    assert "neighbors" not in json.loads(xref("connector", "A1", "--json").stdout)
