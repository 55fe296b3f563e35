"""What only all documents of a machine together can tell: which connectors are in-lines, which cavities
touch, which pins are one net. Worked out at the end of every indexing run and kept in the index.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from xref.harness.halves import Half, wirings_of
from xref.harness.netting import store_nets
from xref.harness.pairing import Pair, mates_of_pair, pairs_of
from xref.pins.corrections_records import MateDecision
from xref.records import Connector
from xref.store.index import Index
from xref.store.settled import Mate, SettledRole
from xref.store.work import Work
from xref.store.work_laying import MATES_SETTLED, decisions_mark, relay


def settle(index: Index, work: Work) -> bool:
    """Lay the decisions that hold now over the index and settle roles, mates and nets; False: nothing to do.

    The free-text search brings itself up to date when it is next asked.
    """
    changed = relay(index, work)
    mates = work.mates()
    if not changed and index.is_settled() and index.meta(MATES_SETTLED) == decisions_mark(mates):
        return False
    settle_roles(index, mates)
    index.set_meta(MATES_SETTLED, decisions_mark(mates))
    return True


def settle_roles(index: Index, said: Iterable[MateDecision] = ()) -> None:
    """Decide with all documents in view which connectors are in-lines, which cavities mate, what is one net.

    `said` are the mates the person named: they count before any evidence. What was decided before is
    thrown away.
    """
    records = index.connectors()
    roles = {(role.machine, role.connector, role.half): role for role in _halves_of_one_name(records)}
    said = list(said)
    named = [(d.machine, name, "") for d in said for name in (d.connector_a, d.connector_b)]
    wirings = wirings_of(index, ("inline", "unknown"), named)
    called = {(r.machine, r.connector, r.half) for r in records if r.role == "inline"}
    mates: list[Mate] = []
    for pair in pairs_of(records, wirings, called | roles.keys(), said):
        for half, mate in ((pair.one, pair.other), (pair.other, pair.one)):
            role = _inline(half, _why(pair, mate))
            if pair.how == "person":
                roles[half] = role
            else:
                roles.setdefault(half, role)
        mates += mates_of_pair(pair, wirings)
    index.set_roles(roles.values(), mates)
    store_nets(index)
    index.mark_settled()


def _why(pair: Pair, mate: Half) -> str:
    spoken = f"{mate[1]} half {mate[2]}" if mate[2] else mate[1]
    if pair.how == "person":
        return f"the person says that it is plugged into {spoken}"
    if pair.how == "mirrored":
        return f"its cavity list mirrors that of {spoken}: the same circuits in the same cavities"
    return f"its name and that of {spoken} are those of two halves"


def _inline(half: Half, why: str) -> SettledRole:
    return SettledRole(machine=half[0], connector=half[1], half=half[2], role="inline", why=why)


def _halves_of_one_name(records: Iterable[Connector]) -> Iterator[SettledRole]:
    """Two halves printed under one designator, in one document or in several, are an in-line."""
    by_name: dict[tuple[str, str], list[Connector]] = defaultdict(list)
    for record in records:
        by_name[record.machine, record.connector].append(record)
    for (machine, name), found in by_name.items():
        halves = {record.half for record in found if record.half}
        said = {record.role for record in found} - {"unknown"}
        if len(halves) < 2 or said - {"inline"}:
            continue
        documents = sorted({record.document for record in found})
        why = f"two halves stand under one designator, in {' and '.join(documents)}"
        for half in sorted(halves):
            unknown = any(record.half == half and record.role == "unknown" for record in found)
            if unknown:
                yield SettledRole(machine=machine, connector=name, half=half, role="inline", why=why)
