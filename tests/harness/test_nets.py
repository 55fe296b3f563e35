"""What joins pins into a net and what does not, through the index as an indexing run leaves it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.harness.settle import settle_roles
from xref.records import Pin
from xref.store.index import Index

#: Pins of a net as `X1:7`, halves as `X5A:7`; each with the flags of the net.
Nets = dict[frozenset[str], frozenset[str]]


def nets(folder: Path, *pins: Pin) -> Nets:
    """Store the pins and return their nets; a cavity that is in two nets is in both of them."""
    with Index.open(filled(folder, *pins)) as index:
        found: dict[int, set[str]] = {}
        flags: dict[int, frozenset[str]] = {}
        for number, named, held in index.all_nets():
            found[number] = {f"{there.connector}{there.half}:{there.cavity}" for there in held}
            flags[number] = frozenset(named)
            assert index.nets_of(held) == dict.fromkeys(held, number)
            assert index.pins_of_nets([number]) == {number: held}
    return {frozenset(members): flags[number] for number, members in found.items()}


def partition(folder: Path, *pins: Pin) -> set[frozenset[str]]:
    """Return the nets without their flags."""
    return set(nets(folder, *pins))


def of(*texts: str) -> set[frozenset[str]]:
    """Write a partition: the cavities of each net, with blanks between them."""
    return {frozenset(text.split()) for text in texts}


def wire(connector: str, cavity: str, circuit: str, base: str = "", **fields: Any) -> Pin:
    """Make a pin of a component with a base colour."""
    given = {"role": "component", "color_code": base, "base_color": base, **fields}
    return pin(connector, cavity, circuit, **given)


def rear(pins: Pin | list[Pin], document: str = "rear.pdf") -> list[Pin]:
    """Print pins in another document."""
    return [replace(p, document=document) for p in (pins if isinstance(pins, list) else [pins])]


def inline(cavity: str, a: str, b: str, *bases: str, name: str = "X5", **fields: Any) -> list[Pin]:
    """Make a cavity of both halves of an in-line with the circuit of each."""
    one, other = bases or ("", "")
    return [
        wire(name, cavity, a, one, half="A", role="inline", **fields),
        wire(name, cavity, b, other, half="B", role="inline", **fields),
    ]


# --- the same circuit ---------------------------------------------------------------------------------------


def test_one_circuit_of_one_machine_is_a_net_over_documents(tmp_path: Path) -> None:
    """The same circuit joins pages and documents of one machine."""
    found = nets(tmp_path, wire("A1", "1", "5", "red"), *rear(wire("B1", "1", "5", "red")))
    assert found == {frozenset({"A1:1", "B1:1"}): frozenset()}


def test_two_machines_are_never_joined(tmp_path: Path) -> None:
    """One designator and one circuit of two machines are two connectors and two nets."""
    donor, host = (
        wire("A1", "1", "5", "red"),
        wire("A1", "1", "5", "red", machine="boat", document="boat.pdf"),
    )
    other = wire("B1", "1", "5", "red", machine="boat", document="boat.pdf")
    with Index.open(filled(tmp_path, donor, host, other)) as index:
        assert [len(held) for *_, held in index.all_nets("lift")] == [1]
        assert [len(held) for *_, held in index.all_nets("boat")] == [2]
        assert set(index.nets_of([donor]).values()).isdisjoint(index.nets_of([host]).values())


def test_mates_of_two_machines_do_not_touch(tmp_path: Path) -> None:
    """One half in each of two machines joins nothing, whatever the circuits."""
    a, b = inline("1", "5", "5")
    b = replace(b, machine="boat", document="boat.pdf")
    assert partition(tmp_path, a, b) == of("X5A:1", "X5B:1")


def test_reused_number_with_other_colors_is_two_nets_both_flagged(tmp_path: Path) -> None:
    """A number on wires of another base colour, no in-line or splice between, stays two nets in doubt."""
    red = [wire("A1", "1", "5", "red"), wire("B1", "1", "5", "red")]
    blue = rear([wire("C1", "1", "5", "blue"), wire("D1", "1", "5", "blue")])
    found = nets(tmp_path, *red, *blue)
    assert set(found) == of("A1:1 B1:1", "C1:1 D1:1")
    assert all("circuit-contradicts" in flags for flags in found.values())


def test_stripes_may_differ(tmp_path: Path) -> None:
    """Another stripe is no contradiction: only the base colour is."""
    found = nets(tmp_path, wire("A1", "1", "5", "red", stripe_color="blue"), wire("B1", "1", "5", "red"))
    assert found == {frozenset({"A1:1", "B1:1"}): frozenset()}


def test_row_without_color_belongs_to_neither_of_two(tmp_path: Path) -> None:
    """Which of two contradicting wires a row without a colour is, nobody knows: it stays apart, in doubt."""
    pins = [wire("A1", "1", "5", "red"), wire("B1", "1", "5", "blue"), wire("C1", "1", "5")]
    found = nets(tmp_path, *pins)
    assert set(found) == of("A1:1", "B1:1", "C1:1")
    assert all("circuit-contradicts" in flags for flags in found.values())


def test_row_without_color_joins_the_only_color(tmp_path: Path) -> None:
    """Silence about the colour is no contradiction."""
    found = nets(tmp_path, wire("A1", "1", "5", "red"), wire("C1", "1", "5"))
    assert found == {frozenset({"A1:1", "C1:1"}): frozenset()}


def test_color_may_change_at_an_inline(tmp_path: Path) -> None:
    """Red up to the in-line and blue behind it is one net."""
    pins = [wire("A1", "1", "5", "red"), *inline("1", "5", "5", "red", "blue"), wire("B1", "1", "5", "blue")]
    assert nets(tmp_path, *pins) == {frozenset({"A1:1", "X5A:1", "X5B:1", "B1:1"}): frozenset()}


def test_color_may_change_at_a_splice(tmp_path: Path) -> None:
    """Legs of a splice may have different colours."""
    legs = [wire("S1", c, "5", base, role="splice") for c, base in (("a", "red"), ("b", "blue"))]
    pins = [wire("A1", "1", "5", "red"), *legs, wire("B1", "1", "5", "blue")]
    assert nets(tmp_path, *pins) == {frozenset({"A1:1", "S1:a", "S1:b", "B1:1"}): frozenset()}


def test_an_inline_elsewhere_does_not_explain_another_color(tmp_path: Path) -> None:
    """An in-line red on both sides is not between the red wires and the blue ones of the same number."""
    red = [wire("A1", "1", "5", "red"), *inline("1", "5", "5", "red", "red"), wire("B1", "1", "5", "red")]
    blue = rear([wire("C1", "1", "5", "blue"), wire("D1", "1", "5", "blue")])
    found = nets(tmp_path, *red, *blue)
    assert set(found) == of("A1:1 X5A:1 X5B:1 B1:1", "C1:1 D1:1")
    assert all("circuit-contradicts" in flags for flags in found.values())


def test_colors_of_two_numbers_may_explain_each_other(tmp_path: Path) -> None:
    """Red and blue of one number, joined by way of another number at an in-line, are one net."""
    pins = [
        wire("A1", "1", "5", "red"),
        *inline("1", "5", "6", "red", "red"),
        *inline("1", "6", "5", "red", "blue", name="X6"),
        wire("B1", "1", "5", "blue"),
    ]
    found = nets(tmp_path, *pins)
    assert found == {frozenset({"A1:1", "X5A:1", "X5B:1", "X6A:1", "X6B:1", "B1:1"}): frozenset()}


@pytest.mark.parametrize("other", ["1440B", "1440", "01440", "144O", "1440-1"])
def test_alike_numbers_are_not_joined(tmp_path: Path, other: str) -> None:
    """Suffix letters, padding and near-twins name other circuits: nothing but wiring joins them."""
    assert partition(tmp_path, wire("A1", "1", "1440A"), wire("B1", "1", other)) == of("A1:1", "B1:1")


def test_a_splice_proves_suffix_letters_one_net(tmp_path: Path) -> None:
    """1440A and 1440B are one net where a splice has a leg of each."""
    legs = [wire("S1", leg, f"1440{leg.upper()}", role="splice") for leg in "ab"]
    found = partition(tmp_path, wire("A1", "1", "1440A"), wire("B1", "1", "1440B"), *legs)
    assert found == of("A1:1 B1:1 S1:a S1:b")


def test_an_inline_proves_suffix_letters_one_net(tmp_path: Path) -> None:
    """1440A and 1440B are one net where they touch in an in-line."""
    found = partition(
        tmp_path, wire("A1", "1", "1440A"), wire("B1", "1", "1440B"), *inline("1", "1440A", "1440B")
    )
    assert found == of("A1:1 B1:1 X5A:1 X5B:1")


# --- names of voltages --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        *("GND", "gnd", "NC", "SHIELD", "V+", "GND2", "+12V", "B+", "Kl. 31", "MASSE"),
        *(
            "RETURN",
            "Rtn",
            "5V return",
            "Sensor return",
            "SPARE",
            "Spare 2",
            "Reserved",
            "Power",
            "IGN",
            "N/A",
        ),
        *("Masse", "Sensormasse", "Rückleitung", "Schirm", "Reserve", "frei", "nicht belegt", "Plus"),
        *("Masse 2", "Réserve", "libre", "Blindage", "Retour", "Alimentation"),
        *("Masa", "Retorno", "Reserva", "Malla", "Massa", "Riserva", "Schermo", "予備", "アース"),
    ],
)
def test_a_name_of_a_voltage_joins_nothing(tmp_path: Path, name: str) -> None:
    """Two pins at ground are not one net by that."""
    assert partition(tmp_path, wire("A1", "1", name, "black"), wire("B1", "1", name, "black")) == of(
        "A1:1", "B1:1"
    )


def test_terminal_numbers_join_nothing_where_the_document_uses_them(tmp_path: Path) -> None:
    """A 31 that its document uses as a terminal's number is a voltage; elsewhere it is a circuit.

    Source: DIN 72552 (de.zxc.wiki/wiki/DIN_72552): 31 is ground, a terminal and no wire.
    """
    named = {"notices": ("potential-name",)}
    apart = [wire("A1", "1", "31", "brown", **named), wire("B1", "1", "31", "brown", **named)]
    assert partition(tmp_path / "a", *apart) == of("A1:1", "B1:1")
    assert partition(tmp_path / "b", wire("A1", "1", "31"), wire("B1", "1", "31")) == of("A1:1 B1:1")


def test_undecided_terminal_numbers_join_nothing_and_are_in_doubt(tmp_path: Path) -> None:
    """Where a document does not tell whether 15 is a terminal's number, the rows stay apart, in doubt."""
    named = {"flags": ("potential-undecided",)}
    found = nets(tmp_path, wire("A1", "1", "15", **named), wire("B1", "1", "15", **named))
    assert set(found) == of("A1:1", "B1:1")
    assert all("pins-in-doubt" in flags for flags in found.values())


