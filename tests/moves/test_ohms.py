"""Ohms of resistor networks against networkx, and the table of what a reading means."""

from __future__ import annotations

from itertools import pairwise

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.data.bus_words import bus_readings, terminator_ohms
from xref.moves.ohms import Resistor, ohms_between

#: ISO 6722-1's most for 0.35 mm² (source: memory), in ohm a metre.
OHMS_A_METRE = 0.0544


def by_networkx(resistors: list[Resistor], one: object, other: object) -> float:
    """The same by the pseudo-inverse of the Laplacian; parallel ones are put together by hand first."""
    graph = networkx.Graph()
    for start, end, ohms in resistors:
        known = graph.get_edge_data(start, end, {"ohms": float("inf")})["ohms"]
        graph.add_edge(start, end, ohms=1 / (1 / ohms + 1 / known))
    part = graph.subgraph(networkx.node_connected_component(graph, one))
    return float(networkx.resistance_distance(part, one, other, weight="ohms", invert_weight=True))


def trunk(metres: float) -> list[Resistor]:
    """A trunk of 0.35 mm² with 120 ohm at each end."""
    wire = metres * OHMS_A_METRE
    return [("H0", "L0", 120.0), ("H0", "H1", wire), ("L0", "L1", wire), ("H1", "L1", 120.0)]


@pytest.mark.parametrize(("metres", "ohms"), [(10.0, 60.27), (40.0, 61.07)])
def test_a_trunk_reads_as_networkx_says(metres: float, ohms: float) -> None:
    """At the end of 10 m a meter shows 60.27 ohm: by networkx, by hand, and by us."""
    found = ohms_between(trunk(metres), "H0", "L0")
    by_hand = 1 / (1 / 120 + 1 / (120 + 2 * metres * OHMS_A_METRE))
    assert found == pytest.approx(by_networkx(trunk(metres), "H0", "L0"))
    assert found == pytest.approx(by_hand) and found == pytest.approx(ohms, abs=0.005)


@given(
    st.lists(
        st.tuples(st.integers(0, 6), st.integers(0, 6), st.floats(0.1, 1000.0)).filter(
            lambda x: x[0] != x[1]
        ),
        min_size=1,
        max_size=14,
    )
)
def test_any_network_reads_as_networkx_says(resistors: list[Resistor]) -> None:
    """Rings, parallel ones and loose parts; what is not joined reads open."""
    one, other = resistors[0][0], max(n for item in resistors for n in item[:2])  # type: ignore[type-var]
    graph = networkx.Graph((a, b) for a, b, _ in resistors)
    found = ohms_between(resistors, one, other)
    if one == other:
        assert found == 0
    elif not networkx.has_path(graph, one, other):
        assert found is None
    else:
        assert found == pytest.approx(by_networkx(resistors, one, other), rel=1e-6)


@pytest.mark.parametrize(
    ("terminators", "meaning"), [(1, "one terminator"), (2, "two terminators"), (3, "three"), (4, "three")]
)
def test_terminators_read_what_the_table_says_of_them(terminators: int, meaning: str) -> None:
    """120 ohm each, and two at the ends of their tolerance read 54 and 66."""
    least, nominal, most = terminator_ohms()
    found = ohms_between([("H", "L", nominal)] * terminators, "H", "L")
    assert found is not None
    (row,) = [r for r in bus_readings() if r.least_ohm <= found <= (r.most_ohm or float("inf"))]
    assert row.meaning.startswith(meaning) or meaning in row.meaning
    two = next(r for r in bus_readings() if r.meaning == "two terminators")
    assert (two.least_ohm, two.most_ohm) == (least / 2, most / 2)


def test_the_readings_do_not_overlap() -> None:
    """A value has one meaning or none."""
    rows = bus_readings()
    assert all(a.most_ohm is not None and a.most_ohm < b.least_ohm for a, b in pairwise(rows))


def test_a_resistor_of_no_ohms_is_said() -> None:
    """What is joined without a resistor is one point, and not a division by nothing."""
    with pytest.raises(ValueError, match="more than 0"):
        ohms_between([("a", "b", 0.0)], "a", "b")
