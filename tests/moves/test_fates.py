"""What happens to a net: each fate, in the order in which they hold, and the traps on the way."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, inline_of, net_of, pin, rows, worked
from xref.moves.fates import fate_of
from xref.moves.plan_file import PlanError
from xref.moves.records import AS_FITTED, DROPPED, LEFT_BEHIND, End

THROUGH = ("M1:1 1001 C1A:1", "C1B:1 1001 M2:1")
BOW = {"M1": "bow"}


def ends(*where: str) -> list[End]:
    """Return ends that are at these places."""
    return [
        End(place=(f"M{n}", "", "1"), pin=pin(f"M{n}:1"), where=place)
        for n, place in enumerate(where, start=1)
    ]


@pytest.mark.parametrize(
    ("where", "flags", "fate"),
    [
        (["bow", "bow"], ["end-missing"], "unknown"),
        ([DROPPED, DROPPED], ["mate-missing"], "unknown"),
        ([AS_FITTED, AS_FITTED], ["splice-one-leg"], "unknown"),
        (["bow", AS_FITTED], ["pins-in-doubt"], "unknown"),
        (["bow", AS_FITTED], ["options-open"], "unknown"),
        (["bow", DROPPED], [], "needs host"),
        (["bow", LEFT_BEHIND], [], "needs host"),
        ([AS_FITTED, DROPPED], [], "dies"),
        ([DROPPED, DROPPED], [], "dies"),
        ([LEFT_BEHIND], [], "dies"),
        ([AS_FITTED, AS_FITTED], [], "stays"),
        ([AS_FITTED, AS_FITTED, DROPPED], [], "stays"),
        (["bow", "bow", DROPPED], [], "travels"),
        (["bow", "stern"], [], "crosses"),
        (["bow", AS_FITTED, DROPPED], ["splice-unseen"], "crosses"),
    ],
)
def test_first_fate_that_holds(where: list[str], flags: list[str], fate: str) -> None:
    """Unknown before needs host, dies, stays, travels and crosses."""
    assert fate_of(ends(*where), flags)[0] == fate


def test_moving_none_and_moving_all(tmp_path: Path) -> None:
    """An empty plan cuts nothing; a plan that moves all to one place makes every net travel."""
    pins = rows(*THROUGH)
    assert worked(tmp_path / "none", pins)["counts"]["stays"] == 1
    plan = worked(tmp_path / "all", pins, place={"M1": "bow", "M2": "bow"}, keep=("C1",))
    assert plan["counts"]["travels"] == 1 and not plan["cuts"]


def test_cavity_on_one_half_only(tmp_path: Path) -> None:
    """An in-line cavity that only one half has makes the net unknown, uncut and asked about."""
    pins = [*rows(*THROUGH, "M1:2 1002 C1A:2"), pin("M2:2", "1002")]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "1002")["fate"] == "unknown"
    assert all(cut["net"] != net_of(plan, "1002")["net"] for cut in plan["cuts"])
    assert any(question["about"] == "1002" for question in plan["questions"])
    assert inline_of(plan, "C1")["fate"] == "stays"


def test_splice_with_one_leg(tmp_path: Path) -> None:
    """A splice of which one leg is in the documents is incomplete: the net is unknown."""
    pins = [*rows("M1:1 1001 S1:a"), pin("M2:1", "1001")]
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "1001")["fate"] == "unknown" and not plan["cuts"]


def test_splice_leg_that_leads_nowhere(tmp_path: Path) -> None:
    """A splice's leg whose far end is in no document makes the net unknown, though two ends are known."""
    pins = [*rows("M1:1 1001 S1:a", "M2:1 1001 S1:b"), pin("S1:c", "1001")]
    plan = worked(tmp_path, pins, place=BOW)
    net = net_of(plan, "1001")
    assert net["fate"] == "unknown" and "1001" in net["reason"] and not plan["cuts"]


def test_pin_in_doubt(tmp_path: Path) -> None:
    """One row that may have been misread is enough to leave a net alone."""
    pins = rows(*THROUGH, but={"M2:1": {"flags": ("color-undecided",)}})
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "1001")["fate"] == "unknown" and not plan["cuts"]
    assert any("xref check" in question["settle"] for question in plan["questions"])