def test_voltages_go_on_through_plugs_splices_and_stated_wires(tmp_path: Path) -> None:
    """What wires do join is joined whatever its name."""
    through = [*inline("1", "GND", "GND", "black", "black")]
    assert partition(tmp_path / "a", *through) == of("X5A:1 X5B:1")
    legs = [wire("S1", leg, "GND", "black", role="splice") for leg in "ab"]
    assert partition(tmp_path / "b", *legs) == of("S1:a S1:b")
    stated = [wire("A1", "1", "GND", "black", goes_to="G1:3"), wire("G1", "3", "GND", "black", role="ground")]
    assert partition(tmp_path / "c", *stated) == of("A1:1 G1:3")


@pytest.mark.parametrize(
    "far",
    [
        [wire("G1", "3", "GND", "brown", role="ground")],  # another colour
        [wire("G1", "3", "+12V", "black", role="ground")],  # another voltage
        [wire("G1", "4", "GND", "black", role="ground")],  # another cavity
        [wire("G1", "3", "GND", "black", role="ground"), wire("G1", "3", "", "black", role="ground")],
    ],
)
def test_a_destination_that_does_not_fit_joins_nothing(tmp_path: Path, far: list[Pin]) -> None:
    """A from/to column joins a voltage's name only to the one wire it can be."""
    found = partition(tmp_path, wire("A1", "1", "GND", "black", goes_to="G1:3"), *far)
    assert frozenset({"A1:1"}) in found


