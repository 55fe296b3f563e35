"""Feeds and grounds of moved modules, all of them, before and after: an omitted second one is seen."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from xref.data.function_words import kinds_of
from xref.data.ground_words import ground_kind
from xref.harness.netmap import Place, place_of
from xref.moves.host import answer_for, kind_of, may_have_fed
from xref.moves.ids import cavity_words
from xref.moves.kept_records import After, ModuleSupplies, SupplyLine
from xref.moves.plan_file import PlanFile
from xref.moves.records import End, HostNeed, PlannedNet
from xref.moves.trunks import owner_of
from xref.records import Pin

#: A fuse's rating as printed: `10 A`, `7,5A`, `15 amp`.
_RATING = re.compile(r"(?<![\w.,])\d{1,3}(?:[.,]\d+)?\s*(?:A|amps?)(?![\w])", re.IGNORECASE)


def supplies_of(
    nets: Iterable[PlannedNet], host: Iterable[HostNeed], plan: PlanFile
) -> tuple[ModuleSupplies, ...]:
    """Return the feeds and grounds of every module the plan gives a place, in the order of its cavities."""
    needs: dict[int, dict[Place, HostNeed]] = defaultdict(dict)
    for need in host:
        needs[need.net][place_of(need.pin)] = need
    found: dict[str, list[SupplyLine]] = defaultdict(list)
    fuses: dict[int, frozenset[str]] = {}
    for net in nets:
        for end in net.ends:
            if end.moved and end.pin.role in ("component", "unknown"):
                line = _line(net, end, needs.get(net.number, {}), plan)
                if line is not None:
                    fuses[net.number] = _fuses(net)
                    found[owner_of(net, end.place)].append(line)
    return tuple(
        ModuleSupplies(module=name, lines=tuple(_side_by_side(lines, fuses)))
        for name, lines in sorted(found.items())
    )


def _line(net: PlannedNet, end: End, needs: Mapping[Place, HostNeed], plan: PlanFile) -> SupplyLine | None:
    kind = kind_of(net, end)
    pins = net.net.stops[end.place].pins
    functions = tuple(dict.fromkeys(pin.function for pin in pins if pin.function))
    if kind not in ("feed", "ground"):
        # a return that ends at a module is no supply of it unless its own words call it a ground
        if kind != "signal" or ground_kind(*functions) != "signal" or not _is_own_ground(net, functions):
            return None
        kind = "ground"
    after, answer = _after(net, end, needs, plan)
    every = dict.fromkeys(pin.function for pin in net.rows if pin.function)
    return SupplyLine(
        net=net.number,
        pin=end.pin,
        kind="ground" if kind == "ground" else "feed",
        ground=(ground_kind(*functions) or ground_kind(*every)) if kind == "ground" else "",
        before=", ".join(_sources(net, kind)),
        after=after,
        answer=answer,
    )


def _is_own_ground(net: PlannedNet, functions: tuple[str, ...]) -> bool:
    return "ground" in kinds_of(*functions) and len(net.ends) == 1


def _after(net: PlannedNet, end: End, needs: Mapping[Place, HostNeed], plan: PlanFile) -> tuple[After, str]:
    """Return what becomes of it, and what the person says the new vehicle gives."""
    need = needs.get(end.place)
    # what nothing asks for is not followed, and given to nothing
    own = (need.answer or answer_for(end.pin, plan)) if need else ""
    if net.refused:
        return "refused", own
    if own:
        return "host", own
    if net.fate == "unknown" or need is not None or not net.accepted:
        return "open", ""
    if needs and net.fate in ("travels", "crosses"):
        # its only source is gone; another cavity of the same net asks the new vehicle for one
        answer = next(iter(needs.values())).answer
        return ("host", answer) if answer else ("open", "")
    if may_have_fed(net):
        return "open", ""
    return (net.fate, "") if net.fate in ("crosses", "travels", "stays") else ("open", "")


def _sources(net: PlannedNet, kind: str) -> list[str]:
    """Return the fuses or ground studs of a net, fuses with their rating as printed."""
    found = []
    for end in net.ends:
        stop = net.net.stops[end.place]
        if stop.role == "ground" if kind == "ground" else stop.fuses:
            found.append(" ".join(filter(None, (cavity_words(end.pin), _rating(stop.pins)))))
    return found


def _rating(pins: Iterable[Pin]) -> str:
    texts = [text for pin in pins for text in (pin.function, pin.component, pin.connector_name)]
    printed = dict.fromkeys(hit.group() for text in texts for hit in _RATING.finditer(text))
    return " or ".join(printed)


def _side_by_side(lines: list[SupplyLine], fuses: Mapping[int, frozenset[str]]) -> Iterator[SupplyLine]:
    """Yield the lines of a module, each with its parallel ones: on one net, or of one fuse as printed."""
    for line in sorted(lines, key=lambda line: (line.kind, line.ground, _sorted_key(line.pin))):
        beside = [
            cavity_words(other.pin)
            for other in lines
            if other is not line
            and other.kind == line.kind
            and (other.net == line.net or fuses[other.net] & fuses[line.net])
        ]
        yield replace(line, parallel=tuple(sorted(beside)))


def _fuses(net: PlannedNet) -> frozenset[str]:
    """Return the fuses of a net by what is printed of them with a rating: two cavities may be one fuse's."""
    pins = [pin for stop in net.net.stops.values() if stop.fuses for pin in stop.pins]
    return frozenset(
        f"{pin.connector} {pin.component} {pin.function}"
        for pin in pins
        if _RATING.search(f"{pin.component} {pin.function}")
    )


def _sorted_key(pin: Pin) -> tuple[str, str, int, str]:
    return pin.connector, pin.half, len(pin.cavity), pin.cavity
