"""What is odd about a circuit's appearances, said in sentences; the reading itself is not in question."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from xref.data.potentials import potential, potential_side
from xref.harness.answers import PassThrough
from xref.records import DECIDED_AT, Pin, notice_name
from xref.store.fold import plain_key

#: Places named for each colour or size in a sentence; the appearances list them all.
_MOST_PLACES = 4


def is_potential(circuit: str, pins: Iterable[Pin]) -> bool:
    """Say whether a circuit text names a voltage, or (`SHIELD`) no wire of its own, where these pins stand.

    15, 30 and 31 are names only where the reading of the document found terminal numbers.
    """
    kind = potential(circuit)
    return kind == "always" or any("potential-name" in pin.notices for pin in pins)


def potential_words(circuit: str) -> str:
    """Return what a circuit text that joins nothing names, as the end of a sentence."""
    said = "no wire of its own" if potential_side(circuit) == "nothing" else "a voltage, not a wire"
    return f"names {said}"


def oddities(
    circuit: str, appearances: Sequence[Pin], pass_throughs: Sequence[PassThrough]
) -> tuple[str, ...]:
    """Return the sentences for one circuit, machine by machine."""
    by_machine: dict[str, list[Pin]] = defaultdict(list)
    for pin in appearances:
        by_machine[pin.machine].append(pin)
    said: list[str] = []
    for machine, pins in by_machine.items():
        passed = [passing for passing in pass_throughs if passing.machine == machine]
        sentences = _of_machine(circuit, pins, passed)
        label = f"{machine or 'unnamed machine'}: " if len(by_machine) > 1 else ""
        said += [label + sentence for sentence in sentences]
    if len(by_machine) > 1:
        said.append(
            f"{circuit} stands in {len(by_machine)} machines; their wires have nothing to do with each other."
        )
    return tuple(said)


def place(pin: Pin) -> str:
    """Return connector, half and cavity as spoken: `X5 half A:12`."""
    half = f" half {pin.half}" if pin.half else ""
    return f"{pin.connector}{half}:{pin.cavity}"


def _of_machine(circuit: str, pins: list[Pin], passed: list[PassThrough]) -> list[str]:
    named_voltage = is_potential(circuit, pins)
    said = []
    if named_voltage:
        named = [pin for pin in pins if is_potential(circuit, [pin])]
        where = "" if len(named) == len(pins) else f"In {len(named)} of {_rows(len(pins))} "
        those = f"its {_rows(len(pins))}" if not where else "those"
        said.append(f"{where}{circuit} {potential_words(circuit)}: {those} are not one wire for that.")
    elif len({(p.connector, p.half, p.cavity) for p in pins}) == 1:
        said.append(f"{circuit} stands in one cavity only: an end is missing in these documents.")
    said += _decided(circuit, pins)
    if not named_voltage:
        said += _differences(circuit, pins, bool(passed) or any(pin.role == "splice" for pin in pins))
    said += _missing_halves(passed)
    options = sorted({pin.option for pin in pins} - {""})
    if len(options) > 1:
        said.append(f"The rows belong to different options ({'; '.join(options)}): they are not one wire.")
    doubtful = sum(1 for pin in pins if pin.flags)
    if doubtful:
        said.append(f"{doubtful} of {_rows(len(pins))} may have been misread: compare with the page.")
    return said


def _decided(circuit: str, pins: Sequence[Pin]) -> list[str]:
    """Return what the person said that the circuit is, in which rows, and in which it is open."""
    said = []
    for name, what in (
        ("number-by-person", "a number: what bears it is joined"),
        ("potential-by-person", "a voltage's name: nothing joins by it"),
    ):
        own = [n for pin in pins for n in pin.notices if notice_name(n) == name]
        if own:
            last = max(own).partition(DECIDED_AT)[2].replace("T", " ").replace("Z", " UTC")
            said.append(f"You decided that {circuit} is {what}, in {_of(len(own), len(pins))} ({last}).")
    undecided = sum("potential-undecided" in pin.flags for pin in pins)
    if undecided:
        where = "" if undecided == len(pins) else f" in {_of(undecided, len(pins))}"
        said.append(
            f"Whether {circuit} is a number or the name of a voltage is not decided{where}; do not join "
            "by it. Say it: xref check accept ROW --as number, or --as potential (--circuit: all its rows)."
        )
    return said


def _of(number: int, of: int) -> str:
    return (
        f"all {_rows(of)}" if number == of > 1 else _rows(of) if number == of else f"{number} of {_rows(of)}"
    )


def _differences(circuit: str, pins: list[Pin], joined_on_the_way: bool) -> list[str]:
    said = []
    colors = _by_value(pins, _color_of)
    if len(colors) > 1:
        said.append(f"The colour of {circuit} differs: {_listed(colors)}.")
        bases = {pin.base_color for pin in pins if pin.base_color}
        if len(bases) > 1 and not joined_on_the_way:
            said.append(
                f"No in-line or splice of {circuit} lies between these colours in the documents: "
                "they may be two different wires of one number. Do not join them unmetered."
            )
    sizes = _by_value(pins, _size_of)
    if len(sizes) > 1:
        said.append(f"The size of {circuit} differs: {_listed(sizes)}.")
    return said


def _missing_halves(passed: Iterable[PassThrough]) -> list[str]:
    cavities: dict[str, list[str]] = defaultdict(list)
    for passing in passed:
        if passing.missing_half and not passing.likely:
            cavities[passing.connector] += [pin.cavity for pin in passing.halves]
    return [
        f"Only one half of the in-line {name} was read at cavity {', '.join(dict.fromkeys(found))}: "
        "what lies beyond it is not known."
        for name, found in cavities.items()
    ]


def _color_of(pin: Pin) -> tuple[str, str]:
    decoded = "/".join(filter(None, (pin.base_color, pin.stripe_color, pin.ring_color)))
    return decoded or plain_key(pin.color_code), pin.color_code or decoded


def _size_of(pin: Pin) -> tuple[str, str]:
    known = f"{pin.size_mm2:.3f}" if pin.size_mm2 is not None else plain_key(pin.size)
    return known, pin.size


def _by_value(pins: Iterable[Pin], value: Callable[[Pin], tuple[str, str]]) -> dict[str, list[Pin]]:
    """Group pins by a value, under the words it was first printed in; pins without it are left out."""
    words: dict[str, str] = {}
    groups: dict[str, list[Pin]] = defaultdict(list)
    for pin in pins:
        key, printed = value(pin)
        if key:
            groups[words.setdefault(key, printed)].append(pin)
    return groups


def _listed(groups: dict[str, list[Pin]]) -> str:
    parts = []
    for printed, pins in groups.items():
        places = list(dict.fromkeys(place(pin) for pin in pins))
        more = f" and {len(places) - _MOST_PLACES} more" if len(places) > _MOST_PLACES else ""
        parts.append(f"{printed} at {', '.join(places[:_MOST_PLACES])}{more}")
    return "; ".join(parts)


def _rows(number: int) -> str:
    return "1 row" if number == 1 else f"{number} rows"
