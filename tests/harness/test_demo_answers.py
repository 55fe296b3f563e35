"""The demo manuals, read and asked, against the harness they were drawn from."""

from __future__ import annotations

import csv
from collections import Counter, defaultdict
from collections.abc import Iterator

import pytest

from tests.conftest import ROOT
from xref.harness.lookup import answer_circuit, module_sheet
from xref.pipeline import index_paths
from xref.settings import Settings
from xref.store.index import Index
from xref.workspace import Workspace

TRUTH = ROOT / "fixtures" / "demo" / "truth"
Place = tuple[str, str, str]


def _rows(name: str) -> list[dict[str, str]]:
    with (TRUTH / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROLES = {(row["connector"], row["half"]): row["role"] for row in _rows("connectors")}
NET_OF: dict[Place, str] = {
    (row["connector"], row["half"], row["cavity"]): row["net"] for row in _rows("nets")
}


#: The scanned sheet is not read: what stands only there is in no answer.
READABLE = sorted(path.stem for path in TRUTH.glob("q16-*.csv") if "scan" not in path.stem)


def _wires() -> dict[Place, int]:
    """Return how many wires lie in each cavity: what the document that says most of it prints."""
    wires: Counter[Place] = Counter()
    for document in READABLE:
        printed = Counter(
            (row["connector"], row["half"], row["cavity"]) for row in _rows(document) if row["circuit"]
        )
        wires |= printed
    return wires


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Index]:
    """Index the demo manuals once."""
    workspace = Workspace(tmp_path_factory.mktemp("demo"))
    manuals = sorted((ROOT / "examples" / "manuals").glob("*.pdf"))
    index_paths(manuals, workspace, machine="forklift", settings=Settings(workers=2))
    with Index.open(workspace) as opened:
        yield opened


def test_every_appearance_stands_under_its_true_role(index: Index) -> None:
    """Ends, splices, grounds and fuses are what the harness has there, whichever document printed the row."""
    wrong = []
    for _, circuit in index.circuit_names():
        answer = answer_circuit(index, circuit)
        groups = {
            "component": answer.ends,
            "splice": answer.splices,
            "ground": answer.grounds,
            "fuse": answer.fuses,
            "inline": [half for passing in answer.pass_throughs for half in passing.halves],
        }
        wrong += [
            (circuit, pin.connector, pin.document, role)
            for role, pins in groups.items()
            for pin in pins
            if ROLES.get((pin.connector, pin.half)) != role
        ]
    assert wrong == []


def test_no_circuit_joins_two_nets_and_no_half_is_missing(index: Index) -> None:
    """All places of a circuit lie in one net of the harness, and each in-line shows both halves."""
    for _, circuit in index.circuit_names():
        answer = answer_circuit(index, circuit)
        nets = {NET_OF[pin.connector, pin.half, pin.cavity] for pin in answer.appearances}
        assert len(nets) == 1, circuit
        assert not [passing for passing in answer.pass_throughs if passing.missing_half], circuit


def test_every_sheet_has_each_wire_once_and_all_its_ends(index: Index) -> None:
    """For every module: one line per wire, and exactly the ends, grounds and fuses of its net."""
    by_net: dict[str, set[Place]] = defaultdict(set)
    wires = _wires()
    for place, net in NET_OF.items():
        if place in wires and ROLES[place[:2]] in ("component", "ground", "fuse"):
            by_net[net].add(place)
    checked = 0
    for component in sorted({row["component"] for row in _rows("connectors")} - {""}):
        for part in module_sheet(index, [component]).parts:
            wired = [line for line in part.lines if line.pin.circuit]
            lines = Counter((line.pin.connector, line.pin.half, line.pin.cavity) for line in wired)
            assert lines == {place: wires[place] for place in lines}
            for line in wired:
                assert line.others is not None
                ends = (*line.others.ends, *line.others.grounds, *line.others.fuses)
                found = {(pin.connector, pin.half, pin.cavity) for pin in ends}
                place = (line.pin.connector, line.pin.half, line.pin.cavity)
                assert found == by_net[NET_OF[place]], place
                checked += 1
    assert checked > 100
