"""Which in-lines go, which stay, and which are the border where plugs are pulled instead of wires cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.moves.sample import cut_places, inline_of, net_of, pin, rows, worked
from xref.records import Connector

ONE = ("M1:1 1001 C1A:1", "C1B:1 1001 M2:1")
TWO = (*ONE, "M1:2 1002 C1A:2", "C1B:2 1002 M3:1")
BOTH = {"M1": "bow", "M2": "bow"}


def half(name: str, cavities: int | None) -> Connector:
    """Return the head of a half that says how many cavities it has."""
    return Connector(
        machine="",
        connector="C1",
        half=name,
        role="inline",
        document="manual.pdf",
        cavities_stated=cavities,
        cavities_read=1,
    )


def test_goes_where_all_that_passes_travels(tmp_path: Path) -> None:
    """An in-line all of whose nets travel goes: its wires are cut at both halves and joined."""
    plan = worked(tmp_path, rows(*ONE), place=BOTH)
    assert inline_of(plan, "C1")["fate"] == "goes"
    assert cut_places(plan) == ["C1A:1", "C1B:1"]
    (join,) = plan["joins"]
    assert [stub["side"] for stub in join["stubs"]] == ["loom", "loom"] and join["wire"] is None
    (link,) = plan["links"]
    assert {link["from"]["connector"], link["to"]["connector"]} == {"M1", "M2"}


@pytest.mark.parametrize(
    ("place", "extra", "fate"),
    [
        ({"M1": "bow", "M2": "stern"}, {}, "goes"),  # crosses, with no end as fitted
        ({"M1": "bow"}, {}, "goes"),  # crosses, as fitted on one side only
        ({"M1": "bow"}, {"drop": ("M2",)}, "goes"),  # needs the host
        ({}, {"drop": ("M2",)}, "goes"),  # dies
        ({}, {}, "stays"),
        ({"M3": "bow"}, {}, "stays"),
    ],
)
def test_by_fate_of_its_only_net(
    tmp_path: Path, place: dict[str, str], extra: dict[str, Any], fate: str
) -> None:
    """Nets that travel, cross, die or need the host do not keep an in-line; one that stays does."""
    plan = worked(tmp_path, rows(*ONE, "M3:1 7 M4:1"), place=place, **extra)
    assert inline_of(plan, "C1")["fate"] == fate


def test_one_staying_net_keeps_it(tmp_path: Path) -> None:
    """One cavity that carries a staying net keeps the whole in-line; the cavities still used are counted."""
    plan = worked(tmp_path, rows(*ONE, "M4:1 1002 C1A:2", "C1B:2 1002 M3:1"), place=BOTH)
    item = inline_of(plan, "C1")
    assert item["fate"] == "stays" and item["cavities_used_after"] == 1 and "2" in item["because"]
    assert net_of(plan, "1001")["fate"] == "travels" and not plan["cuts"]
    assert any(question["about"] == "1001" and "C1" in question["text"] for question in plan["questions"])


def test_as_fitted_on_both_sides_keeps_it(tmp_path: Path) -> None:
    """A crossing net with ends as fitted on both sides of an in-line still needs it."""
    pins = rows("M1:1 5 S1:a", "M2:1 5 S1:b", "C1A:1 5 S1:c", "C1B:1 5 M3:1")
    plan = worked(tmp_path, pins, place={"M1": "bow"})
    assert net_of(plan, "5")["fate"] == "crosses"
    item = inline_of(plan, "C1")
    assert item["fate"] == "stays" and item["cavities_used_after"] == 1


@pytest.mark.parametrize(
    ("function", "word"),
    [("Shield", "shield"), ("Airbag squib", "never cut"), ("Brake light switch", "safety")],
)
def test_what_must_not_be_parted_keeps_it(tmp_path: Path, function: str, word: str) -> None:
    """A shield, a refused net and a safety circuit nobody accepted keep it, wherever they go."""
    plan = worked(tmp_path, rows(*ONE, but={"M1:1": {"function": function}}), place=BOTH)
    item = inline_of(plan, "C1")
    assert item["fate"] == "stays" and word in item["because"] and item["cavities_used_after"] == 1


def test_unknown_net_keeps_it(tmp_path: Path) -> None:
    """A net nobody may decide about keeps it."""
    pins = rows(*TWO, but={"M3:1": {"flags": ("color-undecided",)}})
    plan = worked(tmp_path, pins, place=BOTH | {"M3": "bow"})
    assert inline_of(plan, "C1")["fate"] == "stays" and "not known" in inline_of(plan, "C1")["because"]


def test_kept_by_the_plan(tmp_path: Path) -> None:
    """What `keep` names stays, and nothing is cut at it."""
    plan = worked(tmp_path, rows(*ONE), place=BOTH, keep=("C1",))
    assert inline_of(plan, "C1") == {
        "connector": "C1",
        "fate": "stays",
        "border": False,
        "cavities_used_after": 0,
        "because": "the plan keeps it",
        "free": [],
        "rejoined": 0,
    }
    assert not plan["cuts"]


def test_other_half_that_is_not_in_the_documents(tmp_path: Path) -> None:
    """An in-line of which one half is in the documents stays, and what passes it is unknown."""
    plan = worked(tmp_path, rows("M1:1 1001 C1A:1", "M2:2 9 M3:2"), place=BOTH)
    assert inline_of(plan, "C1")["fate"] == "stays"
    assert net_of(plan, "1001")["fate"] == "unknown"


def test_cavities_that_are_not_in_the_documents(tmp_path: Path) -> None:
    """A half said to have more cavities than were read stays."""
    plan = worked(tmp_path, rows(*ONE), [half("A", 12), half("B", None)], place=BOTH)
    item = inline_of(plan, "C1")
    assert item["fate"] == "stays" and "11 of its 12 cavities" in item["because"]


def test_cavity_said_to_be_unused_is_documented(tmp_path: Path) -> None:
    """A cavity both halves call unused does not keep it; one on a single half does."""
    spare = {"status": "unused", "base_color": "", "color_code": ""}
    both = [*rows(*ONE), pin("C1A:2", **spare), pin("C1B:2", **spare)]
    assert inline_of(worked(tmp_path / "both", both, place=BOTH), "C1")["fate"] == "goes"
    one = [*rows(*ONE), pin("C1A:2", **spare)]
    item = inline_of(worked(tmp_path / "one", one, place=BOTH), "C1")
    assert item["fate"] == "stays" and "one half only: 2" in item["because"]


def test_size_and_color_that_change_at_it(tmp_path: Path) -> None:
    """A size on one side only and another colour on the other change no fate; the known size is taken."""
    blue = {"base_color": "blue", "color_code": "BU"}
    but = {"C1A:1": {"size_mm2": 1.5}, "C1B:1": blue, "M2:1": blue}
    plan = worked(tmp_path, rows(*ONE, but=but), place={"M1": "bow"})
    assert net_of(plan, "1001")["fate"] == "crosses"
    assert plan["joins"][0]["wire"]["size_mm2"] == 1.5


def test_number_that_changes_at_it(tmp_path: Path) -> None:
    """A circuit with another number beyond the in-line is one net, cut by the number each side prints."""
    plan = worked(tmp_path, rows("M1:1 1001 C1A:1", "C1B:1 2002 M2:1", *ONE_MORE), place=BOTH)
    net = net_of(plan, "1001")
    assert set(net["circuits"]) == {"1001", "2002"} and net["fate"] == "travels"
    of_net = {
        cut["connector"] + cut["half"]: cut["circuit"] for cut in plan["cuts"] if cut["net"] == net["net"]
    }
    assert of_net == {"C1A": "1001", "C1B": "2002"}


#: A cavity that says the same on both halves, so that the pairing is in no doubt.
ONE_MORE = ("M1:2 1002 C1A:2", "C1B:2 1002 M2:2", "M1:3 1003 C1A:3", "C1B:3 1003 M2:3")


@pytest.mark.parametrize(
    ("place", "border"),
    [
        ({"M1": "bow"}, True),  # all of one side moves
        ({"M1": "bow", "M2": "stern", "M3": "stern"}, True),
        ({"M1": "bow", "M2": "bow"}, False),  # the bow lies on both sides
        ({}, False),
    ],
)
def test_border(tmp_path: Path, place: dict[str, str], border: bool) -> None:
    """Plugs are pulled instead of wires cut where no net stays through and no place lies on both sides."""
    plan = worked(tmp_path, rows(*TWO), place=place)
    assert inline_of(plan, "C1")["border"] is border


def test_staying_net_is_no_border(tmp_path: Path) -> None:
    """One net that stays through it makes it no border."""
    plan = worked(tmp_path, rows(*ONE, "M4:1 1002 C1A:2", "C1B:2 1002 M3:1"), place={"M1": "bow"})
    assert inline_of(plan, "C1")["border"] is False


def test_cut_before_a_half_that_stays(tmp_path: Path) -> None:
    """Where the in-line stays, a crossing wire is cut at its half, as far from the moved plug as may be."""
    plan = worked(tmp_path, rows(*TWO), place={"M1": "bow"}, keep=("C1",))
    assert cut_places(plan) == ["C1A:1", "C1A:2"]


def test_cavity_of_an_inline_with_two_wires(tmp_path: Path) -> None:
    """Two wires in one cavity of an in-line that goes are joined with what was on its other half."""
    pins = rows("M1:1 5 C1A:1", "M2:1 5 C1A:1", "C1B:1 5 M3:1")
    plan = worked(tmp_path, pins, place={"M1": "bow", "M2": "bow", "M3": "bow"})
    assert inline_of(plan, "C1")["fate"] == "goes"
    (join,) = plan["joins"]
    assert len(join["stubs"]) == 3 and len({cut["id"] for cut in plan["cuts"]}) == 3


@pytest.mark.parametrize("function", ["", "Shield"])
def test_a_cavity_nothing_is_said_of(tmp_path: Path, function: str) -> None:
    """A blank row of a half is no word that no wire is there: the in-line stays."""
    blank = {"base_color": "", "color_code": "", "function": function}
    wires = rows("M1:1 10 C1A:1", "C1B:1 10 M2:1")
    place = {"M1": "bow", "M2": "bow"}
    plan = worked(tmp_path, [*wires, pin("C1A:2", **blank), pin("C1B:2", **blank)], place=place)
    assert inline_of(plan, "C1")["fate"] == "stays" and not plan["cuts"]
    assert "2" in inline_of(plan, "C1")["because"]


@pytest.mark.parametrize("first", ["with heater", "without heater"])
def test_two_options_in_one_cavity(tmp_path: Path, first: str) -> None:
    """Of two options' wires in one cavity one moves and one stays: whichever is printed first, it stays."""
    moving = rows("M1:1 5 C1A:1", "C1B:1 5 M2:1")
    staying = rows("M3:1 6 C1A:1", "C1B:1 6 M4:1")
    pins = [replace(row, option="with heater") for row in moving]
    pins += [replace(row, option="without heater") for row in staying]
    pins.sort(key=lambda row: row.option != first)
    plan = worked(tmp_path, pins, place={"M1": "bow", "M2": "bow"})
    assert inline_of(plan, "C1")["fate"] == "stays" and not plan["cuts"]


