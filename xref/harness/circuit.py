"""Where a circuit appears, grouped; how it goes on under another number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from xref.harness.agreed import agreed
from xref.harness.answers import CircuitAnswer, Continuation, PassThrough
from xref.harness.likely import Likely, likely_of
from xref.harness.likeness import near_circuits
from xref.harness.mates import mates_of
from xref.harness.netview import nets_with
from xref.harness.oddities import is_potential, oddities
from xref.harness.outdated import outdated_documents
from xref.records import Pin
from xref.settings import DEFAULT, Settings
from xref.store.index import Index

#: Changes of number followed on one sheet; more than this is a misreading that runs through the machine.
_MOST_CHANGES = 12


def answer_circuit(
    index: Index, circuit: str, machine: str | None = None, settings: Settings = DEFAULT
) -> CircuitAnswer:
    """Answer where else a circuit appears; without a machine, in all of them, grouped by machine."""
    circuit = circuit.strip()
    pins = index.pins_on_circuit(circuit, machine) if circuit else []
    answer = grouped(index, circuit, pins)
    return replace(
        answer,
        nets=nets_with(index, answer.appearances),
        near=near_circuits(index, circuit, machine, found=bool(pins), settings=settings),
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine, pins or None),
    )


def grouped(index: Index, circuit: str, pins: Sequence[Pin]) -> CircuitAnswer:
    """Put the appearances of a circuit into their groups, each into exactly one."""
    pins = agreed(index, pins)
    inlines = [(pin, agreed(index, mates_of(index, pin))) for pin in pins if pin.role == "inline"]
    splices = [pin for pin in pins if pin.role == "splice"]
    likely = likely_of(index, (pin for pin, mates in inlines if not mates))
    pass_throughs = tuple(_pass_throughs(inlines, likely))
    return CircuitAnswer(
        circuit=circuit,
        appearances=tuple(pins),
        ends=tuple(pin for pin in pins if pin.role in ("component", "unknown")),
        pass_throughs=pass_throughs,
        splices=tuple(splices),
        grounds=tuple(pin for pin in pins if pin.role == "ground"),
        fuses=tuple(pin for pin in pins if pin.role == "fuse"),
        continues_as=(*_continuations(inlines), *_beyond_splices(index, splices)),
        notices=oddities(circuit, pins, pass_throughs),
    )


def whole_wire(index: Index, start: Pin) -> CircuitAnswer:
    """Answer for the wire in one cavity: its circuit, and what it continues as beyond in-lines and splices.

    A name of a voltage joins nothing, so for such a pin only its own cavity is answered; rows of another
    option than the pin's are left out.
    """
    pins = index.pins_on_circuit(start.circuit, start.machine)
    if is_potential(start.circuit, [start]):
        return grouped(index, start.circuit, [start])
    answer = grouped(index, start.circuit, _of_option(pins, start.option))
    seen, todo = {start.circuit}, list(answer.continues_as)
    beyond: list[CircuitAnswer] = []
    onward: list[Continuation] = []
    while todo and len(beyond) < _MOST_CHANGES:
        further = todo.pop(0)
        if further.circuit in seen:
            continue
        seen.add(further.circuit)
        onward.append(further)
        pins = _of_option(index.pins_on_circuit(further.circuit, start.machine), start.option)
        if not is_potential(further.circuit, pins):
            beyond.append(grouped(index, further.circuit, pins))
            todo += beyond[-1].continues_as
    # From beyond, the way back to the asked number would read as one more change of it.
    return replace(merged(answer.circuit, [answer, *beyond]), continues_as=tuple(onward))


def merged(circuit: str, answers: Sequence[CircuitAnswer]) -> CircuitAnswer:
    """Put several answers into one, everything once."""
    return CircuitAnswer(
        circuit=circuit,
        appearances=tuple(dict.fromkeys(pin for a in answers for pin in a.appearances)),
        ends=tuple(dict.fromkeys(pin for a in answers for pin in a.ends)),
        pass_throughs=tuple(_once(passing for a in answers for passing in a.pass_throughs)),
        splices=tuple(dict.fromkeys(pin for a in answers for pin in a.splices)),
        grounds=tuple(dict.fromkeys(pin for a in answers for pin in a.grounds)),
        fuses=tuple(dict.fromkeys(pin for a in answers for pin in a.fuses)),
        continues_as=tuple(dict.fromkeys(c for a in answers for c in a.continues_as)),
        near=tuple(dict.fromkeys(near for a in answers for near in a.near)),
        notices=tuple(dict.fromkeys(notice for a in answers for notice in a.notices)),
        unread_pages=tuple(dict.fromkeys(note for a in answers for note in a.unread_pages)),
    )


def _once(passings: Iterable[PassThrough]) -> Iterable[PassThrough]:
    """Leave out what one circuit's answer already showed from the other half."""
    seen: set[frozenset[Pin]] = set()
    for passing in passings:
        halves = frozenset(passing.halves)
        if halves not in seen:
            seen.add(halves)
            yield passing


def _pass_throughs(
    inlines: Sequence[tuple[Pin, list[Pin]]], likely: Mapping[tuple[str, str, str], Likely]
) -> Iterable[PassThrough]:
    groups: dict[frozenset[tuple[str, str, str, str]], list[Pin]] = {}
    for pin, mates in inlines:
        cavities = frozenset(_cavity(p) for p in (pin, *mates))
        halves = groups.setdefault(cavities, [])
        halves += [p for p in (pin, *mates) if p not in halves]
    for halves in groups.values():
        halves.sort(key=lambda p: (p.connector, p.half, p.document, p.page, p.table_no, p.row_no))
        names = list(dict.fromkeys(p.connector for p in halves))
        alike = likely.get((halves[0].machine, halves[0].connector, halves[0].half))
        yield PassThrough(
            machine=halves[0].machine,
            connector=" / ".join(names),
            halves=tuple(halves),
            missing_half=len({(p.connector, p.half) for p in halves}) < 2,
            likely=alike.sentence() if alike else "",
        )


def _continuations(inlines: Sequence[tuple[Pin, list[Pin]]]) -> Iterable[Continuation]:
    found: dict[tuple[str, tuple[str, str, str, str]], Continuation] = {}
    for pin, mates in inlines:
        # The number stands on the other side too: what else lies in that cavity is a second wire of it.
        if any(mate.circuit == pin.circuit for mate in mates):
            continue
        for mate in mates:
            if mate.circuit:
                found.setdefault((mate.circuit, _cavity(pin)), Continuation(circuit=mate.circuit, at=pin))
    return found.values()


def _beyond_splices(index: Index, splices: Iterable[Pin]) -> Iterable[Continuation]:
    """Legs of one splice are one net, also where each has its own number or segment mark."""
    found: dict[tuple[str, str], Continuation] = {}
    for pin in splices:
        for leg in index.pins_of(pin.connector, pin.machine):
            fits = not pin.option or not leg.option or leg.option == pin.option
            if fits and leg.circuit not in ("", pin.circuit):
                found.setdefault((leg.circuit, pin.connector), Continuation(circuit=leg.circuit, at=pin))
    return found.values()


def _cavity(pin: Pin) -> tuple[str, str, str, str]:
    return (pin.machine, pin.connector, pin.half, pin.cavity)


def _of_option(pins: Iterable[Pin], option: str) -> list[Pin]:
    return [pin for pin in pins if not pin.option or not option or pin.option == option]
