"""What is never cut, what waits until a person has read it, and what nobody knows."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, net_of, pin, rows, worked

BOW = {"M1": "bow"}


def with_function(function: str, **more: Any) -> list[Any]:
    """Return one wire between two modules with a function at one end."""
    return rows("M1:1 1001 M2:1", but={"M1:1": {"function": function, **more}})


@pytest.mark.parametrize(
    "function",
    [
        "Driver airbag squib 1",
        "SRS module supply",
        "Zündpille Fahrer",
        "Airbag Fahrerseite",
        "Prétensionneur conducteur",
        "Coussin gonflable passager",
        "Bolsa de aire conductor",
        "Pretensor de cinturón",
        "Airbag lato guida",
        "Pretensionatore",
        "運転席エアバッグ",
        "プリテンショナー",
    ],
)
def test_airbags_in_six_languages(tmp_path: Path, function: str) -> None:
    """An airbag's wire is refused in whatever language its function stands; no line is proposed for it."""
    plan = worked(tmp_path, with_function(function), place=BOW)
    assert not plan["cuts"] and not plan["joins"]
    (refused,) = plan["refused"]
    assert refused["circuit"] == "1001" and refused["reason"].startswith("airbag")
    assert any(question["about"] == "M1" for question in plan["questions"])


@pytest.mark.parametrize(
    ("function", "kind"),
    [
        ("Traction battery +", "high voltage"),
        ("Antenna, coaxial", "coax"),
        ("Fibre optic ring", "optical"),
        ("Ethernet 100BASE-T1", "Ethernet"),
        ("Thermocouple exhaust", "thermocouple"),
        ("Fusible link main", "fusible link"),
    ],
)
def test_what_moves_whole(tmp_path: Path, function: str, kind: str) -> None:
    """High voltage, coax, optical fibre, Ethernet, thermocouples and fusible links are never cut."""
    plan = worked(tmp_path, with_function(function), place=BOW)
    assert not plan["cuts"] and plan["refused"][0]["reason"].startswith(kind)


def test_refusal_spreads_over_the_net(tmp_path: Path) -> None:
    """One word at one pin refuses the whole net, through splices and in-lines, and nothing beside it."""
    wires = ("M1:1 5 S1:a", "M2:1 5 S1:b", "S1:c 5 C1A:1", "C1B:1 6 M3:1", "M1:2 7 M2:2")
    pins = rows(*wires, but={"M3:1": {"function": "Airbag"}})
    plan = worked(tmp_path, pins, place=BOW)
    assert [set(net_of(plan, "5")["circuits"])] == [{"5", "6"}]
    assert {item["net"] for item in plan["refused"]} == {net_of(plan, "5")["net"]}
    assert {cut["circuit"] for cut in plan["cuts"]} == {"7"}


def test_refusal_spreads_over_the_component(tmp_path: Path) -> None:
    """Every pin of a component named so is refused, whatever its own function says, on all its connectors."""
    named = {"component": "Airbag control unit"}
    pins = rows(
        "M1:1 1 M3:1",
        "M1:2 2 M3:2",
        "M2:1 3 M3:3",
        "M4:1 4 M3:4",
        but={"M1:1": named, "M1:2": named | {"function": "Work lamp"}, "M2:1": named},
    )
    plan = worked(tmp_path, pins, place={"M3": "bow"})
    assert {item["circuit"] for item in plan["refused"]} == {"1", "2", "3"}
    assert {cut["circuit"] for cut in plan["cuts"]} == {"4"}


def test_placed_module_with_a_refused_pin_is_blocked(tmp_path: Path) -> None:
    """A placed module that has a refused pin is named first among the questions."""
    plan = worked(tmp_path, with_function("Airbag squib"), place=BOW)
    assert plan["questions"][0]["about"] == "M1"
    assert "airbag" in plan["questions"][0]["text"]