def test_options(tmp_path: Path) -> None:
    """What comes with one option and what comes with another make no net anybody has decided about."""
    pins = [
        *rows("M1:1 1001 M2:1"),
        pin("M1:1", "1001", "M3:1", option="with heater"),
        pin("M3:1", "1001", "M1:1", option="with heater"),
        pin("M1:1", "1001", "M4:1", option="with fan"),
        pin("M4:1", "1001", "M1:1", option="with fan"),
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert all(net["fate"] == "unknown" for net in plan["nets"]) and not plan["cuts"]


def test_two_feeds_and_two_grounds_of_which_one_is_forgotten(tmp_path: Path) -> None:
    """Each feed and ground a moved module loses is listed and asked for; an answer settles only its own."""
    wires = ("M1:1 11 F1:1", "M1:2 12 F2:1", "M1:3 31 G1:1", "M1:4 32 G2:1", "M1:5 40 M2:1")
    plan = worked(
        tmp_path,
        rows(*wires),
        rest="left behind",
        place={"M1": "bow", "M2": "bow"},
        host={"M1:1": "host 24 V, fuse H3", "M1:3": "host ground stud"},
    )
    needs = {need["pin"]["cavity"]: (need["kind"], bool(need["answer"])) for need in plan["host"]}
    assert needs == {"1": ("feed", True), "2": ("feed", False), "3": ("ground", True), "4": ("ground", False)}
    asked = {question["about"] for question in plan["questions"]}
    assert {"M1:2", "M1:4"} <= asked and not {"M1:1", "M1:3"} & asked
    joined = {join["host"] for join in plan["joins"]}
    assert joined == {"host 24 V, fuse H3", "host ground stud"}


def test_terminator_that_moves(tmp_path: Path) -> None:
    """A bus that crosses because its terminator moves is asked about, and its splice is not doubled."""
    pins = rows(
        "M1:1 900 S1:a", "M2:1 900 S1:b", "M3:1 900 S1:c", but={"M1:1": {"function": "CAN terminator"}}
    )
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "900")["splice"]["doubled"] is None
    texts = [question["text"] for question in plan["questions"] if question["about"] == "900"]
    assert any("terminator" in text for text in texts) and any("bus" in text for text in texts)


def test_bus_through_a_module_that_is_dropped(tmp_path: Path) -> None:
    """Where a chained module goes, its two wires are joined without it, so that the trunk is not broken."""
    pins = rows("M1:1 900 M2:1", "M2:1 900 M3:1")
    plan = worked(tmp_path, pins, place={"M1": "bow", "M3": "bow"}, drop=("M2",))
    assert net_of(plan, "900")["fate"] == "travels"
    assert cut_places(plan) == ["M2:1", "M2:1"]
    (join,) = plan["joins"]
    assert {stub["side"] for stub in join["stubs"]} == {"loom"} and len(join["stubs"]) == 2
    assert len({cut["id"] for cut in plan["cuts"]}) == 2


def test_cavity_said_to_be_unused(tmp_path: Path) -> None:
    """A cavity printed as not used is in no net and gets no line."""
    pins = [*rows("M1:1 1001 M2:1"), pin("M1:2", "", status="unused", base_color="", color_code="")]
    plan = worked(tmp_path, pins, place=BOW)
    assert [len(net["ends"]) for net in plan["nets"]] == [2]
    assert all(cut["cavity"] == "1" for cut in plan["cuts"])


def test_cavity_said_to_be_unused_that_has_a_circuit(tmp_path: Path) -> None:
    """A row that says "not used" and prints a circuit all the same makes its net unknown."""
    filled = {"M1:2": {"status": "unused", "flags": ("unused-but-filled",)}}
    pins = rows("M1:1 1001 M2:1", "M1:2 1002 M2:2", but=filled)
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "1002")["fate"] == "unknown"
    assert {cut["circuit"] for cut in plan["cuts"]} == {"1001"}


def test_loop_in_one_plug(tmp_path: Path) -> None:
    """A wire with both ends in one moved plug travels with it, uncut."""
    plan = worked(tmp_path, rows("M1:1 1001 M1:2", "M1:3 1002 M2:1"), place=BOW)
    assert net_of(plan, "1001")["fate"] == "travels"
    assert all(cut["circuit"] == "1002" for cut in plan["cuts"])


def test_net_that_leaves_what_moves_and_comes_back(tmp_path: Path) -> None:
    """Moved, staying, moved: one crossing is enough where the staying end hangs on a splice."""
    plan = worked(
        tmp_path, rows("M1:1 5 S1:a", "M2:1 5 S1:b", "M3:1 5 S1:c"), place={"M1": "bow", "M3": "bow"}
    )
    net = net_of(plan, "5")
    assert net["fate"] == "crosses" and net["crossings"] == 1
    assert cut_places(plan) == ["M2:1"]


