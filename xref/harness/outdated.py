"""Documents that are no longer as they were read: the file is gone, or was changed since."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from xref.harness.answers import Outdated
from xref.records import Pin
from xref.store.filing import file_hash, file_stamp, same_stamp
from xref.store.index import Index

GONE = "is no longer where it was read"
CHANGED = "has changed since it was read; run xref index again"
TOUCHED = "may have changed since it was read; run xref index again"


def outdated_documents(
    index: Index,
    machine: str | None = None,
    pins: Iterable[Pin] | None = None,
    *,
    thorough: bool = False,
) -> tuple[Outdated, ...]:
    """Return the documents (of these pins, else all) whose file is not the one that was read.

    Size and times are compared, which costs nothing; `thorough` reads a file whose times differ, to be sure.
    """
    wanted = None if pins is None else {(pin.machine, pin.document) for pin in pins}
    found = []
    for (of, name), (path, stamp, sha256) in index.document_files(machine).items():
        if wanted is None or (of, name) in wanted:
            why = _why(Path(path), stamp, sha256, thorough)
            if why:
                found.append(Outdated(machine=of, document=name, why=why))
    return tuple(found)


def _why(path: Path, stamp: str, sha256: str, thorough: bool) -> str:
    try:
        now = file_stamp(path)
        if not stamp or same_stamp(now, stamp):
            return ""
        if not thorough:
            return TOUCHED
        return CHANGED if file_hash(path) != sha256 else ""
    except OSError:
        return GONE
