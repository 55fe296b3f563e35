"""Names for shell completion, straight from the index. A shell waits for these: quick or nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from xref.cli.text import harmless
from xref.errors import XrefError
from xref.workspace import find_workspace

if TYPE_CHECKING:
    from collections.abc import Callable

    from xref.store.index import Index

#: A shell's list longer than this helps nobody.
_MOST_NAMES = 200


def complete_circuit(ctx: Any, incomplete: str) -> list[str]:
    """Return the circuits that begin with what was typed."""
    return _names(ctx, lambda index: index.circuits_beginning(incomplete, _MOST_NAMES))


def complete_connector(ctx: Any, incomplete: str) -> list[str]:
    """Return the connectors that begin with what was typed."""
    return _names(ctx, lambda index: index.connectors_beginning(incomplete, _MOST_NAMES))


def complete_place(ctx: Any, incomplete: str) -> list[str]:
    """Return the connectors and circuits that begin with what was typed; after a colon its cavities."""
    name, colon, cavity = incomplete.rpartition(":")

    def ask(index: Index) -> list[str]:
        if colon and index.connectors(name=name):
            found = dict.fromkeys(pin.cavity for pin in index.pins_of(name))
            return [f"{name}:{key}" for key in found if key.startswith(cavity)]
        connectors = index.connectors_beginning(incomplete, _MOST_NAMES)
        return [*connectors, *index.circuits_beginning(incomplete, _MOST_NAMES)]

    return _names(ctx, ask)


def complete_machine(ctx: Any, incomplete: str) -> list[str]:
    """Return the machines that begin with what was typed."""
    return _names(ctx, lambda index: [name for name in index.machines() if name.startswith(incomplete)])


def _names(ctx: Any, ask: Callable[[Index], list[str]]) -> list[str]:
    from xref.store.index import Index

    given = ctx.find_root().params.get("workspace")
    try:
        with Index.open(find_workspace(given)) as index:
            names = ask(index)
    except XrefError:
        return []  # no index, no names; a message here would land in the person's command line
    return [name for name in names[:_MOST_NAMES] if name and name == harmless(name)]
