"""Sizes that wires are sold in, and words that name a size's unit, from `awg_and_mm2.csv`."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def _rows() -> tuple[dict[str, str], ...]:
    text = files("xref.data").joinpath("awg_and_mm2.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def mm2_sizes() -> frozenset[float]:
    """Return the cross-sections in mm² that vehicle and cabinet wires are sold in."""
    return frozenset(float(row["value"]) for row in _rows() if row["kind"] == "mm2_size")


@cache
def awg_numbers() -> frozenset[str]:
    """Return the gauge numbers that wires are sold in, as printed (`18`, `1/0`)."""
    return frozenset(row["value"] for row in _rows() if row["kind"] == "awg_number")


@cache
def awg_when_alone() -> frozenset[str]:
    """Return the bare numbers that mean AWG in a column which holds no decimals."""
    return frozenset(row["value"] for row in _rows() if row["kind"] == "awg_alone")


@cache
def unit_by_header_word() -> Mapping[str, str]:
    """Map folded header words to "mm2" or "awg"."""
    return {row["value"].casefold(): row["unit"] for row in _rows() if row["kind"] == "header_word"}
