"""Nets as trees of steps: nothing is put into an order that nobody stated, and nothing is lost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.harness.wired import inline, mapped, row, star
from xref.harness.netmap import Place, place_of
from xref.harness.routes import routes_between
from xref.harness.steps import Step, is_stated, steps_of_net, steps_of_route
from xref.records import Pin


def _shown(step: Step, before: str = "") -> list[str]:
    """Return a tree as lines, indented but for the last branch: kind of link, kind of step, its place."""
    link = step.link.kind if step.link is not None else "-"
    name = f"{step.pin.connector}{step.pin.half}:{step.pin.cavity}" if step.pin is not None else ""
    lines = [f"{before}{link} {step.kind} {name}".rstrip()]
    for branch in step.onward:
        lines += _shown(branch, before if branch is step.onward[-1] else before + " ")
    return lines


def _trees(pins: Sequence[Pin], *first: Place) -> list[list[str]]:
    return [_shown(top) for top in steps_of_net(mapped(pins), first)]


def test_a_stated_way_is_one_line_of_steps() -> None:
    """From/to rows and halves that touch make one tree without a hub."""
    pins = [
        row("A1:1", "component", to="X5A:7"),
        row("X5:7", "inline", half="A", to="A1:1"),
        row("X5:7", "inline", half="B", circuit="99", to="B2:4"),
        row("B2:4", "component", circuit="99"),
    ]
    assert _trees(pins) == [["- end A1:1", "wire half X5A:7", "plug half X5B:7", "wire end B2:4"]]
    assert _trees(pins, ("B2", "", "4"))[0][0] == "- end B2:4"
    assert is_stated(steps_of_net(mapped(pins)))


def test_ends_that_meet_nobody_says_where_hang_on_a_hub() -> None:
    """Three ends of one number are joined, but no two of them are shown as one wire."""
    tops = steps_of_net(mapped(star(3, splice=False)))
    assert [step.kind for step in tops[0].all()] == ["end", "hub", "end", "end"]
    assert {step.link.kind for step in tops[0].all() if step.link} == {"not stated"}
    assert not is_stated(tops)


@pytest.mark.parametrize(
    ("harnesses", "order", "ways"),
    [
        (("main", "mast"), True, ["- end A1:1", "wire half X5A:7", "plug half X5B:7", "wire end B1:1"]),
        (("mast", "main"), True, ["- end A1:1", "wire half X5B:7", "plug half X5A:7", "wire end B1:1"]),
        (
            ("", ""),
            False,
            ["- end A1:1", "not stated half X5A:7", "plug half X5B:7", "not stated end B1:1"],
        ),
    ],
)
def test_which_half_faces_which_way_is_told_by_harness_names_alone(
    harnesses: tuple[str, str], order: bool, ways: list[str]
) -> None:
    """With two ends and one in-line only the halves may be exchanged; without names the order is open."""
    pins = [
        row("A1:1", "component", harness="main" if order else ""),
        *inline("X5:7", harnesses=harnesses),
        row("B1:1", "component", harness="mast" if order else ""),
    ]
    tops = steps_of_net(mapped(pins))
    assert _shown(tops[0]) == ways
    assert is_stated(tops) is order


def test_two_in_lines_in_no_stated_order_stand_beside_each_other() -> None:
    """Which of two in-lines comes first is not made up: both hang on the hub, and lead back to it."""
    pins = [row("A1:1", "component"), *inline("X5:7"), *inline("X6:2"), row("B1:1", "component")]
    kinds = Counter(step.kind for top in steps_of_net(mapped(pins)) for step in top.all())
    assert kinds == {"end": 2, "hub": 1, "half": 4, "again": 2}


def test_a_ring_is_shown_once_and_said() -> None:
    """The wire that closes a ring ends at a step that names where it comes back to."""
    pins = [
        row("A1:1", "component", to="SP1:a"),
        *(row(f"SP1:{leg}", "splice", to=to) for leg, to in (("a", "A1:1"), ("b", "SP2:a"), ("c", "SP2:b"))),
        *(row(f"SP2:{leg}", "splice", to=to) for leg, to in (("a", "SP1:b"), ("b", "SP1:c"), ("c", "B1:1"))),
        row("B1:1", "component", to="SP2:c"),
    ]
    (top,) = steps_of_net(mapped(pins))
    assert [step.kind for step in top.all()] == ["end", "splice", "splice", "end", "again"] or [
        step.kind for step in top.all()
    ] == ["end", "splice", "splice", "again", "end"]
    assert is_stated([top])


def test_two_wires_in_a_plugged_cavity_meet_before_the_plug() -> None:
    """The second wire is on the side of its own half, not beyond the plug."""
    pins = [
        row("A1:1", "component", to="X5A:3"),
        row("X5:3", "inline", half="A", number=1),
        row("X5:3", "inline", half="A", number=2, to="B1:1"),
        row("B1:1", "component"),
        row("X5:3", "inline", half="B", circuit="99"),
        row("C1:3", "fuse", circuit="99"),
    ]
    (top,) = steps_of_net(mapped(pins))
    joint = top.onward[0]
    assert joint.kind == "joint"
    assert [step.kind for step in joint.onward] == ["end", "half"]
    assert [step.kind for step in joint.onward[1].all()] == ["half", "half", "fuse"]


def test_a_half_without_its_mate_leads_nowhere() -> None:
    """What lies beyond it is missing, and its own wires do not look as if they came from there."""
    pins = [
        row("A1:1", "component", to="X5A:3"),
        row("X5:3", "inline", half="A", number=1),
        row("X5:3", "inline", half="A", number=2, to="B1:1"),
        row("B1:1", "component"),
    ]
    (top,) = steps_of_net(mapped(pins))
    alone = [step for step in top.all() if step.alone]
    assert len(alone) == 1 and alone[0].onward == []
    assert top.onward[0].kind == "joint"


def test_a_route_says_what_lies_between_its_hops() -> None:
    """Wire, plug and splice are told apart, and a hub is not a wire."""
    net = mapped(
        [
            row("A1:1", "component", to="X5A:7"),
            *inline("X5:7"),
            row("SP1:a", "splice", to="X5B:7"),
            row("SP1:b", "splice", circuit="7", to="B1:1"),
            row("B1:1", "component", circuit="7"),
        ]
    )
    (route,) = routes_between(net, ("A1", "", "1"), ("B1", "", "1"))
    assert route.between == ("wire", "plug", "wire", "splice", "wire")
    kinds = [step.kind for step in steps_of_route(route).all()]
    assert kinds == ["end", "half", "half", "splice", "end"]
    (open_route,) = routes_between(mapped(star(3, splice=False)), ("A1", "", "2"), ("A2", "", "3"))
    assert open_route.between == ("not stated",)


@st.composite
def any_net(draw: st.DrawFn) -> list[Pin]:
    """Make rows of a few connectors at random: from/to or not, one number or several, any role."""
    names = ["A1", "B2", "SP1", "SP2", "X5", "F1"]
    pins = []
    for number in range(draw(st.integers(1, 14))):
        name = draw(st.sampled_from(names))
        role = {"S": "splice", "X": "inline", "F": "fuse"}.get(name[0], "component")
        to = draw(st.sampled_from(["", *(f"{other}:{c}" for other in names for c in (1, 2))]))
        pins.append(
            row(
                f"{name}:{draw(st.integers(1, 3))}",
                role,  # type: ignore[arg-type]
                circuit=draw(st.sampled_from(["1440", "99"])),
                code=draw(st.sampled_from(["GN/YE", "BK", "", "WH"])),
                half=draw(st.sampled_from("AB")) if role == "inline" else "",
                to=to,
                number=number,
            )
        )
    return pins


@settings(max_examples=150, deadline=None)
@given(pins=any_net())
def test_every_cavity_is_in_the_trees_and_every_link_is_in_the_map(pins: list[Pin]) -> None:
    """Whatever the rows say: each cavity is shown once (again apart), and no wire is made up or left out."""
    net = mapped(pins)
    tops = steps_of_net(net)
    steps = [step for top in tops for step in top.all()]
    shown = Counter(
        place
        for step in steps
        if step.kind not in ("again", "joint")
        for place in {place_of(pin) for pin in step.pins}
    )
    assert shown == Counter(list(net.stops))
    wires = Counter(
        frozenset((place_of(step.link.near), place_of(step.link.far)))
        for step in steps
        if step.link and step.link.kind == "wire" and step.link.near and step.link.far
    )
    laid = {
        frozenset((one, far))
        for one, fars in net.wires.items()
        for far, _ in fars
        if one[0] != far[0] or one[0] not in net.splices
    }
    assert set(wires) >= laid
