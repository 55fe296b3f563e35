"""An invented winch on a lift, whose controller moves: a small index with one net of every kind."""

from __future__ import annotations

from pathlib import Path

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.moves.plan_file import parse_plan
from xref.moves.records import Plan
from xref.moves.work_out import work_out
from xref.records import Pin
from xref.store.index import Index
from xref.workspace import Workspace

WINCH = "Winch controller"


def wire(circuit: str, color: str, function: str, *ends: tuple[str, str, dict[str, str]]) -> list[Pin]:
    """Return the pins of a wire: each end is (connector, cavity, what else is known of it)."""
    base, _, stripe = color.partition("/")
    return [
        pin(
            connector,
            cavity,
            circuit,
            color_code=color.upper()[:2],
            base_color=base,
            stripe_color=stripe,
            function=function,
            size="0.75",
            size_mm2=0.75,
            **more,
        )
        for connector, cavity, more in ends
    ]


def at(
    connector: str, cavity: str, component: str = "", role: str = "component", half: str = ""
) -> tuple[str, str, dict[str, str]]:
    """Return one end of a wire."""
    return connector, cavity, {"role": role, "component": component, "half": half}


PINS = (
    *wire("101", "red/white", "Supply", at("A1", "1", WINCH), at("F1", "1", role="fuse")),
    *wire("102", "blue", "Winch up", at("A1", "2", WINCH), at("M1", "1", "Winch motor")),
    *wire("103", "black", "Ground", at("A1", "3", WINCH), at("G1", "1", role="ground")),
    *wire("104", "green/yellow", "Rope signal", at("A1", "4", WINCH), at("X5", "1", role="inline", half="A")),
    *wire("104", "green/yellow", "Rope signal", at("X5", "1", role="inline", half="B"),
          at("B1", "1", "Rope sensor")),
    *wire("105", "yellow", "Airbag squib", at("A1", "5", WINCH), at("B2", "1", "Bag")),
    *wire("106", "brown", "Brake light switch", at("A1", "6", WINCH), at("S9", "1", "Pedal")),
    *wire("107", "white", "Spare lamp", at("A1", "7", WINCH)),
    *wire("108", "grey", "Cab lamp", at("H1", "1", "Lamp"), at("S8", "1", "Switch")),
)  # fmt: skip

#: The controller goes aft, the motor with it; everything else stays.
AFT = """
[place]
"Winch controller" = "aft"
"Winch motor" = "aft"
[route]
"aft - as fitted" = 3
"""


def index(folder: Path, *more: Pin) -> Workspace:
    """Put the winch into an index in a folder."""
    return filled(folder, *PINS, *more)


def planned(folder: Path, text: str = AFT, *more: Pin) -> Plan:
    """Return the plan of a text, worked out."""
    with Index.open(index(folder, *more)) as opened:
        return work_out(opened, parse_plan(text, "winch.toml"))
