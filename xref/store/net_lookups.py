"""What the index holds about mates and nets, and the rows they are worked out from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from xref.records import Pin
from xref.store import reading
from xref.store.documents import DocumentLookups, given, same
from xref.store.settled import Mate

#: Most values SQLite is handed in one statement; its own limit is higher everywhere.
_MOST_VALUES = 500


#: One row of the index as far as it decides what it is joined to. A million of them are taken apart at once,
#: so they are plain tuples with numbers for texts: document and place in it (the two name the row), head (see
#: `net_heads`), cavity, circuit, colour, option, status, flags, notices (see `NetTexts`), page, table on it,
#: and where it goes to.
NetRow = tuple[int, int, int, str, int, int, int, str, int, int, int, int, int]


class NetTexts(NamedTuple):
    """What the numbers in rows stand for."""

    circuits: dict[int, str]
    bases: dict[int, str]  #: base colours
    texts: dict[int, str]  #: options, flags, notices and destinations


class NetHead(NamedTuple):
    """A connector (half) as rows refer to it."""

    connector: str
    half: str
    role: str
    component: str


class PinHead(NamedTuple):
    """What all rows of a connector (half) in a document have in common."""

    connector: str
    half: str
    role: str
    component: str
    connector_name: str
    harness: str


class NetLookups(DocumentLookups):
    """Mates, nets, and the rows behind them."""

    def half_rows(
        self, roles: Sequence[str], names: Iterable[str] = ()
    ) -> Iterator[tuple[str, str, str, str, str, str, str, str, float | None, str]]:
        """Yield what each row of a connector says of its cavity, for connectors of these roles or names.

        Each is (machine, connector, half, cavity, circuit, base, stripe, ring, size in mm² or None, status);
        what several rows say alike comes once.
        """
        names = sorted(names)
        marks, named = ",".join("?" * len(roles)), ",".join("?" * len(names))
        yield from self._rows(
            "SELECT DISTINCT h.machine, h.connector, h.half, p.cavity, c.circuit, k.base, k.stripe, k.ring,"
            " p.size_mm2, p.status FROM heads h JOIN pins p ON p.head_id = h.id"
            " JOIN circuits c ON c.id = p.circuit_id JOIN colors k ON k.id = p.color_id"
            f" WHERE h.role_read IN ({marks}) OR h.connector IN ({named})",
            (*roles, *names),
        )

    def mates(self, machine: str | None = None, connector: str | None = None) -> list[Mate]:
        """Mated cavities settled at the end of indexing, all or those of one connector."""
        where, values = same("machine", machine), given(machine)
        if connector is not None:
            where, values = (
                where + " AND (connector_a = ? OR connector_b = ?)",
                (*values, connector, connector),
            )
        rows = self._rows(f"{reading.MATE_SQL} WHERE {where} ORDER BY rowid", values)
        return [reading.row_to_mate(row) for row in rows]

    def net_heads(self, machine: str) -> dict[int, NetHead]:
        """Return the heads of a machine's rows by the number the rows give them."""
        rows = self._rows(
            "SELECT id, connector, half, role, component FROM heads WHERE machine = ?", (machine,)
        )
        return {number: NetHead(*rest) for number, *rest in rows}

    def net_texts(self, machine: str) -> NetTexts:
        """Return the texts the rows of a machine refer to by number."""
        circuits = self._rows("SELECT id, circuit FROM circuits WHERE machine = ?", (machine,))
        return NetTexts(
            circuits=dict(circuits),
            bases=dict(self._rows("SELECT id, base FROM colors")),
            texts=dict(self._rows("SELECT id, text FROM texts")),
        )

    def pin_heads(self, machine: str) -> dict[int, PinHead]:
        """Return the heads of a machine's rows, as `machine_pins` takes them."""
        rows = self._rows(
            "SELECT id, connector, half, role, component, connector_name, harness FROM heads"
            " WHERE machine = ?",
            (machine,),
        )
        return {number: PinHead(*rest) for number, *rest in rows}

    def machine_pins(self, machine: str, heads: Mapping[int, PinHead]) -> Iterator[tuple[int | None, Pin]]:
        """Yield every pin of a machine with its net (None where it carries no wire), in document order.

        `heads` are those of `pin_heads`, or what the caller knows better. Texts are looked up here instead
        of joined, which takes a third of the time where all rows are wanted.
        """
        texts: dict[int, str] = dict(self._rows("SELECT id, text FROM texts"))
        words = {number: tuple(text.split()) for number, text in texts.items()}
        circuits: dict[int, str] = dict(self._rows("SELECT id, circuit FROM circuits"))
        looks = self._rows("SELECT id, code, base, stripe, ring FROM colors")
        colors = {number: look for number, *look in looks}
        rows = self._rows(reading.MACHINE_PINS_SQL, (machine,))
        for net, head, color, circuit, function, option, goes_to, flags, notices, document, *own in rows:
            cavity, size, size_mm2, status, *where = own
            connector, half, *owner = heads[head]
            code, *bases = colors[color]
            wire = (cavity, code, circuits[circuit], texts[function], size, *bases, size_mm2, status)
            led = (texts[option], texts[goes_to], *owner, document, *where, words[flags], words[notices])
            yield net, reading.pin_of_values((machine, connector, half, *wire, *led))

    def net_rows(self, machine: str) -> Iterator[NetRow]:
        """Yield every row of a machine in the order of its documents, as far as it decides about nets."""
        yield from self._rows(
            "SELECT p.document_id, p.seq, p.head_id, p.cavity, p.circuit_id, p.color_id, p.option_id,"
            " p.status, p.flags_id, p.notices_id, p.page, p.table_no, p.goes_to_id FROM pins p"
            " JOIN documents d ON d.id = p.document_id WHERE d.machine = ? ORDER BY d.name, p.seq",
            (machine,),
        )

    def nets_of(self, pins: Sequence[Pin]) -> dict[Pin, int]:
        """Return the net of each of these pins; pins that carry no wire have none."""
        found: dict[Pin, int] = {}
        places = sorted({(p.machine, p.connector) for p in pins})
        wanted = set(pins)
        for machine, connector in places:
            for net, pin in self._net_pins("h.machine = ? AND h.connector = ?", (machine, connector)):
                if pin in wanted:
                    found[pin] = net
        return found

    def pins_of_nets(self, nets: Sequence[int]) -> dict[int, list[Pin]]:
        """Return the pins of several nets."""
        found: dict[int, list[Pin]] = {net: [] for net in nets}
        for first in range(0, len(nets), _MOST_VALUES):
            some = nets[first : first + _MOST_VALUES]
            for net, pin in self._net_pins(f"x.net_id IN ({','.join('?' * len(some))})", tuple(some)):
                found[net].append(pin)
        return found

    def all_nets(self, machine: str | None = None) -> Iterator[tuple[int, tuple[str, ...], list[Pin]]]:
        """Yield every net with its flags and its pins, those of a net in the order of the documents."""
        sql = f"SELECT id, flags FROM nets WHERE {same('machine', machine)} ORDER BY machine, id"
        flags = {number: tuple(text.split()) for number, text in self._rows(sql, given(machine))}
        numbers = list(flags)
        for first in range(0, len(numbers), _MOST_VALUES):  # some at a time: a million pins fill the memory
            for number, pins in self.pins_of_nets(numbers[first : first + _MOST_VALUES]).items():
                yield number, flags[number], pins

    def flags_of_nets(self, machine: str) -> dict[int, tuple[str, ...]]:
        """Return the flags of every net of a machine."""
        rows = self._rows("SELECT id, flags FROM nets WHERE machine = ? ORDER BY id", (machine,))
        return {number: tuple(flags.split()) for number, flags in rows}

    def net_flags(self, nets: Sequence[int]) -> dict[int, tuple[str, ...]]:
        """Return the flags of these nets."""
        found: dict[int, tuple[str, ...]] = {}
        for first in range(0, len(nets), _MOST_VALUES):
            some = nets[first : first + _MOST_VALUES]
            rows = self._rows(
                f"SELECT id, flags FROM nets WHERE id IN ({','.join('?' * len(some))})", tuple(some)
            )
            found |= {number: tuple(flags.split()) for number, flags in rows}
        return found

    def _net_pins(self, where: str, values: Sequence[object]) -> Iterator[tuple[int, Pin]]:
        sql = reading.PIN_SQL.replace("SELECT ", "SELECT x.net_id, ", 1)
        # the net's pins are few: reached from there, not by going through all pins
        sql += " JOIN net_pins x ON x.document_id = p.document_id AND x.seq = p.seq"
        for net, *row in self._rows(f"{sql} WHERE {where} {reading.PIN_ORDER}", values):
            yield int(net), reading.row_to_pin(row)
