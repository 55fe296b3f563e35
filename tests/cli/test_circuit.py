"""`xref circuit` and `xref connector` as a person reads them."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.cli.sample import HOSTILE, fill, pins
from tests.conftest import RunXref
from xref.cli.circuit import print_circuit
from xref.cli.connector import print_connector
from xref.cli.terminal import Screen
from xref.cli.text import harmless, width_of
from xref.harness.answers import (
    CircuitAnswer,
    ConnectorAnswer,
    ConnectorView,
    Continuation,
    Near,
    PassThrough,
)
from xref.records import DOUBTS, Connector, PageNote, Pin

END, LAMP, HALF_A, HALF_B, SPLICE, SUFFIXED = pins()
UNREAD = [
    PageNote(document="loom.pdf", page=page, page_label="", outcome="unread", why="a picture without text")
    for page in (2, 3, 4, 9)
]


def _answer(**more: object) -> CircuitAnswer:
    fields: dict[str, object] = {
        "circuit": "1440",
        "appearances": (END, HALF_A, SPLICE),
        "ends": (END,),
        "pass_throughs": (PassThrough(machine="", connector="X5", halves=(HALF_A, HALF_B)),),
        "splices": (SPLICE,),
        "continues_as": (Continuation(circuit="1452", at=HALF_A),),
        "near": (Near(name="1440A", why="has the suffix A"),),
        "unread_pages": tuple(UNREAD),
    }
    return CircuitAnswer(**{**fields, **more})  # type: ignore[arg-type]


def _printed(answer: CircuitAnswer, width: int = 100) -> str:
    stream = io.StringIO()
    print_circuit(Screen(stream=stream, width=width), answer)
    return stream.getvalue()


def test_a_circuit_is_shown_in_groups_with_pages_and_doubts_in_words() -> None:
    """Each appearance shows place, code, words, page; each doubt is said in words; groups have titles."""
    text = _printed(_answer())
    for part in (
        "Circuit 1440 – 3 rows found, 1 DOUBTFUL",
        "ENDS (1)",
        "M12 X1:7",
        "BU/YE",
        "blue with yellow stripe",
        "Mast controller · loom.pdf p. 1",
        "X5:12 half A  circuit 1440",
        "X5:12 half B  circuit 1452",
        "→ continues as 1452 beyond X5 cavity 12",
        "SPLICES",
        "DOUBT: " + DOUBTS["row-assembled"],
        "1440A",
        "loom.pdf p. 2–4, 9: a picture without text",
    ):
        assert part in text
    assert text.index("SPLICES") < text.index("1440A") < text.index("p. 2–4")
    assert "GROUNDS" not in text and "FUSES" not in text


def test_one_pin_printed_by_two_documents_is_one_end_with_two_pages() -> None:
    """The same pin from two tables counts once; each page, its own code and its own doubt stand below it."""
    german = replace(
        END, document="nachtrag.pdf", page=4, color_code="bl/ge", function="Ventil", flags=("cavity-gap",)
    )
    text = _printed(_answer(ends=(END, german)))
    assert "ENDS (1)" in text
    assert "bl/ge · Ventil · nachtrag.pdf p. 4" in text
    assert DOUBTS["cavity-gap"] in text


@pytest.mark.parametrize(
    "other",
    [
        replace(END, row_no=9),  # the same table: a second wire in this cavity
        replace(END, document="b.pdf", stripe_color="red"),
        replace(END, document="b.pdf", circuit="1441"),
        replace(END, document="b.pdf", option="without side-shift"),
        replace(END, document="b.pdf", half="B"),
        replace(END, document="b.pdf", status="unused"),
        replace(END, document="b.pdf", base_color="", stripe_color=""),
    ],
)
def test_rows_that_differ_are_never_shown_as_one(other: Pin) -> None:
    """Another colour, circuit, option, half or status, or a second row of one table, is another end."""
    option = "with side-shift" if other.option else ""
    assert "ENDS (2)" in _printed(_answer(ends=(replace(END, option=option), other)))


def test_a_document_that_is_silent_does_not_differ() -> None:
    """Where one document names option or colour and another does not, it is one end; both rows are shown."""
    silent = replace(END, document="b.pdf", color_code="", base_color="", stripe_color="")
    text = _printed(_answer(ends=(replace(END, option="with side-shift"), silent)))
    assert "ENDS (1)" in text and "only with side-shift" in text and "b.pdf" in text


def test_a_half_that_is_not_in_the_documents_is_said() -> None:
    """A pass-through of which one half was read does not look complete."""
    lonely = PassThrough(machine="", connector="X5", halves=(HALF_A,), missing_half=True)
    assert "other half of X5 is not in the documents" in _printed(_answer(pass_throughs=(lonely,)))


def test_machines_are_shown_one_after_the_other() -> None:
    """Rows of two machines never stand under one heading."""
    other = replace(END, machine="tug", document="tug.pdf")
    here = replace(END, machine="forklift")
    text = _printed(_answer(appearances=(here, other), ends=(here, other), pass_throughs=(), continues_as=()))
    first, second = text.split("machine tug")
    assert "machine forklift" in first and "tug.pdf" not in first
    assert "loom.pdf p. 1" not in second.split("NOT READ")[0]


def test_an_undecided_color_is_not_put_into_words() -> None:
    """A code without a decided meaning is shown as printed, and that it is undecided is said."""
    undecided = replace(END, base_color="", stripe_color="", color_code="GR", flags=("color-undecided",))
    text = _printed(_answer(appearances=(undecided,), ends=(undecided,)))
    assert "GR" in text and "colour not decided" in text and DOUBTS["color-undecided"] in text


@pytest.mark.parametrize("width", [24, 40, 80])
def test_a_narrow_screen_loses_nothing(width: int) -> None:
    """Every place, code and page is still there, and no line is wider than the screen."""
    text = _printed(_answer(), width)
    assert max(width_of(line) for line in text.splitlines()) <= width
    squeezed = "".join(text.split())
    for part in ("M12X1:7", "X5:12halfB", "BU/YE", "loom.pdfp.1", "continuesas1452beyondX5cavity12"):
        assert part in squeezed


def _connector(pin_list: tuple[Pin, ...], **more: object) -> str:
    head = Connector(connector="M12 X1", machine="", document="loom.pdf", pages=(1,), **more)  # type: ignore[arg-type]
    view = ConnectorView(
        connector=head,
        pins=pin_list,
        missing=("3", "4"),
        reversed_color=(("7", "8"),),
        same_color=(("1", "2"),),
    )
    stream = io.StringIO()
    print_connector(Screen(stream=stream, width=100), ConnectorAnswer(name="M12 X1", connectors=(view,)))
    return stream.getvalue()


def test_a_connector_shows_what_is_stated_read_and_missing() -> None:
    """The head says the view (or that it is not stated) and the cavities stated, read and missing."""
    text = _connector((END, LAMP), cavities_stated=8, color="black")
    assert "view      not stated" in text
    assert "8 stated, 2 read, MISSING: 3, 4" in text
    assert "view      wire side" in _connector((END,), view="wire side")
    assert "number not stated" in _connector((END,))


def test_wires_that_can_be_taken_for_each_other_are_marked() -> None:
    """Reversed colours get a tilde and a line that names the pair, same colours an equals sign."""
    text = _connector((END, LAMP))
    rows = [line for line in text.splitlines() if line.startswith(("  7", "  8"))]
    assert len(rows) == 2 and all("~" in row for row in rows)
    assert "~ cavities 7 and 8 have the same two colours, reversed." in text
    assert "= cavities 1 and 2 have the same colours: go by the number." in text


def test_an_unused_cavity_says_so() -> None:
    """A cavity the manual calls empty is shown, as not used."""
    empty = replace(END, cavity="9", circuit="", color_code="", base_color="", status="unused", function="")
    assert "not used" in _connector((empty,))
    optional = _connector((replace(empty, option="without side-shift"),))
    assert "only without side-shift" in optional, "with the option there is a wire in it"


def test_the_process_answers_for_people_and_programs(xref: RunXref, tmp_path: Path) -> None:
    """A look-up in a real index: exit code 0, the sentence of the number that changes, the JSON keys."""
    fill(tmp_path)
    done = xref("circuit", "1440")
    assert (done.returncode, done.stderr) == (0, "")
    assert "continues as 1452 beyond X5 cavity 12" in done.stdout
    assert harmless(HOSTILE)[:12] in done.stdout
    assert "\x1b" not in done.stdout and "\u202e" not in done.stdout
    answer = json.loads(xref("circuit", "1440", "--json").stdout)
    assert [item["circuit"] for item in answer["near"]] == ["1440A"]
    assert answer["ends"][0]["function"] and answer["unread_pages"][0]["page"] == 2


def test_nothing_found_is_an_answer_with_exit_code_1(xref: RunXref, tmp_path: Path) -> None:
    """A circuit that is nowhere offers what is near, names unread pages, and is no error."""
    fill(tmp_path)
    done = xref("circuit", "144O")
    assert done.returncode == 1
    assert "stands nowhere" in done.stdout and "1440" in done.stdout and "NOT READ" in done.stdout
    answer = json.loads(xref("circuit", "144O", "--json").stdout)
    assert answer["appearances"] == [] and answer["near"]


def test_strict_turns_a_doubt_into_exit_code_1(xref: RunXref, tmp_path: Path) -> None:
    """With --strict an answer with a doubtful row exits with 1, one without with 0."""
    fill(tmp_path)
    assert xref("circuit", "1440").returncode == 0
    assert xref("circuit", "1440", "--strict").returncode == 1
    assert xref("circuit", "1440A", "--strict").returncode == 0


def test_a_cavity_answers_as_the_circuit_in_it(xref: RunXref, tmp_path: Path) -> None:
    """Whoever holds a plug asks for connector and cavity and gets the circuit's answer."""
    fill(tmp_path)
    by_cavity = json.loads(xref("connector", "M12 X1:7", "--json").stdout)
    assert by_cavity["circuit"] == "1440"
    assert {item["connector"] for item in by_cavity["appearances"]} >= {"M12 X1", "X5", "S3"}
    assert "ENDS" in xref("connector", "M12 X1:7").stdout


