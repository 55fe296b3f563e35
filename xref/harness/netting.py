"""Rows of the index into nets, machine by machine, and the nets back into the index."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from xref.data.potentials import potential
from xref.harness.nets import Term, nets_of
from xref.pages.circles import seldom_collecting
from xref.store.fold import plain_key, unpadded_key
from xref.store.index import Index
from xref.store.net_lookups import NetHead, NetRow
from xref.store.settled import Mate, StoredNet


@dataclass(frozen=True, slots=True)
class _Wired:
    """A machine's rows that carry a wire, as terms, with what names their cavities."""

    terms: list[Term]
    rows: list[tuple[int, int]]  #: document and place in it of each term
    goes_to: list[str]
    places: dict[tuple[str, str, str], int]  #: connector, half, folded cavity -> number


def store_nets(index: Index, machines: Iterable[str] | None = None) -> None:
    """Work out the nets of these machines (of all) from the index as it stands, and keep them in it."""
    for machine in index.machines() if machines is None else machines:
        with seldom_collecting():
            index.set_nets(machine, _nets(index, machine))


def _nets(index: Index, machine: str) -> Iterator[StoredNet]:
    wired = _wired(index.net_rows(machine), index.net_heads(machine))
    mates = _places_of(index.mates(machine), wired.places)
    for net in nets_of(wired.terms, mates, _stated_wires(wired)):
        yield StoredNet(rows=tuple(wired.rows[i] for i in net.members), flags=net.flags)


def _wired(rows: Iterable[NetRow], heads: Mapping[int, NetHead]) -> _Wired:
    roles = _agreed(heads.values(), lambda head: "" if head.role == "unknown" else head.role)
    owners = _agreed(heads.values(), lambda head: head.component)
    wired = _Wired(terms=[], rows=[], goes_to=[], places={})
    folded: dict[str, str] = {}
    same: dict[str, str] = {}  # equal texts as one object: a million rows hold a few thousand
    one = same.setdefault
    for row in rows:
        if not _carries_a_wire(row):
            continue
        head = heads[row.head]
        key = folded.get(row.cavity)
        if key is None:
            key = folded[row.cavity] = unpadded_key(row.cavity)
        place = wired.places.setdefault((head.connector, head.half, key), len(wired.places))
        circuit = one(row.circuit, row.circuit)
        wired.terms.append(
            Term(
                place=place,
                connector=head.connector,
                circuit=circuit,
                joins=_joins(circuit, row.flags, row.notices),
                base=one(row.base, row.base),
                option=one(row.option, row.option),
                role=roles.get((head.connector, head.half)) or roles.get((head.connector, None)) or "unknown",
                owner=owners.get((head.connector, head.half)) or "",
                table=(row.document, row.page, row.table_no),
                doubtful=bool(row.flags),
            )
        )
        wired.rows.append((row.document, row.seq))
        wired.goes_to.append(one(row.goes_to, row.goes_to))
    return wired


def _carries_a_wire(row: NetRow) -> bool:
    """Say whether a row puts a wire into its cavity; a blank row and one said to be unused do not."""
    if row.circuit:
        return True
    return row.status == "used" and bool(row.base or row.goes_to)


def _joins(circuit: str, flags: str, notices: str) -> bool:
    if not circuit or "potential-undecided" in flags or "potential-name" in notices:
        return False
    return potential(circuit) != "always"


def _agreed(heads: Iterable[NetHead], text: Callable[[NetHead], str]) -> dict[tuple[str, str | None], str]:
    """Return what the documents say of each half, and under None of the connector, where they agree."""
    said: dict[tuple[str, str | None], set[str]] = defaultdict(set)
    for head in heads:
        found = text(head)
        if found:
            said[head.connector, head.half].add(found)
            said[head.connector, None].add(found)
    return {where: next(iter(texts)) for where, texts in said.items() if len(texts) == 1}


def _places_of(mates: Iterable[Mate], places: Mapping[tuple[str, str, str], int]) -> list[tuple[int, int]]:
    """Return the pairs of places that touch; a pairing in doubt joins nothing."""
    found = []
    for mate in mates:
        if mate.doubtful:
            continue
        one = places.get((mate.connector_a, mate.half_a, unpadded_key(mate.cavity_a)))
        other = places.get((mate.connector_b, mate.half_b, unpadded_key(mate.cavity_b)))
        if one is not None and other is not None:
            found.append((one, other))
    return found


def _stated_wires(wired: _Wired) -> list[tuple[int, int]]:
    """Return the terms a from/to row joins that their circuit does not: `GND` from `A10:2` to `G1:3`.

    The far cavity must hold exactly one wire that may be this one.
    """
    alone = [i for i, term in enumerate(wired.terms) if not term.joins and ":" in wired.goes_to[i]]
    if not alone:
        return []
    by_name: dict[str, list[int]] = defaultdict(list)
    for (connector, half, key), number in wired.places.items():
        by_name[f"{plain_key(connector + half)}:{key}"].append(number)
    there: dict[int, list[int]] = defaultdict(list)
    for i, term in enumerate(wired.terms):
        there[term.place].append(i)
    found = []
    for i in alone:
        name, _, cavity = wired.goes_to[i].rpartition(":")
        places = by_name.get(f"{plain_key(name)}:{unpadded_key(cavity)}", [])
        if len(places) != 1 or places[0] == wired.terms[i].place:
            continue
        ends = [j for j in there[places[0]] if _may_be_one_wire(wired.terms[i], wired.terms[j])]
        if ends and len({(wired.terms[j].circuit, wired.terms[j].base) for j in ends}) == 1:
            found += [(i, j) for j in ends]
    return found


def _may_be_one_wire(one: Term, other: Term) -> bool:
    return all(not a or not b or a == b for a, b in zip(_looks(one), _looks(other), strict=True))


def _looks(term: Term) -> Sequence[str]:
    return (plain_key(term.circuit), term.base, term.option)
