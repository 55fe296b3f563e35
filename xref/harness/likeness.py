"""In which way a name resembles an asked one, in plain words."""

from __future__ import annotations

from collections.abc import Iterable

from xref.harness.answers import Near
from xref.settings import DEFAULT, Settings
from xref.store.fold import confusion_key, plain_key, stem_key, unpadded_key
from xref.store.index import Index

_LETTERS_LIKE_DIGITS = "letters and digits that look alike (O/0, I/1/l, S/5, B/8)"


def why_near(asked: str, name: str) -> str:
    """Say in which way two names resemble each other."""
    if plain_key(asked) == plain_key(name):
        return "the same but for capitals, blanks or hyphens"
    if unpadded_key(asked) == unpadded_key(name):
        return "the same but for leading zeros"
    if confusion_key(asked) == confusion_key(name):
        padded = len(plain_key(asked)) != len(plain_key(name))
        return f"differs only in {_LETTERS_LIKE_DIGITS}" + (" and leading zeros" if padded else "")
    mark = _segment_mark(asked, name)
    if mark:
        return f"the same number with the segment mark {mark}"
    mark = _segment_mark(name, asked)
    if mark:
        return f"the same number without the segment mark {mark}"
    if stem_key(asked) == stem_key(name):
        return "the same number with another segment mark"
    if {confusion_key(asked), stem_key(asked)} & {confusion_key(name), stem_key(name)}:
        return "the same number if a letter at its end is a segment mark"
    return "spelt much like it"


def near_circuits(
    index: Index, circuit: str, machine: str | None, *, found: bool, settings: Settings = DEFAULT
) -> tuple[Near, ...]:
    """Return near-twins and segments of a circuit; numbers that merely look alike if it was not found."""
    near = [
        Near(name=name, why=why_near(circuit, name), machine=where)
        for where, name in index.near_circuits(circuit, machine)
    ]
    if not found:
        near += _spelt_alike(circuit, index.circuits_alike(circuit, machine), near, settings)
    return tuple(near)


def near_connectors(
    index: Index, name: str, machine: str | None, taken: set[tuple[str, str]], settings: Settings = DEFAULT
) -> tuple[Near, ...]:
    """Return connectors that may be taken for this one; if none was taken, also names spelt alike.

    `taken` holds (machine, connector) of those that answer the name.
    """
    twins = sorted({(c.machine, c.connector) for c in index.near_connectors(name, machine)} - taken)
    near = [Near(name=twin, why=why_near(name, twin), machine=where) for where, twin in twins]
    if not taken:
        near += _spelt_alike(name, index.names_alike(name, machine), near, settings)
    return tuple(near)


def _spelt_alike(
    asked: str, names: Iterable[tuple[str, str]], known: Iterable[Near], settings: Settings
) -> list[Near]:
    from xref.store.near import near_names

    machines: dict[str, set[str]] = {}
    for machine, name in names:
        machines.setdefault(name, set()).add(machine)
    there = {(near.machine, near.name) for near in known}
    return [
        Near(name=name, why=why_near(asked, name), machine=machine)
        for name, _ in near_names(asked, machines, settings)
        for machine in sorted(machines[name])
        if (machine, name) not in there
    ]


def _segment_mark(short: str, long: str) -> str:
    """Return what stands behind `short` in `long`, if that is all that `long` has more."""
    short, long = short.strip(), long.strip()
    if long.casefold().startswith(short.casefold()) and stem_key(long) in (
        confusion_key(short),
        stem_key(short),
    ):
        return long[len(short) :].strip(" -_./")
    return ""
