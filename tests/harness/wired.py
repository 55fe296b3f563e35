"""Small nets written down by hand: rows of cavities, and which halves touch."""

from __future__ import annotations

from collections.abc import Sequence

from xref.harness.answers import NetView
from xref.harness.netmap import NetMap, map_of
from xref.harness.steps import is_stated, steps_of_net
from xref.records import Pin, Role
from xref.store.settled import Mate

_COLORS = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "YE": "yellow",
    "GN": "green",
    "WH": "white",
    "BU": "blue",
}


def row(
    place: str,
    role: Role,
    circuit: str = "1440",
    code: str = "GN/YE",
    *,
    to: str = "",
    harness: str = "",
    half: str = "",
    number: int = 1,
    component: str = "",
    document: str = "loom.pdf",
) -> Pin:
    """Return one row of the cavity `CONNECTOR:CAVITY`; `number` tells two rows of one table apart."""
    connector, _, cavity = place.rpartition(":")
    base, _, stripe = code.partition("/")
    return Pin(
        connector=connector,
        half=half,
        cavity=cavity,
        role=role,
        circuit=circuit,
        color_code=code,
        base_color=_COLORS.get(base, ""),
        stripe_color=_COLORS.get(stripe, ""),
        goes_to=to,
        harness=harness,
        component=component,
        document=document,
        page=1,
        row_no=number,
    )


def inline(
    place: str, circuit: str = "1440", beyond: str = "1440", *, harnesses: Sequence[str] = ("", "")
) -> list[Pin]:
    """Return both halves of an in-line cavity, which touch."""
    return [
        row(place, "inline", circuit, half="A", harness=harnesses[0]),
        row(place, "inline", beyond, half="B", harness=harnesses[1]),
    ]


def mapped(pins: Sequence[Pin]) -> NetMap:
    """Return the map of a net whose halves A and B touch."""
    halves = {(p.connector, p.half, p.cavity) for p in pins if p.half}
    mates = [
        Mate(
            machine="",
            connector_a=name,
            half_a="A",
            cavity_a=cavity,
            connector_b=name,
            half_b="B",
            cavity_b=cavity,
            how="marks",
        )
        for name, half, cavity in sorted(halves)
        if half == "A" and (name, "B", cavity) in halves
    ]
    return map_of(pins, mates)


def viewed(pins: Sequence[Pin]) -> NetView:
    """Return such a net as an answer holds it."""
    net = mapped(pins)
    tops = tuple(steps_of_net(net))
    ends = tuple(s.pins[0] for s in net.stops.values() if s.role not in ("inline", "splice"))
    order = "stated" if is_stated(tops) else "not stated"
    return NetView(net=1, machine="", flags=(), ends=ends, tops=tops, order=order)  # type: ignore[arg-type]


def star(ends: int, *, splice: bool) -> list[Pin]:
    """Return a net of so many ends: on a splice that is read, or met nobody says where."""
    found = []
    for n in range(1, ends + 1):
        end = row(f"A{n}:{n % 7 + 1}", "component", to=f"SP1:{n}" if splice else "", component=f"Lamp {n}")
        found.append(end)
        if splice:
            found.append(row(f"SP1:{n}", "splice"))
    return found
