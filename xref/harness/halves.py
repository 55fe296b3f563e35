"""What stands in the cavities of each connector that may be a half of an in-line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from xref.store.fold import stem_key, unpadded_key
from xref.store.index import Index

#: (machine, connector, half)
Half = tuple[str, str, str]

#: Areas that differ by less are one size printed in two units, as a share: 0.5 mm² and gauge 20.
_SAME_SIZE = 0.06


@dataclass(slots=True)
class Content:
    """All that the documents print of one cavity."""

    cavity: str  #: as printed
    circuits: set[str] = field(default_factory=set)
    colors: set[tuple[str, str, str]] = field(default_factory=set)
    sizes: set[float] = field(default_factory=set)
    used: bool = False  #: some row puts a wire into it
    unused: bool = False  #: some row says that it is not used


#: cavity, as `unpadded_key` folds it -> what stands there
Wiring = dict[str, Content]


def wirings_of(index: Index, roles: Iterable[str], named: Iterable[Half] = ()) -> dict[Half, Wiring]:
    """Return what stands in the cavities of every connector read as one of these roles, or named here."""
    wirings: dict[Half, Wiring] = defaultdict(dict)
    keys: dict[str, str] = {}
    rows = index.half_rows(tuple(roles), {half[1] for half in named})
    for machine, name, half, cavity, circuit, base, stripe, ring, size, status in rows:
        key = keys.get(cavity) or keys.setdefault(cavity, unpadded_key(cavity))
        content = wirings[machine, name, half].setdefault(key, Content(cavity))
        if status == "unused":
            content.unused = True
            continue
        if not (circuit or base or status == "used"):
            continue
        content.used = True
        if circuit:
            content.circuits.add(circuit)
        if base:
            content.colors.add((base, stripe, ring))
        if size is not None:
            content.sizes.add(size)
    return wirings


def differences(one: Content, other: Content) -> list[str]:
    """Return what changes between two cavities that touch, as names of MATE_DIFFERENCES."""
    if not (one.used and other.used):
        return ["unused-beyond"] if one.used or other.used else []
    found = []
    if one.circuits and other.circuits and not one.circuits & other.circuits:
        found.append("number-changes")
    if one.colors and other.colors and not one.colors & other.colors:
        found.append("color-changes")
    if one.sizes and other.sizes and not any(_same_size(a, b) for a in one.sizes for b in other.sizes):
        found.append("size-changes")
    return found


def agree(one: Content, other: Content) -> bool:
    """Say whether two cavities look like two sides of one wire: by number, its stem, or the colours."""
    if one.circuits & other.circuits or one.colors & other.colors:
        return True
    return bool(_stems(one.circuits) & _stems(other.circuits))


def _stems(circuits: Iterable[str]) -> set[str]:
    return {stem_key(circuit) for circuit in circuits}


def _same_size(one: float, other: float) -> bool:
    return abs(one - other) <= _SAME_SIZE * max(one, other)
