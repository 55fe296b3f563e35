"""A wire's size in words a person can act on: the figure as printed, with its unit."""

from __future__ import annotations

import re

from xref.records import Pin

#: A figure that says no unit of its own: `1`, `0,5`, `2.5`.
_BARE = re.compile(r"\d+(?:[.,]\d+)?")
#: Half a digit more than sizes are printed with.
_SAME = 0.005


def size_words(pin: Pin) -> str:
    """Return the size as printed, with the unit its column has; "" where no size is printed.

    `1` under a column of areas is `1 mm²`, `18` under gauges `18 AWG`; where the manual leaves it open,
    that is said, because 1 mm² and gauge 1 are no wires to mix up.
    """
    if not _BARE.fullmatch(pin.size):
        return pin.size
    if pin.size_mm2 is None:
        return f"{pin.size} (unit not stated)"
    is_area = abs(float(pin.size.replace(",", ".")) - pin.size_mm2) < _SAME
    return f"{pin.size} mm²" if is_area else f"{pin.size} AWG"