def test_ground_stud_shared_with_what_stays(tmp_path: Path) -> None:
    """Two circuits on one stud are two nets: moving the module of one cuts nothing of the other."""
    pins = rows("M1:1 311 G1:1", "M2:1 312 G1:1")
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "311")["fate"] == "crosses" and net_of(plan, "312")["fate"] == "stays"
    assert {cut["circuit"] for cut in plan["cuts"]} == {"311"}
    assert any("ground" in question["text"] and question["about"] == "311" for question in plan["questions"])


def test_ring_of_wires(tmp_path: Path) -> None:
    """In a ring a crossing takes two wires, and the checks say that continuity proves nothing."""
    pins = rows(
        "M1:1 5 S1:a", "M1:1 5 S2:a", "S1:b 5 S2:b", "M2:1 5 S1:c", but={"M2:1": {"function": "Shield"}}
    )
    plan = worked(tmp_path, pins, place=BOW)
    assert net_of(plan, "5")["crossings"] in (1, 2)
    assert plan["cuts"]
    for cut in plan["cuts"]:
        assert any("second way" in check for check in cut["checks_before"])


@pytest.mark.parametrize("route", [{}, {frozenset(("as fitted", "wheelhouse")): 3.0}])
def test_route_that_is_not_given(tmp_path: Path, route: dict[Any, float]) -> None:
    """A pair of places without metres has no length, never 0, and is asked for."""
    plan = worked(tmp_path, rows("M1:1 1001 M2:1"), place=BOW, route=route)
    (join,) = plan["joins"]
    assert join["wire"]["length_m"] is None
    assert any("how far" in question["text"].casefold() for question in plan["questions"])


def test_route_with_tails(tmp_path: Path) -> None:
    """An extension is as long as the route and a tail at each end."""
    route = {frozenset(("as fitted", "bow")): 3.0}
    plan = worked(tmp_path, rows("M1:1 1001 M2:1"), place=BOW, route=route, tail_m=0.2)
    assert plan["joins"][0]["wire"]["length_m"] == pytest.approx(3.4)


def test_shield_drain_without_number(tmp_path: Path) -> None:
    """A drain without circuit number is a net of its own by its from/to row, and never doubled."""
    drain = {"circuit": "", "base_color": "", "color_code": "", "function": "Shield drain"}
    pins = rows("M1:9 x M2:9", "M1:1 1001 M2:1", but={"M1:9": drain, "M2:9": drain})
    plan = worked(tmp_path, pins, place=BOW)
    (net,) = (net for net in plan["nets"] if not net["circuits"])
    assert net["fate"] in ("crosses", "unknown")
    assert any("shield" in question["text"].casefold() for question in plan["questions"])


def test_dropped_end_of_a_net_that_stays(tmp_path: Path) -> None:
    """What leads to a dropped end is cut off where it leaves what lives, and capped."""
    plan = worked(tmp_path, rows("M1:1 5 S1:a", "M2:1 5 S1:b", "M3:1 5 S1:c"), drop=("M3",))
    assert net_of(plan, "5")["fate"] == "stays"
    assert cut_places(plan) == ["S1:c"]
    (cap,) = plan["caps"]
    assert cap["side"] == "plug"


def test_left_behind(tmp_path: Path) -> None:
    """Where the rest is left behind, a moved end whose others are gone needs the host, and the rest dies."""
    plan = worked(tmp_path, rows("M1:1 1 M2:1", "M2:2 2 M3:1"), rest="left behind", place=BOW)
    assert net_of(plan, "1")["fate"] == "needs host" and net_of(plan, "2")["fate"] == "dies"
    assert {end["place"] for net in plan["nets"] for end in net["ends"]} == {"bow", "left behind"}
    assert {cut["circuit"] for cut in plan["cuts"]} == {"1"}


def test_unseen_splice(tmp_path: Path) -> None:
    """Three ends and no splice: cut at the tail of what moves only, "at least", and a question."""
    pins = [pin("M1:1", "5"), pin("M2:1", "5"), pin("M3:1", "5")]
    plan = worked(tmp_path, pins, place={"M1": "bow", "M2": "bow"})
    net = net_of(plan, "5")
    assert net["fate"] == "crosses" and net["at_least"] and net["crossings"] == 1
    assert cut_places(plan) == ["M1:1", "M2:1"]
    assert any(question["about"] == "5" for question in plan["questions"])


