"""Halves of an in-line of which several numbers change: paired by their names, or named as likely."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import RunXref
from tests.harness.sample import filled
from tests.moves.sample import worked
from tests.store.sample import pin
from tests.tables.drawn import Page, pins
from xref.harness.inlines import answer_inlines
from xref.records import Pin
from xref.store.index import Index

COLORS = ("BK", "RD", "BU/YE", "GN", "WH", "BN/WH", "OG", "VT", "GY")
BASES = ("black", "red", "blue", "green", "white", "brown", "orange", "violet", "grey")
HEADER = ("Pin", "Color", "Circuit", "Function")
CAVITIES, CHANGED = 18, 5


def circuits(changed: int = 0) -> dict[str, str]:
    """Return the circuit in each cavity; the first ones are those of the other side."""
    return {str(n + 1): str(1400 + n + 500 * (n < changed)) for n in range(CAVITIES)}


def half(name: str, changed: int = 0, colored: bool = True, **more: Any) -> list[Pin]:
    """Return the rows of a half."""
    given = {"role": "inline", "machine": "", **more}
    return [
        pin(name, cavity, circuit, base_color=BASES[n % len(BASES)] if colored else "", **given)
        for n, (cavity, circuit) in enumerate(circuits(changed).items())
    ]


def paired(folder: Path, *rows: Pin) -> tuple[int, int]:
    """Return how many cavities touch, and at how many of them the number changes."""
    with Index.open(filled(folder, *rows)) as index:
        mates = index.mates()
        assert not any(mate.doubtful for mate in mates)
        return len(mates), sum("number-changes" in mate.differences for mate in mates)


DRAWN = (
    ("In-line connector X5 (male)", "In-line connector X5 (female)"),
    ("Connector C210M - Main harness", "Connector C210F - Engine harness"),
    ("Trennstelle X5 Stift", "Trennstelle X5 Buchse"),
    ("Connecteur intermédiaire X5 mâle", "Connecteur intermédiaire X5 femelle"),
    ("In-line connector P12", "In-line connector J12"),
    ("In-line connector X5.1", "In-line connector X5.2"),
)


@pytest.mark.parametrize("headings", DRAWN)
def test_halves_named_as_such_may_change_several_numbers(tmp_path: Path, headings: tuple[str, str]) -> None:
    """Where names and marks say that two halves belong together, changed numbers are differences."""
    page = Page(tmp_path / "a.pdf")
    for heading, changed in zip(headings, (0, CHANGED), strict=True):
        rows = [
            (cavity, COLORS[n % len(COLORS)], circuit, "")
            for n, (cavity, circuit) in enumerate(circuits(changed).items())
        ]
        page.heading(heading).ruled((HEADER, *rows), (40, 60, 60, 90)).next()
    found = pins(page)
    with Index.open(filled(tmp_path / "index", *found.pins, connectors=found.connectors)) as index:
        mates = index.mates()
    assert len(mates) == CAVITIES and not any(mate.doubtful for mate in mates)
    assert sum("number-changes" in mate.differences for mate in mates) == CHANGED


def test_marked_names_that_no_document_calls_in_line(tmp_path: Path) -> None:
    """Names with opposite marks and lists alike pair, though a good part of the numbers changes."""
    rows = [*half("C210M", role="unknown"), *half("C210F", CHANGED, role="unknown")]
    assert paired(tmp_path, *rows) == (CAVITIES, CHANGED)


def test_twins_need_likeness(tmp_path: Path) -> None:
    """`P12` and `J12` of other circuits and colours are two in-lines; other letters say nothing."""
    other = [pin("J12", str(n), f"9{n}", role="inline", machine="") for n in range(1, CAVITIES + 1)]
    assert paired(tmp_path / "a", *half("P12"), *other) == (0, 0)
    assert paired(tmp_path / "b", *half("P12"), *half("Z12", CHANGED)) == (0, 0)
    silent = [*half("P12", colored=False), *half("J12", CHANGED, colored=False)]
    assert paired(tmp_path / "c", *silent) == (0, 0)


def test_three_twins_pair_nothing(tmp_path: Path) -> None:
    """Which two of three alike belong together is not known."""
    last = {str(n + 1): f"2{n}" for n in range(CAVITIES - CHANGED, CAVITIES)}
    third = [replace(row, circuit=last.get(row.cavity, row.circuit)) for row in half("S12")]
    assert paired(tmp_path, *half("P12"), *half("J12", CHANGED), *third) == (0, 0)


LIKE = (*half("X11"), *half("X211", CHANGED))
ENDS = (
    pin("A1", "1", "1400", role="component", machine="", component="Pump", goes_to="X11:1"),
    pin("B1", "1", "1900", role="component", machine="", component="Lamp", goes_to="X211:1"),
)
COMMAND = "xref check set X11 --mates X211"


def test_a_half_that_is_only_likely_is_named(tmp_path: Path) -> None:
    """Where only likeness tells, nothing is joined, and each half is said to be the other's likely mate."""
    with Index.open(filled(tmp_path, *LIKE, *ENDS)) as index:
        assert not index.mates()
        views = answer_inlines(index).inlines
    assert len(views) == 2
    for view in views:
        (said,) = view.differences
        assert "is not decided" in said and "13 of its 18 circuits" in said
        assert "not in these documents" not in said
    assert COMMAND in views[0].differences[0]


def test_a_half_that_is_like_nothing_is_alone(tmp_path: Path) -> None:
    """Without a half like it, the other one is in no document."""
    with Index.open(filled(tmp_path, *half("X11"), *ENDS)) as index:
        (view,) = answer_inlines(index).inlines
    assert view.differences == ("the other half is not in these documents",)


@pytest.mark.parametrize(
    "command", [("circuit", "1400"), ("inlines", "X11"), ("trace", "A1:1", "B1:1"), ("trace", "A1:1", "X11")]
)
def test_answers_name_the_likely_half(xref: RunXref, tmp_path: Path, command: tuple[str, ...]) -> None:
    """No answer says that a half is not in the documents where a likely one is; each gives the command."""
    filled(tmp_path, *LIKE, *ENDS)
    text = " ".join(xref(*command).stdout.split())
    assert COMMAND in text and "likely X211" in text
    assert "not in the documents" not in text.replace("not in the documents =", "")
    assert "not in these documents" not in text


def test_the_command_settles_it(xref: RunXref, tmp_path: Path) -> None:
    """After the command the halves are joined, and the way goes through."""
    filled(tmp_path, *LIKE, *ENDS)
    assert xref("check", "set", "X11", "--mates", "X211").returncode == 0
    found: Mapping[str, Any] = json.loads(xref("trace", "A1:1", "B1:1", "--json").stdout)
    assert len(found["paths"]) == 1


def test_a_plan_asks_which_half_it_is(tmp_path: Path) -> None:
    """A net that ends at such a half is unknown, and the question names the likely half and the command."""
    plan = worked(tmp_path, [*LIKE, *ENDS], place={"A1": "bow"})
    (question,) = (q for q in plan["questions"] if q["kind"] == "unknown")
    assert "likely X211" in question["text"] and COMMAND in question["settle"]
    assert "in the documents" not in question["text"].replace("only one end of it is in the documents", "")
    assert not plan["cuts"]
    (inline, *_) = (item for item in plan["inlines"] if item["connector"] == "X11")
    assert "likely X211" in json.dumps(inline)