def test_a_destination_that_may_be_a_name_joins_no_nets(tmp_path: Path) -> None:
    """By `G1-3` the stud of that name may be meant: only a colon says that cavity 3 of G1 is."""
    stud = wire("G1", "3", "GND", "black", role="ground")
    found = partition(tmp_path, wire("A1", "1", "GND", "black", goes_to="G1-3"), stud)
    assert frozenset({"A1:1"}) in found


# --- in-lines -----------------------------------------------------------------------------------------------


def test_mated_cavities_join_whatever_changes(tmp_path: Path) -> None:
    """Number, colour and size may change from half to half; the cavities touch all the same."""
    same = [pin for n in "234" for pin in inline(n, f"10{n}", f"10{n}")]
    a, b = inline("1", "5", "6", "red", "blue")
    found = partition(tmp_path, a, b, *same, wire("A1", "1", "5", "red"), wire("B1", "1", "6", "blue"))
    assert frozenset({"A1:1", "X5A:1", "X5B:1", "B1:1"}) in found


def test_halves_named_apart_join(tmp_path: Path) -> None:
    """In-lines whose halves are printed as two connectors join as well: C210M and C210F."""
    plug = [wire("C210M", n, f"10{n}", role="inline") for n in "12"]
    socket = [wire("C210F", n, f"10{n}", role="inline") for n in "1"] + [
        wire("C210F", "2", "999", role="inline")
    ]
    found = partition(tmp_path, *plug, *socket)
    assert found == of("C210M:1 C210F:1", "C210M:2 C210F:2")


