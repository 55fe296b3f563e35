"""Decisions to the JSON they are kept as, and back."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, get_args

from xref.pins.corrections_records import (
    CORRECTABLE,
    SETTABLE,
    Changes,
    CircuitIs,
    HeadDecision,
    MateDecision,
    PutAside,
    Region,
    RowAsRead,
    RowDecision,
)
from xref.records import Role, Status
from xref.tables.layout import TaughtLayout


@dataclass(frozen=True, slots=True, kw_only=True)
class Taught:
    """The person named the columns of a table of this document."""

    id: int
    at: str
    sha256: str
    document: str
    machine: str
    page: int
    layout: TaughtLayout


Kept = RowDecision | PutAside | HeadDecision | MateDecision | Taught

#: Fields that hold one of few words.
_CHOICES: dict[str, tuple[str, ...]] = {"role": get_args(Role), "status": get_args(Status)}

#: How each kind is called in the file; old files are read by these names.
KINDS: dict[type[Kept], str] = {
    RowDecision: "row",
    PutAside: "put-aside",
    HeadDecision: "connector",
    MateDecision: "mates",
    Taught: "taught",
}


def where(decision: Kept) -> tuple[str, str, str, int]:
    """Return content hash, document, machine and page a decision was made on; blank where on none."""
    if isinstance(decision, RowDecision):
        row = decision.row
        return row.sha256, row.document, row.machine, row.page
    if isinstance(decision, Taught):
        return decision.sha256, decision.document, decision.machine, decision.page
    if isinstance(decision, MateDecision):
        return "", "", decision.machine, 0
    region = decision.region
    if region is None:
        return "", "", decision.machine if isinstance(decision, HeadDecision) else "", 0
    return region.sha256, region.document, region.machine, region.page


def of_machine(decision: Kept, machine: str) -> Kept:
    """Return the decision as one about the same document or connector of another machine."""
    if isinstance(decision, RowDecision):
        return replace(decision, row=replace(decision.row, machine=machine))
    if isinstance(decision, PutAside):
        return replace(decision, region=replace(decision.region, machine=machine))
    if isinstance(decision, HeadDecision) and decision.region is not None:
        return replace(decision, machine=machine, region=replace(decision.region, machine=machine))
    return replace(decision, machine=machine)


def to_json(decision: Kept) -> str:
    """Return the text a decision is kept as, without its number and time."""
    return json.dumps(_plain(decision), ensure_ascii=False, sort_keys=True)


def from_json(number: int, at: str, kind: str, text: str) -> Kept:
    """Return the decision a text holds. Fields this version does not know are left out."""
    given = {"id": number, "at": at, **json.loads(text)}
    if kind == "row":
        if given.get("circuit_is", "") not in get_args(CircuitIs):
            raise ValueError(f"{given['circuit_is']!r} is nothing a circuit can be")
        return RowDecision(
            **_only(RowDecision, given)
            | {
                "row": RowAsRead(**_only(RowAsRead, given["row"])),
                "changes": checked(given["changes"], CORRECTABLE),
                "shown": tuple(given["shown"]),
            }
        )
    if kind == "put-aside":
        return PutAside(**_only(PutAside, given) | {"region": _region(given["region"])})
    if kind == "connector":
        region = _region(given["region"]) if given["region"] else None
        return HeadDecision(
            **_only(HeadDecision, given) | {"changes": checked(given["changes"], SETTABLE), "region": region}
        )
    if kind == "mates":
        return MateDecision(**_only(MateDecision, given))
    if kind == "taught":
        return Taught(**_only(Taught, given) | {"layout": _layout(given["layout"])})
    raise ValueError(f"{kind!r} is no kind of decision")


def _plain(record: Any) -> dict[str, Any]:
    out = {}
    for f in fields(record):
        value = getattr(record, f.name)
        if f.name not in ("id", "at"):
            out[f.name] = _plain(value) if hasattr(value, "__dataclass_fields__") else value
    return out


def _only(kind: type[Any], given: dict[str, Any]) -> dict[str, Any]:
    known = {f.name for f in fields(kind)}
    return {name: value for name, value in given.items() if name in known}


def checked(changes: Iterable[tuple[str, str]], allowed: Sequence[str]) -> Changes:
    """Return what the person says, white space folded; raises ValueError where no row can hold it."""
    said = tuple((name, " ".join(value.split())) for name, value in changes)
    for name, value in said:
        if name not in allowed:
            raise ValueError(f"{name!r} is no field that can be set")
        if name in ("cavity", "connector") and not value:
            raise ValueError(f"a {name} cannot be blank")
        if name in _CHOICES and value not in _CHOICES[name]:
            raise ValueError(f"{value!r} is no {name}: use {', '.join(_CHOICES[name])}")
    return said


def _layout(given: dict[str, Any]) -> TaughtLayout:
    roles, header = (tuple(map(str, given[name])) for name in ("roles", "header"))
    edges = tuple(map(float, given["edges"]))
    whole = len(edges) == len(roles) + 1 == len(header) + 1
    if not whole or not all(map(math.isfinite, edges)) or sorted(set(edges)) != list(edges):
        raise ValueError("its columns have no borders in order")
    line = tuple(map(str, given.get("line", ())))
    return TaughtLayout(roles=roles, edges=edges, header=header, line=line, anew=bool(given.get("anew")))


def _region(given: dict[str, Any]) -> Region:
    return Region(**_only(Region, given) | {"rows": tuple(given["rows"])})
