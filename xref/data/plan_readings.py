"""What is read on the whole machine before the first cut and again at the end, from `plan_readings.csv`."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def machine_readings() -> tuple[tuple[str, str], ...]:
    """Return (power off or on, what is read), in the order it is done."""
    text = files("xref.data").joinpath("plan_readings.csv").read_text(encoding="utf-8")
    return tuple((row["when"], row["what"]) for row in csv.DictReader(text.splitlines()))