@pytest.mark.parametrize(
    "beyond", [[], [wire("X5", "2", "", half="B", role="inline", status="unused")]], ids=["absent", "unused"]
)
def test_a_cavity_on_one_half_only_lacks_its_mate(tmp_path: Path, beyond: list[Pin]) -> None:
    """Nobody knows what lies beyond a cavity that the other half does not print or calls unused."""
    pins = [
        *inline("1", "5", "5"),
        wire("X5", "2", "6", half="A", role="inline"),
        wire("A1", "1", "6"),
        *beyond,
    ]
    found = nets(tmp_path, *pins)
    assert {"mate-missing", "end-missing"} <= found[frozenset({"X5A:2", "A1:1"})]
    assert "mate-missing" not in found[frozenset({"X5A:1", "X5B:1"})]


def test_halves_in_doubt_join_nothing(tmp_path: Path) -> None:
    """Halves that say different things in most cavities join none of these; the nets lack their mates."""
    alike = inline("1", "5", "5", "red", "red")
    differ = [p for n in "234" for p in inline(n, f"1{n}", f"2{n}", "red", "blue")]
    found = nets(tmp_path, *alike, *differ)
    assert frozenset({"X5A:1", "X5B:1"}) in found
    assert all("mate-missing" in found[frozenset({f"X5{half}:{n}"})] for half in "AB" for n in "234")


def test_a_fuse_between_halves_is_no_joint(tmp_path: Path) -> None:
    """What a fuse lies between are two nets, and each goes on through its in-line."""
    pins = [
        wire("A1", "1", "5"),
        *inline("1", "5", "5"),
        wire("F1", "1", "5", role="fuse"),
        wire("F1", "2", "6", role="fuse"),
        *inline("1", "6", "6", name="X6"),
        wire("B1", "1", "6"),
    ]
    assert partition(tmp_path, *pins) == of("A1:1 X5A:1 X5B:1 F1:1", "F1:2 X6A:1 X6B:1 B1:1")


# --- splices, cavities, studs, fuses ------------------------------------------------------------------------


def test_legs_of_a_splice_in_two_documents(tmp_path: Path) -> None:
    """A splice is one, also where each document prints one leg of it."""
    front = [wire("A1", "1", "5A"), wire("S1", "1", "5A", role="splice")]
    back = rear([wire("B1", "1", "5B"), wire("S1", "2", "5B", role="splice")])
    assert nets(tmp_path, *front, *back) == {frozenset({"A1:1", "B1:1", "S1:1", "S1:2"}): frozenset()}


def test_a_splice_known_as_one_by_another_document(tmp_path: Path) -> None:
    """A wire list that does not say what S1 is joins its legs once another document says so."""
    front = [wire("A1", "1", "5A"), wire("S1", "1", "5A", role="unknown")]
    back = rear([wire("B1", "1", "5B"), wire("S1", "2", "5B", role="splice")])
    assert partition(tmp_path, *front, *back) == of("A1:1 B1:1 S1:1 S1:2")


