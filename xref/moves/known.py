"""What a plan needs of the index, read in one pass over a machine's rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace

from xref.harness.agreed import agreed_machine
from xref.harness.answers import InlineView
from xref.harness.inlines import plain_inlines
from xref.harness.likely import Likely, likely_mates, mated_halves
from xref.harness.netmap import NetMap, Place, map_of, place_of, stops_of
from xref.harness.stops import LISTED, STATED
from xref.pages.circles import seldom_collecting
from xref.records import Pin
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.settled import Mate


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the documents say of a machine, as far as a plan needs it."""

    flags: Mapping[int, tuple[str, ...]]  #: of each net
    #: whole where the plan names a connector of the net, or a list a splice on it; else only its stops
    maps: Mapping[int, NetMap]
    inlines: Sequence[InlineView]
    #: what lone halves of in-lines may be plugged into, by connector and half
    likely: Mapping[tuple[str, str], Likely] = field(default_factory=dict)


def known_of(index: Index, machine: str, named: AbstractSet[str]) -> Known:
    """Read what is known of a machine; only nets with one of these connectors may have lines."""
    rows: dict[tuple[str, str], list[Pin]] = defaultdict(list)
    with seldom_collecting():
        flags = index.flags_of_nets(machine)
        pins: dict[int, list[Pin]] = {number: [] for number in flags}
        connectors = index.connectors(machine)
        mates = index.mates(machine)
        inlines = {record.connector for record in connectors if record.role == "inline"}
        inlines |= {name for mate in mates for name in (mate.connector_a, mate.connector_b)}
        for net, pin in agreed_machine(index, machine, connectors):
            if pin.connector in inlines:
                rows[pin.connector, pin.half].append(pin)
            if net is not None:
                pins[net].append(pin)
        maps = _maps(pins, mates, named)
        views = plain_inlines(machine, connectors, mates, rows)
    lone = [(v.halves[0].connector, v.halves[0].half) for v in views if len(v.halves) < 2]
    mated = mated_halves(mates)
    found = {half: likely_mates(index, machine, half, mated.__contains__) for half in lone}
    likely = {half: item for half, item in found.items() if item is not None}
    views = [_with_likely(view, likely) for view in views]
    return Known(flags=flags, maps=maps, inlines=views, likely=likely)


def _with_likely(view: InlineView, likely: Mapping[tuple[str, str], Likely]) -> InlineView:
    found = likely.get((view.halves[0].connector, view.halves[0].half))
    return view if found is None else replace(view, likely=found.sentence())


def _maps(
    nets: Mapping[int, Sequence[Pin]], mates: Sequence[Mate], named: AbstractSet[str]
) -> dict[int, NetMap]:
    whole = {
        number
        for number, pins in nets.items()
        if not named.isdisjoint(pin.connector for pin in pins)
        or any(pin.notices and _is_listed(pin) for pin in pins)
    }
    inlines = {pin.connector for number in whole for pin in nets[number] if pin.role == "inline"}
    touching: dict[Place, list[Mate]] = defaultdict(list)
    for mate in mates:
        if mate.connector_a in inlines or mate.connector_b in inlines:
            touching[mate.connector_a, mate.half_a, unpadded_key(mate.cavity_a)].append(mate)
            touching[mate.connector_b, mate.half_b, unpadded_key(mate.cavity_b)].append(mate)
    maps = {}
    for number, pins in nets.items():
        if number in whole:
            own = (mate for pin in pins if pin.role == "inline" for mate in touching.get(place_of(pin), ()))
            maps[number] = map_of(pins, dict.fromkeys(own))
        else:
            maps[number] = stops_of(pins)
    return maps


def _is_listed(pin: Pin) -> bool:
    return LISTED in pin.notices or any(name.startswith(STATED) for name in pin.notices)
