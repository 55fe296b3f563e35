"""Random plans on random harnesses, carried out on the true wires."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.harness.random_harness import End, Size, printed, random_harness
from tests.harness.sample import filled
from tests.harness.test_net_properties import shuffled
from tests.moves.cases import PLACES, Case, random_case, random_places
from tests.moves.simulator import carried_out, faults
from xref.moves.json_plan import plan_to_json
from xref.moves.plan_file import PlanFile
from xref.moves.work_out import work_out
from xref.records import Pin
from xref.store.index import Index

sizes = st.builds(
    Size,
    nets=st.integers(1, 8),
    harnesses=st.integers(1, 4),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
    rings=st.sampled_from([0.0, 0.0, 0.4]),
    parallel=st.sampled_from([0.0, 0.4]),
)
#: Nets of which the manual prints no splice hang together by their numbers alone.
unspliced = st.builds(
    Size,
    nets=st.integers(1, 8),
    harnesses=st.integers(1, 4),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
    suffixes=st.just(0.0),
    color_changes=st.just(0.0),
    potential=st.just(0.0),
)
seeds = st.integers(0, 2**32)
goes_to = st.sampled_from(["next", "far", "none"])


def wrong(case: Case, plan: Mapping[str, Any], complete: bool = True) -> list[str]:
    """Return what is wrong with a plan of a case, the one-by-one count included."""
    named = {pin.goes_to for pin, _ in case.rows}
    moved = carried_out(case.harness, plan, case.where)
    found = faults(moved, case.planless, case.printed(), complete, named)
    alone = plan["counts"]["one_by_one"]
    if alone["cuts"] < len(plan["cuts"]) or alone["joins"] < len(plan["joins"]):
        found.append(f"one by one is better: {alone}")
    return found


@settings(max_examples=2000, deadline=None)
@given(seed=seeds, size=sizes, goes_to=goes_to)
def test_plan_carried_out_leaves_every_net_as_it_should_be(seed: int, size: Size, goes_to: str) -> None:
    """What lives is joined with its own net and nothing else, without a wire or stub too many."""
    case = random_case(seed, size, goes_to=goes_to)
    plan = case.worked_out()
    assert not wrong(case, plan)
    assert all(net["fate"] != "unknown" for net in plan["nets"])


@settings(max_examples=700, deadline=None)
@given(seed=seeds, size=unspliced, goes_to=goes_to)
def test_plan_without_printed_splices(seed: int, size: Size, goes_to: str) -> None:
    """The same holds where the manual prints no splice: then the tails of the moved plugs are cut."""
    case = random_case(seed, size, goes_to=goes_to, splices=False)
    plan = case.worked_out()
    assert not wrong(case, plan)
    for net in (net for net in plan["nets"] if net["at_least"] and "as fitted" in net["places"]):
        cuts = [cut for cut in plan["cuts"] if cut["net"] == net["net"] and cut["to"] is None]
        plugs = {cut["connector"] for cut in cuts} - case.harness.inlines.keys()
        assert all(case.where(plug) != "as fitted" for plug in plugs)


@settings(max_examples=700, deadline=None)
@given(seed=seeds, size=sizes, goes_to=goes_to, lost=st.integers(1, 3))
@example(12529, Size(nets=6, harnesses=1, components=3, most_ends=3), "far", 3)
def test_plan_with_lost_tables_joins_nothing_wrong(seed: int, size: Size, goes_to: str, lost: int) -> None:
    """Where tables are missing, no two nets are joined, no unknown net is cut, and known nets are right."""
    case = random_case(seed, size, goes_to=goes_to, lost=lost)
    assert not wrong(case, case.worked_out(), complete=False)


@pytest.mark.parametrize("seed", range(40))
def test_simulator_sees_a_line_that_is_missing(seed: int) -> None:
    """A plan that lacks one of its joins or caps, or whose label is another's, is found to be wrong."""
    case = random_case(seed, Size(nets=6), functions=0.0)
    plan = case.worked_out()
    assert not wrong(case, plan)
    for name in ("joins", "caps"):
        for number in range(len(plan[name])):
            broken = json.loads(json.dumps(plan))
            line = broken[name].pop(number)
            broken["counts"][name] -= 1
            assert wrong(case, broken), line
    for number, cut in enumerate(plan["cuts"]):
        broken = json.loads(json.dumps(plan))
        broken["cuts"][number]["labels"].reverse()
        broken["cuts"][number]["labels"][0] = cut["labels"][0]
        assert wrong(case, broken)


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=sizes)
def test_moving_nothing_changes_nothing(seed: int, size: Size) -> None:
    """An empty plan has no line, and a fate for every net: it stays."""
    case = random_case(seed, size)
    plan = replace(case, of={}, otherwise="as fitted").worked_out()
    assert not any(plan[name] for name in ("cuts", "joins", "caps", "links", "host"))
    assert {net["fate"] for net in plan["nets"]} <= {"stays"}
    assert all(item["fate"] == "stays" for item in plan["inlines"])


