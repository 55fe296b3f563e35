"""Where a circuit appears, what it continues as, and what is odd about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import pin, unread
from xref.data.potentials import potential
from xref.harness.answers import CircuitAnswer
from xref.harness.lookup import answer_cavity, answer_circuit
from xref.records import Pin
from xref.store.index import Index

#: An in-line with both halves whose cavity 2 changes the number; a splice, a ground, a fuse, two ends.
WIRES = (
    pin("M1 X1", "1", "1440", role="component", component="M1", base_color="red", color_code="RD"),
    pin("X5", "1", "1440", half="A", role="inline", base_color="red", color_code="RD"),
    pin("X5", "1", "1440", half="B", role="inline", base_color="red", color_code="RD"),
    pin("S2", "1", "1440", role="splice"),
    pin("G3", "1", "1440", role="ground"),
    pin("F4", "1", "1440", role="fuse"),
    pin("P9", "4", "1440", role="unknown"),
    pin("X5", "2", "1450", half="A", role="inline"),
    pin("X5", "2", "1452", half="B", role="inline"),
    pin("M1 X1", "2", "1450", role="component"),
    pin("M2 X1", "2", "1452", role="component"),
)


def grouped_pins(answer: CircuitAnswer) -> list[Pin]:
    """Return every appearance the groups show."""
    passed = [p for passing in answer.pass_throughs for p in passing.halves if p.circuit == answer.circuit]
    return [*answer.ends, *passed, *answer.splices, *answer.grounds, *answer.fuses]


def ask(tmp_path: Path, circuit: str, *pins: Pin, machine: str | None = None) -> CircuitAnswer:
    """Answer for a circuit where the index holds these pins."""
    with Index.open(filled(tmp_path, *pins)) as index:
        return answer_circuit(index, circuit, machine)


def test_every_appearance_stands_in_one_group(tmp_path: Path) -> None:
    """Each appearance is an end, a pass-through, a splice, a ground or a fuse, exactly once."""
    answer = ask(tmp_path, "1440", *WIRES)
    assert sorted(map(repr, grouped_pins(answer))) == sorted(map(repr, answer.appearances))
    assert len(answer.appearances) == 7
    assert [p.connector for p in answer.ends] == ["M1 X1", "P9"]
    (passing,) = answer.pass_throughs
    assert [p.half for p in passing.halves] == ["A", "B"] and not passing.missing_half


def test_number_changes_at_an_inline(tmp_path: Path) -> None:
    """Beyond the in-line cavity the circuit goes on under the number its mate carries, and back."""
    (further,) = ask(tmp_path, "1450", *WIRES).continues_as
    assert (further.circuit, further.at.connector, further.at.half, further.at.cavity) == (
        "1452",
        "X5",
        "A",
        "2",
    )
    (back,) = ask(tmp_path, "1452", *WIRES).continues_as
    assert (back.circuit, back.at.half) == ("1450", "B")
    assert ask(tmp_path, "1440", *WIRES).continues_as == ()


@pytest.mark.parametrize(
    ("twin", "words"),
    [
        ("1440A", "segment mark A"),
        ("01440", "leading zeros"),
        ("144O", "look alike"),
        ("I440", "look alike"),
        ("1440-2", "segment mark 2"),
        ("14 40", "blanks"),
    ],
)
def test_near_twins_stand_apart_beside_hits(tmp_path: Path, twin: str, words: str) -> None:
    """A near-twin or segment is named with its reason, also when the number was found, and never joined."""
    answer = ask(tmp_path, "1440", *WIRES, pin("P7", "1", twin))
    (near,) = answer.near
    assert near.name == twin and words in near.why
    assert {p.circuit for p in answer.appearances} == {"1440"}


def test_nothing_found_offers_numbers_spelt_alike(tmp_path: Path) -> None:
    """A number that stands nowhere is answered with empty lists and the nearest numbers."""
    answer = ask(tmp_path, "14401", *WIRES)
    assert answer.appearances == () and answer.notices == ()
    assert answer.near[0].name == "1440"
    assert ask(tmp_path, " ", *WIRES).appearances == ()


@pytest.mark.parametrize("name", ["GND", "+12V", "+24 V", "B+", "Kl. 31"])
def test_voltage_names_join_nothing(tmp_path: Path, name: str) -> None:
    """Rows with a voltage's name are listed, and it is said that they are not one wire."""
    answer = ask(tmp_path, name, pin("X1", "1", name), pin("X2", "1", name))
    assert len(answer.appearances) == 2
    assert any("not a wire" in notice for notice in answer.notices)


