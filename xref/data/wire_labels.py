"""What labels need of wires: their outer diameters, and colour words short enough for a tape."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def outer_diameters() -> Mapping[float, float]:
    """Map the size in mm² of thin-wall vehicle cable to its largest outer diameter in mm, thinnest first."""
    rows = [(float(row["size_mm2"]), float(row["od_mm"])) for row in _rows("wire_diameters.csv")]
    return dict(sorted(rows))


def outer_diameter(size_mm2: float | None) -> float | None:
    """Return the outer diameter in mm: of the next size that is not smaller; None where nobody knows."""
    if size_mm2 is None or size_mm2 <= 0:
        return None
    return next((od for size, od in outer_diameters().items() if size >= size_mm2), None)


@cache
def _short() -> Mapping[str, str]:
    return {row["word"]: row["short"] for row in _rows("short_colors.csv")}


def short_color(base: str, stripe: str = "", ring: str = "") -> str:
    """Return colours as they are read on a black-and-white label: `blu/yel`, `lt grn/blk/red`.

    "" without a base colour; a colour that has no short word stands in full.
    """
    if not base:
        return ""
    return "/".join(
        " ".join(_short().get(word, word) for word in color.split())
        for color in (base, stripe, ring)
        if color
    )


def _rows(name: str) -> list[dict[str, str]]:
    text = files("xref.data").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))