def test_an_in_line_that_goes_beside_a_module_that_goes(tmp_path: Path) -> None:
    """The wire between two that go is cut at both ends; what is left of it needs one extension, not two."""
    pins = rows("F1:1 5 C1B:1", "C1A:1 5 M1:1", "M1:1 5 M2:1")
    plan = worked(tmp_path, pins, place={"F1": "bow"}, drop=("M1",))
    assert net_of(plan, "5")["crossings"] == 1
    assert sum(join["wire"] is not None for join in plan["joins"]) == 1


def test_an_in_line_cut_out_only_to_be_joined_again_is_said(tmp_path: Path) -> None:
    """Between ends of one place its going costs work that keeping it spares; at a crossing it does not."""
    together = worked(tmp_path / "a", rows(*ONE), place=BOTH)
    assert (inline_of(together, "C1")["fate"], inline_of(together, "C1")["rejoined"]) == ("goes", 1)
    apart = worked(tmp_path / "b", rows(*ONE), place={**BOTH, "M2": "stern"})
    assert (inline_of(apart, "C1")["fate"], inline_of(apart, "C1")["rejoined"]) == ("goes", 0)


def test_what_would_free_an_in_line_that_few_cavities_hold(tmp_path: Path) -> None:
    """Said is what each net that holds it asks for; not where nothing of it is freed anyway."""
    wires = [f"M1:{n} {n}0 C1A:{n}" for n in range(1, 7)] + [f"C1B:{n} {n}0 M2:{n}" for n in range(1, 7)]
    held = ["M3:7 70 C1A:7", "C1B:7 70 M4:7"]
    plan = worked(tmp_path / "a", rows(*wires, *held), place=BOTH)
    (said,) = inline_of(plan, "C1")["free"]
    assert said.startswith("70: move what it joins as well, or lead it past")
    brake = rows(*wires, *held, but={"M3:7": {"function": "Brake light switch"}})
    (said,) = inline_of(worked(tmp_path / "b", brake, place={**BOTH, "M3": "bow"}), "C1")["free"]
    assert said == "70: read it and name it in [safety]"
    assert not inline_of(worked(tmp_path / "c", rows(*held), place={}), "C1")["free"]
    airbag = rows(*wires, *held, but={"M3:7": {"function": "Airbag squib"}})
    assert not inline_of(worked(tmp_path / "d", airbag, place=BOTH), "C1")["free"]
