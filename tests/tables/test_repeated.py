"""Headers that repeat as a whole."""

from __future__ import annotations

from pathlib import Path

from tests.tables.drawn import Page, planned
from xref.tables.repeated import counterparts


def test_counterparts_stand_under_the_same_words() -> None:
    """Columns of blocks side by side correspond; a header that does not repeat has none."""
    assert counterparts(["Pin", "Wire", "Pin", "Wire"]) == {0: (2,), 1: (3,), 2: (0,), 3: (1,)}
    assert counterparts(["Pin", "Wire", "Pin", "Colour"]) == {}
    assert counterparts(["Pin", "Pin"]) == {}


def test_what_one_blocks_column_is_the_others_is_too(tmp_path: Path) -> None:
    """A header nobody knows, over cavities in one block, heads cavities in the other as well."""
    rows = [("Wire", "Colour", "Zzq", "Wire", "Colour", "Zzq")]
    rows += [(f"144{n}", "BU", str(n), f"244{n}", "RD", str(n + 5)) for n in range(1, 6)]
    _, plans = planned(Page(tmp_path / "a.pdf").ruled(rows, (60, 60, 40, 60, 60, 40)))
    assert [p.columns for p in plans] == [
        {"circuit": 0, "color": 1, "cavity": 2},
        {"circuit": 3, "color": 4, "cavity": 5},
    ]
