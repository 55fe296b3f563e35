"""`xref trace` and the drawings of `xref circuit`, as processes in a real index."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pymupdf
import pytest
from PIL import Image

from tests.cli.sample import fill
from tests.conftest import RunXref
from tests.harness.sample import filled
from tests.harness.wired import inline, row

HOP = {"connector", "half", "cavity", "circuit", "color_code", "role", "document", "page"}


def _fill_way(folder: Path) -> None:
    """A controller through an in-line and a splice to a lamp and a fuse; and a pump apart from it."""
    filled(
        folder,
        row("A10:1", "component", to="X5A:7", component="Mast controller"),
        *inline("X5:7", beyond="1452"),
        row("SP1:a", "splice", circuit="1452", to="X5B:7"),
        row("SP1:b", "splice", circuit="1452", to="E1:2"),
        row("SP1:c", "splice", circuit="1452", to="F1:3"),
        row("E1:2", "component", circuit="1452", component="Lamp"),
        row("F1:3", "fuse", circuit="1452"),
        row("A10:4", "component", circuit="7", code="BK", component="Mast controller"),
        row("M1:1", "component", circuit="7", code="BK", component="Pump"),
    )


def test_a_way_is_shown_hop_by_hop(xref: RunXref, tmp_path: Path) -> None:
    """Each hop with place, code, words, circuit and page, what lies between, and that the order is stated."""
    _fill_way(tmp_path)
    done = xref("trace", "A10:1", "E1")
    assert (done.returncode, done.stderr) == (0, "")
    parts = (
        *("From A10:1 to E1 – 1 way", "WAY – order stated by the manual"),
        *("A10:1", "GN/YE", "circuit 1440", "green with yellow stripe", "Mast controller", "loom.pdf p. 1"),
        *("↓ wire", "X5:7 half A", "⇅ plugged together", "X5:7 half B", "circuit 1452"),
        *("SP1:a", "• splice", "SP1:b", "E1:2"),
    )
    at = 0
    for part in parts:
        at = done.stdout.index(part, at)


def test_the_first_line_claims_no_more_than_the_hops(xref: RunXref, tmp_path: Path) -> None:
    """Where three ends share a circuit beside an in-line its place is known, but not every wire."""
    filled(
        tmp_path,
        row("A10:1", "component", component="Mast controller"),
        row("A11:1", "component", component="Cab controller"),
        *inline("X5:7", beyond="1452"),
        row("E1:2", "component", circuit="1452", component="Lamp"),
    )
    said = xref("trace", "A10:1", "E1").stdout
    assert "which end is wired to which is not stated" in said
    assert "order stated by the manual" not in said
    assert "WAY – PLACES IN ORDER, BUT NOT EVERY WIRE BETWEEN THEM IS STATED BY THE MANUAL" in said


def test_the_answer_for_programs_has_the_fixed_keys(xref: RunXref, tmp_path: Path) -> None:
    """Hops begin and end with what was asked for and name every half; what lies between is one fewer."""
    _fill_way(tmp_path)
    answer = json.loads(xref("trace", "E1:2", "A10:1", "--json").stdout)
    assert {"from", "to", "paths", "missing", "notices", "near", "unread_pages"} <= answer.keys()
    (path,) = answer["paths"]
    assert path["order"] == "stated" and all(hop.keys() >= HOP for hop in path["hops"])
    places = [f"{hop['connector']}{hop['half']}:{hop['cavity']}" for hop in path["hops"]]
    assert places == ["E1:2", "SP1:b", "SP1:a", "X5B:7", "X5A:7", "A10:1"]
    assert path["between"] == ["wire", "splice", "wire", "plug", "wire"]


def test_no_way_says_why_and_exits_with_1(xref: RunXref, tmp_path: Path) -> None:
    """Two nets that only meet in a component are not joined by a wire, and that is said."""
    _fill_way(tmp_path)
    done = xref("trace", "E1", "M1", "-o", "way.svg")
    assert done.returncode == 1
    assert "No way from E1 to M1" in done.stdout and "Both come to Mast controller" in done.stdout
    assert "Nothing was drawn" in done.stderr and not (tmp_path / "way.svg").exists()
    answer = json.loads(xref("trace", "E1", "M1", "--json").stdout)
    assert answer["paths"] == [] and answer["notices"]


def test_an_unknown_name_offers_near_ones(xref: RunXref, tmp_path: Path) -> None:
    """A name nobody prints gives exit code 1 and names that resemble it."""
    fill(tmp_path)
    done = xref("trace", "M12 X2", "S3")
    assert done.returncode == 1
    assert "M12 X2 is neither a connector nor a circuit" in done.stdout
    assert "M12 X1" in done.stdout and "NOT READ" in done.stdout
    assert json.loads(xref("trace", "M12 X2", "S3", "--json").stdout)["near"]


def test_an_order_nobody_states_is_said(xref: RunXref, tmp_path: Path) -> None:
    """Three ends of one number, no from/to: joined, but in which order is not made up."""
    fill(tmp_path)
    done = xref("trace", "M12 X1:7", "X5")
    assert done.returncode == 0
    assert "which end is wired to which is not stated" in done.stdout


def test_strict_asks_for_hops_without_doubt(xref: RunXref, tmp_path: Path) -> None:
    """A doubtful row on the way gives exit code 1 with --strict, and is said in words."""
    fill(tmp_path)
    assert xref("trace", "M12 X1:7", "S3").returncode == 0
    done = xref("trace", "M12 X1:7", "S3", "--strict")
    assert done.returncode == 1 and "DOUBT" in done.stdout


def test_a_ring_shows_every_way_with_the_caution(xref: RunXref, tmp_path: Path) -> None:
    """Two ways between two places are both shown, and that cutting one leaves the other."""
    filled(
        tmp_path,
        row("A1:1", "component", to="SP1:a"),
        *(row(f"SP1:{leg}", "splice", to=to) for leg, to in (("a", "A1:1"), ("b", "SP2:a"), ("c", "SP2:b"))),
        *(row(f"SP2:{leg}", "splice", to=to) for leg, to in (("a", "SP1:b"), ("b", "SP1:c"), ("c", "B1:1"))),
        row("B1:1", "component", to="SP2:c"),
    )
    done = xref("trace", "A1", "B1", "-o", "ring.svg")
    assert "2 ways" in done.stdout and "WAY 2 of 2" in done.stdout
    assert "cutting one leaves the other" in done.stdout
    assert "Way 2 of 2" in (tmp_path / "ring.svg").read_text(encoding="utf-8")
    assert "a ring" in xref("circuit", "1440").stdout


@pytest.mark.parametrize("command", [("trace", "A10", "F1"), ("circuit", "1440")])
def test_a_drawing_is_written_in_each_format(xref: RunXref, tmp_path: Path, command: tuple[str, ...]) -> None:
    """The files open, and both halves of the in-line, the splice and the fuse stand in them."""
    _fill_way(tmp_path)
    for name in ("net.svg", "net.png", "net.pdf"):
        done = xref(*command, "-o", name)
        assert done.returncode == 0 and f"Drawn: {name}" in done.stderr, done.stderr
    root = ET.fromstring((tmp_path / "net.svg").read_text(encoding="utf-8"))
    words = {element.text for element in root.iter("{http://www.w3.org/2000/svg}text")}
    wanted = {"A10:1", "X5:7 half A", "X5:7 half B", "splice SP1", "F1:3", "GN/YE"}
    assert wanted <= words
    assert Image.open(tmp_path / "net.png").width == 1170
    with pymupdf.open(tmp_path / "net.pdf") as document:
        printed = document[0].get_text()
    assert all(word in printed for word in wanted)


def test_another_ending_is_refused_before_anything_is_written(xref: RunXref, tmp_path: Path) -> None:
    """A drawing is no .jpg: exit code 2, a sentence, for programs an object."""
    _fill_way(tmp_path)
    done = xref("trace", "A10", "F1", "-o", "net.jpg")
    assert done.returncode == 2 and ".svg" in done.stderr and done.stdout == ""
    failed = xref("circuit", "1440", "--json", "-o", "nowhere/net.svg")
    assert failed.returncode == 2
    assert json.loads(failed.stdout)["error"]["code"] == "write"


def test_a_circuit_shows_its_way_as_a_tree(xref: RunXref, tmp_path: Path) -> None:
    """After the groups the net is followed from its first end; the JSON names its ends and order."""
    _fill_way(tmp_path)
    text = xref("circuit", "1440").stdout
    way = text[text.index("WAY") :].split("\n\n")[0].splitlines()
    assert [line.strip() for line in way] == [
        "WAY",
        "A10:1  Mast controller",
        "│ GN/YE · circuit 1440",
        "X5:7 half A ⇄ half B",
        "│ GN/YE · circuit 1452 · leg a",
        "splice SP1",
        "├─ GN/YE · circuit 1452 · leg b",
        "│  E1:2  Lamp",
        "│ GN/YE · circuit 1452 · leg c",
        "F1:3  fuse",
    ]
    (net,) = json.loads(xref("circuit", "1440", "--json").stdout)["nets"]
    assert net["order"] == "stated"
    assert {end["connector"] for end in net["ends"]} == {"A10", "E1", "F1"}


def test_what_is_missing_of_a_net_is_said(xref: RunXref, tmp_path: Path) -> None:
    """A half whose mate is in no document ends the way, and the answer says so."""
    filled(tmp_path, row("A1:1", "component", to="X5A:7"), row("X5:7", "inline", half="A"))
    text = xref("circuit", "1440").stdout
    assert "its other half is not known" in text
    assert "an end is missing" in text
    (net,) = json.loads(xref("circuit", "1440", "--json").stdout)["nets"]
    assert net["missing"]


def test_both_places_are_completed(xref: RunXref, tmp_path: Path) -> None:
    """The shell gets connectors and circuits for either place, and cavities behind a colon."""
    _fill_way(tmp_path)
    for words, at in (("xref trace A", "2"), ("xref trace E1 A", "3")):
        done = xref(_XREF_COMPLETE="complete_bash", COMP_WORDS=words, COMP_CWORD=at)
        assert done.stdout.split() == ["A10"]
    done = xref(_XREF_COMPLETE="complete_bash", COMP_WORDS="xref trace 14", COMP_CWORD="2")
    assert done.stdout.split() == ["1440", "1452"]
    done = xref(_XREF_COMPLETE="complete_bash", COMP_WORDS="xref trace A10:", COMP_CWORD="2")
    assert done.stdout.split() == ["A10:1", "A10:4"]