def test_a_splice_with_one_leg_is_incomplete(tmp_path: Path) -> None:
    """One leg says that more was to be found."""
    found = nets(tmp_path, wire("A1", "1", "5"), wire("S1", "1", "5", role="splice"))
    assert "splice-one-leg" in found[frozenset({"A1:1", "S1:1"})]


def test_a_splice_without_leg_names_has_its_legs(tmp_path: Path) -> None:
    """Legs printed as three rows of one cavity are three legs."""
    legs = [wire("S1", "", "5", role="splice", row_no=n) for n in range(3)]
    ends = [wire(name, "1", "5") for name in ("A1", "B1", "C1")]
    assert nets(tmp_path, *legs, *ends) == {frozenset({"A1:1", "B1:1", "C1:1", "S1:"}): frozenset()}


def test_a_ring_of_splices_is_one_net(tmp_path: Path) -> None:
    """A ring is one net, like any other."""
    ring = [
        wire(f"S{n}", leg, f"5{c}", role="splice")
        for n, leg, c in zip("112233", "ababab", "ABBCCA", strict=True)
    ]
    assert partition(tmp_path, *ring) == of("S1:a S1:b S2:a S2:b S3:a S3:b")


def test_two_wires_in_one_cavity_are_one_net(tmp_path: Path) -> None:
    """Two numbers that one table puts into one cavity meet there."""
    pins = [
        wire("A1", "1", "5", row_no=1),
        wire("A1", "1", "6", row_no=2),
        wire("B1", "1", "5"),
        wire("C1", "1", "6"),
    ]
    assert nets(tmp_path, *pins) == {frozenset({"A1:1", "B1:1", "C1:1"}): frozenset()}


def test_one_cavity_with_two_contents_stays_two_nets(tmp_path: Path) -> None:
    """Tables that put different wires into one cavity contradict each other: two nets, both in doubt."""
    front = [wire("A1", "1", "5", "red"), wire("B1", "1", "5", "red")]
    back = rear([wire("A1", "1", "6", "blue"), wire("C1", "1", "6", "blue")])
    found = nets(tmp_path, *front, *back)
    assert set(found) == of("A1:1 B1:1", "A1:1 C1:1")
    assert all("cavity-contradicts" in flags for flags in found.values())


def test_one_cavity_with_one_number_in_two_colors_stays_two_nets(tmp_path: Path) -> None:
    """The same number in another base colour is another content of the cavity."""
    front = [wire("A1", "1", "5", "red"), wire("B1", "1", "5", "red")]
    back = rear([wire("A1", "1", "5", "blue"), wire("C1", "1", "5", "blue")])
    found = nets(tmp_path, *front, *back)
    assert set(found) == of("A1:1 B1:1", "A1:1 C1:1")
    assert all({"cavity-contradicts", "circuit-contradicts"} <= flags for flags in found.values())


def test_a_contradicted_cavity_does_not_pass_on(tmp_path: Path) -> None:
    """Which of two contents touches the other half is not known."""
    a, b = inline("1", "5", "5", "red", "red")
    found = nets(tmp_path, a, b, *rear(wire("X5", "1", "6", "blue", half="A", role="inline")))
    assert frozenset({"X5A:1", "X5B:1"}) in found  # one number on both halves
    assert found[frozenset({"X5A:1"})] >= {"cavity-contradicts"}


def test_a_fuller_table_does_not_contradict(tmp_path: Path) -> None:
    """One table prints two wires of a cavity, another only one of them."""
    front = [wire("A1", "1", "5", row_no=1), wire("A1", "1", "6", row_no=2)]
    assert partition(tmp_path, *front, *rear(wire("A1", "1", "6"))) == of("A1:1")


def test_circuits_on_one_stud_stay_apart(tmp_path: Path) -> None:
    """A stud is an end: two ground circuits on it are two nets."""
    stud = [wire("G1", "1", c, "black", role="ground", row_no=n) for n, c in enumerate(("901", "902"))]
    found = nets(tmp_path, *stud, wire("A1", "1", "901", "black"), wire("B1", "1", "902", "black"))
    assert found == {frozenset({"G1:1", "A1:1"}): frozenset(), frozenset({"G1:1", "B1:1"}): frozenset()}