def test_connector_goes_before_its_component(tmp_path: Path) -> None:
    """A connector named by itself goes where its own line says, the rest of its component elsewhere."""
    of = {"component": "Mast controller"}
    pins = rows("M1:1 1 M2:1", "M3:1 2 M4:1", but={"M1:1": of, "M3:1": of})
    plan = worked(tmp_path, pins, place={"Mast controller": "bow", "M3": "stern"})
    where = {end["connector"]: end["place"] for net in plan["nets"] for end in net["ends"]}
    assert where["M1"] == "bow" and where["M3"] == "stern"


@pytest.mark.parametrize(
    "plan",
    [
        {"place": {"C1": "bow"}},
        {"place": {"M9": "bow"}},
        {"place": {"M1": "as fitted"}},
        {"place": BOW, "drop": ("M1",)},
        {"machine": "boat", "place": BOW},
    ],
)
def test_plans_that_cannot_be_followed(tmp_path: Path, plan: dict[str, Any]) -> None:
    """An in-line placed, a name nowhere printed, no place, placed and dropped, no such machine: refused."""
    with pytest.raises(PlanError):
        worked(tmp_path, rows(*THROUGH), **plan)


def test_two_wires_of_one_circuit_in_one_cavity(tmp_path: Path) -> None:
    """The two wires of a chained cavity are two cuts with two ids, told apart by where they lead."""
    plan = worked(tmp_path, rows("M1:1 5 M2:1", "M2:1 5 M3:1"), drop=("M2",))
    ids = {cut["id"]: cut["to"]["connector"] for cut in plan["cuts"]}
    assert sorted(ids.values()) == ["M1", "M3"]
    labels = [text for cut in plan["cuts"] for text in cut["labels"]]
    assert len(set(labels)) == 4


def test_fuse_between_two_circuits(tmp_path: Path) -> None:
    """A fuse parts two nets: a move on one side of it cuts nothing on the other."""
    plan = worked(tmp_path, rows("M1:1 11 F1:1", "F1:2 12 M2:1"), place=BOW)
    assert net_of(plan, "11")["fate"] == "crosses" and net_of(plan, "12")["fate"] == "stays"


def test_number_used_twice(tmp_path: Path) -> None:
    """One number on wires of two colours with nothing between is two nets, both unknown."""
    pins = rows("M1:1 5 M2:1") + [
        pin(where, "5", base_color="blue", color_code="BU", document="other.pdf")
        for where in ("M3:1", "M4:1")
    ]
    plan = worked(tmp_path, pins, place=BOW)
    assert {net["fate"] for net in plan["nets"]} == {"unknown"} and len(plan["nets"]) == 2
    assert not plan["cuts"]


def test_one_by_one_cuts_again(tmp_path: Path) -> None:
    """A wire between two modules is cut where one is moved after the other, and not when both go at once."""
    plan = worked(tmp_path, rows("M1:1 5 M2:1", "M3:1 6 M4:1"), place={"M1": "bow", "M2": "bow"})
    assert not plan["cuts"]
    assert plan["counts"]["one_by_one"] == {"cuts": 2, "joins": 2}


@pytest.mark.parametrize("where", ["Dropped", "AS FITTED", "left Behind"])
def test_words_that_are_no_places_in_capitals(tmp_path: Path, where: str) -> None:
    """What is meant as gone is not taken for a place of that name, and cut to be joined there."""
    with pytest.raises(PlanError):
        worked(tmp_path, rows("M1:1 10 M2:1"), place={"M1": where})


@pytest.mark.parametrize(
    ("circuit", "kind"),
    [
        *(("KL31", "ground"), ("AGND", "ground"), ("B+", "feed"), ("0 V", "ground"), ("VSS", "ground")),
        *(("NEG", "ground"), ("12 V", "feed"), ("SHIELD", "unknown"), ("NC", "unknown")),
    ],
)
def test_a_ground_named_by_its_circuit_is_no_feed(tmp_path: Path, circuit: str, kind: str) -> None:
    """A host that would feed a ground would burn the module; what names no voltage asks for none."""
    pins = [pin("M1:1", circuit, "M2:1"), pin("M2:1", circuit, "M1:1")]
    plan = worked(tmp_path, pins, place={"M1": "bow"}, drop=("M2",))
    assert [need["kind"] for need in plan["host"]] == [kind]