def test_find_answers_with_rows_and_exit_codes(xref: RunXref, tmp_path: Path) -> None:
    """Words of a function find its row; words that stand nowhere find nothing."""
    fill(tmp_path)
    found = xref("find", "lamp")
    assert found.returncode == 0 and "M12 X1:8" in found.stdout
    assert xref("find", "xylophone").returncode == 1


def test_completion_offers_names_of_the_index(xref: RunXref, tmp_path: Path) -> None:
    """The shell gets circuits and connectors that begin as typed, and none that would act on a terminal."""
    fill(tmp_path)
    for typed, word, expected in (("circuit", "14", "1440\n1440A\n1452"), ("connector", "M", "M12 X1")):
        done = xref(_XREF_COMPLETE="complete_bash", COMP_WORDS=f"xref {typed} {word}", COMP_CWORD="2")
        assert done.stdout.strip() == expected


def test_completion_without_an_index_is_silent(xref: RunXref) -> None:
    """No index, no names, no message in the person's command line."""
    done = xref(_XREF_COMPLETE="complete_bash", COMP_WORDS="xref circuit 1", COMP_CWORD="2")
    assert (done.stdout.strip(), done.stderr) == ("", "")


def test_an_answer_for_two_circuits_says_which_end_is_on_which() -> None:
    """A cavity with two circuits has ends of both; each names its circuit."""
    other = replace(END, cavity="8", circuit="2001")
    text = _printed(CircuitAnswer(circuit="1440, 2001", appearances=(END, other), ends=(END, other)))
    assert "circuit 1440" in text and "circuit 2001" in text
