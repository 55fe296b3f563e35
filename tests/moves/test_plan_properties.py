"""Random plans on random harnesses, carried out on the true wires."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.harness.random_harness import Size
from tests.moves.cases import random_case
from tests.moves.simulator import carried_out, faults

sizes = st.builds(
    Size,
    nets=st.integers(1, 8),
    harnesses=st.integers(1, 4),
    components=st.integers(1, 6),
    most_ends=st.integers(2, 6),
)
seeds = st.integers(0, 2**32)


@settings(max_examples=1000, deadline=None)
@given(seed=seeds, size=sizes)
def test_plan_carried_out_leaves_every_net_as_it_should_be(seed: int, size: Size) -> None:
    """What lives is joined with its own net and nothing else, without a wire or stub too many."""
    case = random_case(seed, size)
    moved = carried_out(case.harness, case.worked_out(), case.where)
    assert not faults(moved, case.planless, case.printed())
