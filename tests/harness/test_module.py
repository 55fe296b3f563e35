"""The sheet of a module: which connectors it takes, and the rest of every wire."""

from __future__ import annotations

from pathlib import Path

from tests.harness.sample import filled
from tests.store.sample import connector, pin
from xref.harness.answers import ModuleSheet
from xref.harness.lookup import answer_circuit, module_sheet
from xref.records import Pin
from xref.store.index import Index

PINS = (
    pin("M12 X1", "1", "100"),
    pin("M12 X1", "2", "GND"),
    pin("M12 X1", "3", "", status="unused"),
    pin("M12 X2", "1", "300"),
    pin("M3 X1", "1", "GND"),
    pin("X5", "1", "100", half="A", role="inline"),
    pin("X5", "1", "110", half="B", role="inline"),
    pin("M3 X1", "2", "110"),
    pin("F1", "1", "110", role="fuse", size="10A"),
    pin("F2", "1", "999", role="fuse", goes_to="300, 301"),
)
HEADS = (
    connector("M12 X1", component="Lift pump"),
    connector("M12 X2", component="Lift pump"),
    connector("M3 X1", component="Lift pump relay"),
)


def sheet(folder: Path, *asked: str) -> ModuleSheet:
    """Return the sheet of what is asked for."""
    with Index.open(filled(folder, *PINS, connectors=HEADS)) as index:
        return module_sheet(index, asked)


def lines(answer: ModuleSheet) -> dict[str, list[tuple[Pin, list[Pin], list[Pin]]]]:
    """Return pin, ends and fuses of each line by connector and cavity."""
    return {
        f"{part.view.connector.connector}:{line.pin.cavity}": [
            (line.pin, list(line.others.ends) if line.others else [], list(line.feeding))
        ]
        for part in answer.parts
        for line in part.lines
    }


def test_component_takes_its_connectors(tmp_path: Path) -> None:
    """A component's name takes all of its connectors and says why; names that only hold it are left out."""
    answer = sheet(tmp_path, "lift pump")
    assert [name for name, _ in answer.taken] == ["M12 X1", "M12 X2"]
    assert all("Lift pump" in why for _, why in answer.taken)
    left = {near.name: near.why for near in answer.not_taken}
    assert "another name" in left["M3 X1"]


def test_connector_takes_itself(tmp_path: Path) -> None:
    """A connector's name takes that connector; its component's others are named as not taken."""
    answer = sheet(tmp_path, "M12 X1")
    assert [name for name, _ in answer.taken] == ["M12 X1"]
    assert "not asked for" in {near.name: near.why for near in answer.not_taken}["M12 X2"]


def test_wire_is_followed_beyond_its_number(tmp_path: Path) -> None:
    """The other ends and the fuse of a wire are found also where an in-line changes its number."""
    ((_, ends, feeding),) = lines(sheet(tmp_path, "M12 X1"))["M12 X1:1"]
    assert [f"{p.connector}:{p.cavity}" for p in ends] == ["M12 X1:1", "M3 X1:2"]
    assert [p.connector for p in feeding] == ["F1"]


def test_fuse_list_names_what_it_feeds(tmp_path: Path) -> None:
    """A fuse whose row says that it feeds the circuit stands with it."""
    ((_, _, feeding),) = lines(sheet(tmp_path, "M12 X2"))["M12 X2:1"]
    assert [p.connector for p in feeding] == ["F2"]


def test_a_fuse_protects_what_is_behind_it_only(tmp_path: Path) -> None:
    """The wire into a fuse is shown with it, and not as one that it feeds."""
    box = [pin("F9", "F1 in", "100", role="fuse"), pin("F9", "F1 out", "200", role="fuse")]
    modules = [pin("M1", "1", "100"), pin("M1", "2", "200")]
    with Index.open(filled(tmp_path, *box, *modules, connectors=(connector("M1"),))) as index:
        found = lines(module_sheet(index, ("M1",)))
        answers = {n: answer_circuit(index, n) for n in ("100", "200")}
    assert [p.cavity for _, _, feeding in found["M1:1"] for p in feeding] == []
    assert [p.cavity for _, _, feeding in found["M1:2"] for p in feeding] == ["F1 out"]
    assert {n: [p.cavity for p in a.fuses] for n, a in answers.items()} == {
        "100": ["F1 in"],
        "200": ["F1 out"],
    }


def test_voltage_names_bring_no_strangers(tmp_path: Path) -> None:
    """A cavity on a voltage's name shows no other place that carries the name; an unused one has no rest."""
    found = lines(sheet(tmp_path, "M12 X1"))
    assert [p.connector for p in found["M12 X1:2"][0][1]] == ["M12 X1"]
    assert found["M12 X1:3"][0][1:] == ([], [])


def test_unknown_name_gives_near_names_only(tmp_path: Path) -> None:
    """A name that stands for nothing takes nothing and offers what is like it."""
    answer = sheet(tmp_path, "Lift pumb")
    assert answer.parts == () and answer.taken == ()
    assert "Lift pump" in [near.name for near in answer.not_taken]
