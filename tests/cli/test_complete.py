"""Names a shell completes."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.cli.sample import fill
from xref.cli.complete import complete_circuit, complete_connector, complete_machine


def _context(folder: Path) -> SimpleNamespace:
    """Return what a shell's completion hands over, as far as it is looked at."""
    root = SimpleNamespace(params={"workspace": folder})
    return SimpleNamespace(find_root=lambda: root)


@pytest.mark.parametrize(
    ("ask", "typed", "offered"),
    [
        (complete_circuit, "14", ["1440", "1440A", "1452"]),
        (complete_circuit, "2", ["2001"]),
        (complete_circuit, "9", []),
        (complete_connector, "M", ["M12 X1"]),
        (complete_machine, "fork", ["forklift"]),
        (complete_machine, "boat", []),
    ],
)
def test_names_that_begin_so_are_offered(tmp_path: Path, ask: object, typed: str, offered: list[str]) -> None:
    """Circuits, connectors and machines of the index that begin with what was typed, sorted."""
    fill(tmp_path, machine="forklift")
    assert ask(_context(tmp_path), typed) == offered  # type: ignore[operator]


def test_no_index_offers_nothing(tmp_path: Path) -> None:
    """Without an index nothing is offered and nothing is printed into the person's command line."""
    assert complete_circuit(_context(tmp_path), "1") == []
