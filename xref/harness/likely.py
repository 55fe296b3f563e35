"""Which half an in-line may be plugged into, where only likeness says so: named, and never joined by."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

from xref.data.potentials import potential
from xref.records import Pin
from xref.store.fold import unpadded_key
from xref.store.index import Index
from xref.store.settled import Mate

#: (connector, half)
_Half = tuple[str, str]

#: Fewer circuits in the same cavities may be chance.
_LEAST_ALIKE = 3
#: So much of what a half carries stands in the same cavities of what it may be plugged into.
_SHARE_ALIKE = 0.4
#: More than this are no help.
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Likely:
    """Halves like the one asked for: how many of its circuits stand in the same cavities of each."""

    half: _Half
    carried: int
    others: tuple[tuple[_Half, int], ...]

    def sentence(self) -> str:
        """Return which they are, and the command that settles it; no dot at its end."""
        name = _spoken(self.half)
        named = " or ".join(_spoken(half) for half, _ in self.others)
        alike = self.others[0][1]
        return (
            f"which half {name} is plugged into is not decided: likely {named}, with {alike} of its "
            f"{self.carried} circuits in the same cavities ({self.command}, if that is so)"
        )

    @property
    def command(self) -> str:
        """What settles it, where the likeliest half is the one."""
        return f"xref check set {_argument(self.half)} --mates {_argument(self.others[0][0])}"


def mated_halves(mates: Iterable[Mate]) -> set[_Half]:
    """Return every half that is plugged into another one."""
    return {
        side for mate in mates for side in ((mate.connector_a, mate.half_a), (mate.connector_b, mate.half_b))
    }


def likely_mates(index: Index, machine: str, half: _Half, is_mated: Callable[[_Half], bool]) -> Likely | None:
    """Return the halves an in-line half may be plugged into; None where none is like it.

    `is_mated` says of a half whether it is plugged into another one.
    """
    if is_mated(half):
        return None
    carried: dict[str, str] = {}
    for pin in index.pins_of(half[0], machine, half[1]):
        if pin.circuit and potential(pin.circuit) != "always":
            carried[unpadded_key(pin.cavity)] = pin.circuit
    same: dict[_Half, set[str]] = defaultdict(set)
    for key, circuit in carried.items():
        for pin in index.pins_on_circuit(circuit, machine):
            if unpadded_key(pin.cavity) == key and _may_be_half(pin):
                same[pin.connector, pin.half].add(key)
    least = max(_LEAST_ALIKE, _SHARE_ALIKE * len(carried))
    found = [
        (other, len(keys))
        for other, keys in same.items()
        if other != half and len(keys) >= least and not is_mated(other)
    ]
    found.sort(key=lambda item: (-item[1], item[0]))
    return Likely(half, len(carried), tuple(found[:_MOST_NAMED])) if found else None


def likely_of(index: Index, pins: Iterable[Pin]) -> dict[tuple[str, str, str], Likely]:
    """Return what the in-line halves among some pins may be plugged into, by machine, connector and half."""
    halves = dict.fromkeys((p.machine, p.connector, p.half) for p in pins if p.role == "inline")
    found = {
        (machine, name, half): likely_mates(index, machine, (name, half), partial(_has_mates, index, machine))
        for machine, name, half in halves
    }
    return {half: likely for half, likely in found.items() if likely is not None}


def _has_mates(index: Index, machine: str, half: _Half) -> bool:
    return half in mated_halves(index.mates(machine, half[0]))


def _may_be_half(pin: Pin) -> bool:
    return pin.role in ("inline", "unknown") and not pin.component


def _spoken(half: _Half) -> str:
    return f"{half[0]} half {half[1]}" if half[1] else half[0]


def _argument(half: _Half) -> str:
    name = f"{half[0]}-{half[1]}" if half[1] else half[0]
    return f'"{name}"' if " " in name else name