def devices(case: Case) -> list[str]:
    """Return the connectors that may have a place."""
    roles = case.harness.roles.items()
    return [name for (name, _), role in roles if role not in ("inline", "splice")]


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=sizes)
def test_moving_all_to_one_place_cuts_nothing(seed: int, size: Size) -> None:
    """Where everything goes to one place with its looms and no in-line goes, no wire is cut."""
    case = random_case(seed, size)
    every = {
        name: "bow" for (name, _), role in case.harness.roles.items() if role not in ("inline", "splice")
    }
    plan = PlanFile(place=every)
    all_kept = replace(
        case, of=every, otherwise="as fitted", keep=frozenset(case.harness.inlines), plan=plan
    ).worked_out()
    assert {net["fate"] for net in all_kept["nets"]} <= {"travels"}
    assert not any(all_kept[name] for name in ("cuts", "joins", "caps"))
    taken = replace(case, of=every, otherwise="as fitted", keep=frozenset(), plan=plan)
    assert not wrong(taken, taken.worked_out())


def fates(plan: Mapping[str, Any]) -> dict[frozenset[tuple[str, str]], tuple[str, int]]:
    """Return fate and crossings of each net, found by its ends."""
    return {
        frozenset((end["connector"], end["cavity"]) for end in net["ends"]): (net["fate"], net["crossings"])
        for net in plan["nets"]
    }


@settings(max_examples=500, deadline=None)
@given(seed=seeds, size=sizes)
def test_moving_a_set_or_all_others_crosses_the_same_nets(seed: int, size: Size) -> None:
    """With two places and nothing dropped, moving the others instead crosses the same nets as often."""
    case = random_case(seed, size)
    of = random_places(case.harness, Random(seed), ["bow"], dropped=0.0)
    others = {name: "bow" for name in devices(case) if name not in of}
    one, other = (
        {ends: found for ends, found in fates(plan).items() if found[0] == "crosses"}
        for plan in (
            replace(case, of=moved, otherwise="as fitted", plan=PlanFile(place=moved)).worked_out()
            for moved in (of, others)
        )
    )
    assert one == other


@settings(max_examples=500, deadline=None)
@given(seed=seeds, size=sizes)
def test_one_module_more_makes_no_travelling_net_cross(seed: int, size: Size) -> None:
    """A module added to what goes to a place leaves travelling what travelled there."""
    case = random_case(seed, size)
    dice = Random(seed)
    of = random_places(case.harness, dice, ["bow"], dropped=0.0)
    left = sorted(set(case.harness.components.values()) - {case.harness.components.get(name) for name in of})
    if not left:
        return
    added = dice.choice(left)
    more = of | {name: "bow" for name, owner in case.harness.components.items() if owner == added}
    before, after = (
        fates(replace(case, of=moved, plan=PlanFile(place=moved)).worked_out()) for moved in (of, more)
    )
    assert before.keys() == after.keys()
    for ends, (fate, _) in before.items():
        assert fate != "travels" or after[ends][0] == "travels"


def lines(plan: Mapping[str, Any]) -> list[object]:
    """Return a plan's lines without what depends on the page a cavity is found on first."""
    found: list[object] = []
    for name in ("cuts", "joins", "caps", "inlines"):
        left = {"net", "document", "page", "checks_before", "color_code"}
        texts = [json.dumps({k: v for k, v in line.items() if k not in left}) for line in plan[name]]
        found.append(sorted(texts))
    return found


@settings(max_examples=500, deadline=None)
@given(seed=seeds, size=sizes, goes_to=goes_to)
def test_order_of_pages_changes_no_line(seed: int, size: Size, goes_to: str) -> None:
    """Pages and documents in another order: the same fates, crossings and lines."""
    case = random_case(seed, size, goes_to=goes_to)
    plan = case.worked_out()
    again = replace(case, rows=shuffled(case.rows, Random(seed))).worked_out()
    assert fates(plan) == fates(again)
    assert lines(plan) == lines(again)


@pytest.mark.parametrize("seed", range(24))
def test_plan_through_the_store(tmp_path: Path, seed: int) -> None:
    """The same holds for a plan file worked out from an index: names, pairing and rows are the store's."""
    dice = Random(seed)
    size = Size(nets=dice.randrange(2, 10), harnesses=dice.randrange(1, 4), number_changes=0.05)
    harness = random_harness(dice, size)
    rows: Sequence[tuple[Pin, End]] = printed(harness, dice)
    places = PLACES[: dice.randint(1, 3)]
    of = random_places(harness, dice, places)
    named = {pin.connector for pin, _ in rows}
    owners = {harness.components.get(name, name): where for name, where in of.items() if name in named}
    plan = PlanFile(
        rest=dice.choice(("stays", "left behind")),
        place={name: where for name, where in owners.items() if where in places},
        drop=tuple(name for name, where in owners.items() if where == "dropped"),
    )
    otherwise = "as fitted" if plan.rest == "stays" else "left behind"
    case = Case(harness=harness, rows=rows, of=of, otherwise=otherwise, plan=plan)
    with Index.open(filled(tmp_path, *(pin for pin, _ in rows))) as index:
        doubtful = any(mate.doubtful for mate in index.mates())
        found = json.loads(json.dumps(plan_to_json(work_out(index, plan))))
    assert not wrong(case, found, complete=not doubtful)
    if not doubtful:
        assert fates(found) == fates(case.worked_out())