def test_no_check_on_an_airbag(tmp_path: Path) -> None:
    """Nothing is metered on an airbag's wire."""
    plan = worked(tmp_path, [*with_function("Airbag squib"), *rows("M1:5 9 M2:5")], place=BOW)
    assert all("M1:1" not in check for cut in plan["cuts"] for check in cut["checks_before"])


@pytest.mark.parametrize(("volts", "refused"), [(None, 0), (24, 0), (60, 0), (61, 2), (96, 2)])
def test_voltage_of_the_system(tmp_path: Path, volts: float | None, refused: int) -> None:
    """Above 60 V DC every supply and its ground is refused; signals are not.

    Source: ISO 6469-3 and UN R100, voltage class B above 60 V DC.
    """
    plan = worked(
        tmp_path, rows("M1:1 11 F1:1", "M1:2 31 G1:1", "M1:3 40 M2:1"), place=BOW, system_volts=volts
    )
    assert len(plan["refused"]) == refused
    assert {cut["circuit"] for cut in plan["cuts"]} == ({"40"} if refused else {"11", "31", "40"})


@pytest.mark.parametrize(
    ("color", "size", "refused"),
    [
        ("orange", 10.0, True),
        ("orange", 35.0, True),
        ("orange", 6.0, False),
        ("orange", None, False),
        ("red", 35.0, False),
    ],
)
def test_thick_orange_wires(tmp_path: Path, color: str, size: float | None, refused: bool) -> None:
    """An orange wire of 10 mm² or more is taken for high voltage; a thin one is an ordinary wire."""
    looks = {"base_color": color, "size_mm2": size}
    pins = rows("M1:1 1001 M2:1", but={"M1:1": looks, "M2:1": looks})
    plan = worked(tmp_path, pins, place=BOW)
    assert bool(plan["refused"]) is refused and bool(plan["cuts"]) is not refused


@pytest.mark.parametrize(
    "function",
    ["Brake light switch", "Bremslichtschalter", "Steering angle", "Accelerator pedal", "Seat belt switch"],
)
def test_safety_circuits_wait_until_accepted(tmp_path: Path, function: str) -> None:
    """A safety circuit keeps its fate and stands in the questions; it is cut once its function is named."""
    pins = with_function(function)
    plan = worked(tmp_path / "before", pins, place=BOW)
    assert net_of(plan, "1001")["fate"] == "crosses" and not plan["cuts"] and not plan["refused"]
    assert any("safety" in q["text"] and function in q["settle"] for q in plan["questions"])
    other = worked(tmp_path / "other", pins, place=BOW, accepted=("Something else",))
    assert not other["cuts"]
    after = worked(tmp_path / "after", pins, place=BOW, accepted=(function.upper(),))
    assert cut_places(after) == ["M2:1"]
    assert any("safety" in check for check in after["cuts"][0]["checks_before"])


def test_accepting_does_not_lift_a_refusal(tmp_path: Path) -> None:
    """What is refused stays refused, whatever is accepted."""
    plan = worked(tmp_path, with_function("Airbag squib"), place=BOW, accepted=("Airbag squib",))
    assert not plan["cuts"] and plan["refused"]


def test_function_that_is_printed_nowhere(tmp_path: Path) -> None:
    """A circuit without function is unknown, not harmless: it is asked about and its check says so."""
    plan = worked(tmp_path, rows("M1:1 1001 M2:1"), place=BOW)
    assert any("1001" in q["about"] and "nowhere" in q["text"] for q in plan["questions"])
    assert any("nowhere" in check for check in plan["cuts"][0]["checks_before"])


def test_staying_safety_circuit_raises_no_question(tmp_path: Path) -> None:
    """A safety circuit that stays is nobody's question."""
    pins = [*rows("M2:1 5 M3:1", but={"M2:1": {"function": "Brake light switch"}}), *rows("M1:1 6 M2:2")]
    plan = worked(tmp_path, pins, place=BOW)
    assert not any("safety" in q["text"] for q in plan["questions"])


