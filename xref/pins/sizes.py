"""Wire sizes as printed -> the column's unit, and mm². Decided per column, never per cell."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from xref.data.wire_sizes import awg_when_alone, mm2_sizes, unit_by_header_word

Unit = Literal["mm2", "awg", ""]

#: ASTM B258: AWG 36 is 0.005 in (0.127 mm), 4/0 is 0.46 in, 39 steps of equal ratio between them.
_AWG36_MM = 0.127
_AWG_RATIO = 92.0
_AWG_STEPS = 39
#: Gauges outside 4/0 to 40 are printed for no harness wire.
_THICKEST, _THINNEST = -3, 40
#: Cross-sections in mm² outside this range are misread (the largest vehicle cable is 240 mm²).
_SMALLEST_MM2, _LARGEST_MM2 = 0.03, 400.0
#: From this cross-section on, a bare whole number can be no gauge a harness holds.
_SURELY_MM2 = 35.0
#: Share of cells that may contradict the column's header or the other cells (misprints).
_NOISE = 0.1

_MM2_UNIT = r"(?:mm\s?[2²]|mm\^2|㎟|sq\.?\s?mm|sqmm|sq\.?|mm)"
_AWG_UNIT = r"(?:awg|ga(?:uge|ge)?\.?)"
_GAUGE = r"([1-4]/0|0{1,4}|\d{1,2})"
_DECIMAL = r"(\d{1,3}(?:[.,]\d{1,3})?)"
_AWG_TEXT = re.compile(
    rf"(?:{_AWG_UNIT}|no\.?|\#)\s*[-:]?\s*{_GAUGE}|{_GAUGE}\s*[-]?\s*{_AWG_UNIT}", re.IGNORECASE
)
_MM2_TEXT = re.compile(rf"{_DECIMAL}\s*{_MM2_UNIT}", re.IGNORECASE)
#: Number and diameter (mm) of the strands: `28/0.30`, common on cables of British make.
_STRANDS = re.compile(r"(\d{1,3})\s?/\s?(0[.,]\d{1,3})")
_BARE_GAUGE = re.compile(_GAUGE)
_BARE_DECIMAL = re.compile(_DECIMAL)
_AUGHT = re.compile(r"[1-4]/0|0{1,4}")


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeColumn:
    """The unit of a column of sizes, "" where it cannot be decided, and the reason."""

    unit: Unit
    why: str


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def gauge_number(text: str) -> int:
    """Return a printed gauge as a number: `18` is 18, `1/0` and `0` are 0, `4/0` and `0000` are -3."""
    if "/" in text:
        return 1 - int(text[0])
    return 1 - len(text) if set(text) == {"0"} else int(text)


def awg_to_mm2(number: int) -> float:
    """Return the area in mm² of a solid conductor of this gauge, by ASTM B258, to four digits.

    d = 0.127 mm * 92^((36 - n) / 39); 0 is 1/0, -1 is 2/0. "AWG 18" on a wire is only nominally
    this area: SAE and marine tables differ from it by up to a sixth.
    """
    diameter = _AWG36_MM * _AWG_RATIO ** ((36 - number) / _AWG_STEPS)
    return float(f"{0.7853981633974483 * diameter**2:.4g}")


def _header_units(header: str) -> set[str]:
    folded = header.casefold()
    words = set(re.split(r"[\s()\[\]/,:;-]+", folded)) | {w.rstrip(".") for w in folded.split()}
    units = {unit for word, unit in unit_by_header_word().items() if word in words}
    return units | {
        unit for word, unit in unit_by_header_word().items() if not word.isascii() and word in folded
    }


def _sort_cell(text: str) -> str:
    """Return what one cell speaks for: mm2, awg, decimal, gauge, large, open; "" for no size."""
    plain = text.strip()
    if _MM2_TEXT.fullmatch(plain) or _STRANDS.fullmatch(plain):
        return "mm2"
    if _AWG_TEXT.fullmatch(plain) or _AUGHT.fullmatch(plain):
        return "awg"
    if not _BARE_DECIMAL.fullmatch(plain):
        return ""
    if "." in plain or "," in plain:
        return "decimal"
    if plain in awg_when_alone():
        return "gauge" if _number(plain) not in mm2_sizes() else "gauge or large"
    return "large" if _number(plain) >= _SURELY_MM2 else "open"


def decide_unit(cells: Sequence[str], header: str = "") -> SizeColumn:
    """Decide a column's unit from its header, the units and the kinds of numbers in its cells.

    Whole numbers such as 2, 4, 6, 8, 10 and 16 alone decide nothing: 2 mm² is about AWG 14, and
    AWG 2 is 33.6 mm².
    """
    sorts = [s for cell in cells if (s := _sort_cell(cell))]
    area = [s for s in sorts if s in ("mm2", "decimal", "large")]
    gauge = [s for s in sorts if s in ("awg", "gauge")]
    either = sorts.count("gauge or large")
    units = _header_units(header)
    stray = _NOISE * len(sorts)
    if units == {"awg"}:
        if len(area) > stray:
            return SizeColumn(unit="", why=f"the header says AWG, but {len(area)} cells are no gauge")
        return SizeColumn(unit="awg", why="the header says AWG")
    if units == {"mm2"}:
        if len(gauge) > stray:
            return SizeColumn(unit="", why=f"the header says mm², but {len(gauge)} cells look like AWG")
        return SizeColumn(unit="mm2", why="the header says mm²")
    if area and not gauge:
        return SizeColumn(unit="mm2", why=f"{len(area)} of {len(sorts)} cells are decimals, large or say mm²")
    if area and gauge:
        return _mixed(len(area), len(gauge), stray)
    if gauge or either:
        return SizeColumn(unit="awg", why=f"{len(gauge) + either} cells are usual gauge numbers, no decimals")
    if not sorts:
        return SizeColumn(unit="", why="no sizes in the column")
    return SizeColumn(
        unit="",
        why=f"{', '.join(sorted({c.strip() for c in cells if c.strip()})[:5])} "
        "may be mm² or AWG and the header does not say",
    )


def _mixed(area: int, gauge: int, stray: float) -> SizeColumn:
    if gauge <= stray:
        return SizeColumn(unit="mm2", why=f"{area} cells are decimals or say mm²; {gauge} look like AWG")
    return SizeColumn(unit="", why=f"{area} cells look like mm², {gauge} like AWG")


def _gauge_area(text: str) -> float | None:
    number = gauge_number(text)
    return awg_to_mm2(number) if _THICKEST <= number <= _THINNEST else None


def _area(text: str) -> float | None:
    value = _number(text)
    return value if _SMALLEST_MM2 <= value <= _LARGEST_MM2 else None


@lru_cache(maxsize=4096)
def to_mm2(text: str, column: SizeColumn) -> float | None:
    """Return a printed size in mm²; None where it is no size or its unit is undecided.

    A unit printed in the cell counts before the column's. A whole number that no mm² cable is sold
    in (18, 22) stays None in a column of mm²: it is likelier a gauge.
    """
    plain = text.strip()
    if found := _AWG_TEXT.fullmatch(plain):
        return _gauge_area(found.group(1) or found.group(2))
    if found := _MM2_TEXT.fullmatch(plain):
        return _area(found.group(1))
    if found := _STRANDS.fullmatch(plain):
        # The copper of n round strands: n π d² / 4.
        return float(f"{int(found.group(1)) * 0.7853981633974483 * _number(found.group(2)) ** 2:.4g}")
    if column.unit == "mm2":
        whole_misfit = plain.isdecimal() and _number(plain) not in mm2_sizes()
        return _area(plain) if _BARE_DECIMAL.fullmatch(plain) and not whole_misfit else None
    if _AUGHT.fullmatch(plain) or (column.unit == "awg" and _BARE_GAUGE.fullmatch(plain)):
        return _gauge_area(plain)
    return None
