"""Splices a list names as a whole: their wires are those of other rows, counted where a number is said."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, net_of, pin, rows, worked
from xref.records import Pin

BOW = {"M1": "bow"}


def listed(name: str, circuit: str, wires: int = 0, **more: Any) -> Pin:
    """Return the row of a list about a splice as a whole."""
    said = ("splice-listed", *((f"splice-wires={wires}",) if wires else ()))
    return pin(f"{name}:", circuit, base_color="", color_code="", notices=said, **{"page": 12, **more})


def going(to: str, *modules: str, circuit: str = "440", **more: Any) -> list[Pin]:
    """Return rows that go to a splice."""
    return [pin(f"{module}:1", circuit, to, **more) for module in modules]


def asked(plan: dict[str, Any], kind: str = "unknown") -> str:
    """Return the texts of questions of a kind."""
    return " ".join(f"{q['text']} {q['settle']}" for q in plan["questions"] if q["kind"] == kind)


@pytest.mark.parametrize("name", ["S102", "s102", "S 102"])
def test_wires_are_the_rows_that_name_the_splice(tmp_path: Path, name: str) -> None:
    """As many rows that go to a splice as it is said to have wires are all of them: the net is planned."""
    pins = [listed("S102", "440", 3), *going(name, "M1", "M2", "M3")]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "440")["fate"] == "crosses" and cut_places(plan) == ["S102:"]
    assert not asked(plan) and not asked(plan, "unseen")
    assert net_of(plan, "440")["splice"]["stays"] == 1


def test_a_wire_that_is_in_no_document_is_missed(tmp_path: Path) -> None:
    """Said are four wires, three are found: unknown, with both numbers, the page and the ends found."""
    plan = worked(tmp_path, [listed("S102", "440", 4), *going("S102", "M1", "M2", "M3")], place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]
    said = "S102 is said to have 4 wires (manual.pdf p. 12), 3 are in the documents: M1:1, M2:1, M3:1"
    assert said in asked(plan) and "count the wires of S102" in asked(plan)
    assert "find its missing end" not in asked(plan)


def test_more_wires_than_are_said(tmp_path: Path) -> None:
    """Said are three wires, four rows name the splice: one of them is wrong, and nobody knows which."""
    plan = worked(tmp_path, [listed("S102", "440", 3), *going("S102", "M1", "M2", "M3", "M4")], place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]
    assert "said to have 3 wires (manual.pdf p. 12), 4 are in the documents" in asked(plan)


def test_two_lists_that_say_different_numbers(tmp_path: Path) -> None:
    """Of two numbers the larger one is what must be found."""
    lists = [listed("S102", "440", 3), listed("S102", "440", 4, document="other.pdf")]
    plan = worked(tmp_path, [*lists, *going("S102", "M1", "M2", "M3")], place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown"


def test_rows_of_the_same_number_are_its_wires(tmp_path: Path) -> None:
    """Where no row says where it goes, as many ends of the number as the splice has wires are all of them."""
    ends = [pin(f"M{n}:1", "440") for n in (1, 2, 3)]
    plan = worked(tmp_path, [listed("S102", "440", 3), *ends], place=BOW)
    assert net_of(plan, "440")["fate"] == "crosses" and cut_places(plan) == ["S102:"]
    fewer = worked(tmp_path / "fewer", [listed("S102", "440", 4), *ends], place=BOW)
    assert net_of(fewer, "440")["fate"] == "unknown" and not fewer["cuts"]
    assert "4 wires (manual.pdf p. 12), 3 are in the documents: M1:1, M2:1, M3:1" in asked(fewer)
    more = [*ends, pin("M4:1", "440"), pin("M5:1", "440")]
    plan = worked(tmp_path / "more", [listed("S102", "440", 3), *more], place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]


def test_a_splice_of_which_no_number_is_said(tmp_path: Path) -> None:
    """With three rows that name it the net is planned, and the question says that a fourth may be missing."""
    plan = worked(tmp_path, [listed("S102", "440"), *going("S102", "M1", "M2", "M3")], place=BOW)
    assert net_of(plan, "440")["fate"] == "crosses" and cut_places(plan) == ["S102:"]
    said = "How many wires S102 has is not said (manual.pdf p. 12), 3 are in the documents"
    assert said in asked(plan, "unseen")


@pytest.mark.parametrize("rest", [(), ("M4",), ("M4", "M5")])
def test_no_number_said_and_rows_that_do_not_name_it(tmp_path: Path, rest: tuple[str, ...]) -> None:
    """A splice has more than two wires, and ends that go nowhere are not known to be its."""
    pins = [listed("S102", "440"), *going("S102", "M1", "M2"), *(pin(f"{m}:1", "440") for m in rest)]
    pins += going("S102", "M3") if rest else []
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]


def test_no_number_said_and_no_row_names_it(tmp_path: Path) -> None:
    """Rows of the same number alone do not say what meets in a splice of unknown size."""
    ends = [pin(f"M{n}:1", "440") for n in (1, 2, 3)]
    plan = worked(tmp_path, [listed("S102", "440"), *ends], place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]
    assert "how many wires S102 has is not said (manual.pdf p. 12), and no row says" in asked(plan)


def test_a_wire_from_splice_to_splice_that_is_named(tmp_path: Path) -> None:
    """A list that says `to S103` states the wire between two splices of one circuit."""
    pins = [
        *(listed("S102", "440", 3, goes_to="S103"), listed("S103", "440", 3)),
        *(*going("S102", "M1", "M2"), *going("S103", "M3", "M4")),
    ]
    plan = worked(tmp_path, pins, place={"M1": "bow", "M2": "bow"})
    assert net_of(plan, "440")["fate"] == "crosses"
    assert net_of(plan, "440")["splice"]["moves"] == 1


def test_one_wire_is_left_at_each_of_two_splices(tmp_path: Path) -> None:
    """Where each of two splices of one net lacks one wire, it is the one between them; two are not known."""
    ends = [*going("S102", "M1", "M2"), *going("S103", "M3", "M4")]
    pins = [listed("S102", "440", 3), listed("S103", "440", 3), *ends]
    plan = worked(tmp_path, pins, place={"M1": "bow", "M2": "bow"})
    assert net_of(plan, "440")["fate"] == "crosses" and net_of(plan, "440")["splice"]["moves"] == 1
    more = [listed("S102", "440", 4), listed("S103", "440", 4), *ends]
    plan = worked(tmp_path / "more", more, place=BOW)
    assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]
    assert "S102 is said to have 4 wires (manual.pdf p. 12), 3 are in the documents" in asked(plan)


def test_two_splices_of_one_circuit_that_nothing_is_known_to_join(tmp_path: Path) -> None:
    """Two splices on one number, each with all its wires, lie in two pieces: what joins them is missing."""
    ends = [*going("S102", "M1", "M2", "M3"), *going("S103", "M4", "M5", "M6")]
    for number, wires in enumerate((3, 0)):
        pins = [listed("S102", "440", wires), listed("S103", "440", wires), *ends]
        plan = worked(tmp_path / str(number), pins, place=BOW)
        assert net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]


def test_legs_with_letters(tmp_path: Path) -> None:
    """`440A` that goes to a splice of `440` is a wire of it, and its net is the splice's."""
    ends = [pin(f"M{n}:1", f"440{'ABC'[n - 1]}", "S102") for n in (1, 2, 3)]
    plan = worked(tmp_path, [listed("S102", "440", 3), *ends], place=BOW)
    assert net_of(plan, "440A")["fate"] == "crosses"
    assert net_of(plan, "440A")["net"] == net_of(plan, "440C")["net"]


