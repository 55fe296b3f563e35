"""The lines of a plan connector by connector, and what the meter reads."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.moves.winch import AFT, WINCH, at, planned, wire
from xref.moves.metering import readings_of
from xref.moves.records import Plan
from xref.moves.worklist import work_places

BEHIND = 'rest = "left behind"\n' + AFT + '[host]\n"A1:1" = "fuse H1"\n'


def everything(plan: Plan) -> list[str]:
    """Return what becomes of every stub."""
    return [text for place in work_places(plan) for line in place.lines for text in (line.plug, line.loom)]


def test_every_cut_stands_at_exactly_one_connector_in_the_order_of_work(tmp_path: Path) -> None:
    """The moved module's plugs come first, none is lost, what holds for all is said once."""
    plan = planned(tmp_path)
    places = work_places(plan)
    assert [line.cut for place in places for line in place.lines] == list(plan.cuts)
    assert [(place.name, place.going) for place in places] == [
        ("A1", "goes to aft"),
        ("F1", "stays as fitted"),
        ("G1", "stays as fitted"),
    ]
    assert places[0].component == WINCH
    assert all("power off" in place.checks[0] for place in places)


def test_an_extension_says_for_each_stub_where_its_other_end_goes(tmp_path: Path) -> None:
    """The stub at the stud leads aft, the stub on the loom comes from what stays."""
    ground = work_places(planned(tmp_path))[2].lines[0]
    assert "extension to aft" in ground.plug and "extension to what stays" in ground.loom
    assert ground.extensions[0].endswith("0.75 mm², 3.30 m")


def test_caps_and_hosts_are_said_with_whether_they_are_live(tmp_path: Path) -> None:
    """A stub is joined to the new vehicle, capped, or nothing; a cap says whether it may be live."""
    said = everything(planned(tmp_path, BEHIND))
    assert any("to the new vehicle: fuse H1" in text for text in said)
    assert any("may be live: meter it" in text for text in said)
    assert any(text.startswith("nothing") for text in said)


def test_readings_take_one_line_less_than_a_net_has_ends(tmp_path: Path) -> None:
    """Of n ends n − 1 lines from one of them; none for refused, unread, unknown and untouched nets."""
    plan = planned(tmp_path)
    readings = readings_of(plan)
    assert [r.circuit for r in readings] == ["101", "102", "103", "104"]
    metered = [net for net in plan.nets if net.circuits and net.circuits[0] in ("101", "102", "103", "104")]
    assert len(readings) == sum(len(net.ends) - 1 for net in metered)
    assert all((r.before, r.after, r.ring) == ("continuity", "continuity", False) for r in readings)


def test_a_wire_whose_far_end_is_gone_is_open_afterwards(tmp_path: Path) -> None:
    """Left-behind ends read open after the move; a net with nothing left needs no reading."""
    after = {r.circuit: r.after for r in readings_of(planned(tmp_path, BEHIND))}
    assert after == {"101": "open", "102": "continuity", "103": "open", "104": "open"}


def test_a_ring_is_said_because_continuity_proves_nothing_there(tmp_path: Path) -> None:
    """Two stated ways between two cavities are a ring; an in-line somewhere on the way is none."""
    ring = [
        *wire("120", "red", "Lamp", at("A1", "8", WINCH), at("L1", "1", "Lamp 1")),
        *wire("120", "red", "Lamp", at("A1", "8", WINCH), at("L2", "1", "Lamp 2")),
        *wire("120", "red", "Lamp", at("L1", "1", "Lamp 1"), at("L2", "1", "Lamp 2")),
    ]
    goes = ("L1:1", "A1:8", "L2:1", "A1:8", "L2:1", "L1:1")
    pins = [replace(pin, goes_to=far, row_no=n) for n, (pin, far) in enumerate(zip(ring, goes, strict=True))]
    plan = planned(tmp_path, AFT, *pins)
    rings = {r.circuit: r.ring for r in readings_of(plan)}
    assert rings["120"] and not rings["104"]
