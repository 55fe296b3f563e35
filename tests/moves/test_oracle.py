"""Plans of random harnesses say what follows from the true wires by the definitions of the move.

The independent oracle knows the wires and places and tries every placement of the splices.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.harness.random_harness import Size
from tests.moves.cases import Case, random_case
from tests.moves.oracle import (
    cavity_of,
    host_differences,
    inline_differences,
    line_differences,
    net_differences,
    shows_it_is_torn,
    true_nets,
    whole,
)

sizes = st.builds(
    Size,
    nets=st.integers(1, 8),
    harnesses=st.integers(1, 5),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
    number_changes=st.sampled_from([0.0, 0.2, 0.6]),
    suffixes=st.sampled_from([0.0, 0.2, 0.6]),
    chained=st.sampled_from([0.25, 0.8]),
    grounded=st.sampled_from([0.2, 0.5]),
    parallel=st.sampled_from([0.0, 0.4]),
)
seeds = st.integers(0, 2**32)
ways = st.sampled_from(["next", "far", "none"])


def differences(case: Case, stated: bool) -> list[str]:
    """Return all a plan says otherwise than the oracle."""
    nets, plan = true_nets(case), case.worked_out()
    return [
        *net_differences(nets, plan, stated),
        *line_differences(nets, plan, case.plan.shorten),
        *inline_differences(case, nets, plan, stated),
        *host_differences(nets, plan),
    ]


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=sizes)
def test_plans_of_stated_wires(seed: int, size: Size) -> None:
    """Where the rows say which two ends are one wire: fates, crossings, in-lines, host, lines."""
    assert not differences(random_case(seed, size), stated=True)


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=sizes, goes_to=st.sampled_from(["far", "none"]))
def test_plans_of_wires_that_are_not_stated(seed: int, size: Size, goes_to: str) -> None:
    """Where they do not: the same fates, places, host and lines, and no in-line goes that must stay."""
    assert not differences(random_case(seed, size, goes_to=goes_to), stated=False)


@settings(max_examples=100, deadline=None)
@given(seed=seeds, size=sizes, goes_to=ways)
def test_without_functions_nothing_is_forbidden(seed: int, size: Size, goes_to: str) -> None:
    """With no function printed every net is planned, so that far more lines are held against the wires."""
    assert not differences(random_case(seed, size, functions=0, goes_to=goes_to), stated=goes_to == "next")


@settings(max_examples=300, deadline=None)
@given(seed=seeds, size=sizes, goes_to=ways, lost=st.integers(1, 3))
def test_a_torn_net_is_unknown_and_a_whole_one_is_not(seed: int, size: Size, goes_to: str, lost: int) -> None:
    """One end, a half without its mate or a splice with one leg is unknown; what is whole has its fate."""
    case = random_case(seed, size, goes_to=goes_to, lost=lost)
    plan = case.worked_out()
    fate_of = {cavity_of(end): net["fate"] for net in plan["nets"] for end in net["ends"]}
    for net in true_nets(case):
        fates = {fate_of[cavity] for cavity in net.ends if cavity in fate_of}
        if whole(case, net):
            assert fates == {net.fate}
        elif shows_it_is_torn(case, net) and len(fates) == 1:
            assert fates == {"unknown"}


@pytest.mark.long
@pytest.mark.parametrize("part", range(4))
def test_many_plans_of_rings_too(part: int) -> None:
    """The same over a fixed row of seeds, with rings and every way to print the far ends."""
    for seed in range(part * 250, part * 250 + 250):
        size = Size(nets=2 + seed % 7, harnesses=1 + seed % 5, rings=seed % 2 * 0.4, parallel=seed % 3 * 0.2)
        for goes_to in ("next", "far", "none"):
            found = differences(random_case(seed, size, goes_to=goes_to), stated=goes_to == "next")
            assert not found, (seed, goes_to)
