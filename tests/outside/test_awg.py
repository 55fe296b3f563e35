"""Gauges against package `fluids`, ASTM B258's fixed points and AC 43.13-1B."""

import math

import pytest
from fluids.piping import t_from_gauge

from xref.pins.sizes import awg_to_mm2

#: FAA AC 43.13-1B, Table 11-9: conductor areas in circular mils.
AC_43_13 = {
    24: 475,
    22: 755,
    20: 1216,
    18: 1900,
    16: 2426,
    14: 3831,
    12: 5874,
    10: 9354,
    8: 16983,
    6: 26818,
    4: 42615,
    2: 66500,
    1: 81700,
    0: 104500,
    -1: 133000,
    -2: 166500,
    -3: 210900,
}
#: One circular mil is the area of a circle of 0.001 in.
CMIL_MM2 = math.pi / 4 * 0.0254**2


@pytest.mark.parametrize("number", range(0, 37))
def test_against_fluids(number: int) -> None:
    """Areas agree with the AWG table of package fluids, which is rounded to mils, to 1 per cent."""
    diameter_mm = t_from_gauge(number, schedule="AWG") * 1000
    assert awg_to_mm2(number) == pytest.approx(math.pi / 4 * diameter_mm**2, rel=0.01)


def test_fixed_points_of_astm_b258() -> None:
    """ASTM B258 fixes AWG 36 at 0.005 in and 4/0 at 0.46 in."""
    assert awg_to_mm2(36) == pytest.approx(math.pi / 4 * (0.005 * 25.4) ** 2, rel=1e-3)
    assert awg_to_mm2(-3) == pytest.approx(math.pi / 4 * (0.46 * 25.4) ** 2, rel=1e-3)


@pytest.mark.parametrize("number", sorted(AC_43_13))
def test_against_ac_43_13(number: int) -> None:
    """Stranded wire of AC 43.13-1B is within 4 per cent of its gauge from AWG 8 up, within 20 below."""
    share = AC_43_13[number] * CMIL_MM2 / awg_to_mm2(number)
    assert share == pytest.approx(1, abs=0.04 if number <= 8 else 0.2)
