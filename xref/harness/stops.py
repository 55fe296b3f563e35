"""The cavities a net comes to, and which two of them its from/to rows make the ends of one wire.

A splice that a list names as a whole has no rows of its own wires: they are those that name it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.data.fuse_sides import is_fed_side
from xref.harness.far_end import far_end
from xref.records import NUMBERED, Pin
from xref.store.fold import plain_key, unpadded_key

#: (connector, half, cavity as `unpadded_key` folds it)
Place = tuple[str, str, str]

LISTED, STATED = "splice-listed", f"splice-wires{NUMBERED}"


@dataclass(frozen=True, slots=True)
class Stop:
    """A cavity the net comes to, with every row that prints it."""

    place: Place
    pins: tuple[Pin, ...]
    #: wires by circuit of a splice that is only listed, or of a stud other documents lead more wires to
    legs: Mapping[str, int] | None = None

    @property
    def role(self) -> str:
        """What kind of connector it is in."""
        for pin in self.pins:
            if pin.role != "unknown":
                return pin.role
        return "unknown"

    @property
    def fuses(self) -> bool:
        """Whether it is a fuse that protects this net: one whose other side it feeds does not."""
        return self.role == "fuse" and not any(is_fed_side("fuse", pin.cavity) for pin in self.pins)

    @property
    def harness(self) -> str:
        """Its harness, folded; "" where no document names one, or two name different ones."""
        named = {plain_key(pin.harness) for pin in self.pins if pin.harness}
        return named.pop() if len(named) == 1 else ""

    @property
    def listed(self) -> bool:
        """Whether no row prints a wire of it: it is a splice that lists name as a whole."""
        return all(LISTED in pin.notices for pin in self.pins) and self.role == "splice"

    @property
    def stated(self) -> int:
        """How many wires a splice is said to have, at most; 0 where nothing is said."""
        said = (name for pin in self.pins for name in pin.notices if name.startswith(STATED))
        return max((int(name.removeprefix(STATED)) for name in said), default=0)

    def wires(self) -> dict[str, int]:
        """Return how many wires of each circuit one table puts into it, at most.

        A splice or stud without cavities has a row for each wire, and its table may go on overleaf: each
        other end its document names is one more.
        """
        if self.legs is not None:
            return dict(self.legs)
        if len(self.pins) == 1:
            return {self.pins[0].circuit: 1}
        most: dict[str, int] = {}
        own = [p for p in self.pins if LISTED not in p.notices]
        tables = Counter((p.document, p.page, p.table_no, p.option, p.circuit) for p in own)
        for (*_, circuit), number in tables.items():
            most[circuit] = max(most.get(circuit, 0), number)
        if not self.place[2]:
            led = {(p.document, p.option, p.circuit, plain_key(p.goes_to)) for p in own if p.goes_to}
            for (*_, circuit), number in Counter(key[:3] for key in led).items():
                most[circuit] = max(most.get(circuit, 0), number)
        named = {circuit: number for circuit, number in most.items() if circuit}
        return named or most

    def pin_of(self, circuit: str) -> Pin:
        """Return the row that prints this circuit, one that names the colour before one that does not."""
        rows = [pin for pin in self.pins if pin.circuit == circuit] or list(self.pins)
        return next((pin for pin in rows if pin.base_color), rows[0])


def place_of(pin: Pin) -> Place:
    """Return the cavity a row prints, folded so that every document's rows of it meet."""
    return (pin.connector, pin.half, unpadded_key(pin.cavity))


