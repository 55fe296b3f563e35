"""Small harnesses written as wires, and plans for them worked out through an index."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from tests.harness.sample import filled
from xref.moves.json_plan import plan_to_json
from xref.moves.plan_file import PlanFile
from xref.moves.work_out import work_out
from xref.records import Connector, Pin, Role
from xref.store.index import Index

ROLES: Mapping[str, Role] = {"C": "inline", "S": "splice", "G": "ground", "F": "fuse"}


def pin(where: str, circuit: str = "", goes_to: str = "", **more: Any) -> Pin:
    """Return the row of a cavity: `M1:1` of a module, `C1A:1` of half A of an in-line, `S1:a` of a splice.

    `G1:1` is a stud's, `F1:1` a fuse's.
    """
    connector, _, cavity = where.partition(":")
    half = connector[-1] if connector[0] == "C" else ""
    name = connector[:-1] if half else connector
    given = {
        "role": ROLES.get(connector[0], "component"),
        "base_color": "red",
        "color_code": "RD",
        "document": "manual.pdf",
        "page": 1,
        **more,
    }
    return Pin(connector=name, half=half, cavity=cavity, circuit=circuit, goes_to=goes_to, **given)


def rows(*wires: str, but: Mapping[str, Mapping[str, Any]] | None = None) -> list[Pin]:
    """Return both rows of wires written `M1:1 1001 C1A:1`; `but` changes fields of a cavity's rows."""
    changes = but or {}
    found = []
    for wire in wires:
        one, circuit, other = wire.split()
        found += [pin(one, circuit, other), pin(other, circuit, one)]
    named = {f"{row.connector}{row.half}:{row.cavity}": row for row in found}
    assert changes.keys() <= named.keys(), "a change is of no cavity"
    return [replace(row, **changes.get(f"{row.connector}{row.half}:{row.cavity}", {})) for row in found]


def worked(
    folder: Path, pins: Sequence[Pin], connectors: Sequence[Connector] = (), **plan: Any
) -> dict[str, Any]:
    """Index these rows and return the plan as the object a program gets."""
    with Index.open(filled(folder, *pins, connectors=connectors)) as index:
        found = json.loads(json.dumps(plan_to_json(work_out(index, PlanFile(**plan)))))
    return dict(found)


def net_of(plan: Mapping[str, Any], circuit: str) -> dict[str, Any]:
    """Return the one net a circuit is on."""
    (found,) = (net for net in plan["nets"] if circuit in net["circuits"])
    return dict(found)


def cut_places(plan: Mapping[str, Any]) -> list[str]:
    """Return where a plan cuts, as `C1A:1`, sorted."""
    return sorted(f"{cut['connector']}{cut['half']}:{cut['cavity']}" for cut in plan["cuts"])


def inline_of(plan: Mapping[str, Any], name: str) -> dict[str, Any]:
    """Return what happens to an in-line."""
    (found,) = (item for item in plan["inlines"] if item["connector"] == name)
    return dict(found)
