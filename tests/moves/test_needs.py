"""The arithmetic of labels, splices, caps, wire and tape."""

from __future__ import annotations

from pathlib import Path

from tests.moves.winch import AFT, planned
from xref.moves.figures import figures_of
from xref.moves.needs import (
    heat_shrink_needed,
    labels_needed,
    minutes_needed,
    splices_needed,
    wire_needed,
    wire_saved,
)
from xref.moves.records import Join, Link, Wire
from xref.records import Pin

PIN = Pin(connector="A1", cavity="1", document="loom.pdf", page=1)


def extension(metres: float | None, base: str = "red", code: str = "RD", size: float | None = 0.75) -> Join:
    """Return an extension."""
    return Join(
        id="AAAAJ1", net=1, cuts=("AAAA",), stubs=(("AAAA", "plug"),), at=("aft",), place="aft – as fitted",
        wire=Wire(size_mm2=size, color=code, length_m=metres, base_color=base), labels=("", ""),
    )  # fmt: skip


def test_the_worked_example_comes_out() -> None:
    """Twelve cuts: eight extensions, two direct joints, two caps (worked by hand from the trade's rules).

    Labels 2×12 + 2×8 = 40, splices 2×8 + 2 = 18; their tape is tested with the labels.
    """
    assert labels_needed(12, 8) == 40
    assert splices_needed(8, 2) == 18
    assert heat_shrink_needed(18, 2) == 20


def test_wire_is_summed_by_size_and_colour_with_waste() -> None:
    """Two codes of one colour are one reel; metres are lengths and ten percent; unknown is never 0."""
    needs = wire_needed(
        [extension(2.0), extension(3.0, code="rt"), extension(None), extension(1.0, size=None)]
    )
    assert [(n.size_mm2, n.pieces, n.metres, n.unmeasured) for n in needs] == [
        (None, 1, 1.1, 0),
        (0.75, 3, 5.5, 1),
    ]
    (alone,) = wire_needed([extension(None)])
    assert alone.metres is None and alone.unmeasured == 1


def test_codes_without_a_decided_colour_stay_apart() -> None:
    """Two codes whose colours nobody decided may be two colours."""
    assert len(wire_needed([extension(1.0, base="", code="BL"), extension(1.0, base="", code="BR")])) == 2


def test_wire_saved_may_be_negative_and_leaves_out_what_is_not_known() -> None:
    """Old less new, less the extensions; what has no length is counted apart."""
    links = [Link(net=1, start=PIN, end=PIN, old_m=6.0, new_m=0.5), Link(net=2, start=PIN, end=PIN)]
    saved = wire_saved(links, [extension(8.0), extension(None)])
    assert (saved.metres, saved.links_left_out, saved.extensions_left_out) == (-2.5, 1, 1)
    assert wire_saved([], []).metres is None


def test_time_is_a_span() -> None:
    """Four to six minutes a splice with its labels and one a reading."""
    assert minutes_needed(18, 10) == (82, 118)


def test_every_count_of_a_plan_says_how_it_was_got(tmp_path: Path) -> None:
    """Each list has its length under its name, each figure a word on how; defaults are named."""
    counts = planned(tmp_path).counts
    how = counts["how"]
    assert isinstance(how, dict)
    plan_lists = (
        "nets",
        "cuts",
        "joins",
        "caps",
        "links",
        "inlines",
        "refused",
        "host",
        "cautions",
        "questions",
    )
    assert all(how[name].startswith("counted") for name in plan_lists)
    assert (counts["cuts"], counts["extensions"], counts["labels"], counts["splices"]) == (3, 3, 12, 6)
    assert how["wire"].startswith("estimated") and "150 mm (the default)" in how["wire"]
    text = AFT + "[tails]\nmetres = 0.2\n"
    own = planned(tmp_path / "own", text).counts["how"]
    assert isinstance(own, dict) and "200 mm at" in own["wire"] and "mm (the default)" not in own["wire"]


def test_figures_put_the_move_one_by_one_beside(tmp_path: Path) -> None:
    """A figure that is counted for both ways of working has both."""
    figures = {figure.title: figure for figure in figures_of(planned(tmp_path))}
    assert int(figures["cuts"].one_by_one) >= int(figures["cuts"].figure) == 3
    assert figures["extension wire"].figure == "10.9 m" and figures["labels"].one_by_one == ""
