"""Every in-line: its halves, what each cavity carries on both sides, and which components it joins."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from xref.harness.agreed import agreed
from xref.harness.answers import InlineAnswer, InlineCavity, InlineView
from xref.harness.connector import connectors_named
from xref.harness.likeness import near_connectors
from xref.harness.mates import both_ways
from xref.harness.nets import ON_THE_PATH
from xref.harness.outdated import outdated_documents
from xref.records import Connector, Pin
from xref.settings import DEFAULT, Settings
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.settled import Mate

#: (connector, half)
_Half = tuple[str, str]


def answer_inlines(
    index: Index, name: str = "", machine: str | None = None, settings: Settings = DEFAULT
) -> InlineAnswer:
    """Answer which in-lines there are, all or those a name stands for, most cavities in use first."""
    views: list[InlineView] = []
    wanted: set[tuple[str, str]] | None = None
    if name:
        wanted = {(r.machine, r.connector) for r in connectors_named(index, name, machine)}
    for of in index.machines() if machine is None else [machine]:
        views += _of_machine(index, of, None if wanted is None else {n for m, n in wanted if m == of})
    near = near_connectors(index, name, machine, wanted or set(), settings) if name else ()
    return InlineAnswer(
        name=name,
        inlines=tuple(sorted(views, key=lambda view: (view.machine, -view.both, view.names))),
        near=near,
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine),
    )


def _of_machine(index: Index, machine: str, wanted: set[str] | None) -> list[InlineView]:
    heads: dict[_Half, Connector] = {}
    for record in index.connectors(machine):
        if record.role == "inline" and (wanted is None or record.connector in wanted):
            heads.setdefault((record.connector, record.half), record)
    partners = _partners(index, machine, heads)
    views, seen = [], set[_Half]()
    for half in sorted(heads):
        if half in seen:
            continue
        other, mates = partners.get(half, (None, []))
        seen |= {half} if other is None else {half, other}
        views.append(_view(index, machine, half, other, mates))
    return views


def _partners(
    index: Index, machine: str, heads: Mapping[_Half, Connector]
) -> dict[_Half, tuple[_Half, list[Mate]]]:
    """Return for each half the one it is plugged into, with the cavities that touch."""
    found: dict[_Half, tuple[_Half, list[Mate]]] = {}
    names = {name for name, _ in heads}
    mates = index.mates(machine) if len(names) > 1 else [m for n in names for m in index.mates(machine, n)]
    for mate in mates:
        for here, there in both_ways(mate):
            if here[:2] in heads:
                found.setdefault(here[:2], (there[:2], []))[1].append(mate)
    return found


def _view(index: Index, machine: str, half: _Half, other: _Half | None, mates: Sequence[Mate]) -> InlineView:
    sides = [half] if other is None else sorted((half, other))
    heads = [_head(index, machine, side) for side in sides]
    pins = [agreed(index, index.pins_of(name, machine, of)) for name, of in sides]
    cavities = _cavities(pins, mates)
    carried = [pin for group in pins for pin in group if _carries(pin)]
    components, doubtful = _components(index, carried)
    return InlineView(
        machine=machine,
        halves=tuple(heads),
        how=mates[0].how if mates else "",
        cavities=tuple(cavities),
        components=components,
        differences=tuple(_whole_differences(heads, cavities, other is None, mates)),
        doubtful=doubtful,
    )


def _head(index: Index, machine: str, half: _Half) -> Connector:
    records = [r for r in index.connectors(machine, name=half[0]) if r.half == half[1]]
    return next((r for r in records if r.gender or r.cavities_stated), records[0])


def _cavities(sides: Sequence[Sequence[Pin]], mates: Iterable[Mate]) -> list[InlineCavity]:
    """Put the pins of both sides beside each other, cavity by cavity, in the order of the first side."""
    differences = {unpadded_key(mate.cavity_a): mate.differences for mate in mates}
    rows: dict[str, tuple[list[Pin], list[Pin]]] = {}
    for number, side in enumerate(sides):
        for pin in side:
            rows.setdefault(unpadded_key(pin.cavity), ([], []))[number].append(pin)
    ordered = sorted(rows, key=_counting)
    return [
        InlineCavity(
            cavity=(rows[key][0] or rows[key][1])[0].cavity,
            one=tuple(rows[key][0]),
            other=tuple(rows[key][1]),
            differences=differences.get(key, ()),
        )
        for key in ordered
    ]


def _counting(key: str) -> tuple[str, int, str]:
    """Sort `2` before `10`, and `A2` before `A10` before `B1`."""
    letters = key.rstrip("0123456789")
    number = key[len(letters) :]
    return (letters, int(number) if number else 0, key)


def _carries(pin: Pin) -> bool:
    return pin.status != "unused" and bool(pin.circuit or pin.color_code)


def _whole_differences(
    heads: Sequence[Connector], cavities: Sequence[InlineCavity], alone: bool, mates: Sequence[Mate]
) -> list[str]:
    """Return sentences for what is odd about the in-line as a whole."""
    if alone:
        return ["the other half is not in these documents"]
    said = []
    one, other = heads
    if one.gender and one.gender.casefold() == other.gender.casefold():
        said.append(f"both halves are called {one.gender}")
    counts = (one.cavities_stated, other.cavities_stated)
    if None not in counts and counts[0] != counts[1]:
        said.append(f"the halves are said to have {counts[0]} and {counts[1]} cavities")
    only = [cavity.cavity for cavity in cavities if bool(cavity.one) != bool(cavity.other)]
    if only:
        said.append(f"on one half only: {', '.join(only)}")
    if any(mate.doubtful for mate in mates):
        said.append("most cavities say different things on both halves: they may not belong together")
    return said


def _components(index: Index, pins: Sequence[Pin]) -> tuple[tuple[tuple[str, int], ...], bool]:
    """Return the components (studs, fuses) its circuits reach with how many, most first; and any doubt."""
    numbers = sorted(set(index.nets_of(pins).values()))
    reached: dict[str, set[int]] = defaultdict(set)
    for number, rows in index.pins_of_nets(numbers).items():
        for pin in agreed(index, rows):
            if pin.role not in ON_THE_PATH:
                own = pin.connector if pin.role in ("ground", "fuse") else pin.component or pin.connector
                reached[own].add(number)
    counted = sorted(
        ((name, len(nets)) for name, nets in reached.items()), key=lambda item: (-item[1], item[0])
    )
    doubtful = any("pins-in-doubt" in flags for flags in index.net_flags(numbers).values())
    return tuple(counted), doubtful
