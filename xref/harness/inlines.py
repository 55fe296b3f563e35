"""Every in-line: its halves, what each cavity carries on both sides, and which components it joins."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from xref.harness.agreed import agreed
from xref.harness.answers import InlineAnswer, InlineCavity, InlineView, carries_wire
from xref.harness.connector import connectors_named
from xref.harness.likely import likely_mates, mated_halves
from xref.harness.likeness import near_connectors
from xref.harness.mates import both_ways
from xref.harness.nets import ON_THE_PATH
from xref.harness.outdated import outdated_documents
from xref.records import Connector, Pin
from xref.settings import DEFAULT, Settings
from xref.store.fold import counting_key, unpadded_key
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
        inlines=tuple(sorted(views, key=_most_used)),
        near=near,
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine),
    )


def plain_inlines(
    machine: str,
    records: Iterable[Connector],
    mates: Iterable[Mate],
    rows: Mapping[_Half, Sequence[Pin]],
) -> list[InlineView]:
    """Return the in-lines of a machine from what is known of it already; not what components they reach.

    `rows` are the pins of each connector half, all of them.
    """
    known: dict[_Half, list[Connector]] = defaultdict(list)
    for record in records:
        known[record.connector, record.half].append(record)
    halves = {half for half, found in known.items() if any(record.role == "inline" for record in found)}
    views = []
    for sides, touching in _pairs(halves, mates):
        heads = [_best(known[side]) for side in sides]
        cavities = _cavities([rows.get(side, ()) for side in sides], touching)
        views.append(
            InlineView(
                machine=machine,
                halves=tuple(heads),
                how=touching[0].how if touching else "",
                cavities=tuple(cavities),
                components=(),
                differences=tuple(_whole_differences(heads, cavities, len(sides) < 2, touching)),
            )
        )
    return sorted(views, key=_most_used)


def _most_used(view: InlineView) -> tuple[str, int, str]:
    return (view.machine, -view.both, view.names)


def _of_machine(index: Index, machine: str, wanted: set[str] | None) -> list[InlineView]:
    halves = {
        (record.connector, record.half)
        for record in index.connectors(machine)
        if record.role == "inline" and (wanted is None or record.connector in wanted)
    }
    names = {name for name, _ in halves}
    mates = index.mates(machine) if len(names) > 1 else [m for n in names for m in index.mates(machine, n)]
    pairs = list(_pairs(halves, mates))
    lone = any(len(sides) < 2 for sides, _ in pairs)
    mated = mated_halves(index.mates(machine)) if lone else set()
    return [_view(index, machine, sides, touching, mated) for sides, touching in pairs]


def _pairs(halves: Iterable[_Half], mates: Iterable[Mate]) -> Iterator[tuple[list[_Half], list[Mate]]]:
    """Yield what is plugged together, each once, with the cavities that touch; a half alone by itself."""
    halves = set(halves)
    partners: dict[_Half, tuple[_Half, list[Mate]]] = {}
    for mate in mates:
        for here, there in both_ways(mate):
            if here[:2] in halves:
                partners.setdefault(here[:2], (there[:2], []))[1].append(mate)
    seen: set[_Half] = set()
    for half in sorted(halves):
        if half in seen:
            continue
        other, touching = partners.get(half, (None, []))
        seen |= {half} if other is None else {half, other}
        yield ([half] if other is None else sorted((half, other))), touching


def _view(
    index: Index, machine: str, sides: Sequence[_Half], mates: Sequence[Mate], mated: AbstractSet[_Half]
) -> InlineView:
    heads = [_head(index, machine, side) for side in sides]
    pins = [agreed(index, index.pins_of(name, machine, of)) for name, of in sides]
    cavities = _cavities(pins, mates)
    carried = [pin for group in pins for pin in group if carries_wire(pin)]
    components, doubtful = _components(index, carried)
    alike = likely_mates(index, machine, sides[0], mated.__contains__) if len(sides) < 2 else None
    likely = alike.sentence() if alike else ""
    return InlineView(
        machine=machine,
        halves=tuple(heads),
        how=mates[0].how if mates else "",
        cavities=tuple(cavities),
        components=components,
        differences=(likely,)
        if likely
        else tuple(_whole_differences(heads, cavities, len(sides) < 2, mates)),
        likely=likely,
        doubtful=doubtful,
    )


def _head(index: Index, machine: str, half: _Half) -> Connector:
    return _best([r for r in index.connectors(machine, name=half[0]) if r.half == half[1]])


def _best(records: Sequence[Connector]) -> Connector:
    """Return the record that says most of a half."""
    return next((r for r in records if r.gender or r.cavities_stated), records[0])


def _cavities(sides: Sequence[Sequence[Pin]], mates: Iterable[Mate]) -> list[InlineCavity]:
    """Put the pins of both sides beside each other, cavity by cavity, in the order of the first side."""
    differences = {unpadded_key(mate.cavity_a): mate.differences for mate in mates}
    rows: dict[str, tuple[list[Pin], list[Pin]]] = {}
    for number, side in enumerate(sides):
        for pin in side:
            rows.setdefault(unpadded_key(pin.cavity), ([], []))[number].append(pin)
    ordered = sorted(rows, key=counting_key)
    return [
        InlineCavity(
            cavity=(rows[key][0] or rows[key][1])[0].cavity,
            one=tuple(rows[key][0]),
            other=tuple(rows[key][1]),
            differences=differences.get(key, ()),
        )
        for key in ordered
    ]


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
