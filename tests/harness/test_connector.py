"""What a connector's name stands for, what is odd in it, and what one cavity holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import connector, pin
from xref.harness.lookup import answer_cavity, answer_connector
from xref.store.index import Index
from xref.workspace import Workspace


def colored(cavity: str, base: str, stripe: str = "", **fields: object) -> object:
    """Make a pin with decoded colours."""
    return pin("M12 X1", cavity, f"1{cavity}", base_color=base, stripe_color=stripe, **fields)


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """Index a pump with two plugs and an in-line."""
    pins = [
        colored("1", "red", "white"),
        colored("2", "white", "red"),
        colored("3", "red", "white"),
        colored("4", "blue"),
        colored("6", "red", status="unused"),
        pin("M12 X2", "1", "201"),
        pin("X5", "01", "300", half="A", role="inline"),
        pin("X5", "01", "300", half="B", role="inline"),
        pin("X5", "02", "", half="B", role="inline", status="unused"),
    ]
    heads = [
        connector("M12 X1", component="Lift pump", connector_name="Pump plug", cavities_stated=7),
        connector("M12 X2", component="Lift pump"),
    ]
    return filled(tmp_path, *pins, connectors=heads)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("M12 X1", ["M12 X1"]),
        ("m12x1", ["M12 X1"]),
        ("M12-X1", ["M12 X1"]),
        ("lift pump", ["M12 X1", "M12 X2"]),
        ("LIFT  PUMP", ["M12 X1", "M12 X2"]),
        ("pump plug", ["M12 X1"]),
        ("x 5", ["X5", "X5"]),
        ("X5 b", ["X5"]),
        ("X6", []),
        ("", []),
    ],
)
def test_name_is_forgiven(workspace: Workspace, asked: str, found: list[str]) -> None:
    """Case, blanks and hyphens do not matter; a component or title stands for its connectors."""
    with Index.open(workspace) as index:
        assert [view.connector.connector for view in answer_connector(index, asked).connectors] == found


def test_nothing_found_offers_near_names(workspace: Workspace) -> None:
    """A name that stands nowhere is answered with names like it."""
    with Index.open(workspace) as index:
        assert "X5" in [near.name for near in answer_connector(index, "XS").near]
        assert "Lift pump" in [near.name for near in answer_connector(index, "Lift pumb").near]


def test_missing_and_colours_are_marked(workspace: Workspace) -> None:
    """Cavities stated but not read, wires of one colour and of reversed colours are named.

    Source for the colours: MIL-STD-681, identical colours are not to end in one place.
    """
    with Index.open(workspace) as index:
        (view,) = answer_connector(index, "M12 X1").connectors
    assert view.missing == ("5", "7")
    assert view.same_color == (("1", "3"),)
    assert view.reversed_color == (("1", "2"), ("3", "2"))
    assert view.connector.cavities_read == 5


def test_letters_in_cavities_leave_the_sequence_open(tmp_path: Path) -> None:
    """Where cavities are not plain numbers nobody can say which are missing."""
    workspace = filled(tmp_path, pin("X1", "A1", "1"), connectors=[connector("X1", cavities_stated=4)])
    with Index.open(workspace) as index:
        assert answer_connector(index, "X1").connectors[0].missing == ()


def test_printed_twice_is_shown_once(tmp_path: Path) -> None:
    """A row that another document prints alike is shown once; one that differs is shown too."""
    same = [pin("X1", "1", "7", document=name) for name in ("loom.pdf", "rear.pdf")]
    with Index.open(
        filled(tmp_path, *same, pin("X1", "2", "8"), pin("X1", "2", "9", document="rear.pdf"))
    ) as index:
        (view,) = answer_connector(index, "X1").connectors
    assert [(p.cavity, p.circuit) for p in view.pins] == [("1", "7"), ("2", "8"), ("2", "9")]


def test_two_wires_in_a_cavity_both_stay(tmp_path: Path) -> None:
    """Two rows of one page that look alike are two wires."""
    with Index.open(filled(tmp_path, pin("X1", "1", "7"), pin("X1", "1", "7", row_no=2))) as index:
        assert len(answer_connector(index, "X1").connectors[0].pins) == 2


@pytest.mark.parametrize("cavity", ["01", "1"])
def test_cavity_answers_its_circuit(workspace: Workspace, cavity: str) -> None:
    """A cavity of both halves answers once for the circuit that goes through it."""
    with Index.open(workspace) as index:
        answer = answer_cavity(index, "x5", cavity)
    assert answer.circuit == "300" and len(answer.appearances) == 2 and len(answer.pass_throughs) == 1


def test_empty_and_unknown_cavities_are_said(workspace: Workspace) -> None:
    """An unused cavity says so; one that was not read says which were; an unknown connector offers names."""
    with Index.open(workspace) as index:
        unused = answer_cavity(index, "X5", "02")
        assert len(unused.appearances) == 1 and "not used" in unused.notices[0]
        assert "no cavity 99 among those read" in answer_cavity(index, "M12 X1", "99").notices[0]
        unknown = answer_cavity(index, "XS", "1")
        assert unknown.appearances == () and "X5" in [near.name for near in unknown.near]


def test_two_circuits_in_a_cavity_are_both_answered(tmp_path: Path) -> None:
    """A cavity with two wires answers for both, each with its other places."""
    pins = [pin("X1", "1", "7"), pin("X1", "1", "8", row_no=2), pin("X2", "1", "7"), pin("X3", "1", "8")]
    with Index.open(filled(tmp_path, *pins)) as index:
        answer = answer_cavity(index, "X1", "1")
    assert answer.circuit == "7, 8"
    assert {p.connector for p in answer.ends} == {"X1", "X2", "X3"}
