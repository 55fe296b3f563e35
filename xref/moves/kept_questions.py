"""Questions about what is kept together: bus pairs, their terminators, and all supplies of a module."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Iterator

from xref.moves.buses import Buses
from xref.moves.kept_records import BusPair, ModuleSupplies, SupplyLine
from xref.moves.records import Question


def kept_questions(buses: Buses, supplies: Iterable[ModuleSupplies]) -> tuple[Question, ...]:
    """Return the questions, each with its kind."""
    found = [*_singles(buses)]
    for pair in buses.pairs:
        found += [*_parted(pair), *_terminators(pair), *_bridges(pair)]
    found += _two_pairs(buses.pairs)
    for module in supplies:
        found += _half_supplied(module)
    return tuple(found)


def _singles(buses: Buses) -> Iterator[Question]:
    for wire in buses.single:
        other = "low" if wire.side == "H" else "high"
        yield Question(
            about=wire.net.name,
            text=f"{wire.net.name} is one wire of a bus pair, and which is its {other} one was not found.",
            settle="Find the other on the page of its module: both are cut, joined and twisted as one pair.",
            kind="pair",
        )
    for net in buses.both:
        yield Question(
            about=net.name,
            text=f"{net.name} is called the high wire of a bus at one cavity and the low one at another.",
            settle="Read both pages: one is misread or misprinted, or the pair is crossed there.",
            kind="pair",
        )


def _parted(pair: BusPair) -> Iterator[Question]:
    if not pair.same:
        fates = " and ".join(dict.fromkeys(pair.fates))
        why = f"one {pair.fates[0]}, the other {pair.fates[1]}" if pair.fates[0] != pair.fates[1] else fates
        yield Question(
            about=pair.name,
            text=f"The two wires of {pair.name} do not stay a pair ({why}; their places must be the same).",
            settle="A cavity of one of them is missing or misread, or [place] names a plug of one only.",
            kind="pair",
        )


def _terminators(pair: BusPair) -> Iterator[Question]:
    for item in pair.terminators:
        if not item.moves or item.at_end_after:
            continue
        goes = "moves" if item.lives else "does not come along"
        why = f"it is {' and '.join(item.places)}"
        if item.lives:
            why = "it was not at the end before either" if item.at_end_before is False else ""
            why = (
                why or pair.trunk.why_not or "what lies between it and the others is not sure after the move"
            )
        yield Question(
            about=item.name,
            text=f"Terminator no longer at the end: {item.name} on {pair.name} {goes}, and that "
            f"an end of its trunk has it is not shown ({why}).",
            settle="Keep one terminator at each end of the trunk, a new one of 120 ohm where one is gone; no "
            "reading of ohms tells where they are.",
            kind="terminator",
        )

    for grown in pair.longer:
        if grown.part == "stub" and not pair.rule:
            far = f"{grown.metres:g} m" if grown.metres is not None else "a way nobody gave"
            yield Question(
                about=grown.module,
                text=f"The stub of {pair.name} to {grown.module} grows by {far}: with a long stub the bus "
                "goes on past its terminator, which is then no longer at the end.",
                settle="Lead the trunk to it and back, or move the terminator to the end of the longest way.",
                kind="terminator",
            )


def _bridges(pair: BusPair) -> Iterator[Question]:
    for name in pair.through:
        key = f"[bridge] nets = [{', '.join(map(json.dumps, pair.circuits))}]"
        if name in pair.gone and not pair.bridged:
            yield _bridge(name, pair.name, key)
        elif name not in pair.gone and not pair.told:
            yield _led_there_and_back(name, pair.name, key)


def _two_pairs(pairs: Iterable[BusPair]) -> Iterator[Question]:
    """Name modules that leave two pairs of one kind of bus: nobody says whether they pass it through."""
    at: dict[tuple[str, str], list[str]] = defaultdict(list)
    for pair in pairs:
        for name in pair.leaving:
            at[pair.family, name].append(pair.name)
    for (_, name), names in at.items():
        if len(names) > 1:
            yield _bridge(name, " and ".join(names), "")


def _led_there_and_back(name: str, buses: str, key: str) -> Question:
    return Question(
        about=name,
        text=f"Bridge needed? {name} has two H and two L cavities on {buses} and goes elsewhere: where it "
        "passes the bus through, both pairs must be led there and back, as the lines of this plan lead "
        "them; a wire that is left out breaks the trunk.",
        settle=f"Read whether it passes the bus through inside, and make all four wires of it. Read: {key}",
        kind="bridge",
    )


def _bridge(name: str, buses: str, key: str) -> Question:
    """Ask whether a module passes a bus through; `key` is what to write if it does, "" where nothing is."""
    read = "Read whether it passes the bus through inside. A gateway between two buses is never bridged."
    return Question(
        about=name,
        text=f"Bridge needed? {name} has two H and two L cavities on {buses} and leaves: where it passes the "
        "bus through, the trunk is broken until both wires are joined where it sat, or both pairs are "
        "extended to it.",
        settle=f"{read} If it does: {key}" if key else read,
        kind="bridge",
    )


def _half_supplied(module: ModuleSupplies) -> Iterator[Question]:
    for kind in ("feed", "ground"):
        lines = [line for line in module.lines if line.kind == kind]
        kept = [line for line in lines if line.after not in ("open", "refused")]
        missing = [line for line in lines if line.after in ("open", "refused")]
        if kept and missing:
            yield Question(
                about=module.module,
                text=f"{module.module} has {len(lines)} {kind}s and keeps {len(kept)} of them: "
                f"open: {', '.join(_named(line) for line in missing)}. A module that gets only some of "
                "them works by halves; what it gives itself must never be fed.",
                settle=" ".join(
                    f'[host] "{line.pin.connector}:{line.pin.cavity}" = "…"' for line in missing[:4]
                ),
                kind="supplies",
            )


def _named(line: SupplyLine) -> str:
    spot = f"{line.pin.connector}:{line.pin.cavity}"
    return f"{spot} ({line.pin.circuit})" if line.pin.circuit else spot
