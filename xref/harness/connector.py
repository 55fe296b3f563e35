"""Connectors a name stands for, with their pins and what is odd in them; and what one cavity holds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import combinations

from xref.harness.agreed import agreed, real_name
from xref.harness.answers import CircuitAnswer, ConnectorAnswer, ConnectorView
from xref.harness.circuit import grouped, merged
from xref.harness.likeness import near_circuits, near_connectors
from xref.harness.netview import nets_with
from xref.harness.oddities import is_potential
from xref.harness.outdated import outdated_documents
from xref.harness.same import in_cavity_order
from xref.records import Connector, Pin
from xref.settings import DEFAULT, Settings
from xref.store.fold import plain_key, unpadded_key
from xref.store.index import Index

#: A housing said to have more cavities than this was misread; the largest of vehicles have some 200.
_MOST_CAVITIES = 1000


def answer_connector(
    index: Index, name: str, machine: str | None = None, settings: Settings = DEFAULT
) -> ConnectorAnswer:
    """Answer which connectors a name stands for: a designator, a component or a connector's title.

    Capitals, blanks and hyphens do not matter where nothing has exactly this name; several connectors
    may answer.
    """
    records = connectors_named(index, name, machine)
    taken = {(record.machine, record.connector) for record in records}
    views = tuple(views_of(index, records))
    rows = [pin for view in views for pin in view.rows]
    return ConnectorAnswer(
        name=name,
        connectors=views,
        near=near_connectors(index, name, machine, taken, settings),
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine, rows or None),
    )


def answer_cavity(
    index: Index, connector: str, cavity: str, machine: str | None = None, settings: Settings = DEFAULT
) -> CircuitAnswer:
    """Answer for what is in one cavity, as `answer_circuit` does for a number.

    A cavity whose circuit names a voltage, is blank or is said to be unused answers with its own rows only.
    """
    records = connectors_named(index, connector, machine)
    asked = f"{connector}:{cavity}"
    unread = tuple(index.unread_pages(machine))
    views = views_of(index, records)
    pins = [pin for view in views for pin in pins_in(view.pins, cavity)]
    if not pins:
        near = near_connectors(
            index, connector, machine, {(r.machine, r.connector) for r in records}, settings
        )
        notices = tuple(_no_such_cavity(view, cavity) for view in views)
        return CircuitAnswer(
            circuit=asked,
            appearances=(),
            near=near,
            notices=notices,
            unread_pages=unread,
            outdated=outdated_documents(index, machine),
        )
    blank = [pin for pin in pins if not pin.circuit]
    answers = [_answer_pin(index, pin, settings) for pin in pins if pin.circuit]
    answers += [_answer_blank(index, blank)] if blank else []
    named = list(dict.fromkeys(pin.circuit for pin in pins if pin.circuit))
    answer = merged(", ".join(named) or asked, answers)
    outdated = outdated_documents(index, machine, answer.appearances)
    return replace(answer, nets=nets_with(index, pins), unread_pages=unread, outdated=outdated)


def connectors_named(index: Index, name: str, machine: str | None = None) -> list[Connector]:
    """Return the records of the connectors a name stands for; the designator as printed comes first."""
    name = name.strip()
    if not name:
        return []
    return (
        index.connectors(machine, name=name)
        or index.connectors_like(name, machine)
        or _half_named(index, name, machine)
    )


def views_of(index: Index, records: Iterable[Connector]) -> list[ConnectorView]:
    """Return one view per machine, connector and half, whichever documents print it."""
    groups: dict[tuple[str, str, str], list[Connector]] = {}
    for record in records:
        groups.setdefault((record.machine, record.connector, record.half), []).append(record)
    return [
        _view(group, in_cavity_order(agreed(index, index.pins_of(connector, machine, half))))
        for (machine, connector, half), group in groups.items()
    ]


def pins_in(pins: Sequence[Pin], cavity: str) -> list[Pin]:
    """Return the pins of a cavity as printed, else but for capitals, blanks and leading zeros."""
    exact = [pin for pin in pins if pin.cavity == cavity]
    return exact or [pin for pin in pins if unpadded_key(pin.cavity) == unpadded_key(cavity)]


def _answer_pin(index: Index, pin: Pin, settings: Settings) -> CircuitAnswer:
    if is_potential(pin.circuit, [pin]):
        return grouped(index, pin.circuit, [pin])
    answer = grouped(index, pin.circuit, index.pins_on_circuit(pin.circuit, pin.machine))
    near = near_circuits(index, pin.circuit, pin.machine, found=True, settings=settings)
    return replace(answer, near=near)


def _answer_blank(index: Index, pins: Sequence[Pin]) -> CircuitAnswer:
    """Answer for rows of one cavity that name no circuit: with themselves, and with why there is no more."""
    unused = any(pin.status == "unused" for pin in pins)
    unnumbered = any(pin.status != "unused" for pin in pins)
    said = [_NOT_USED] * unused + [_NO_NUMBER] * unnumbered
    return replace(grouped(index, "", pins), notices=tuple(said))


_NOT_USED = "The manual says this cavity is not used."
_NO_NUMBER = "The manual prints no circuit for this cavity: where its wire goes cannot be looked up."


def _no_such_cavity(view: ConnectorView, cavity: str) -> str:
    read = list(dict.fromkeys(pin.cavity for pin in view.pins))
    head = f"{view.connector.connector} {view.connector.half}".strip()
    if not read:
        return f"No cavity of {head} was read."
    return f"{head} has no cavity {cavity} among those read: {', '.join(read)}."


def _half_named(index: Index, name: str, machine: str | None) -> list[Connector]:
    """Find `X5 A` or `X5-A`: a designator with its half behind it."""
    key = plain_key(name)
    found = []
    for length in (1, 2):  # halves are marked by one letter or two
        stem, half = key[:-length], key[-length:]
        if stem:
            found += [c for c in index.connectors_like(stem, machine) if plain_key(c.half) == half]
    return found


def _view(records: Sequence[Connector], pins: Sequence[Pin]) -> ConnectorView:
    shown = _without_repeats(pins)
    cavities = {pin.cavity for pin in shown}
    first = next((r for r in records if r.role != "unknown"), records[0])
    connector = replace(
        first,
        component=_first(r.component for r in records),
        connector_name=_first(real_name(r.connector_name, r.harness) for r in records),
        harness=_first(r.harness for r in records),
        color=_first(r.color for r in records),
        location=_first(r.location for r in records),
        gender=_first(r.gender for r in records),
        view=_first(r.view for r in records),
        cavities_stated=next((r.cavities_stated for r in records if r.cavities_stated is not None), None),
        cavities_read=len(cavities),
        pages=tuple(sorted({page for r in records for page in r.pages})),
        flags=tuple(dict.fromkeys(flag for r in records for flag in r.flags)),
    )
    return ConnectorView(
        connector=connector,
        pins=tuple(shown),
        repeats=tuple(pin for pin in pins if pin not in shown),
        documents=_documents(records, pins),
        missing=_missing(connector.cavities_stated, cavities),
        # the legs of a splice are one wire by meaning: none of them can be taken for another
        same_color=() if connector.role == "splice" else _same_color(shown),
        reversed_color=_reversed_color(shown),
    )


def _documents(records: Sequence[Connector], pins: Sequence[Pin]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    pages: dict[str, set[int]] = {record.document: set() for record in records}
    for record in records:
        pages[record.document].update(record.pages)
    for pin in pins:
        pages.setdefault(pin.document, set()).add(pin.page)
    return tuple((name, tuple(sorted(numbers))) for name, numbers in pages.items())


def _first(texts: Iterable[str]) -> str:
    return next(filter(None, texts), "")


def _without_repeats(pins: Sequence[Pin]) -> list[Pin]:
    """Show a row once that another document or page prints alike; rows that differ all stay."""
    shown: dict[tuple[str, ...], Pin] = {}
    kept = []
    for pin in pins:
        key = (pin.cavity, pin.circuit, pin.color_code, pin.size, pin.option, pin.status, pin.function)
        other = shown.setdefault(key, pin)
        if other is pin or (other.document, other.page) == (pin.document, pin.page):
            kept.append(pin)
    return kept


def _missing(stated: int | None, read: set[str]) -> tuple[str, ...]:
    """Return the cavities 1 … stated that were not read; nothing where cavities are not plain numbers."""
    if stated is None or stated > _MOST_CAVITIES or not all(c.isascii() and c.isdecimal() for c in read):
        return ()
    numbers = {int(cavity) for cavity in read}
    return tuple(str(number) for number in range(1, stated + 1) if number not in numbers)


def _colored(pins: Iterable[Pin]) -> dict[tuple[str, str, str], list[str]]:
    groups: dict[tuple[str, str, str], list[str]] = {}
    for pin in pins:
        if pin.base_color and pin.status == "used":
            cavities = groups.setdefault((pin.base_color, pin.stripe_color, pin.ring_color), [])
            if pin.cavity not in cavities:
                cavities.append(pin.cavity)
    return groups


def _same_color(pins: Iterable[Pin]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(cavities) for cavities in _colored(pins).values() if len(cavities) > 1)


def _reversed_color(pins: Iterable[Pin]) -> tuple[tuple[str, str], ...]:
    groups = _colored(pins)
    return tuple(
        (one, other)
        for a, b in combinations(groups, 2)
        if a[1] and (a[0], a[1]) == (b[1], b[0]) and a[0] != a[1]
        for one in groups[a]
        for other in groups[b]
    )
