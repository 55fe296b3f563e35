"""Units of size columns, and sizes in mm²."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.pins.sizes import SizeColumn, awg_to_mm2, decide_unit, gauge_number, to_mm2

MM2 = SizeColumn(unit="mm2", why="")
AWG = SizeColumn(unit="awg", why="")
OPEN = SizeColumn(unit="", why="")


@pytest.mark.parametrize(
    ("cells", "header", "unit"),
    [
        (["0.5", "0.75", "2"], "", "mm2"),
        (["0,5", "1"], "", "mm2"),
        (["18", "20", "16", "2"], "", "awg"),
        (["18 AWG", "4"], "", "awg"),
        (["1/0", "2"], "", "awg"),
        (["0.5 mm²", "2"], "", "mm2"),
        (["35", "50"], "", "mm2"),
        (["2", "4", "16"], "Wire gauge", "awg"),
        (["2", "4", "16"], "Ga.", "awg"),
        (["2", "4", "16"], "Size (AWG)", "awg"),
        (["2", "4", "16"], "Size mm²", "mm2"),
        (["2", "4", "16"], "Querschnitt", "mm2"),
        (["2", "4", "16"], "断面積", "mm2"),
        (["2", "4", "16"], "Sq.", "mm2"),
        (["2", "4", "6", "8", "10", "16"], "", ""),
        (["2", "4", "16"], "Size", ""),
        (["2", "4", "16"], "mm²/AWG", ""),
        (["0.5", "0.75", "18", "20", "22"], "", ""),
        (["0.5", "0.75"], "AWG", ""),
        (["18", "22", "24"], "mm²", ""),
        (["", "-", "BU"], "", ""),
        ([], "", ""),
    ],
)
def test_unit_is_decided_by_the_column(cells: list[str], header: str, unit: str) -> None:
    """Header words, written units, decimals and usual gauges decide; contradictions and 2, 4, 16 do not."""
    column = decide_unit(cells, header)
    assert column.unit == unit and column.why


@pytest.mark.parametrize(
    ("text", "column", "mm2"),
    [
        ("0.5", MM2, 0.5),
        ("0,75", MM2, 0.75),
        ("0.5 mm²", OPEN, 0.5),
        ("0,5mm2", AWG, 0.5),
        ("2", MM2, 2.0),
        ("18", AWG, 0.823),
        ("18 AWG", OPEN, 0.823),
        ("AWG 18", MM2, 0.823),
        ("18ga", OPEN, 0.823),
        ("#18", OPEN, 0.823),
        ("1/0", OPEN, 53.48),
        ("0", AWG, 53.48),
        ("0000", AWG, 107.2),
        ("4/0", AWG, 107.2),
        ("18", MM2, None),
        ("2", OPEN, None),
        ("0.5", AWG, None),
        ("28/0.30", OPEN, 1.979),  # 28 strands of 0.30 mm: 28 π 0.30² / 4
        ("14/0,30", AWG, 0.9896),
        ("2x0.5", MM2, None),
        ("", MM2, None),
        ("BU", AWG, None),
        ("99", AWG, None),
        ("0", MM2, None),
        ("999", MM2, None),
        ("1440", MM2, None),
    ],
)
def test_sizes_in_mm2(text: str, column: SizeColumn, mm2: float | None) -> None:
    """A size is read by its own unit or its column's; what is neither stays blank."""
    assert to_mm2(text, column) == mm2


@given(st.integers(-3, 37))
def test_three_gauges_double_the_area(number: int) -> None:
    """Three gauge steps are 92^(6/39) = 2.005 times the area (ASTM B258), to the rounding."""
    assert awg_to_mm2(number) / awg_to_mm2(number + 3) == pytest.approx(92 ** (6 / 39), rel=2e-3)


def test_aughts() -> None:
    """1/0 to 4/0 and 0 to 0000 are the same gauges."""
    assert [gauge_number(t) for t in ("1/0", "2/0", "3/0", "4/0")] == [0, -1, -2, -3]
    assert [gauge_number(t) for t in ("0", "00", "000", "0000")] == [0, -1, -2, -3]


@given(st.text(max_size=20), st.sampled_from([MM2, AWG, OPEN]))
def test_any_text_is_survived(text: str, column: SizeColumn) -> None:
    """No text breaks the reader, and a size is positive."""
    size = to_mm2(text, column)
    assert size is None or size > 0
    assert decide_unit([text], text).why
