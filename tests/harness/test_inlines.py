"""What an in-line carries on its two halves, and what it joins."""

from __future__ import annotations

from pathlib import Path

from tests.harness.sample import filled
from tests.store.sample import connector, pin
from xref.harness.answers import InlineAnswer
from xref.harness.inlines import answer_inlines
from xref.records import Connector, Pin
from xref.store.index import Index


def half(name: str, cavity: str, circuit: str = "", **fields: object) -> Pin:
    """Make a row of the half A or B of X5."""
    return pin("X5", cavity, circuit, half=name, role="inline", **fields)


def answer(folder: Path, *pins: Pin, connectors: tuple[Connector, ...] = (), name: str = "") -> InlineAnswer:
    """Store the pins and ask."""
    with Index.open(filled(folder, *pins, connectors=connectors)) as index:
        return answer_inlines(index, name)


def test_cavities_are_counted_by_what_both_halves_carry(tmp_path: Path) -> None:
    """Through, on one half only, and nothing: an unused cavity carries nothing."""
    rows = [
        *(half("A", "1", "101"), half("B", "1", "101")),
        *(half("A", "2", "102"), half("B", "2", status="unused")),
        *(half("A", "3", status="unused"), half("B", "3", status="unused")),
        half("A", "4", "104"),
    ]
    (view,) = answer(tmp_path, *rows).inlines
    assert [(c.cavity, c.use) for c in view.cavities] == [
        *(("1", "both"), ("2", "one"), ("3", "nothing"), ("4", "one"))
    ]
    assert view.differences == ("on one half only: 4",)
    assert [c.differences for c in view.cavities] == [(), ("unused-beyond",), (), ()]


def test_what_changes_beyond_is_named(tmp_path: Path) -> None:
    """A changed number, colour and size are named at their cavity, and only there."""
    red = {"color_code": "RD", "base_color": "red"}
    blue = {"color_code": "BU", "base_color": "blue"}
    rows = [
        *(half("A", "1", "101", size_mm2=0.5, **red), half("B", "1", "201", size_mm2=0.75, **blue)),
        *(half("A", "2", "102", size_mm2=0.5, **red), half("B", "2", "102", size_mm2=0.518, **red)),
    ]
    (view,) = answer(tmp_path, *rows).inlines
    assert view.cavities[0].differences == ("number-changes", "color-changes", "size-changes")
    assert view.cavities[1].differences == ()  # 0.5 mm² and gauge 20 are one size


def test_odd_halves_are_said(tmp_path: Path) -> None:
    """Halves both called male, of unequal counts, and a half alone are named."""
    heads = (
        connector("X5", half="A", role="inline", gender="male", cavities_stated=4),
        connector("X5", half="B", role="inline", gender="Male", cavities_stated=6),
        connector("X7", half="A", role="inline"),
    )
    rows = [half("A", "1", "101"), half("B", "1", "101"), pin("X7", "1", "107", half="A", role="inline")]
    both, alone = answer(tmp_path, *rows, connectors=heads).inlines
    assert both.differences == ("both halves are called male", "the halves are said to have 4 and 6 cavities")
    assert alone.differences == ("the other half is not in these documents",)


def test_components_are_counted_by_nets_through_it(tmp_path: Path) -> None:
    """What the circuits of an in-line reach is listed, most circuits first; beyond a change of number too."""
    rows = [
        *(half("A", "1", "101"), half("B", "1", "201"), half("A", "2", "102"), half("B", "2", "102")),
        pin("A1", "1", "101", role="component", component="Winch controller"),
        pin("A1", "2", "102", role="component", component="Winch controller"),
        pin("M1", "1", "201", role="component", component="Winch motor"),
        pin("G1", "1", "102", role="ground"),
    ]
    (view,) = answer(tmp_path, *rows, name="x5").inlines
    assert view.components == (("Winch controller", 2), ("G1", 1), ("Winch motor", 1))
    assert answer_of_unknown(tmp_path).inlines == ()


def answer_of_unknown(folder: Path) -> InlineAnswer:
    """Ask for an in-line that is not there in the same store."""
    from xref.workspace import Workspace

    with Index.open(Workspace(folder)) as index:
        return answer_inlines(index, "X99")
