"""The counts of a plan in words: each beside that of the move made module by module, and how it was got."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from xref.moves.needs import FATES, WireNeed, wire_needed, wire_saved
from xref.moves.records import Fate, Plan, PlannedNet

#: What each fate means, for a person who sees the word for the first time.
FATE_WORDS: dict[Fate, str] = {
    "unknown": "not known well enough: nothing is done to it, and it may not be what it seems",
    "needs host": "its module moves and all else of it is gone: the new vehicle must give it",
    "dies": "fewer than two of its ends are left",
    "crosses": "its ends lie in two places or more: wires must run between them",
    "travels": "all its ends go to one place together",
    "stays": "all its ends stay as fitted",
}

_TITLES = {
    "cuts": "cuts",
    "joins": "joints",
    "caps": "stubs capped",
    "crossings": "wires that run between places",
    "extensions": "extensions",
    "links": "short links between modules that move together",
    "inlines_go": "in-lines that go",
    "labels": "labels",
    "splices": "splices",
    "heat_shrink": "pieces of heat-shrink",
    "readings": "readings with the meter, before and after",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of the plan."""

    title: str
    figure: str
    one_by_one: str = ""  #: the same where modules move one after the other, "" where that is not counted
    how: str = "counted"  #: "counted", or "estimated" and by what


def figures_of(plan: Plan) -> tuple[Figure, ...]:
    """Return the figures in the order they are asked for: the work, then the material, then time."""
    counts = plan.counts
    how = _texts(counts.get("how"))
    one_by_one = _texts(counts.get("one_by_one"))
    found = [
        Figure(
            title=title,
            figure=str(counts.get(name, 0)),
            one_by_one=one_by_one.get(name, ""),
            how=how.get(name, "counted"),
        )
        for name, title in _TITLES.items()
    ]
    wire = wire_needed(plan.joins)
    if wire:
        found.append(Figure(title="extension wire", figure=_metres(wire), how=how.get("wire", "")))
    if wire or plan.links:
        found.append(
            Figure(title="wire saved in all", figure=_saved(plan), how=how.get("wire_saved_m", "estimated"))
        )
    minutes = counts.get("minutes")
    if isinstance(minutes, list) and any(minutes):
        found.append(
            Figure(
                title="minutes at the bench",
                figure=f"{minutes[0]} to {minutes[1]}",
                how=how.get("minutes", "estimated"),
            )
        )
    return tuple(found)


def size_text(size_mm2: float | None) -> str:
    """Return a size in words; that it is not known is said."""
    return f"{size_mm2:g} mm²" if size_mm2 is not None else "size not known"


def metres_text(need: WireNeed) -> str:
    """Return the metres of one kind of wire; pieces without a length are said, never counted as 0."""
    if need.metres is None:
        return "length not known"
    left = f" and {need.unmeasured} of unknown length" if need.unmeasured else ""
    return f"{need.metres:.1f} m{left}"


def by_fate(plan: Plan) -> tuple[tuple[Fate, tuple[PlannedNet, ...]], ...]:
    """Return the nets under each fate, what is not known first; the sum is every net of the machine."""
    return tuple((fate, tuple(net for net in plan.nets if net.fate == fate)) for fate in FATES)


def _metres(wire: Iterable[WireNeed]) -> str:
    known = [need.metres for need in wire if need.metres is not None]
    left = sum(need.unmeasured for need in wire)
    said = [f"{sum(known):.1f} m"] if known else []
    said += [f"{left} pieces of unknown length"] if left else []
    return " and ".join(said)


def _saved(plan: Plan) -> str:
    saved = wire_saved(plan.links, plan.joins)
    said = f"{saved.metres:.1f} m" if saved.metres is not None else "not known"
    left = []
    if saved.links_left_out:
        left.append(f"{saved.links_left_out} links whose old way is not known")
    if saved.extensions_left_out:
        left.append(f"{saved.extensions_left_out} extensions without a length")
    return f"{said}, without {' and '.join(left)}" if left else said


def _texts(value: object) -> dict[str, str]:
    return {str(key): str(text) for key, text in value.items()} if isinstance(value, dict) else {}
