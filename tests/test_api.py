"""The look-ups as functions of the package."""

from __future__ import annotations

from pathlib import Path

import pytest

import xref
from tests.harness.sample import filled
from tests.store.sample import pin
from xref.errors import NoIndex, UsageError

PINS = (
    pin("A1", "1", "101", role="component", component="Winch controller"),
    pin("X5", "1", "101", half="A", role="inline"),
    pin("X5", "1", "201", half="B", role="inline"),
    pin("M1", "2", "201", role="component", component="Winch motor"),
    pin("M1", "1", "202", role="component", component="Winch motor"),
)


def test_the_package_answers_as_the_commands_do(tmp_path: Path) -> None:
    """Circuit, connector, trace and nets are answered with typed records from a workspace's index."""
    filled(tmp_path, *PINS)
    assert [end.connector for end in xref.circuit("101", workspace=tmp_path).ends] == ["A1"]
    (view,) = xref.connector("Winch controller", workspace=str(tmp_path)).connectors
    assert view.connector.connector == "A1"
    (path,) = xref.trace("A1:1", "M1", workspace=tmp_path, machine="lift").paths
    assert [(hop.connector, hop.half) for hop in path.hops] == [
        ("A1", ""),
        ("X5", "A"),
        ("X5", "B"),
        ("M1", ""),
    ]
    nets = xref.nets(workspace=tmp_path)
    assert sorted(len(net.pins) for net in nets) == [1, 4]


def test_wrong_use_is_an_error_of_the_project(tmp_path: Path) -> None:
    """No index, and a machine that is not there, raise errors with a sentence."""
    with pytest.raises(NoIndex, match="no index"):
        xref.circuit("101", workspace=tmp_path)
    filled(tmp_path, *PINS)
    with pytest.raises(UsageError, match="no machine crane"):
        xref.nets(workspace=tmp_path, machine="crane")
