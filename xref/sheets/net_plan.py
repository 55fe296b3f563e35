"""What a drawing of nets or ways shows, before it is laid out: titles, trees of steps, notes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from xref.harness.answers import CircuitAnswer, NetView, TraceAnswer
from xref.harness.netmap import place_of
from xref.harness.steps import Step, steps_of_route
from xref.records import PageNote, Pin
from xref.sheets.sheet_words import cautions
from xref.sheets.texts import on_one_line

NOT_STATED = "order not stated by the manual"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One net or one way: its title, "" where it is the only one, and the trees it consists of."""

    title: str
    tops: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """All that one drawing shows."""

    title: str
    below: str  #: a line below the title
    parts: tuple[Part, ...]
    notes: tuple[str, ...]  #: sentences


def plan_of_circuit(answer: CircuitAnswer) -> Plan:
    """Return what the drawing of a circuit shows: the whole of each net it is in."""
    nets = [net for net in answer.nets if any(net.tops)]
    said = [text for net in nets for text in (*net.missing, *net.notices)]
    return Plan(
        title=on_one_line(f"Circuit {answer.circuit}"),
        below=_machines(net.machine for net in nets),
        parts=tuple(_net_part(net, number, len(nets)) for number, net in enumerate(nets, start=1)),
        notes=_notes([*said, *answer.notices], answer.unread_pages),
    )


def plan_of_trace(answer: TraceAnswer) -> Plan:
    """Return what the drawing of a trace shows: each way."""
    many = len(answer.paths)
    parts = []
    for number, route in enumerate(answer.paths, start=1):
        which = f"Way {number} of {many}" if many > 1 else ""
        order = NOT_STATED if route.order == "not stated" else ""
        title = ": ".join(filter(None, (which, order)))
        parts.append(Part(title=title[:1].upper() + title[1:], tops=(steps_of_route(route),)))
    return Plan(
        title=on_one_line(f"{answer.start} to {answer.end}"),
        below=_machines(route.hops[0].machine for route in answer.paths),
        parts=tuple(parts),
        notes=_notes([*answer.missing, *answer.notices], answer.unread_pages),
    )


def _net_part(net: NetView, number: int, many: int) -> Part:
    which = [f"Net {number} of {many}"] if many > 1 else []
    which += [on_one_line(net.machine)] if many > 1 and net.machine else []
    order = [NOT_STATED] if net.order == "not stated" else []
    title = ": ".join(filter(None, (", ".join(which), *order)))
    return Part(title=title[:1].upper() + title[1:], tops=net.tops)


def _machines(names: Iterable[str]) -> str:
    named = dict.fromkeys(on_one_line(name) for name in names if name)
    return f"Machine: {', '.join(named)}" if named else ""


def _notes(said: Iterable[str], unread: Iterable[PageNote]) -> tuple[str, ...]:
    pages = list(unread)
    notes = list(dict.fromkeys(on_one_line(text) for text in said))
    if pages:
        first = pages[0]
        more = f" and {len(pages) - 1} more" if len(pages) > 1 else ""
        how = "Not read" if any(p.outcome == "unread" for p in pages) else "Read only in part"
        notes.append(
            on_one_line(f"{how}: {first.document} p. {first.page}{more}. What stands there is missing.")
        )
    return (*notes, str(cautions()["short"]))


def place_words(pin: Pin) -> str:
    """Return a cavity's name as it stands beside its shape: `X5:7 half A`."""
    half = f" half {pin.half}" if pin.half else ""
    return on_one_line(f"{pin.connector}:{pin.cavity}{half}")


def below_words(step: Step) -> list[str]:
    """Return the lines below a step's name: what it is and belongs to, then the page it stands on."""
    pin = step.pin
    if pin is None:
        return []
    kind = {
        "half": "in-line connector",
        "splice": "",
        "ground": "ground",
        "fuse": "fuse",
        "unknown": "not known what it is",
    }.get(step.kind, "")
    of = next((p.component for p in step.pins if p.component), "")
    of = of or next((p.connector_name for p in step.pins if p.connector_name), "")
    said = [of, kind if kind and kind not in of.lower() else ""]
    lines = [on_one_line(", ".join(filter(None, said)))]
    options = dict.fromkeys(p.option for p in step.pins if p.option)
    legs = {place_of(p) for p in step.pins}
    if all(any(p.option for p in step.pins if place_of(p) == leg) for leg in legs):
        lines += [
            on_one_line(f"only {option}") for option in options
        ]  # not where it holds for one leg of many
    return [line for line in lines if line]


def page_words(step: Step) -> str:
    """Return one page that prints it, and how many more do."""
    pages = dict.fromkeys((pin.document, pin.page) for pin in step.pins)
    if not pages:
        return ""
    document, page = next(iter(pages))
    more = f", and {len(pages) - 1} more" if len(pages) > 1 else ""
    return on_one_line(f"p. {page} {document}{more}")
