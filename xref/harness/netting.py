"""Rows of the index into nets, machine by machine, and the nets back into the index."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from xref.data.fuse_sides import parted_fuse
from xref.data.potentials import potential
from xref.harness.far_end import far_end
from xref.harness.nets import Term, nets_of
from xref.harness.stops import LISTED
from xref.pages.circles import seldom_collecting
from xref.store.fold import plain_key, unpadded_key
from xref.store.index import Index
from xref.store.net_lookups import NetHead, NetRow, NetTexts
from xref.store.settled import Mate, StoredNet

#: Zeros before a number: `01` is no other cavity than `1`.
_PADDING = re.compile(r"(?<!\d)0+(?=\d)")


@dataclass(frozen=True, slots=True)
class _Wired:
    """A machine's rows that carry a wire, as terms, with what names their cavities."""

    terms: list[Term] = field(default_factory=list)
    rows: list[tuple[int, int]] = field(default_factory=list)  #: document and place in it of each term
    unnamed: list[tuple[int, str]] = field(default_factory=list)  #: terms no circuit joins that go somewhere
    going: list[tuple[int, str]] = field(default_factory=list)  #: terms that go to a splice, and its name
    #: terms of splices without cavities, by folded name
    splices: dict[str, list[int]] = field(default_factory=lambda: defaultdict(list))
    places: _Places = field(default_factory=lambda: _Places())
    printed: list[str] = field(default_factory=list)  #: the cavity of each term


class _Places:
    """Numbers for cavities; `1` and `01` of one connector have one number."""

    def __init__(self) -> None:
        self.of_half: dict[tuple[str, str], dict[str, int]] = defaultdict(dict)  #: folded and as printed
        self._number = 0

    def new(self, half: tuple[str, str], cavity: str) -> int:
        """Return the number of a cavity that was not yet seen as it is printed here."""
        known = self.of_half[half]
        key = unpadded_key(cavity)
        if key not in known:
            known[key] = self._number
            self._number += 1
        return known.setdefault(cavity, known[key])

    def another(self) -> int:
        """Return a number no cavity has yet."""
        self._number += 1
        return self._number - 1

    def find(self, half: tuple[str, str], cavity: str) -> int | None:
        """Return the number of a cavity, None where no wire is in it."""
        known = self.of_half.get(half, {})
        number = known.get(cavity)
        return number if number is not None else known.get(unpadded_key(cavity))


def store_nets(index: Index) -> None:
    """Work out the nets of all machines from the index as it stands, and keep them in it."""
    with seldom_collecting():
        index.set_nets((machine, net) for machine in index.machines() for net in _nets(index, machine))


def _nets(index: Index, machine: str) -> Iterator[StoredNet]:
    wired = _wired(index.net_rows(machine), index.net_heads(machine), index.net_texts(machine))
    mates = _places_of(index.mates(machine), wired.places)
    for net in nets_of(wired.terms, mates, _stated_wires(wired), _at_splices(wired)):
        yield StoredNet(rows=tuple(wired.rows[i] for i in net.members), flags=net.flags)


def _wired(rows: Iterable[NetRow], heads: Mapping[int, NetHead], named: NetTexts) -> _Wired:
    wired = _Wired()
    about = _about(heads, wired.places)
    texts, bases = named.texts, named.bases
    circuits = {
        number: (text, bool(text) and potential(text) != "always") for number, text in named.circuits.items()
    }
    to_splices = _naming_splices(heads, texts)
    about_whole = {number for number, text in texts.items() if LISTED in text.split()}
    silent = {number for number, text in texts.items() if not _names_a_voltage(text)}
    table, last = (0, 0, 0), (0, 0, 0)
    for (
        document,
        seq,
        head,
        cavity,
        circuit_no,
        color,
        option,
        status,
        flags,
        notices,
        page,
        table_no,
        to,
    ) in rows:
        circuit, joins = circuits[circuit_no]
        base = bases[color]
        # a blank row, or one said to be unused, puts no wire into its cavity
        if not circuit and not (status == "used" and (base or texts[to])):
            continue
        connector, half, role, owner, known = about[head]
        place = known.get(cavity)
        if place is None:
            place = wired.places.new(half, cavity)
        if page != last[1] or table_no != last[2] or document != last[0]:
            table = last = (document, page, table_no)
        joins = joins and flags in silent and notices in silent
        if texts[to] and not joins:
            wired.unnamed.append((len(wired.terms), texts[to]))
        if role == "splice" and not cavity:
            wired.splices[plain_key(connector)].append(len(wired.terms))
        if to in to_splices:
            wired.going.append((len(wired.terms), to_splices[to]))
        said = (texts[option], role, owner, table, bool(texts[flags]), notices in about_whole)
        fuse = _fuse(role, cavity)
        wired.terms.append(Term(place, connector, circuit, joins, base, *said, fuse))
        wired.rows.append((document, seq))
        wired.printed.append(cavity)
    return _with_case(wired)


def _naming_splices(heads: Mapping[int, NetHead], texts: Mapping[int, str]) -> dict[int, str]:
    """Return the folded name of a splice for each text that is one and no more."""
    names = {plain_key(head.connector) for head in heads.values() if head.role == "splice"}
    return {number: name for number, text in texts.items() if (name := plain_key(text)) in names}


def _fuse(role: str, cavity: str) -> str:
    """Return the fuse whose one side a cavity is, "" for any other."""
    name, side = parted_fuse(cavity) if role == "fuse" else ("", None)
    return unpadded_key(name) if side else ""