def stops_at(pins: Iterable[Pin]) -> dict[Place, Stop]:
    """Return the cavities rows print, those of splices that are only listed with the wires that name them."""
    rows: dict[Place, list[Pin]] = defaultdict(list)
    special: dict[str, dict[Place, None]] = {"fuse": {}, "ground": {}, "splice": {}}
    for pin in pins:
        place = place_of(pin)
        rows[place].append(pin)
        if pin.role in special:
            special[pin.role][place] = None
    stops = {place: Stop(place, tuple(found)) for place, found in rows.items()}
    slots = [place for place in special["fuse"] if _is_slot(stops, stops[place])]
    stops |= {place: replace(stops[place], legs={}) for place in slots}
    studs = [place for place in special["ground"] if not place[2] and stops[place].role == "ground"]
    if studs:
        stops |= _with_all_wires(stops, studs)
    listed = {place: stops[place] for place in special["splice"] if stops[place].listed}
    if not listed:
        return stops
    named: dict[Place, Counter[str]] = {place: Counter() for place in listed}
    for circuit, pair in set(statements(stops)):
        for place in pair & listed.keys():
            named[place][circuit] += 1
    with_rows = {place[0] for place, stop in stops.items() if stop.role == "splice" and place not in listed}
    for place, stop in listed.items():
        legs = _legs(stop, named[place]) if place[0] not in with_rows else {}
        stops[place] = replace(stop, legs=legs)
    return stops


def _is_slot(stops: Mapping[Place, Stop], fuse: Stop) -> bool:
    """Say whether a list of fuses names a slot of which the box's own pins print the wire.

    Such a list says circuit and rating, and nothing of the wire itself; the two are one inside the box.
    """
    if fuse.role != "fuse" or any(pin.color_code or pin.size or pin.goes_to for pin in fuse.pins):
        return False
    circuits = {pin.circuit for pin in fuse.pins}
    return any(
        place != fuse.place and place[0] == fuse.place[0] and circuits & {pin.circuit for pin in stop.pins}
        for place, stop in stops.items()
        if any(pin.color_code or pin.size or pin.goes_to for pin in stop.pins)
    )


def _with_all_wires(stops: Mapping[Place, Stop], studs: Iterable[Place]) -> dict[Place, Stop]:
    """Return the studs to which rows lead more wires than their own table prints, with all of these.

    A supplement adds modules to a stud, and does not print its table anew. Only where then every wire end
    of the circuit is one that a row leads somewhere: else a column may name the stud far beyond a splice.
    """
    used: dict[str, Counter[Place]] = defaultdict(Counter)
    for circuit, pair in set(statements(stops)):
        used[circuit].update(pair)
    found: dict[Place, dict[str, int]] = {}
    for place in studs:
        for circuit, number in stops[place].wires().items():
            own = {far: stop.wires().get(circuit, 0) for far, stop in stops.items()}
            others = {far: count for far, count in own.items() if count and far != place}
            if used[circuit][place] > number and all(used[circuit][far] == n for far, n in others.items()):
                found.setdefault(place, stops[place].wires())[circuit] = used[circuit][place]
    return {place: replace(stops[place], legs=legs) for place, legs in found.items()}


def _legs(stop: Stop, named: Counter[str]) -> dict[str, int]:
    """Return the wires of a listed splice by circuit: those that rows name, and what is said beyond them."""
    legs = dict(named)
    beyond = stop.stated - sum(named.values())
    if beyond > 0 or not legs:
        circuit = stop.pins[0].circuit
        legs[circuit] = legs.get(circuit, 0) + max(beyond, 1)
    return legs


def statements(stops: Mapping[Place, Stop]) -> Iterator[tuple[str, frozenset[Place]]]:
    """Yield the two ends each from/to row names, where both are in this net and carry its circuit."""
    by_name: dict[str, list[Place]] = defaultdict(list)
    for place in stops:
        by_name[plain_key(place[0] + place[1])].append(place)
    for place, stop in stops.items():
        for pin in stop.pins:
            far = _destination(stops, by_name, pin) if pin.goes_to else None
            if far is not None and far != place:
                yield pin.circuit, frozenset((place, far))


def _destination(
    stops: Mapping[Place, Stop], by_name: Mapping[str, Sequence[Place]], pin: Pin
) -> Place | None:
    name, cavity = far_end(pin.goes_to)
    if ":" not in pin.goes_to and (not name or plain_key(pin.goes_to) in by_name):
        name, cavity = pin.goes_to, ""  # a splice or a stud is named without a cavity
    fitting = [
        place
        for place in by_name.get(plain_key(name), ())
        if (not cavity or place[2] == unpadded_key(cavity))
        and (stops[place].listed or pin.circuit in stops[place].wires())
    ]
    return fitting[0] if len(fitting) == 1 else None
