"""Names in the answers of a plan: one that stands nowhere in the nets is a misprint, and an error."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from xref.data.fuzzy import best_matches
from xref.harness.likeness import near_circuits, near_connectors
from xref.moves.plan_file import PlanError, PlanFile
from xref.store.fold import counting_key, unpadded_key
from xref.store.index import Index

#: Names less alike than this (0–100) are not offered.
_ALIKE = 60.0
#: Near names in one message; xref find shows more.
_MOST_NAMED = 8


def pin_named(name: str) -> tuple[str, str]:
    """Return connector and folded cavity of a pin as `[host]` names it (`M12:4`)."""
    connector, _, cavity = name.rpartition(":")
    return connector.strip(), unpadded_key(cavity)


def check_answers(index: Index, machine: str, plan: PlanFile) -> None:
    """See that every pin `[host]` and every circuit `[shorten]` and `[bridge]` name was read.

    Raises:
        PlanError: one of them stands nowhere; near ones are listed.
    """
    for name in plan.host:
        connector, cavity = pin_named(name)
        there = {pin.cavity for pin in index.pins_of(connector, machine)}
        if cavity not in {unpadded_key(own) for own in there}:
            near = [f"{connector}:{own}" for own in sorted(there, key=counting_key)]
            near = near or [f"{n.name}:{cavity}" for n in near_connectors(index, connector, machine, set())]
            raise _nowhere(plan, "host", f"the pin {name}", near)
    circuits = [("shorten.nets", name) for name in plan.shorten]
    circuits += [("bridge.nets", name) for name in plan.bridge]
    for key, name in circuits:
        if not index.pins_on_circuit(name, machine):
            near = [found.name for found in near_circuits(index, name, machine, found=False)]
            raise _nowhere(plan, key, f"the circuit {name}", near)


def near_texts(name: str, known: Iterable[str]) -> list[str]:
    """Return the known texts most like a name, best first; few, and none if nothing is like it."""
    found = best_matches(name, sorted(known), score=_ALIKE, limit=_MOST_NAMED)
    return [text for text, _ in found]


def _nowhere(plan: PlanFile, key: str, what: str, near: Sequence[str]) -> PlanError:
    listed = ", ".join(near[:_MOST_NAMED])
    return PlanError(
        f"{plan.name}: {key} names {what}, which stands nowhere in the pages that were read.",
        hint=f"Correct it, or delete it. Near: {listed}." if listed else "Correct it, or delete it.",
    )
