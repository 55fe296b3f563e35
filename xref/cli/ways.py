"""The way of a net, and of a trace, as a person follows it with a finger: stops, and wires between them."""

from __future__ import annotations

from collections.abc import Iterator

from xref.cli import blocks
from xref.cli.terminal import Screen
from xref.harness.answers import NetView
from xref.harness.steps import Link, Step

NOT_STATED = "order not stated by the manual"
#: The same where the places stand in order, and how they are wired does not.
PARTLY_STATED = "places in order, but not every wire between them is stated by the manual"
#: What a person reads where wires meet and nobody says where.
MEETS = "joined somewhere: which end is wired to which is not stated"


def print_ways(screen: Screen, nets: list[NetView]) -> None:
    """Write each net that has a way to follow, and once what is missing of them or odd about them."""
    told = [net for net in nets if any(top.onward for top in net.tops)]
    for number, net in enumerate(told, start=1):
        which = f" {number} of {len(told)}" if len(told) > 1 else ""
        screen.line()
        screen.line(f"WAY{which}" + ("" if net.order == "stated" else f" – {NOT_STATED}"), "bold")
        for part, top in enumerate(net.tops):
            if part:
                screen.line("… how the next part is joined to it is not stated …", "doubt", 2)
            for line in _lines(top):
                screen.line(line, "", 2)
    said = dict.fromkeys(text for net in nets for text in (*net.missing, *net.notices))
    if said:
        screen.line()
    for text in said:
        screen.line(f"Note: {text}")


def _lines(step: Step, before: str = "") -> Iterator[str]:
    """Yield a step and what comes after it; the last branch goes on in the same column."""
    while True:
        yield before + stop_words(step)
        if step.kind == "half" and len(step.onward) == 1 and _is_plug(step.onward[0]):
            step = step.onward[0]
        if not step.onward:
            return
        for branch in step.onward[:-1]:
            yield f"{before}├─ {_link_words(branch.link)}".rstrip()
            yield from _lines(branch, f"{before}│  ")
        step = step.onward[-1]
        yield f"{before}│ {_link_words(step.link)}".rstrip()


def _is_plug(step: Step) -> bool:
    return step.link is not None and step.link.kind == "plug"


def stop_words(step: Step) -> str:
    """Return what a step is: `A30 X1:C4  Mast controller`, `X5:7 half B ⇄ half A`, `splice SP11`."""
    pin = step.pin
    if pin is None:
        return f"back to where they are joined: {NOT_STATED}" if step.kind == "again" else f"({MEETS})"
    if step.kind == "splice":
        return f"splice {pin.connector}"
    where = blocks.where(pin)
    if step.kind == "again":
        return f"back to {f'splice {pin.connector}' if pin.role == 'splice' else where}, above: a ring"
    if step.kind == "half":
        return where + _facing(step)
    kind = {"ground": "ground", "fuse": "fuse", "unknown": "not known what it is"}.get(step.kind, "")
    of = pin.component or pin.connector_name
    said = ", ".join(filter(None, (of, kind if kind not in of.lower() else "")))
    several = "several wires in this cavity" if step.several_wires else ""
    return "  ".join(filter(None, (where, said, several)))


def _facing(step: Step) -> str:
    if step.alone:
        return " – its other half is not known"
    if len(step.onward) == 1 and _is_plug(step.onward[0]):
        far = step.onward[0].pin
        assert step.pin is not None and far is not None
        same = (far.connector, far.cavity) == (step.pin.connector, step.pin.cavity)
        return f" ⇄ {f'half {far.half}' if same and far.half else blocks.where(far)}"
    return ""


def _link_words(link: Link | None) -> str:
    if link is None:
        return ""
    if link.kind == "plug":
        return "plugged together"
    pin = link.wire
    if pin is None:
        return ""
    legs = [f"leg {end.cavity}" for end in (link.near, link.far) if end is not None and end.role == "splice"]
    parts = [pin.color_code or "colour not stated", f"circuit {pin.circuit}" if pin.circuit else "", *legs]
    parts += ["where it is joined is not stated"] if link.kind == "not stated" else []
    return " · ".join(part for part in parts if part)