def test_one_stud_printed_twice_is_one_end(tmp_path: Path) -> None:
    """Two tables that print one wire at a stud print one end of one net."""
    stud = wire("G1", "1", "GND", "black", role="ground")
    found = nets(tmp_path, stud, *rear(stud), wire("A1", "1", "GND", "black", goes_to="G1:1"))
    assert found == {frozenset({"G1:1", "A1:1"}): frozenset()}


def test_the_sides_of_a_fuse_are_two_nets(tmp_path: Path) -> None:
    """A fuse conducts, and is no wire: before and behind it are two nets."""
    pins = [wire("F1", "1", "5", role="fuse"), wire("F1", "2", "6", role="fuse")]
    assert partition(tmp_path, *pins, wire("A1", "1", "5"), wire("B1", "1", "6")) == of(
        "F1:1 A1:1", "F1:2 B1:1"
    )


def test_one_number_on_both_sides_of_a_fuse_is_in_doubt(tmp_path: Path) -> None:
    """Which end is on which side is not stated, so neither side joins the others, and all are in doubt."""
    pins = [wire("F1", "1", "5", role="fuse"), wire("F1", "2", "5", role="fuse")]
    found = nets(tmp_path, *pins, wire("A1", "1", "5"))
    assert set(found) == of("F1:1", "F1:2", "A1:1")
    assert all("fuse-between" in flags for flags in found.values())


def test_a_fuse_box_is_not_one_fuse(tmp_path: Path) -> None:
    """One feed at two cavities of a box of many is one net."""
    box = [wire("F1", n, c, role="fuse") for n, c in (("1", "5"), ("2", "6"), ("3", "5"), ("4", "7"))]
    assert partition(tmp_path, *box) == of("F1:1 F1:3", "F1:2", "F1:4")


def test_the_sides_of_each_fuse_in_a_box_are_two_nets(tmp_path: Path) -> None:
    """One feed of several fuses is one net with them; what each feeds is another, whatever the table says."""
    box = [wire("F9", f"F{n} in", "5", role="fuse") for n in (1, 2)]
    box += [wire("F9", "F1 out", "6", role="fuse"), wire("F9", "F2 out", "7", role="fuse")]
    found = partition(tmp_path, *box, wire("A1", "1", "5"), wire("B1", "1", "6"))
    assert found == {
        frozenset({"F9:F1 in", "F9:F2 in", "A1:1"}),
        frozenset({"F9:F1 out", "B1:1"}),
        frozenset({"F9:F2 out"}),
    }


def test_one_number_on_both_sides_of_a_fuse_in_a_box_is_in_doubt(tmp_path: Path) -> None:
    """Where a box prints one number on both sides of a fuse, its sides are not joined, and all say so."""
    box = [wire("F9", f"F1 {side}", "5", role="fuse") for side in ("in", "out")]
    box += [wire("F9", f"F2 {side}", number, role="fuse") for side, number in (("in", "8"), ("out", "9"))]
    found = nets(tmp_path, *box, wire("A1", "1", "5"))
    assert all(len(one) == 1 for one in found)
    assert {name for one, flags in found.items() if "fuse-between" in flags for name in one} == {
        "F9:F1 in",
        "F9:F1 out",
        "A1:1",
    }


def test_a_module_joins_nothing(tmp_path: Path) -> None:
    """A relay, switch or module is no wire: its cavities stay apart, though the component is one."""
    pins = [wire("K1", n, c, component="Relay") for n, c in (("30", "5"), ("87", "6"))]
    assert partition(tmp_path, *pins) == of("K1:30", "K1:87")


# --- cavities as printed ------------------------------------------------------------------------------------


def test_padded_cavities_meet_and_lettered_ones_do_not(tmp_path: Path) -> None:
    """`1` and `01` are one cavity in two documents, `A1` is another."""
    padded = rear(wire("A1", "01", "", "red"))
    lettered = rear(wire("A1", "A1", "", "red"), "third.pdf")
    found = partition(tmp_path, wire("A1", "1", "5", "red"), *padded, *lettered)
    assert found == of("A1:1 A1:01", "A1:A1")


