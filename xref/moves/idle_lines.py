"""Lines of a plan that are there and change nothing: most often a misprint, or meant for what is not so."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from xref.moves.plan_file import PlanFile
from xref.moves.records import AS_FITTED, PlannedNet, Question
from xref.moves.safety import texts_of_kinds
from xref.moves.said import near_texts, pin_named
from xref.moves.wiregraph import WireGraph


def unused_answers(plan: PlanFile, nets: Iterable[PlannedNet], asked: Collection[int]) -> list[Question]:
    """Name what the plan answers although nothing asks: what it names is there, but has no use for it."""
    nets = list(nets)
    net_of = {(end.pin.connector, end.place[2]): net.number for net in nets for end in net.ends if plan.host}
    found = []
    for name in plan.host:
        place = pin_named(name)
        number = net_of.get(place)
        if number is None:
            passed = any(stop[::2] == place for net in nets for stop in net.net.stops)
            why = "it lies on the way, and is no end of a circuit" if passed else "no circuit is read there"
            found.append((name, "host", why, ""))
        elif number not in asked:
            why = "nothing asks for it, it keeps what it has, and this line is not followed"
            found.append((name, "host", why, ""))
    functions: dict[str, str] = {}
    for net in nets if plan.accepted else ():
        of_kinds = texts_of_kinds(net.rows).values() if net.review else ()
        texts = {pin.function for pin in net.rows if pin.function}.union(*of_kinds)
        functions |= {text.casefold(): text for text in texts}
    for name in plan.accepted:
        if name.casefold() not in functions:
            meant = _meant(name, functions.values())
            found.append((name, "safety.accepted", "no such function was read", meant))
    places = {*plan.place.values(), AS_FITTED}
    for pair in plan.route:
        for end in sorted(pair - places):
            why = f"{end} is no place of the plan"
            found.append((" - ".join(sorted(pair)), "route", why, _meant(end, places - pair)))
    return [
        Question(
            about=name,
            text=f"The plan's {key} names {name}: {why}.",
            settle=f"{meant}Correct or delete it.",
        )
        for name, key, why, meant in found
    ]


def idle_circuits(
    plan: PlanFile, nets: Iterable[PlannedNet], graphs: Mapping[int, WireGraph]
) -> list[Question]:
    """Name circuits the plan shortens or bridges although that changes nothing."""
    nets = list(nets)
    bridged = {n.number for n in nets if n.number in graphs and graphs[n.number].bridged}
    led = {n.number for n in nets if n.net.devices}
    idle = [
        ("shorten.nets", name, "it does not travel, so that no loop of it is cut out")
        for name in plan.shorten
        if not any(net.fate == "travels" and net.touched for net in nets if name in net.circuits)
    ]
    idle += [
        (
            "bridge.nets",
            name,
            "no module has two cavities of it. One that changes its number inside a module is "
            "not bridged: join what its lines cap by the maker's instructions",
        )
        for name in plan.bridge
        if not any(net.number in bridged | led for net in nets if name in net.circuits)
    ]
    return [
        Question(about=name, text=f"The plan's {key} names {name}: {why}.", settle="Correct or delete it.")
        for key, name, why in idle
    ]


def _meant(name: str, known: Iterable[str]) -> str:
    near = near_texts(name, known)
    return f"Did you mean {near[0]}? " if near else ""