def test_refused_net_takes_its_inline_along_uncut(tmp_path: Path) -> None:
    """A refused net of which all ends travel is not cut at its in-line either."""
    pins = rows("M1:1 5 C1A:1", "C1B:1 5 M2:1", but={"M1:1": {"function": "Airbag squib"}})
    plan = worked(tmp_path, [*pins, pin("M3:1", "9")], place={"M1": "bow", "M2": "bow"})
    assert not plan["cuts"] and plan["inlines"][0]["fate"] == "stays"


@pytest.mark.parametrize("circuit", ["B+", "GND", "KL30", "ＧＮＤ", "S-GND"])
def test_a_supply_named_by_its_circuit(tmp_path: Path, circuit: str) -> None:
    """Above 60 V a voltage's name in the circuit column is a supply, though no function says so."""
    pins = rows(f"M1:1 {circuit} M2:1", "M1:2 7 M2:2")
    plan = worked(tmp_path, pins, place=BOW, system_volts=80.0)
    assert net_of(plan, circuit)["refused"].startswith("high voltage")
    assert cut_places(plan) == ["M2:2"]


@pytest.mark.parametrize("thick", ["M1:1", "M2:1"])
def test_thick_orange_told_by_two_rows(tmp_path: Path, thick: str) -> None:
    """One table prints the colour and another the size: together they are a high-voltage cable."""
    bare = {"base_color": "", "color_code": "", "size_mm2": 25.0, "document": "list.pdf"}
    pins = [
        pin("M1:1", "7", base_color="orange", color_code="OG"),
        pin("M2:1", "7", base_color="", color_code=""),
        pin(thick, "7", **bare),
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert not plan["cuts"] and plan["refused"][0]["reason"].startswith("high voltage")


def test_a_connector_other_documents_call_otherwise(tmp_path: Path) -> None:
    """One document names an airbag unit: rows that call its connector something else are refused too."""
    pins = [
        *rows("M1:1 1 M3:1", but={"M3:1": {"component": "Airbag unit"}}),
        *rows("M1:2 2 M3:2", but={"M3:2": {"component": "Unit B"}}),
        *rows("M1:3 3 M3:3"),
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert len(plan["refused"]) == 3 and not plan["cuts"]


def test_each_kind_of_safety_circuit_is_accepted_by_its_own_function(tmp_path: Path) -> None:
    """A word that stands beside it accepts no brake circuit, and a brake's function no steering circuit."""
    functions = {"M1:1": "Brake light switch", "M2:1": "Sensor return", "M3:1": "Steering angle"}
    but = {where: {"function": text} for where, text in functions.items()}
    pins = rows("M1:1 5 S1:a", "S1:b 5 M2:1", "S1:c 5 M3:1", but=but)
    for accepted in (("Sensor return",), ("Brake light switch",), ("Steering angle", "Sensor return")):
        plan = worked(tmp_path / str(len(accepted)) / accepted[0], pins, place=BOW, accepted=accepted)
        assert not plan["cuts"], accepted
        (question,) = (q for q in plan["questions"] if "safety circuit" in q["text"])
        asked = {text for text in functions.values() if f'"{text}"' in question["settle"]}
        assert asked == {"Brake light switch", "Steering angle"} - set(accepted)
    both = worked(tmp_path / "both", pins, place=BOW, accepted=("Brake light switch", "steering angle"))
    assert both["cuts"]


def test_a_safety_circuit_without_a_function_is_accepted_by_its_component(tmp_path: Path) -> None:
    """Where no function is printed the component's name is what there is to read."""
    pins = rows("M1:1 5 M2:1", but={"M2:1": {"component": "Brake control unit"}})
    plan = worked(tmp_path / "before", pins, place=BOW)
    assert not plan["cuts"]
    assert any('accepted = ["Brake control unit"]' in q["settle"] for q in plan["questions"])
    after = worked(tmp_path / "after", pins, place=BOW, accepted=("Brake control unit",))
    assert after["cuts"] and not any("no such function" in q["text"] for q in after["questions"])