def test_a_row_of_another_number(tmp_path: Path) -> None:
    """A row that names a splice of another circuit contradicts the list: one unknown net, never two known."""
    ends = [*going("S102", "M1", "M2", "M3"), *going("S102", "M4", circuit="777"), pin("M5:1", "777")]
    plan = worked(tmp_path, [listed("S102", "440", 4), *ends], place=BOW)
    assert net_of(plan, "777")["fate"] == net_of(plan, "440")["fate"] == "unknown" and not plan["cuts"]


def test_names_of_voltages_meet_in_the_splice_they_name(tmp_path: Path) -> None:
    """`GND` joins nothing by itself; rows that go to one splice of that name are joined there."""
    ends = [*going("S9", "M1", "M2", "M3", circuit="GND"), *going("S8", "M4", "M5", "M6", circuit="GND")]
    plan = worked(tmp_path, [listed("S9", "GND", 3), listed("S8", "GND", 3), *ends], place=BOW)
    found = [net for net in plan["nets"] if net["fate"] == "crosses"]
    assert [sorted(end["connector"] for end in net["ends"]) for net in found] == [["M1", "M2", "M3"]]


def test_a_count_beside_rows_of_wires(tmp_path: Path) -> None:
    """Where a table prints each wire and the number of them, the number must be reached too."""
    legs = [pin("S1:", "5", f"M{n}:1", notices=("splice-wires=4",)) for n in (1, 2, 3)]
    ends = going("S1", "M1", "M2", "M3", circuit="5")
    plan = worked(tmp_path, [*legs, *ends], place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown" and "said to have 4 wires" in asked(plan)
    whole = [pin("S1:", "5", f"M{n}:1", notices=("splice-wires=3",)) for n in (1, 2, 3)]
    assert net_of(worked(tmp_path / "whole", [*whole, *ends], place=BOW), "5")["fate"] == "crosses"


def test_an_overview_adds_no_wire(tmp_path: Path) -> None:
    """A splice whose wires have rows has no more of them because an overview lists it as well."""
    wires = rows("M1:1 5 S1:a", "M2:1 5 S1:b", "M3:1 5 S1:c")
    plan = worked(tmp_path, [*wires, listed("S1", "5", 3)], place=BOW)
    assert net_of(plan, "5")["fate"] == "crosses" and cut_places(plan) == ["S1:a"]
    plan = worked(tmp_path / "more", [*wires, listed("S1", "5", 4)], place=BOW)
    assert net_of(plan, "5")["fate"] == "unknown"


def test_through_an_in_line_to_a_listed_splice(tmp_path: Path) -> None:
    """Beyond an in-line the splice has its wires all the same, and a wire of it may end there."""
    wires = rows("M1:1 440 C1A:1", but={"C1A:1": {"harness": "fore"}})
    pins = [*wires, pin("C1B:1", "440", "S102"), *going("S102", "M2", "M3"), listed("S102", "440", 3)]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "440")["fate"] == "crosses" and cut_places(plan) == ["C1A:1", "C1B:1"]


def test_a_net_with_a_listed_splice_that_stays_keeps_its_fate(tmp_path: Path) -> None:
    """A net no module of the plan is on is known or unknown by the same rule."""
    pins = [listed("S102", "440", 3), *going("S102", "M2", "M3", "M4"), *rows("M1:1 5 M2:2")]
    pins += [listed("S103", "441", 4), *(pin(f"M{n}:3", "441", "S103") for n in (2, 3, 4))]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "440")["fate"] == "stays" and net_of(plan, "441")["fate"] == "unknown"
