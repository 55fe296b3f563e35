"""The lines of a plan as they are worked off: connector by connector, every stub with what becomes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from xref.harness.netmap import place_of
from xref.harness.size_words import size_words
from xref.moves.records import (
    AS_FITTED,
    GONE,
    LEFT_BEHIND,
    Cap,
    Cut,
    InlineFate,
    Join,
    Plan,
    PlannedNet,
    Side,
    Wire,
)
from xref.records import Pin

#: What is said of a capped stub that may be fed; by `Cap.live`.
LIVE_WORDS: dict[bool | None, str] = {
    True: "LIVE once power is back",
    None: "may be live: meter it",
    False: "dead",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLine:
    """One cut with all that is done at it."""

    cut: Cut
    net: PlannedNet
    colored: Pin  #: the row of either end that tells the wire's colours, else the cut's own
    size: str  #: of the wire, as printed with its unit; "" where no page prints it
    does: str  #: its function, and for which option it is there; "" where neither is printed
    checks: tuple[str, ...]  #: what is metered or looked at before this cut, beyond what holds for all
    plug: str  #: what becomes of the stub on the cavity, in words
    loom: str  #: and of the one on the loom
    extensions: tuple[str, ...]  #: wires that are put in here, with size and length


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPlace:
    """A connector (half) that is worked at, with its cuts in the order of its cavities."""

    connector: str
    half: str
    component: str
    going: str  #: where it goes or what becomes of it, in words
    checks: tuple[str, ...]  #: what holds before every cut here
    lines: tuple[WorkLine, ...]

    @property
    def name(self) -> str:
        """How a person calls it: `A30 X1`, `X5 half B`."""
        return f"{self.connector} half {self.half}" if self.half else self.connector


def inline_remarks(item: InlineFate) -> tuple[str, ...]:
    """Return what is to be known of an in-line besides its fate: less work, or what would free it."""
    said = ["a border: all that crosses may be unplugged here instead of cut"] if item.border else []
    if item.fate == "goes" and item.rejoined:
        wires = "1 wire is" if item.rejoined == 1 else f"{item.rejoined} wires are"
        names = ", ".join(f'"{name}"' for name in item.connector.split(" / "))
        said.append(
            f"{wires} cut out of it only to be joined again: [inlines] keep = [{names}] leaves it plugged"
        )
    if item.free:
        said.append(f"it could go too: {'; '.join(item.free)}")
    return tuple(said)


def work_places(plan: Plan) -> tuple[WorkPlace, ...]:
    """Return the cuts by connector, in the order of work."""
    nets = {net.number: net for net in plan.nets}
    joins = {stub: join for join in plan.joins for stub in join.stubs}
    caps = {(cap.cut, cap.side): cap for cap in plan.caps}
    inlines = {name: item.fate for item in plan.inlines for name in item.connector.split(" / ")}
    found = []
    for (connector, half), group in groupby(plan.cuts, key=lambda cut: (cut.pin.connector, cut.pin.half)):
        cuts = list(group)
        shared = [text for text in cuts[0].checks_before if all(text in c.checks_before for c in cuts)]
        shared = shared if len(cuts) > 1 else list(cuts[0].checks_before[:1])
        found.append(
            WorkPlace(
                connector=connector,
                half=half,
                component=_component(cuts, nets),
                going=_going(connector, cuts, nets, inlines),
                checks=tuple(shared),
                lines=tuple(_line(cut, nets[cut.net], shared, joins, caps) for cut in cuts),
            )
        )
    return tuple(found)


def stub_names(stubs: Sequence[tuple[str, Side]]) -> str:
    """Return stubs in words: `FMTP plug, FMTP loom`."""
    return ", ".join(f"{cut} {side}" for cut, side in stubs)


def join_ends(join: Join) -> tuple[tuple[str, tuple[tuple[str, Side], ...]], ...]:
    """Return the places of a joint with the stubs that are joined there: two for an extension, else one."""
    places = join.place.split(" – ") if join.wire is not None else [join.place]
    at: dict[str, list[tuple[str, Side]]] = {place: [] for place in places}
    for stub, place in zip(join.stubs, join.at, strict=True):
        at.setdefault(place, []).append(stub)
    return tuple((place, tuple(stubs)) for place, stubs in at.items())


def wire_words(wire: Wire) -> str:
    """Return size and length of an extension in words; what is not known is said."""
    size = f"{wire.size_mm2:g} mm²" if wire.size_mm2 is not None else "size not known"
    length = f"{wire.length_m:.2f} m" if wire.length_m is not None else "length not known"
    return f"{size}, {length}"


def _line(
    cut: Cut,
    net: PlannedNet,
    shared: Sequence[str],
    joins: Mapping[tuple[str, Side], Join],
    caps: Mapping[tuple[str, Side], Cap],
) -> WorkLine:
    stop = net.net.stops[place_of(cut.pin)]
    rows = (cut.pin, *stop.pins)
    own_wire = [pin for pin in rows if pin.circuit == cut.circuit] or [cut.pin]
    far = (
        [pin for pin in net.net.stops[place_of(cut.to)].pins if pin.circuit == cut.circuit] if cut.to else []
    )
    does = next((pin.function for pin in (*own_wire, *far, *net.rows) if pin.function), "")
    option = next((pin.option for pin in own_wire if pin.option), "")
    sides: tuple[Side, Side] = ("plug", "loom")
    plug, loom = (_becomes((cut.id, side), joins, caps) for side in sides)
    own = dict.fromkeys(joins[cut.id, side].id for side in sides if (cut.id, side) in joins)
    wires = {joins[stub].id: joins[stub].wire for stub in ((cut.id, side) for side in sides) if stub in joins}
    return WorkLine(
        cut=cut,
        net=net,
        colored=next((pin for pin in (*rows, *far) if pin.base_color), cut.pin),
        size=next(filter(None, (size_words(pin) for pin in (*own_wire, *far))), ""),
        does=", ".join(filter(None, (does, f"option: {option}" if option else ""))),
        checks=tuple(text for text in cut.checks_before if text not in shared),
        plug=plug,
        loom=loom,
        extensions=tuple(f"{id_}: {wire_words(wire)}" for id_ in own if (wire := wires[id_]) is not None),
    )


def _becomes(
    stub: tuple[str, Side],
    joins: Mapping[tuple[str, Side], Join],
    caps: Mapping[tuple[str, Side], Cap],
) -> str:
    """Return what becomes of a stub: joined to what, capped, or nothing."""
    cap = caps.get(stub)
    if cap is not None:
        return f"cap {cap.id}: {LIVE_WORDS[cap.live]}"
    join = joins.get(stub)
    if join is None:
        return "nothing: it leads to nothing that is used"
    here, with_ = next((place, own) for place, own in join_ends(join) if stub in own)
    others = tuple(other for other in with_ if other != stub)
    parts = [f"joint {join.id}"]
    if others:
        parts.append(f"with {stub_names(others)}")
    if join.host:
        parts.append(f"to the new vehicle: {join.host}")
    if join.wire is not None:
        far = next((place for place, _ in join_ends(join) if place != here), "?")
        parts.append("extension to what stays" if far == AS_FITTED else f"extension to {far}")
    return ", ".join(parts)


def _component(cuts: Sequence[Cut], nets: Mapping[int, PlannedNet]) -> str:
    pins = [pin for cut in cuts for pin in (cut.pin, *nets[cut.net].net.stops[place_of(cut.pin)].pins)]
    return next(
        (pin.component or pin.connector_name for pin in pins if pin.component or pin.connector_name), ""
    )


def _going(
    connector: str, cuts: Sequence[Cut], nets: Mapping[int, PlannedNet], inlines: Mapping[str, str]
) -> str:
    for cut in cuts:
        for end in nets[cut.net].ends:
            if end.pin.connector == connector:
                if end.where in GONE:
                    return "is left behind" if end.where == LEFT_BEHIND else "comes along nowhere"
                return "stays as fitted" if end.where == AS_FITTED else f"goes to {end.where}"
    if connector in inlines:
        return f"in-line that {inlines[connector]}"
    return "splice on the loom"
