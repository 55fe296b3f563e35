"""Exact look-ups in the index.

Nothing of two machines is ever mixed: a `machine` of None asks for all of them, and every answer then
comes grouped by machine. The empty string is a machine too: the unnamed one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref.records import Connector, Pin, Role
from xref.store import reading
from xref.store.documents import given, same
from xref.store.fold import confusion_key, plain_key, stem_key, unpadded_key
from xref.store.net_lookups import NetLookups
from xref.store.reading import TextField

#: A name with more letters too many or too few than this is another name, not a misprint.
_LENGTH_SLACK = 2


class Lookups(NetLookups):
    """All that can be asked of an open index."""

    # -- pins --------------------------------------------------------------------------------------

    def pins_on_circuit(self, circuit: str, machine: str | None = None) -> list[Pin]:
        """All pins whose circuit is exactly this text."""
        return list(self._pins(f"c.circuit = ? AND {same('c.machine', machine)}", (circuit, *given(machine))))

    def pins_of(
        self, connector: str, machine: str | None = None, half: str | None = None, cavity: str | None = None
    ) -> list[Pin]:
        """The pins of the connector of exactly this name, of one half or cavity where that is given."""
        where = f"h.connector = ? AND {same('h.machine', machine)}"
        where += f" AND {same('h.half', half)} AND {same('p.cavity', cavity)}"
        return list(self._pins(where, (connector, *given(machine), *given(half), *given(cavity))))

    def pins_with_role(self, role: Role, machine: str | None = None) -> list[Pin]:
        """All pins of connectors of this role."""
        return list(self._pins(f"h.role = ? AND {same('d.machine', machine)}", (role, *given(machine))))

    def pins_with_text(self, field: TextField, text: str, machine: str | None, limit: int) -> list[Pin]:
        """The first pins, in document order, that carry exactly this text in a field."""
        where = f"{reading.TEXT_SQL[field][1]} AND {same('d.machine', machine)}"
        return list(self._pins(where, (text, *given(machine)), limit=limit))

    def all_pins(self, machine: str | None = None) -> Iterator[Pin]:
        """Every pin, by machine, document, page, table and row."""
        for (number,) in self._rows(
            f"SELECT id FROM documents WHERE {same('machine', machine)} ORDER BY machine, name",
            given(machine),
        ):
            yield from self._pins("p.document_id = ?", (number,))

    def distinct_texts(self, field: TextField) -> list[str]:
        """Every text that stands in a field of some pin, once, sorted; blanks left out."""
        return sorted(row[0] for row in self._rows(reading.TEXT_SQL[field][0]) if row[0])

    def wordy_texts(self) -> Iterator[tuple[TextField, str]]:
        """Every text a person may look for by a part of a word; not each stands in some row in its field."""
        for (text,) in self._rows("SELECT text FROM texts WHERE text <> ''"):
            yield "function", text
            yield "goes_to", text
        for (text,) in self._rows("SELECT DISTINCT component FROM heads WHERE component <> ''"):
            yield "component", text
        for (text,) in self._rows("SELECT DISTINCT connector_name FROM heads WHERE connector_name <> ''"):
            yield "connector_name", text

    # -- circuits and connectors -------------------------------------------------------------------

    def circuit_names(self, machine: str | None = None) -> list[tuple[str, str]]:
        """All (machine, circuit) that some pin carries, sorted."""
        return self._pairs(
            f"SELECT machine, circuit FROM circuits c WHERE circuit <> '' AND {same('machine', machine)}"
            " AND EXISTS (SELECT 1 FROM pins WHERE circuit_id = c.id) ORDER BY machine, circuit",
            given(machine),
        )

    def near_circuits(self, circuit: str, machine: str | None = None) -> list[tuple[str, str]]:
        """All (machine, circuit) a reader may take for this one, or that are segments of the same number."""
        confused, stem = confusion_key(circuit), stem_key(circuit)
        return self._pairs(
            "SELECT machine, circuit FROM circuits c WHERE circuit NOT IN ('', ?)"
            f" AND (confused IN (?, ?) OR stem IN (?, ?) OR unpadded = ?) AND {same('machine', machine)}"
            " AND EXISTS (SELECT 1 FROM pins WHERE circuit_id = c.id) ORDER BY machine, circuit",
            (circuit, confused, stem, confused, stem, unpadded_key(circuit), *given(machine)),
        )

    def circuits_alike(self, circuit: str, machine: str | None = None) -> list[tuple[str, str]]:
        """All (machine, circuit) that may be this one with a misprint, to be compared letter by letter."""
        where, values = _misprint("confused", confusion_key(circuit))
        return self._pairs(
            f"SELECT machine, circuit FROM circuits c WHERE circuit <> '' AND {where}"
            f" AND {same('machine', machine)} AND EXISTS (SELECT 1 FROM pins WHERE circuit_id = c.id)"
            " ORDER BY machine, circuit",
            (*values, *given(machine)),
        )

    def names_alike(self, name: str, machine: str | None = None) -> list[tuple[str, str]]:
        """All (machine, name) of connectors, components and titles that may be this with a misprint."""
        parts, values = [], list[object]()
        for column, key, asked in (
            ("connector", "confused", confusion_key(name)),
            ("component", "component_key", plain_key(name)),
            ("connector_name", "title_key", plain_key(name)),
        ):
            where, keyed = _misprint(key, asked)
            parts.append(
                f"SELECT machine, {column} FROM connectors"
                f" WHERE {column} <> '' AND {where} AND {same('machine', machine)}"
            )
            values += [*keyed, *given(machine)]
        return self._pairs(" UNION ".join(parts) + " ORDER BY 1, 2", values)

    def circuits_beginning(self, beginning: str, limit: int) -> list[str]:
        """The first circuits, sorted, that begin so; for completing what was typed."""
        return self._beginning("circuit", "circuits", beginning, limit)

    def connectors_beginning(self, beginning: str, limit: int) -> list[str]:
        """The first connector names, sorted, that begin so; for completing what was typed."""
        return self._beginning("connector", "connectors", beginning, limit)

    def connectors(
        self, machine: str | None = None, *, name: str | None = None, component: str | None = None
    ) -> list[Connector]:
        """Connector records, one per document that prints it: all, or of exactly one name or component."""
        where = f"{same('c.machine', machine)} AND {same('c.connector', name)}"
        where += f" AND {same('c.component', component)}"
        return self._connectors(where, (*given(machine), *given(name), *given(component)))

    def connectors_like(self, name: str, machine: str | None = None) -> list[Connector]:
        """Connectors whose name, component or title is this but for case, blanks and separators."""
        key = plain_key(name)
        return self._connectors(
            "(c.name_key = ? OR (c.component_key = ? AND c.component_key <> '')"
            f" OR (c.title_key = ? AND c.title_key <> '')) AND {same('c.machine', machine)}",
            (key, key, key, *given(machine)),
        )

    def connectors_holding(self, name: str, machine: str | None = None) -> list[Connector]:
        """Connectors whose name, component or title holds this as a part of it."""
        key = plain_key(name)
        return self._connectors(
            "? <> '' AND (instr(c.name_key, ?) OR instr(c.component_key, ?) OR instr(c.title_key, ?))"
            f" AND {same('c.machine', machine)}",
            (key, key, key, key, *given(machine)),
        )

    def near_connectors(self, name: str, machine: str | None = None) -> list[Connector]:
        """Connectors whose name a reader may take for this one."""
        return self._connectors(
            f"(c.confused = ? OR c.unpadded = ?) AND {same('c.machine', machine)}",
            (confusion_key(name), unpadded_key(name), *given(machine)),
        )

    # -- rows into records -------------------------------------------------------------------------

    def _pins(self, where: str, values: Sequence[object], limit: int = -1) -> Iterator[Pin]:
        sql = f"{reading.PIN_SQL} WHERE {where} {reading.PIN_ORDER} LIMIT ?"
        return map(reading.row_to_pin, self._rows(sql, (*values, limit)))

    def _connectors(self, where: str, values: Sequence[object]) -> list[Connector]:
        order = "ORDER BY c.machine, c.connector, c.half, d.name, c.id"
        rows = self._rows(f"{reading.CONNECTOR_SQL} WHERE {where} {order}", values)
        return [reading.row_to_connector(row) for row in rows]

    def _beginning(self, column: str, table: str, beginning: str, limit: int) -> list[str]:
        sql = f"SELECT DISTINCT {column} FROM {table} WHERE {column} >= ? AND {column} < ? AND {column} <> ''"
        rows = self._rows(f"{sql} ORDER BY {column} LIMIT ?", (beginning, beginning + "\U0010ffff", limit))
        return [row[0] for row in rows]

    def _pairs(self, sql: str, values: Sequence[object]) -> list[tuple[str, str]]:
        return [(first, second) for first, second in self._rows(sql, values)]


def _misprint(column: str, key: str) -> tuple[str, tuple[object, ...]]:
    """Condition that holds for a key of about this length with one of its halves intact.

    A single misprint leaves one half as it was; keys with one in each half are too far off to be offered.
    """
    half = len(key) // 2
    head, tail = key[:half], key[half:]
    where = f"length({column}) BETWEEN ? AND ?"
    where += f" AND (substr({column}, 1, ?) = ? OR substr({column}, -?) = ?)"
    return where, (len(key) - _LENGTH_SLACK, len(key) + _LENGTH_SLACK, half, head, len(tail), tail)
