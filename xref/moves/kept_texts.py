"""Bus pairs and supplies in words, the same on a screen and on paper."""

from __future__ import annotations

from collections.abc import Iterable

from xref.data.bus_words import bus_readings, terminator_ohms
from xref.moves.kept_records import BusPair, ModuleSupplies, SupplyLine, Terminator, Trunk

BUS_NOTE = (
    "Both wires of a pair are cut to one length and joined the same way, H to H and L to L, twisted up to "
    "the joint. Ohms: battery off, modules asleep; at every plug of a moved module, before and after."
)
SUPPLY_NOTE = "Every feed and every ground a module had, it needs again: after must be as many as before."
#: Said wherever ohms are: what they rest on.
_ASSUMED = "terminators inside modules are in no table"
_AT_END = {
    True: "at an end of the trunk",
    False: "NOT at an end of the trunk",
    None: "whether at an end: not stated",
}
_AFTER = {
    "crosses": "crosses, extended",
    "travels": "travels along",
    "stays": "stays",
    "open": "OPEN",
    "refused": "REFUSED",
}


def bus_rows(pair: BusPair) -> list[tuple[str, str, str, str]]:
    """Return (bus, what, before, after) of a pair, one row for each thing that is kept."""
    rows = [
        ("the pair", pair.family or "bus of no name", _fates(pair)),
        ("order", _order(pair.trunk), _order_after(pair)),
    ]
    rows += [
        (f"terminator {item.name}", _AT_END[item.at_end_before], _terminator_after(item))
        for item in pair.terminators
    ]
    rows += [
        (f"way to {item.module}", _PARTS[item.part], f"each wire {_grown(item.metres)} longer")
        for item in pair.longer
    ]
    if pair.rule:
        rows.append(("ohms, H to L", f"the rule of two terminators does not apply: {pair.rule}", "as before"))
    else:
        rows.append(("ohms, H to L", *expected(pair)))
    return [(pair.name if number == 0 else "", *row) for number, row in enumerate(rows)]


_PARTS = {"trunk": "on the trunk", "stub": "on a stub", "not stated": "trunk or stub: not stated"}


def expected(pair: BusPair) -> tuple[str, str]:
    """Return what a meter should show between H and L before and after, with what that rests on."""
    before = _ohms(pair.ohms_before, len(pair.terminators))
    if pair.ohms_before is None:
        least, _, most = terminator_ohms()
        before = (
            f"no terminator is in the tables that were read ({_ASSUMED}): "
            f"with two terminators {least / 2:.0f}-{most / 2:.0f} ohm"
        )
        if pair.gone:
            return before, (
                "what does not come along may have held a terminator: measure, and fit one of 120 ohm at "
                "an end of the trunk that has none"
            )
        return before, "measure before the move and compare: the same"
    living = sum(item.lives for item in pair.terminators)
    after = "not known: see the questions" if living else "none of the known terminators comes along"
    if pair.ohms_after is not None:
        after = _ohms(pair.ohms_after, living)
    return before, f"{after}; measure before the move and compare"


def _ohms(value: float | None, number: int) -> str:
    if value is None:
        return ""
    least, nominal, most = terminator_ohms()
    named = f"{value:.0f} ohm ({value * least / nominal:.0f}-{value * most / nominal:.0f})"
    if number == 1:
        return (
            f"{named} by the one known terminator alone; {_ASSUMED}: "
            f"with two terminators {least / 2:.0f}-{most / 2:.0f} ohm"
        )
    return f"{named} by the {number} known terminators; {_ASSUMED}"


def _fates(pair: BusPair) -> str:
    return pair.fates[0] if pair.same else f"H {pair.fates[0]}, L {pair.fates[1]}: NOT A PAIR ANY MORE"


def _order(trunk: Trunk) -> str:
    named = " – ".join(trunk.modules) if trunk.stated else ", ".join(trunk.modules)
    if not trunk.stated:
        ends = f"; its ends are {' and '.join(trunk.ends)}" if len(trunk.ends) == 2 else ""
        return f"{named}: order not stated ({trunk.why_not}){ends}"
    return f"{named}; stubs: {', '.join(trunk.stubs)}" if trunk.stubs else named


def _order_after(pair: BusPair) -> str:
    kept = "unchanged where both wires are joined as listed"
    return f"without {', '.join(pair.gone)}; of the others {kept}" if pair.gone else kept


def _terminator_after(item: Terminator) -> str:
    if not item.lives:
        return "GONE: " + ", ".join(item.places)
    return f"{', '.join(item.places)}, {_AT_END[item.at_end_after]}"


def _grown(metres: float | None) -> str:
    return f"{metres:g} m" if metres is not None else "by an unknown way"


def reading_rows() -> list[tuple[str, str, str, str]]:
    """Return (reading, what it means, what else to know, source) for the bench."""
    return [
        (
            f"{item.least_ohm:g}-{item.most_ohm:g} ohm"
            if item.most_ohm is not None
            else f"over {item.least_ohm:g} ohm",
            item.meaning,
            item.note,
            item.source,
        )
        for item in bus_readings()
    ]


def supply_rows(module: ModuleSupplies) -> list[tuple[str, str, str, str, str, str]]:
    """Return (module, kind, cavity, circuit, before, after) of every feed and ground of a module."""
    return [(module.module, *_supply(line)) for line in module.lines]


def supply_counts(modules: Iterable[ModuleSupplies]) -> list[str]:
    """Return one line a module: how many feeds and grounds it has before, and by the plan so far after."""
    return [
        f"{module.module}: feeds before {module.count('feed')}, after {module.count('feed', after=True)}; "
        f"grounds before {module.count('ground')}, after {module.count('ground', after=True)}"
        for module in modules
    ]


def _supply(line: SupplyLine) -> tuple[str, str, str, str, str]:
    kind: str = line.kind
    if kind == "ground":
        kind = f"ground, {line.ground or 'kind not stated'}"
    before = line.before or ("stud not stated" if line.kind == "ground" else "fuse not stated")
    if line.parallel:
        before += f"; parallel with {', '.join(line.parallel)}: keep together"
    after = f"new vehicle: {line.answer}" if line.after == "host" else _AFTER[line.after]
    return kind, f"{line.pin.connector}:{line.pin.cavity}", line.pin.circuit, before, after
