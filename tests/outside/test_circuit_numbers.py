"""What published wire-marking practice says of circuit numbers, held against the nets that are worked out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.data.potentials import potential
from xref.records import Pin
from xref.store.fold import stem_key
from xref.store.index import Index

#: DIN 72552 terminals, a part of the list: de.zxc.wiki/wiki/DIN_72552 (list from there in part, rest memory).
#: Only 15, 30 and 31 are names of a voltage that a circuit column may hold.
TERMINALS = [
    *("1", "4", "15a", "15b", "15c", "17", "19", "30a", "30b", "30g", "31b", "31c", "49", "49a", "50"),
    *("53", "54", "55", "56", "56a", "56b", "57", "58", "61", "75", "85", "86", "87", "87a", "88"),
]


def nets(folder: Path, *pins: Pin) -> set[frozenset[str]]:
    """Return the nets of these pins as `X1:7`."""
    found: dict[int, set[str]] = {}
    with Index.open(filled(folder, *pins)) as index:
        for number, _, pins in index.all_nets():
            found[number] = {f"{pin.connector}{pin.half}:{pin.cavity}" for pin in pins}
    return {frozenset(members) for members in found.values()}


def test_one_identification_until_a_switching_point(tmp_path: Path) -> None:
    """The connection up to the switch has one identification, behind it another: two nets.

    Source: armyordnance.tpub.com/OD1003/Wiring-Harness-Identification-84.htm: one identification for the
    continuous connection until a switching point or active component.
    """
    through = [pin("X5", "1", "12", half=half, role="inline") for half in "AB"]
    switch = [pin("S2", "1", "12", component="Switch"), pin("S2", "2", "13", component="Switch")]
    assert nets(tmp_path, pin("F1", "1", "12"), *through, *switch, pin("E1", "1", "13")) == {
        frozenset({"F1:1", "X5A:1", "X5B:1", "S2:1"}),
        frozenset({"S2:2", "E1:1"}),
    }


def test_segment_letters_change_at_each_terminal(tmp_path: Path) -> None:
    """Segments A, B and C of one wire number are one net where connectors join them, and only there.

    Source: electriciantraining.tpub.com/14176/css/Wire-Marking-Systems-98.htm: the segment letter changes at
    each terminal or connector (`P215A4N`: wire 215, segment A, size 4, N to ground).
    """
    ends = [pin("A1", "1", "P215A4"), pin("B1", "1", "P215C4N")]
    first = [pin("J1", "1", f"P215{letter}4", half=half, role="inline") for half, letter in ("AA", "BB")]
    second = [
        pin("J2", "1", "P215B4", half="A", role="inline"),
        pin("J2", "1", "P215C4N", half="B", role="inline"),
    ]
    assert nets(tmp_path / "joined", *ends, *first, *second) == {
        frozenset({"A1:1", "J1A:1", "J1B:1", "J2A:1", "J2B:1", "B1:1"})
    }
    assert nets(tmp_path / "apart", *ends) == {frozenset({"A1:1"}), frozenset({"B1:1"})}


def test_suffix_letters_name_segments_between_terminals(tmp_path: Path) -> None:
    """Suffixed segments are near one another, and are not one net by their names.

    Source: armyordnance.tpub.com/OD1003/Wiring-Harness-Identification-84.htm: suffix letters for the segments
    between terminals.
    """
    assert stem_key("1440A") == stem_key("1440B") == stem_key("1440")
    assert nets(tmp_path, pin("A1", "1", "1440A"), pin("B1", "1", "1440B")) == {
        frozenset({"A1:1"}),
        frozenset({"B1:1"}),
    }


def test_unit_numbers_keep_repeated_equipment_apart(tmp_path: Path) -> None:
    """1P215 and 2P215 are the same wire of two like units, and two nets.

    Source: navyaviation.tpub.com/14329 (page 246): unit number prefix for repeated equipment.
    """
    assert nets(tmp_path, pin("A1", "1", "1P215A4"), pin("B1", "1", "2P215A4")) == {
        frozenset({"A1:1"}),
        frozenset({"B1:1"}),
    }


@pytest.mark.parametrize("terminal", ["15", "30", "31"])
def test_terminal_names_are_no_wire_names(tmp_path: Path, terminal: str) -> None:
    """Two wires are not one because both say 31; where it is a circuit's number they are.

    Source: memim.com/din-72552.html: terminal names are not wire names; meaning of 15, 30, 31:
    de.zxc.wiki/wiki/DIN_72552.
    """
    said = {"notices": ("potential-name",)}
    apart = [pin("A1", "1", terminal, **said), pin("B1", "1", terminal, **said)]
    assert nets(tmp_path / "terminals", *apart) == {frozenset({"A1:1"}), frozenset({"B1:1"})}
    numbers = [pin("A1", "1", terminal), pin("B1", "1", terminal)]
    assert nets(tmp_path / "numbers", *numbers) == {frozenset({"A1:1", "B1:1"})}
    assert potential(terminal) == "terminal numbers"
    assert potential(f"Kl. {terminal}") == potential(f"Klemme {terminal}") == "always"


def test_the_ends_of_a_wire_may_carry_two_terminal_names(tmp_path: Path) -> None:
    """A wire from terminal 87 to a cavity 1 is one net; another wire at a terminal 87 is another.

    Source: memim.com/din-72552.html, lkw-kelkheim.de: the two ends of one wire may carry different terminal
    numbers.
    """
    ends = [pin("K1", "87", "204"), pin("Y3", "1", "204")]
    assert nets(tmp_path, *ends, pin("K2", "87", "205")) == {
        frozenset({"K1:87", "Y3:1"}),
        frozenset({"K2:87"}),
    }


@pytest.mark.parametrize("terminal", TERMINALS)
def test_other_terminals_are_not_taken_for_voltages(terminal: str) -> None:
    """The terminals of coils, contacts and lamps stand in cavities; as a circuit they are a number."""
    assert potential(terminal) == "no"


@pytest.mark.parametrize("terminal", ["B+", "B-"])
def test_battery_terminals_are_voltages(terminal: str) -> None:
    """Battery plus and minus name a voltage wherever they stand.

    Source: DIN 72552 as listed by de.zxc.wiki/wiki/DIN_72552 (B+ in its list; B- memory).
    """
    assert potential(terminal) == "always"


def test_a_ground_stud_gathers_circuits_and_joins_none(tmp_path: Path) -> None:
    """Several ground circuits end at one stud and keep their identifications.

    Source: armyordnance.tpub.com/OD1003/Wiring-Harness-Identification-84.htm (one identification
    for one continuous connection) and memory (a stud is where connections end).
    """
    stud = [pin("G1", "1", circuit, role="ground", row_no=n) for n, circuit in enumerate(("901", "902"))]
    assert nets(tmp_path, *stud, pin("A1", "1", "901"), pin("B1", "1", "902")) == {
        frozenset({"G1:1", "A1:1"}),
        frozenset({"G1:1", "B1:1"}),
    }
