"""Splices of which lists say how many wires they have: whether the documents hold all of these.

A list may name a splice as a whole, one row for it; then its wires are those of other rows. What is said and
what is found are compared, so that a wire which is in no document is missed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from xref.harness.netmap import Hub, NetMap, Node, Place
from xref.harness.stops import STATED
from xref.records import Pin

#: A splice has so many wires at least; with fewer found and no number said, one is missing.
_FEWEST = 3
#: Ends named in one sentence.
_MOST_NAMED = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class SpliceLegs:
    """A splice that a list names or counts, with what was found of it."""

    pin: Pin  #: the row that says most of it
    stated: int  #: wires it is said to have, 0 where nothing is said
    found: int
    ends: tuple[Place, ...]  #: the cavities its wires lead to, as far as that is known
    open: bool = False  #: which wires are its is not known, or the rest of its net does not hang on it

    @property
    def known(self) -> bool:
        """Whether what is found can be all there is."""
        if self.open:
            return False
        return self.found == self.stated if self.stated else self.found >= _FEWEST

    @property
    def page(self) -> str:
        """Where it is listed."""
        return f"{self.pin.document} p. {self.pin.page}"

    def sentence(self) -> str:
        """Return what is said of it, with the page, and what is found, in words."""
        name = self.pin.connector
        said = (
            f"{name} is said to have {self.stated} wires"
            if self.stated
            else f"how many wires {name} has is not said"
        )
        said = f"{said} ({self.page})"
        if not self.found:
            return f"{said}, and no row says that it goes there"
        if self.open and self.found == self.stated:
            return f"{said}, and which of the rows with its number are its is not known"
        ends = [f"{place[0]}{place[1]}{':' if place[2] else ''}{place[2].upper()}" for place in self.ends]
        left = len(ends) - _MOST_NAMED
        named = ", ".join(ends[:_MOST_NAMED]) + (f" and {left} more" if left > 0 else "")
        are = "is" if self.found == 1 else "are"
        return f"{said}, {self.found} {are} in the documents" + (f": {named}" if named else "")


def spliced(net: NetMap) -> list[SpliceLegs]:
    """Return the splices of a net that are only listed as a whole, and those whose wires are counted."""
    places: dict[str, list[Place]] = {}
    for place, stop in net.stops.items():
        if stop.role == "splice":
            places.setdefault(place[0], []).append(place)
    asked = [
        own
        for _, own in sorted(places.items())
        if all(net.stops[place].listed for place in own) or any(net.stops[place].stated for place in own)
    ]
    if not asked:
        return []
    whole = _hangs_together(net)
    return [_legs_of(net, own, whole) for own in asked]


def _legs_of(net: NetMap, own: list[Place], whole: bool) -> SpliceLegs:
    rows = [pin for place in own for pin in net.stops[place].pins]
    pin = next((p for p in rows if any(name.startswith(STATED) for name in p.notices)), rows[0])
    stated = max(net.stops[place].stated for place in own)
    ends = {far for place in own for far, _ in net.wires.get(place, ())}
    if any(not net.stops[place].listed for place in own):
        found = sum(sum(net.stops[place].wires().values()) for place in own)
        return SpliceLegs(pin=pin, stated=stated, found=found, ends=tuple(sorted(ends)))
    found, unsure = sum(len(net.wires.get(place, ())) for place in own), not whole
    for place in own:
        for hub in (net.hubs[number] for number in net.hubs_at.get(place, ())):
            others = sum(hub.ends.values()) - hub.ends[place]
            ends |= {other for other in hub.places if other != place and others <= hub.ends[place]}
            found += min(others, hub.ends[place]) if stated else 0
            unsure = unsure or not _may_be_joined(hub, place)
    return SpliceLegs(pin=pin, stated=stated, found=found, ends=tuple(sorted(ends)), open=unsure)


def _may_be_joined(hub: Hub, place: Place) -> bool:
    """Say whether wires enough meet in a hub to join it, and other ends for all of a splice's."""
    total = sum(hub.ends.values())
    parts = len(hub.places) - len(hub.links)
    return 2 * hub.ends[place] <= total and total % 2 == 0 and total // 2 >= parts - 1


def _hangs_together(net: NetMap) -> bool:
    """Say whether wires, plugs, splices, hubs and components join all cavities of a net."""
    start = next(iter(net.stops))
    seen: set[Node] = {start}
    waiting: list[Node] = [start]
    while waiting:
        node = waiting.pop()
        for far in _next_to(net, node):
            if far not in seen:
                seen.add(far)
                waiting.append(far)
    empty = {place for place, stop in net.stops.items() if not stop.wires()}
    return seen | empty >= net.stops.keys()


def _next_to(net: NetMap, node: Node) -> Iterator[Node]:
    yield from net.onward(node)
    if isinstance(node, tuple):
        yield from net.devices.get(node, ())
