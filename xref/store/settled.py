"""What all documents of a machine together settled, as records and into the tables of the index.

Everything here runs inside a transaction of the caller.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from xref.records import Role
from xref.store.schema import NET_PINS_INDEX


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledRole:
    """The role of a connector (half), decided with all documents in view."""

    machine: str
    connector: str
    half: str
    role: Role
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mate:
    """Two cavities of one machine that touch when the in-line is plugged together."""

    machine: str
    connector_a: str
    half_a: str
    cavity_a: str
    connector_b: str
    half_b: str
    cavity_b: str
    how: str  #: the evidence: "designator", "marks", "mirrored" or "person"
    differences: tuple[str, ...] = ()  #: names of MATE_DIFFERENCES

    @property
    def doubtful(self) -> bool:
        """Whether the two may not touch at all, so that they join nothing."""
        return "pairing-doubtful" in self.differences


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredNet:
    """A net as it is stored: its pins by document and place in it, and names of NET_FLAGS."""

    rows: tuple[tuple[int, int], ...]
    flags: tuple[str, ...] = ()


#: The notice that only all documents of a machine together can tell.
_ONCE = "circuit-once"


def settle(connection: sqlite3.Connection, roles: Iterable[SettledRole], mates: Iterable[Mate]) -> None:
    """Put every role back to what its document said, then lay the settled ones and the mates over."""
    connection.execute(
        "UPDATE connectors SET role = role_read, role_why = role_why_read WHERE role <> role_read"
    )
    connection.execute("UPDATE heads SET role = role_read WHERE role <> role_read")
    settled = [(r.role, r.why, r.connector, r.machine, r.half) for r in roles]
    connection.executemany(
        "UPDATE connectors SET role = ?, role_why = ? WHERE connector = ? AND machine = ? AND half = ?",
        settled,
    )
    connection.executemany(
        "UPDATE heads SET role = ? WHERE connector = ? AND machine = ? AND half = ?",
        ((role, *where) for role, _, *where in settled),
    )
    connection.execute("DELETE FROM mates")
    connection.executemany(
        "INSERT INTO mates VALUES (?,?,?,?,?,?,?,?,?)",
        (
            (
                *(m.machine, m.connector_a, m.half_a, m.cavity_a),
                *(m.connector_b, m.half_b, m.cavity_b),
                *(m.how, " ".join(m.differences)),
            )
            for m in mates
        ),
    )


def store_nets(connection: sqlite3.Connection, nets: Iterable[tuple[str, StoredNet]]) -> None:
    """Put nets, each with its machine, in place of all that were kept."""
    connection.execute("DELETE FROM net_pins")
    connection.execute("DELETE FROM nets")
    heads: list[tuple[int, str, str]] = []
    pins: list[tuple[int, int, int]] = []
    for number, (machine, net) in enumerate(nets, start=1):
        heads.append((number, machine, " ".join(net.flags)))
        pins += [(*row, number) for row in net.rows]
    connection.executemany("INSERT INTO nets VALUES (?,?,?)", heads)
    # in the order of its key, and the index made afterwards: a million rows go in at a third of the time
    pins.sort()
    connection.execute("DROP INDEX net_pins_net")
    connection.executemany("INSERT INTO net_pins VALUES (?,?,?)", pins)
    connection.execute(NET_PINS_INDEX)


def settle_notices(connection: sqlite3.Connection) -> None:
    """Put the notice of a circuit that appears once where it is so in the whole machine, and only there."""
    connection.execute("CREATE TEMP TABLE IF NOT EXISTS once (circuit_id INTEGER PRIMARY KEY)")
    connection.execute("DELETE FROM once")
    connection.execute(
        "INSERT INTO once SELECT p.circuit_id FROM pins p JOIN heads h ON h.id = p.head_id"
        " JOIN circuits c ON c.id = p.circuit_id WHERE c.circuit <> '' GROUP BY p.circuit_id"
        " HAVING MIN(h.connector) = MAX(h.connector) AND MIN(h.half) = MAX(h.half)"
        " AND MIN(p.cavity) = MAX(p.cavity)"
    )
    for inside in (False, True):
        where = f"circuit_id {'' if inside else 'NOT '}IN (SELECT circuit_id FROM once)"
        sql = f"SELECT id, text FROM texts WHERE id IN (SELECT notices_id FROM pins WHERE {where})"
        for number, text in connection.execute(sql).fetchall():
            names = text.split()
            if (_ONCE in names) == inside:
                continue
            wanted = [*names, _ONCE] if inside else [name for name in names if name != _ONCE]
            connection.execute("INSERT OR IGNORE INTO texts (text) VALUES (?)", (" ".join(wanted),))
            connection.execute(
                "UPDATE pins SET notices_id = (SELECT id FROM texts WHERE text = ?)"
                f" WHERE notices_id = ? AND {where}",
                (" ".join(wanted), number),
            )