def test_terminal_numbers_are_not_wire_names(tmp_path: Path) -> None:
    """15, 30 and 31 name voltages only where the document was found to use terminal numbers.

    Source: DIN 72552 (terminal 15 ignition, 30 battery plus, 31 ground): its terminal names are not wire
    names, and both ends of one wire may carry different ones.
    """
    assert [potential(name) for name in ("15", "30", "31")] == ["terminal numbers"] * 3
    assert [potential(name) for name in ("1", "32", "150", "1530", "31A")] == ["no"] * 5
    number = ask(tmp_path / "a", "31", pin("X1", "1", "31"), pin("X2", "1", "31"))
    assert not any("voltage" in notice for notice in number.notices)
    said = ("potential-name",)
    terminal = ask(
        tmp_path / "b", "31", pin("X1", "1", "31", notices=said), pin("X2", "1", "31", notices=said)
    )
    assert any("voltage" in notice for notice in terminal.notices)
    open_question = ("potential-undecided",)
    undecided = ask(tmp_path / "c", "31", pin("X1", "1", "31", flags=open_question), pin("X2", "1", "31"))
    assert any("not decided" in notice for notice in undecided.notices)


def test_voltage_in_a_cavity_answers_only_that_cavity(tmp_path: Path) -> None:
    """What lies in one cavity under a voltage's name is not joined with other places of that name."""
    with Index.open(filled(tmp_path, pin("X1", "1", "GND"), pin("X2", "1", "GND"))) as index:
        assert [p.connector for p in answer_cavity(index, "X1", "1").appearances] == ["X1"]


def test_switching_points_end_a_circuit(tmp_path: Path) -> None:
    """A fuse between two numbers joins nothing: one identification holds up to the switching point.

    Source: US Army OD1003, wiring harness identification: one identification for the continuous
    connection until a switching point or active component.
    """
    fuse = (pin("F1", "1", "200", role="fuse"), pin("F1", "2", "201", role="fuse"), pin("P1", "1", "201"))
    answer = ask(tmp_path, "200", *fuse)
    assert [p.circuit for p in answer.appearances] == ["200"] and answer.continues_as == ()


def test_machines_are_answered_apart(tmp_path: Path) -> None:
    """Two machines' circuits of one number stand side by side, no in-line mates across, and it is said."""
    here = pin("X5", "1", "1440", half="A", role="inline")
    there = pin("X5", "1", "1440", half="B", role="inline", machine="boat", document="boat.pdf")
    answer = ask(tmp_path, "1440", here, there)
    assert [(p.machine, len(p.halves), p.missing_half) for p in answer.pass_throughs] == [
        ("boat", 1, True),
        ("lift", 1, True),
    ]
    assert any("2 machines" in notice for notice in answer.notices)
    assert [p.machine for p in ask(tmp_path, "1440", machine="lift").appearances] == ["lift"]


@pytest.mark.parametrize(
    ("pins", "said"),
    [
        ([pin("X1", "1", "9")], "an end is missing in these documents"),
        (
            [pin("X1", "1", "9"), pin("X5", "1", "9", half="A", role="inline")],
            "Only one half of the in-line X5",
        ),
        (
            [pin("X1", "1", "9", size="0.5"), pin("X2", "1", "9", size="1.0")],
            "The size of 9 differs: 0.5 at X1:1",
        ),
        (
            [
                pin("X1", "1", "9", color_code="RD", base_color="red"),
                pin("X2", "1", "9", color_code="BU", base_color="blue"),
            ],
            "may be two different wires",
        ),
        (
            [pin("X1", "1", "9", flags=("cavity-gap",)), pin("X2", "1", "9")],
            "1 of 2 rows may have been misread",
        ),
        ([pin("X1", "1", "9", option="with A"), pin("X2", "1", "9", option="with B")], "different options"),
    ],
)
def test_oddities_are_said(tmp_path: Path, pins: list[Pin], said: str) -> None:
    """Each oddity of the appearances is a sentence of the answer."""
    assert any(said in notice for notice in ask(tmp_path, "9", *pins).notices)


def test_nothing_odd_says_nothing(tmp_path: Path) -> None:
    """Two ends of one colour and size, spelt differently in the documents, give no notice."""
    fine = {"base_color": "red", "stripe_color": "white", "size_mm2": 0.5}
    pins = (
        pin("X1", "1", "9", color_code="RD/WH", size="0.5", **fine),
        pin("X2", "1", "9", color_code="rt ws", size="0,50", **fine),
    )
    assert ask(tmp_path, "9", *pins).notices == ()


def test_colour_change_at_an_inline_is_no_contradiction(tmp_path: Path) -> None:
    """Where an in-line lies between, another colour is said but not taken for another wire."""
    halves = [
        pin("X5", "1", "9", half=half, role="inline", base_color=color, color_code=color)
        for half, color in (("A", "red"), ("B", "blue"))
    ]
    notices = ask(tmp_path, "9", *halves).notices
    assert any("differs" in notice for notice in notices)
    assert not any("two different wires" in notice for notice in notices)


def test_unread_pages_go_with_every_answer(tmp_path: Path) -> None:
    """Pages that could not be read are named also when nothing was found."""
    with Index.open(filled(tmp_path, pin("X1", "1", "9"), pages=(unread(),))) as index:
        assert answer_circuit(index, "none").unread_pages == (unread(),)
        assert answer_cavity(index, "X1", "1").unread_pages == (unread(),)