def _with_case(wired: _Wired) -> _Wired:
    """Tell cavities apart that one table prints as two: a round plug has an `A` and an `a`."""
    printed = list(zip(wired.terms, wired.printed, strict=True))
    first: dict[int, str] = {}
    several = {term.place for term, text in printed if first.setdefault(term.place, text) != text}
    if not several:
        return wired
    in_table: dict[tuple[int, tuple[int, int, int]], set[str]] = defaultdict(set)
    for term, text in printed:
        if term.place in several:
            in_table[term.place, term.table].add(_PADDING.sub("", text))
    apart = {place for (place, _), texts in in_table.items() if len(texts) > 1}
    number: dict[tuple[int, str], int] = {}
    for known in wired.places.of_half.values():
        for text, place in known.items():
            if place in apart and _PADDING.sub("", text) != _PADDING.sub("", first[place]):
                known[text] = number.setdefault((place, _PADDING.sub("", text)), wired.places.another())
                number[place, text] = known[text]
    wired.terms[:] = [
        term._replace(place=number.get((term.place, text), term.place)) for term, text in printed
    ]
    return wired


#: What the rows under a head have in common: connector, key of its places, role, component, its places.
_About = tuple[str, tuple[str, str], str, str, dict[str, int]]


def _about(heads: Mapping[int, NetHead], places: _Places) -> dict[int, _About]:
    roles = _agreed(heads.values(), lambda head: "" if head.role == "unknown" else head.role)
    owners = _agreed(heads.values(), lambda head: head.component)
    return {
        number: (
            head.connector,
            (head.connector, head.half),
            roles.get((head.connector, head.half)) or roles.get((head.connector, None)) or "unknown",
            owners.get((head.connector, head.half)) or "",
            places.of_half[head.connector, head.half],
        )
        for number, head in heads.items()
    }


def _names_a_voltage(names: str) -> bool:
    """Say whether flags or notices say that a circuit names a voltage, or may."""
    return "potential-undecided" in names or "potential-name" in names


def _agreed(heads: Iterable[NetHead], text: Callable[[NetHead], str]) -> dict[tuple[str, str | None], str]:
    """Return what the documents say of each half, and under None of the connector, where they agree."""
    said: dict[tuple[str, str | None], set[str]] = defaultdict(set)
    for head in heads:
        found = text(head)
        if found:
            said[head.connector, head.half].add(found)
            said[head.connector, None].add(found)
    return {where: next(iter(texts)) for where, texts in said.items() if len(texts) == 1}


def _places_of(mates: Iterable[Mate], places: _Places) -> list[tuple[int, int]]:
    """Return the pairs of places that touch; a pairing in doubt joins nothing."""
    found = []
    for mate in mates:
        if mate.doubtful:
            continue
        one = places.find((mate.connector_a, mate.half_a), mate.cavity_a)
        other = places.find((mate.connector_b, mate.half_b), mate.cavity_b)
        if one is not None and other is not None:
            found.append((one, other))
    return found


def _at_splices(wired: _Wired) -> Iterator[tuple[int, int]]:
    """Yield the terms whose rows name a splice as what they go to, each with the terms of that splice.

    Only a splice that has no cavities: of another the wires that meet there have rows of their own.
    """
    for i, name in wired.going:
        own = wired.splices.get(name, ())
        yield from ((i, splice) for splice in own if i not in own)


def _stated_wires(wired: _Wired) -> list[tuple[int, int]]:
    """Return the terms a from/to row joins that their circuit does not: `GND` from `A10:2` to `G1:3`.

    The far cavity must hold exactly one wire that may be this one.
    """
    # only a colon parts them for certain: by `G5-1` the stud of that name may be meant, and this joins nets
    alone = [(i, far_end(text)) for i, text in wired.unnamed if ":" in text]
    if not alone:
        return []
    by_name: dict[str, set[int]] = defaultdict(set)
    for (connector, half), known in wired.places.of_half.items():
        name = plain_key(connector + half)
        for cavity, number in known.items():
            by_name[f"{name}:{unpadded_key(cavity)}"].add(number)
    there: dict[int, list[int]] = defaultdict(list)
    for i, term in enumerate(wired.terms):
        there[term.place].append(i)
    far: dict[int, int] = {}  #: a term -> the place its from/to row names
    for i, (name, cavity) in alone:
        places = by_name.get(f"{plain_key(name)}:{unpadded_key(cavity)}", set())
        if len(places) == 1 and wired.terms[i].place not in places:
            (far[i],) = places
    found = []
    for i, place in far.items():
        ends = [j for j in there[place] if _may_be_one_wire(wired.terms[i], wired.terms[j])]
        if ends and len({(wired.terms[j].circuit, wired.terms[j].base) for j in ends}) == 1:
            found += [(i, j) for j in ends]
    come: dict[int, set[int]] = defaultdict(set)  #: place -> the places whose rows name it
    for i, j in found:
        come[wired.terms[j].place].add(wired.terms[i].place)
    return [(i, j) for i, j in found if _is_one_wire(wired.terms, far, come, i, j)]


def _is_one_wire(
    terms: Sequence[Term], far: Mapping[int, int], come: Mapping[int, set[int]], i: int, j: int
) -> bool:
    """Say whether a from/to row at a ground stud means this very wire: several `GND` come to one stud.

    Of several wires only those count whose row at the stud names the far end as well.
    """
    if terms[i].role == "ground":
        i, j = j, i
    if terms[j].role != "ground" or far.get(j) == terms[i].place:
        return True
    return len(come[terms[j].place]) == 1 and j not in far


def _may_be_one_wire(one: Term, other: Term) -> bool:
    return all(not a or not b or a == b for a, b in zip(_looks(one), _looks(other), strict=True))


def _looks(term: Term) -> Sequence[str]:
    return (plain_key(term.circuit), term.base, term.option)
