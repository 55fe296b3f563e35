"""Read pinout tables out of service-manual PDFs; answer where else a circuit appears.

The look-ups as functions, for programs in Python:

    import xref

    answer = xref.circuit("2316", workspace="manuals")
    for end in answer.ends:
        print(end.connector, end.cavity, end.page)

Each opens the index that `xref index` made and returns frozen records (`xref.harness.answers`). `workspace`
is the folder that holds `.xref/`; left out, the nearest one upward from the current folder. `machine` left
out asks for all machines; nothing of two machines is ever joined. Errors are `xref.errors.XrefError`: NoIndex
where nothing was indexed yet, UsageError for a machine that is not there.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from os import PathLike
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xref.harness.answers import CircuitAnswer, ConnectorAnswer, NetAnswer, TraceAnswer
    from xref.store.index import Index

__all__ = ["circuit", "connector", "nets", "trace"]
__version__ = "0.1.0"

Folder = str | PathLike[str]


def circuit(number: str, *, workspace: Folder | None = None, machine: str | None = None) -> CircuitAnswer:
    """Return every appearance of a circuit, grouped; none found gives empty groups and near names."""
    from xref.harness.lookup import answer_circuit

    with _index(workspace, machine) as index:
        return answer_circuit(index, number, machine)


def connector(name: str, *, workspace: Folder | None = None, machine: str | None = None) -> ConnectorAnswer:
    """Return the connectors a designator, component or title stands for, with their pins."""
    from xref.harness.lookup import answer_connector

    with _index(workspace, machine) as index:
        return answer_connector(index, name, machine)


def trace(
    start: str, end: str, *, workspace: Folder | None = None, machine: str | None = None
) -> TraceAnswer:
    """Return the ways between two cavities (`X5:7`), connectors or circuits, hop by hop."""
    from xref.harness.trace import answer_trace

    with _index(workspace, machine) as index:
        return answer_trace(index, start, end, machine)


def nets(*, workspace: Folder | None = None, machine: str | None = None) -> list[NetAnswer]:
    """Return every net: all that is electrically one when every plug is mated, with what is odd about it."""
    from xref.harness.agreed import agreed
    from xref.harness.answers import NetAnswer

    with _index(workspace, machine) as index:
        return [
            NetAnswer(net=number, flags=flags, pins=tuple(agreed(index, pins)))
            for number, flags, pins in index.all_nets(machine)
        ]


@contextmanager
def _index(workspace: Folder | None, machine: str | None) -> Iterator[Index]:
    from pathlib import Path

    from xref.errors import UsageError
    from xref.store.index import Index
    from xref.workspace import find_workspace

    with Index.open(find_workspace(None if workspace is None else Path(workspace))) as index:
        if machine is not None and machine not in index.machines():
            raise UsageError(f"There is no machine {machine} in the index.")
        yield index
