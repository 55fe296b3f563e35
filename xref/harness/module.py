"""The cross-reference sheet of a module that moves: its connectors, and where each of its wires goes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from xref.data.fuse_sides import is_fed_side
from xref.harness.agreed import agreed
from xref.harness.answers import ConnectorView, ModuleSheet, Near, SheetLine, SheetPart
from xref.harness.circuit import whole_wire
from xref.harness.connector import connectors_named, views_of
from xref.harness.likeness import near_connectors
from xref.harness.neighbors import neighbors_of
from xref.harness.outdated import outdated_documents
from xref.harness.same import same_pins
from xref.records import Connector, Pin
from xref.settings import DEFAULT, Settings
from xref.store.fold import plain_key
from xref.store.index import Index


def module_sheet(
    index: Index, asked: Sequence[str], machine: str | None = None, settings: Settings = DEFAULT
) -> ModuleSheet:
    """Return the sheet of what was asked for (components or connectors), one part per connector.

    A name that stands for nothing gives no part; names like it are in `not_taken`.
    """
    records: list[Connector] = []
    taken: dict[tuple[str, str], str] = {}
    for name in asked:
        found = connectors_named(index, name, machine)
        records += [record for record in found if record not in records]
        for record in found:
            taken.setdefault((record.machine, record.connector), _why_taken(name, record))
    several = len({where for where, _ in taken}) > 1
    fuses = {
        where: agreed(index, index.pins_with_role("fuse", where)) for where in {where for where, _ in taken}
    }
    views = views_of(index, records)
    rows = [pin for view in views for pin in view.rows]
    return ModuleSheet(
        asked=tuple(asked),
        parts=tuple(_part(index, view, fuses[view.connector.machine]) for view in views),
        taken=tuple(
            (f"{name} ({where or 'unnamed machine'})" if several else name, why)
            for (where, name), why in taken.items()
        ),
        not_taken=tuple(_not_taken(index, asked, machine, records, settings)),
        neighbors=neighbors_of(index, records),
        unread_pages=tuple(index.unread_pages(machine)),
        outdated=outdated_documents(index, machine, rows or None),
    )


def _part(index: Index, view: ConnectorView, fuses: Sequence[Pin]) -> SheetPart:
    return SheetPart(view=view, lines=tuple(_line(index, rows, fuses) for rows in same_pins(view.rows)))


def _line(index: Index, rows: Sequence[Pin], fuses: Sequence[Pin]) -> SheetLine:
    # the row that names an option leads, so that wires of other options are left out
    pin = next((row for row in rows if row.option), rows[0])
    if not pin.circuit:
        return SheetLine(pin=pin, rows=tuple(rows), others=None)
    others = whole_wire(index, pin)
    feeding = dict.fromkeys([*others.fuses, *(fuse for fuse in fuses if pin.circuit in _fed(fuse))])
    feeding = {fuse: None for fuse in feeding if not is_fed_side(fuse.role, fuse.cavity)}
    return SheetLine(pin=pin, rows=tuple(rows), others=others, feeding=tuple(feeding))


def _fed(fuse: Pin) -> set[str]:
    """Return the texts a fuse list gives as fed by a fuse: `1440, 1441 / 1442`."""
    separated = fuse.goes_to.replace(",", " ").replace(";", " ").replace("/", " ")
    return {fuse.goes_to, *separated.split()}


def _why_taken(name: str, record: Connector) -> str:
    if record.connector == name.strip():
        return "the connector has exactly this name"
    key = plain_key(name)
    if plain_key(record.connector) == key:
        return f"the connector's name is {name!r} but for capitals, blanks or hyphens"
    if plain_key(record.component) == key:
        return f"it plugs into the component {record.component}"
    if plain_key(record.connector_name) == key:
        return f"it is titled {record.connector_name}"
    return f"it is half {record.half} of {record.connector}"


def _not_taken(
    index: Index,
    asked: Sequence[str],
    machine: str | None,
    records: Sequence[Connector],
    settings: Settings,
) -> Iterable[Near]:
    taken = {(record.machine, record.connector) for record in records}
    components = {(record.machine, record.component) for record in records if record.component}
    left: dict[tuple[str, str], Near] = {}
    for where, component in sorted(components):
        for record in index.connectors_like(component, where):
            _leave(left, taken, record, f"another connector of {component}, not asked for")
    for name in asked:
        for record in index.connectors_holding(name, machine):
            _leave(left, taken, record, f"{_holder(record, name)} holds {name!r} but is another name")
    for name in asked:
        answering = {(c.machine, c.connector) for c in connectors_named(index, name, machine)}
        for near in near_connectors(index, name, machine, answering, settings):
            if (near.machine, near.name) not in taken:
                left.setdefault((near.machine, near.name), near)
    return left.values()


def _leave(
    left: dict[tuple[str, str], Near], taken: set[tuple[str, str]], record: Connector, why: str
) -> None:
    where = (record.machine, record.connector)
    if where not in taken:
        left.setdefault(where, Near(name=record.connector, why=why, machine=record.machine))


def _holder(record: Connector, name: str) -> str:
    texts = (record.component, record.connector_name, record.connector)
    return next(text for text in texts if plain_key(name) in plain_key(text))
