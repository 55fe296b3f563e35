"""Bus pairs of a plan: which wires are one, their order, terminators, bridges and ohms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import rows, worked
from xref.data.bus_words import family_of, is_bus, side_of, side_of_circuit
from xref.data.function_words import kinds_of
from xref.records import Pin

NAMES = {"T1": "Bow terminator", "T2": "Stern terminator", "M1": "Mast controller", "M2": "Pump controller"}
#: A trunk with two stubs: terminators at its ends, its splices in between.
TREE = ("T1:{n} 250{n} S1{n}:a", "S1{n}:b 250{n} M1:{n}", "S1{n}:c 250{n} S2{n}:a",
        "S2{n}:b 250{n} M2:{n}", "S2{n}:c 250{n} T2:{n}")  # fmt: skip
#: The same modules one after the other: in at one cavity, out at the next.
CHAIN = ("T1:{n} 250{n} M1:{n}", "M1:{n}9 250{n} M2:{n}", "M2:{n}9 250{n} T2:{n}")


def bus(
    wires: tuple[str, ...] = TREE,
    called: tuple[str, str] = ("CAN high", "CAN low"),
    names: Mapping[str, str] = NAMES,
) -> list[Pin]:
    """Return the rows of both wires of a bus; circuit 2501 is the first one, 2502 the other."""
    pins = []
    for number, function in enumerate(called, start=1):
        for wire in wires:
            pins += [replace(pin, function=function) for pin in rows(wire.format(n=number))]
    return [replace(pin, component=names.get(pin.connector, "")) for pin in pins]


def asked(plan: Mapping[str, Any], kind: str) -> list[str]:
    """Return the texts of the questions of a kind."""
    return [item["text"] for item in plan["questions"] if item["kind"] == kind]


@pytest.mark.parametrize(
    ("function", "side"),
    [
        ("CAN high", "H"),
        ("CAN_L", "L"),
        ("CANH", "H"),
        ("CAN1L", "L"),
        ("CAN-H engine", "H"),
        ("High speed CAN low", "L"),
        ("Low speed CAN H", "H"),
        ("CAN bus +", "H"),
        ("J1939 (-)", "L"),
        ("High speed CAN", None),
        ("CAN H / CAN L shield", None),
        ("CAN", None),
        ("Data bus plus", "H"),
    ],
)
def test_a_function_names_the_wire_of_a_pair(function: str, side: str | None) -> None:
    """`High speed` is no side, and what names both names none."""
    assert is_bus(function) and side_of(function)[0] == side


def test_a_circuit_ends_in_its_side() -> None:
    """Stem and suffix, in letters or signs."""
    assert side_of_circuit("CAN1-H") == ("H", "CAN1")
    assert side_of_circuit("2500L") == ("L", "2500")
    assert side_of_circuit("D+") == ("H", "D") and side_of_circuit("2500") == (None, "2500")
    assert family_of(["CAN H", "2500"]) == "CAN" and family_of(["LIN"]) == "LIN"
    assert not is_bus("Candle heater", "Lining", "2500L") and family_of(["Scan tool"]) == ""


def test_a_terminator_that_moves_with_its_pair_stays_at_the_end(tmp_path: Path) -> None:
    """Its wires are extended, so it is still the last; 60 ohm before and after, with what is assumed."""
    plan = worked(tmp_path, bus(), place={"T2": "aft"}, route={frozenset(("aft", "as fitted")): 4.0})
    (pair,) = plan["buses"]
    assert (pair["order"], pair["ends"]) == ("stated", ["Bow terminator", "Stern terminator"])
    assert pair["stubs"] == ["Mast controller", "Pump controller"]
    assert pair["ohms"] == {"before": 60.0, "after": 60.0} and pair["rule"] == ""
    assert "no table" in pair["expected"]["after"] and "measure before" in pair["expected"]["after"]
    assert [(t["moves"], t["at_end_after"]) for t in pair["terminators"]] == [(False, True), (True, True)]
    assert pair["longer"] == [{"module": "Stern terminator", "part": "trunk", "metres": 4.0}]
    assert not asked(plan, "terminator") and not asked(plan, "pair") and not asked(plan, "bridge")


def test_a_terminator_that_comes_along_nowhere_is_asked_for(tmp_path: Path) -> None:
    """One terminator less: 120 ohm by what is known, and a question."""
    plan = worked(tmp_path, bus(), place={"M1": "aft"}, drop=("T2",))
    (pair,) = plan["buses"]
    assert pair["ohms"] == {"before": 60.0, "after": 120.0} and pair["gone"] == ["Stern terminator"]
    (gone,) = [text for text in asked(plan, "terminator") if "Stern terminator" in text]
    assert gone.startswith("Terminator no longer at the end")


def test_a_terminator_of_a_bus_whose_order_is_not_stated_is_asked_for(tmp_path: Path) -> None:
    """Three ends and no splice: nobody says where the trunk ends, though the ohms would read 60."""
    pins = [replace(pin, goes_to="") for pin in bus(("T1:{n} 250{n} M1:{n}", "M2:{n} 250{n} T2:{n}"))]
    plan = worked(tmp_path, pins, place={"T2": "aft"})
    (pair,) = plan["buses"]
    assert pair["order"] == "not stated" and pair["why_not"]
    assert any("Stern terminator" in text for text in asked(plan, "terminator"))


def test_a_terminator_in_the_middle_of_its_trunk_is_asked_for(tmp_path: Path) -> None:
    """It was never at the end: when it moves, that is said."""
    names = {**NAMES, "T2": "Plain sensor", "M2": "Pump with terminator"}
    plan = worked(tmp_path, bus(CHAIN, names=names), place={"M2": "aft"})
    assert any("not at the end before" in text for text in asked(plan, "terminator"))


def test_a_stub_that_grows_is_asked_about(tmp_path: Path) -> None:
    """With a long stub the bus goes on past its terminator."""
    plan = worked(tmp_path, bus(), place={"M2": "aft"}, route={frozenset(("aft", "as fitted")): 4.0})
    (text,) = asked(plan, "terminator")
    assert "Pump controller grows by 4 m" in text
    assert plan["buses"][0]["longer"][0]["part"] == "stub"


def test_a_module_the_bus_passes_through_needs_a_bridge(tmp_path: Path) -> None:
    """In and out: the order is that of the wires, and who leaves opens the trunk."""
    plan = worked(tmp_path, bus(CHAIN), place={"M1": "aft"})
    (pair,) = plan["buses"]
    assert pair["modules"] in (list(NAMES.values()), [NAMES[n] for n in ("T1", "M1", "M2", "T2")])
    assert pair["through"] == ["Mast controller"]
    (text,) = asked(plan, "bridge")
    assert "Mast controller" in text and "two H and two L" in text
    every = worked(tmp_path / "all", bus(CHAIN), place=dict.fromkeys(NAMES, "aft"))
    assert not asked(every, "bridge") and every["buses"][0]["through"] == []


def test_a_module_between_two_pairs_of_other_circuits_needs_a_bridge_too(tmp_path: Path) -> None:
    """Where the circuit changes in the module, its two pairs are found all the same."""
    two = [
        replace(pin, function=f"CAN {side}", component=NAMES.get(pin.connector, ""))
        for side, n in (("high", 1), ("low", 2))
        for wire in (f"T1:{n} 250{n} M1:{n}", f"M1:{n}9 260{n} M2:{n}")
        for pin in rows(wire)
    ]
    plan = worked(tmp_path, two, place={"M1": "aft"})
    assert [pair["name"] for pair in plan["buses"]] == ["2501 / 2502", "2601 / 2602"]
    (text,) = asked(plan, "bridge")
    assert "2501 / 2502 and 2601 / 2602" in text


def test_two_wires_of_unlike_fate_are_no_pair_any_more(tmp_path: Path) -> None:
    """The low wire has an end more that stays: one wire travels, the other crosses."""
    pins = bus(("M1:{n} 250{n} M2:{n}",))
    pins = [pin for pin in pins if pin.circuit == "2501"]
    pins += [
        replace(pin, function="CAN low", component=NAMES.get(pin.connector, ""))
        for wire in ("M1:2 2502 S1:a", "M2:2 2502 S1:b", "M3:2 2502 S1:c")
        for pin in rows(wire)
    ]
    plan = worked(tmp_path, pins, place={"M1": "aft", "M2": "aft"})
    (pair,) = plan["buses"]
    assert pair["same"] is False and pair["fates"] == {"high": "travels", "low": "crosses"}
    (text,) = asked(plan, "pair")
    assert "do not stay a pair" in text


def test_a_wire_without_its_partner_is_asked_about(tmp_path: Path) -> None:
    """A pair of which one wire was not read is not cut as if it were a single wire."""
    pins = [pin for pin in bus() if pin.circuit == "2501"]
    plan = worked(tmp_path, pins, place={"M1": "aft"})
    assert plan["buses"] == [] and "2501 is one wire" in asked(plan, "pair")[0]


@pytest.mark.parametrize(
    ("called", "said"),
    [
        (("Data bus high", "Data bus low"), "no name"),
        (("CAN H low-speed", "CAN L low-speed"), "low-speed"),
        (("FlexRay plus", "FlexRay minus"), "FlexRay"),
    ],
)
def test_the_rule_of_two_terminators_is_one_of_high_speed_can(
    tmp_path: Path, called: tuple[str, str], said: str
) -> None:
    """Of any other bus no ohms are told, and it is said why."""
    (pair,) = worked(tmp_path, bus(called=called), place={"M1": "aft"})["buses"]
    assert said in pair["rule"] and pair["ohms"] == {"before": None, "after": None}


def test_without_a_known_terminator_the_reading_of_before_is_the_measure(tmp_path: Path) -> None:
    """Terminators inside modules are in no table: no number is made up."""
    names = {**NAMES, "T1": "Display", "T2": "Sensor"}
    (pair,) = worked(tmp_path, bus(names=names), place={"M1": "aft"})["buses"]
    assert pair["ohms"]["before"] is None and "54-66 ohm" in pair["expected"]["before"]
    assert "measure before the move and compare" in pair["expected"]["after"]


def test_no_way_grows_where_nothing_stays_as_fitted(tmp_path: Path) -> None:
    """Of a donor that is left behind the wires between two new places are laid anew."""
    route = {frozenset(("aft", "bow")): 4.0}
    places = {"M1": "aft", "M2": "bow", "T2": "bow"}
    (pair,) = worked(tmp_path, bus(), place=places, rest="left behind", route=route)["buses"]
    assert pair["longer"] == [] and pair["gone"] == ["Bow terminator"]


@pytest.mark.parametrize(
    ("function", "holds"),
    [
        ("CAN H, Abschluss 120 Ohm intern", True),
        ("Busabschluss", True),
        ("Résistance de fin de ligne", True),
        ("Abschlussblende, Beleuchtung", False),
        ("Niveaugeber 120 Ohm", False),
    ],
)
def test_words_for_a_terminator(function: str, holds: bool) -> None:
    """A bus may end inside a module: its cavity's function says so. Ohms alone, or an end cover, do not."""
    assert ("terminator" in kinds_of(function)) == holds