def test_padded_cavities_mate_and_lettered_ones_do_not(tmp_path: Path) -> None:
    """Cavity 1 touches 01 of the other half, not A1."""
    a = [wire("X5", n, f"10{n}", half="A", role="inline") for n in "12"]
    b = [wire("X5", "01", "201", half="B", role="inline"), wire("X5", "A2", "202", half="B", role="inline")]
    assert partition(tmp_path, *a, *b) == of("X5A:1 X5B:01", "X5A:2", "X5B:A2")


def test_unused_and_blank_rows_are_in_no_net(tmp_path: Path) -> None:
    """A cavity said to be empty, or of which nothing is said, carries no wire."""
    empty = [wire("A1", "1", "", status="unused"), wire("A1", "2", "", status="not stated")]
    with Index.open(filled(tmp_path, *empty, wire("A1", "3", "5"))) as index:
        assert [pin.cavity for *_, pins in index.all_nets() for pin in pins] == ["3"]
        assert index.nets_of(empty) == {}


def test_an_unused_row_with_a_wire_is_in_its_net_in_doubt(tmp_path: Path) -> None:
    """A row that says not used and names a circuit may be live: it is in the net, in doubt."""
    odd = wire("A1", "1", "5", status="unused", flags=("unused-but-filled",))
    assert nets(tmp_path, odd, wire("B1", "1", "5")) == {
        frozenset({"A1:1", "B1:1"}): frozenset({"pins-in-doubt"})
    }


def test_a_shield_without_a_number_is_a_net_of_its_own(tmp_path: Path) -> None:
    """Bare wires without a number are not joined to each other; an end is missing."""
    bare = {"color_code": "bare", "function": "Shield"}
    found = nets(tmp_path, wire("A1", "9", "", "natural", **bare), wire("B1", "9", "", "natural", **bare))
    assert set(found) == of("A1:9", "B1:9")
    assert all("end-missing" in flags for flags in found.values())


def test_a_shield_goes_where_its_row_says(tmp_path: Path) -> None:
    """A from/to row joins what has no number."""
    there = wire("B1", "9", "", "natural")
    assert partition(tmp_path, wire("A1", "9", "", "natural", goes_to="B1:9"), there) == of("A1:9 B1:9")


# --- options ------------------------------------------------------------------------------------------------


def test_two_options_are_never_joined(tmp_path: Path) -> None:
    """One circuit in two options is two nets."""
    heated, plain = {"option": "with heater"}, {"option": "without heater"}
    pins = [wire("A1", "1", "5", **heated), wire("B1", "1", "5", **heated), wire("C1", "1", "5", **plain)]
    assert partition(tmp_path, *pins) == of("A1:1 B1:1", "C1:1")


def test_an_option_is_joined_to_what_is_always_there(tmp_path: Path) -> None:
    """A wire to a component that only an option has is one net with the rows that name none."""
    assert partition(tmp_path, wire("A1", "1", "5"), wire("B1", "1", "5", option="with heater")) == of(
        "A1:1 B1:1"
    )


def test_two_options_are_not_joined_by_what_is_always_there(tmp_path: Path) -> None:
    """Rows of no option do not make two options one net; that the net is open is said of each part."""
    pins = [wire("A1", "1", "5"), wire("B1", "1", "5", option="with"), wire("C1", "1", "5", option="without")]
    found = nets(tmp_path, *pins)
    assert set(found) == of("A1:1", "B1:1", "C1:1")
    assert all("options-open" in flags for flags in found.values())


def test_one_cavity_may_hold_another_wire_with_another_option(tmp_path: Path) -> None:
    """Two options of one cavity contradict nothing and stay two nets."""
    pins = [
        wire("A1", "1", "5", "red", option="with", row_no=1),
        wire("A1", "1", "6", "blue", option="without", row_no=2),
    ]
    found = nets(tmp_path, *pins, wire("B1", "1", "5", "red"), wire("C1", "1", "6", "blue"))
    assert found == {frozenset({"A1:1", "B1:1"}): frozenset(), frozenset({"A1:1", "C1:1"}): frozenset()}


# --- what is said of a net ----------------------------------------------------------------------------------


def test_one_end_only_is_said(tmp_path: Path) -> None:
    """A circuit with one end in the documents lacks the other."""
    assert nets(tmp_path, wire("A1", "1", "5")) == {frozenset({"A1:1"}): frozenset({"end-missing"})}


