"""What comes apart though its ends live on: circuits led through a module, plugs of one module."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping

from xref.harness.netmap import NetMap, Place
from xref.moves.fates import Places, ends_of
from xref.moves.ids import cavity_words
from xref.moves.records import AS_FITTED, DROPPED, End, PlannedNet, Question
from xref.moves.wiregraph import WireGraph, wired_together

#: Cavities or plugs named in one question.
_MOST_NAMED = 6


def bridges_of(net: NetMap, places: Places, circuits: Collection[str]) -> dict[str, list[Place]]:
    """Return the cavities of each module that goes through which the plan says a net is passed on.

    `circuits` are those the person says so of; the wires are joined where the module sat.
    """
    if not circuits or not any(pin.circuit in circuits for pin in net.rows):
        return {}
    found: dict[str, list[Place]] = defaultdict(list)
    for end in ends_of(net, places):
        if not end.lives and net.stops[end.place].role in ("component", "unknown"):
            found[_name(end)].append(end.place)
    return {name: own for name, own in sorted(found.items()) if len(own) > 1}


def all_stated(graph: WireGraph, ends: Iterable[End]) -> bool:
    """Say whether the wires of a net are all stated, and modules lead it on from each to the others."""
    return "unseen" not in graph.kinds and len(_groups(graph, ends)) == 1


def parted_nets(nets: Iterable[PlannedNet], graphs: Mapping[int, WireGraph]) -> list[Question]:
    """Name nets whose living ends were joined only through a module that does not come along.

    No wire leads past that module, so no extension is proposed: the moved ends would be
    cut off in silence.
    """
    found = []
    for net in nets:
        graph = graphs.get(net.number)
        if graph is None or net.fate not in ("crosses", "travels") or net.refused or not net.touched:
            continue
        before = _groups(graph, net.ends)
        after = _groups(graph, net.living)
        for group in before:
            parts = [part & group for part in after if part & group]
            if len(parts) < 2:
                continue
            gone = _led_through(graph, [e for e in net.ends if e.place in group and not e.lives])
            said = "; ".join(
                _listed(sorted(cavity_words(e.pin) for e in net.ends if e.place in part)) for part in parts
            )
            found.append(
                Question(
                    about=net.name,
                    text=f"{net.name} led through {_listed(gone)}, left behind or dropped: "
                    f"no line of this plan joins these to each other: {said}.",
                    settle="If it passes them on inside and is no gateway: "
                    f'[bridge] nets = ["{net.circuits[0] if net.circuits else net.name}"] joins the wires '
                    "where it sat. Else join them by the maker's instructions, or give it a [place].",
                )
            )
    return found


def split_modules(nets: Iterable[PlannedNet]) -> list[Question]:
    """Name components that move with some of their plugs only, or with each to another place."""
    where: dict[str, dict[str, str]] = defaultdict(dict)
    for net in nets:
        for end in net.ends:
            if end.pin.component:
                where[end.pin.component][end.place[0]] = end.where
    found = []
    for name, plugs in sorted(where.items()):
        if len(set(plugs.values())) < 2 or all(place in (AS_FITTED, DROPPED) for place in plugs.values()):
            continue
        said = [f"{plug} {_goes(place)}" for plug, place in sorted(plugs.items())]
        found.append(
            Question(
                about=name,
                text=f"The plugs of {name} go to different places: {_listed(said)}. "
                "Where they are on one housing, that cannot be.",
                settle=f'[place] "{name}" = "…" moves all of them; leave it so if they are separate parts.',
            )
        )
    return found


def _groups(graph: WireGraph, ends: Iterable[End]) -> list[set[Place]]:
    """Return which of these ends are joined by wires, or through a component two of them are on."""
    groups: list[set[Place]] = []
    own = list(ends)
    parts = wired_together(graph)
    links = [{e.place for e in own if graph.joint_of[e.place] in part} for part in parts]
    by_module: dict[str, set[Place]] = defaultdict(set)
    for end in own:
        by_module[_name(end)].add(end.place)
        by_module[end.place[0]].add(end.place)  # a document may name the component of some rows only
    for link in [*links, *by_module.values()]:
        if link:
            joined = [group for group in groups if group & link]
            groups = [group for group in groups if not group & link] + [set(link).union(*joined)]
    return groups


def _led_through(graph: WireGraph, gone: Iterable[End]) -> list[str]:
    """Return the components of these ends that are on wires not joined by wires."""
    part_of = {joint: number for number, part in enumerate(wired_together(graph)) for joint in part}
    parts: dict[str, set[int]] = defaultdict(set)
    for end in gone:
        parts[_name(end)].add(part_of[graph.joint_of[end.place]])
    return sorted(name for name, own in parts.items() if len(own) > 1)


def _name(end: End) -> str:
    return end.pin.component or end.pin.connector


def _goes(place: str) -> str:
    return {AS_FITTED: "stays as fitted", DROPPED: "is dropped"}.get(
        place, place if place == "left behind" else f"to {place}"
    )


def _listed(names: list[str]) -> str:
    left = len(names) - _MOST_NAMED
    shown = names[:_MOST_NAMED]
    if left > 0:
        return f"{', '.join(shown)} and {left} more"
    return " and ".join(filter(None, (", ".join(shown[:-1]), shown[-1]))) if shown else "a module"