def test_two_wires_in_one_cavity_are_one_end(tmp_path: Path) -> None:
    """Ends are counted by cavity."""
    found = nets(tmp_path, wire("A1", "1", "5", row_no=1), wire("A1", "1", "5", row_no=2))
    assert "end-missing" in found[frozenset({"A1:1"})]


@pytest.mark.parametrize("cavities", ["12", "1"])
def test_a_component_with_two_cavities_on_one_circuit(tmp_path: Path, cavities: str) -> None:
    """A bus in and out, two feeds or a loop: joined inside or outside is not stated, over its connectors."""
    second = wire("M1X2" if cavities == "1" else "M1X1", cavities[-1], "5", component="Mast controller")
    pins = [wire("M1X1", "1", "5", component="Mast controller"), second]
    found = nets(tmp_path, *pins)
    assert list(found.values()) == [frozenset({"joint-not-stated"})]


def test_three_ends_have_a_splice_nobody_printed(tmp_path: Path) -> None:
    """Three ends meet somewhere; where is not known unless a splice or a two-wire cavity is printed."""
    ends = [wire(name, "1", "5") for name in ("A1", "B1", "C1")]
    assert list(nets(tmp_path / "a", *ends).values()) == [frozenset({"splice-unseen"})]
    legs = [wire("S1", leg, "5", role="splice") for leg in "abc"]
    assert list(nets(tmp_path / "b", *ends, *legs).values()) == [frozenset()]
    assert list(nets(tmp_path / "c", *ends, wire("A1", "1", "5", row_no=2)).values()) == [frozenset()]


def test_copies_of_a_page_are_no_second_wire(tmp_path: Path) -> None:
    """Overlapping pages print a wire end again; it stays one end and one wire."""
    ends = [wire(name, "1", "5", "red") for name in ("A1", "B1", "C1")]
    again = [wire(name, "1", "5", "red", page=2) for name in ("A1", "B1", "C1")]
    for number, copies in enumerate((again, rear(ends))):
        found = nets(tmp_path / str(number), *ends, *copies)
        assert found == {frozenset({"A1:1", "B1:1", "C1:1"}): frozenset({"splice-unseen"})}


def test_a_row_in_doubt_is_said_of_its_net(tmp_path: Path) -> None:
    """A net is no surer than its rows."""
    found = nets(tmp_path, wire("A1", "1", "5", flags=("row-assembled",)), wire("B1", "1", "5"))
    assert found == {frozenset({"A1:1", "B1:1"}): frozenset({"pins-in-doubt"})}


def test_a_bus_bar_is_declared_as_a_splice(tmp_path: Path) -> None:
    """What the manual calls a joint of several ways joins them all, whatever they are called."""
    bar = [wire("BB1", n, f"30{n}", role="splice") for n in "1234"]
    assert partition(tmp_path, *bar) == of("BB1:1 BB1:2 BB1:3 BB1:4")


def test_nets_are_worked_out_anew_when_a_document_goes(tmp_path: Path) -> None:
    """A net that only a document taken out had joined falls apart again; no row of it is left."""
    workspace = filled(
        tmp_path,
        wire("A1", "1", "5A"),
        wire("B1", "1", "5B"),
        *rear([wire("S1", leg, f"5{leg}", role="splice") for leg in "AB"]),
    )
    with Index.open(workspace, write=True) as index:
        assert len({number for number, *_ in index.all_nets()}) == 1
        index.forget("rear.pdf", "lift")
        settle_roles(index)
        assert sorted(pin.connector for *_, pins in index.all_nets() for pin in pins) == ["A1", "B1"]
        assert len({number for number, *_ in index.all_nets()}) == 2


def test_several_voltage_names_at_one_stud_stay_apart(tmp_path: Path) -> None:
    """Wires named `GND` that come to one stud are one each: by its own rows, else not joined at all."""
    wires = [
        wire("A1", "1", "GND", "black", goes_to="G1:1"),
        wire("B1", "1", "GND", "black", goes_to="G1:1"),
    ]
    stud = [wire("G1", "1", "GND", "black", role="ground")]
    assert len(partition(tmp_path / "a", *wires, *stud)) == 3
    rows = [wire("G1", "1", "GND", "black", role="ground", goes_to=f"{name}:1") for name in ("A1", "B1")]
    assert len(partition(tmp_path / "b", *wires, *rows)) == 2
