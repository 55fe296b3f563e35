"""Pins into nets: all that is electrically one when every plug is mated.

Joined are: the same circuit of one machine, cavities of an in-line that touch, the legs of a splice and the
rows that name it, two wires in one cavity, and the two ends a from/to row names. Not joined are: names of
voltages, what meets at a ground stud, the two sides of a fuse, rows of different options, and places of one
number that contradict each other.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from xref.harness.segments import may_meet

_Key = TypeVar("_Key")

#: Roles whose cavities a net only passes through; all others are ends.
ON_THE_PATH = frozenset({"inline", "splice"})
#: From so many ends on, wires must meet somewhere between them.
_LEAST_BRANCHED = 3


class Term(NamedTuple):
    """One wire end as far as it decides what it is joined to."""

    place: int  #: number of its cavity
    connector: str
    circuit: str  #: as printed
    joins: bool  #: whether the circuit names a wire; a voltage's name joins nothing
    base: str = ""  #: base colour, "" where it is not known
    option: str = ""
    role: str = "unknown"
    owner: str = ""  #: the component it plugs into, as far as known
    table: tuple[int, int, int] = (0, 0, 0)  #: document, page and table that print it
    doubtful: bool = False
    listed: bool = False  #: of a row about a splice as a whole, which is no wire of it
    fuse: str = ""  #: the fuse of a box that this cavity is one side of


@dataclass(frozen=True, slots=True)
class Net:
    """Positions of its terms, in order, and names of NET_FLAGS."""

    members: tuple[int, ...]
    flags: tuple[str, ...]


def nets_of(
    terms: Sequence[Term],
    mates: Iterable[tuple[int, int]] = (),
    wires: Iterable[tuple[int, int]] = (),
    at_splices: Iterable[tuple[int, int]] = (),
) -> list[Net]:
    """Return the nets of one machine's terms, in the order of their first terms; each term is in one net.

    `mates` are pairs of places that touch, `wires` pairs of terms that a from/to row makes two ends of one
    wire, `at_splices` pairs of a term and one of the splice its row says it goes to.
    """
    joints = _Joints(terms)
    by_place = _grouped(range(len(terms)), lambda i: terms[i].place)
    mated: set[int] = set()
    _join_circuits(joints, by_place)
    _join_splices(joints)
    several = _join_cavities(joints, by_place)
    for one, other in mates:
        mated |= {one, other}
        _join_mates(joints, by_place.get(one, []), by_place.get(other, []))
    for pair in wires:
        joints.bind(pair)
    _join_named_splices(joints, at_splices)
    joints.settle_colors()
    joints.settle_options()
    marks = _Marks(terms, mated, several, by_place)
    return [
        Net(tuple(members), marks.flags(members) + joints.flags(members)) for members in joints.components()
    ]


class _Joints:
    """A union-find over terms that knows options: rows of different options are never joined."""

    def __init__(self, terms: Sequence[Term]) -> None:
        self.terms = terms
        self._parent = list(range(len(terms)))
        self._plain: list[tuple[int, int]] = []  #: kept only where options may take joints back
        self._open: list[tuple[int, int]] = []  #: holds only where the option is fitted
        self._with_options = any(term.option for term in terms)
        self.in_question: list[tuple[list[list[int]], list[int]]] = []  #: one number, several base colours
        self._flags: dict[int, set[str]] = defaultdict(set)

    def find(self, term: int) -> int:
        """Return the term that stands for all that this one is joined to."""
        parent = self._parent
        root = term
        while parent[root] != root:
            root = parent[root]
        while parent[term] != root:
            parent[term], term = root, parent[term]
        return root

    def bind(self, group: Iterable[int]) -> None:
        """Join terms: those of one option for certain, those of none to each option where it is fitted."""
        if not self._with_options:
            self._chain(group)
            return
        of_option = _grouped(group, lambda i: self.terms[i].option)
        for option, same in of_option.items():
            self._chain(same)
            self._plain += [(same[0], i) for i in same[1:]]
            if option and "" in of_option:
                self._open.append((of_option[""][0], same[0]))
                self._chain((of_option[""][0], same[0]))

    def mark(self, group: Iterable[int], flag: str) -> None:
        """Put a flag on the nets these terms will be in."""
        for term in group:
            self._flags[term].add(flag)

    def flags(self, members: Iterable[int]) -> tuple[str, ...]:
        """Return the flags put on a net's terms, sorted."""
        if not self._flags:
            return ()
        return tuple(sorted({flag for i in members for flag in self._flags.get(i, ())}))

    def settle_colors(self) -> None:
        """Join the colours of one number where an in-line or splice lies between them, else say so.

        Rows without a colour belong to whichever it is, once there is but one.
        """
        left, before = self.in_question, -1
        while left and len(left) != before:  # what one number joins may bring another's colours together
            before, still = len(left), []
            for colored, blank in left:
                if len({self.find(group[0]) for group in colored}) == 1:
                    self.bind([colored[0][0], *blank])
                else:
                    still.append((colored, blank))
            left = still
        for colored, blank in left:
            self.mark((i for group in (*colored, blank) for i in group), "circuit-contradicts")

    def settle_options(self) -> None:
        """Take back what joins rows of two options through rows of none."""
        if not self._open:
            return
        options: dict[int, set[str]] = defaultdict(set)
        for i, term in enumerate(self.terms):
            if term.option:
                options[self.find(i)].add(term.option)
        several = {root for root, found in options.items() if len(found) > 1}
        if not several:
            return
        kept = [pair for pair in self._open if self.find(pair[0]) not in several]
        for pair in self._open:
            if self.find(pair[0]) in several:
                self.mark(pair, "options-open")
        self._parent = list(range(len(self.terms)))
        for one, other in (*self._plain, *kept):
            self._parent[self.find(other)] = self.find(one)

    def components(self) -> Iterable[list[int]]:
        """Return the terms of each net, nets in the order of their first terms."""
        return _grouped(range(len(self.terms)), self.find).values()

    def _chain(self, group: Iterable[int]) -> None:
        members = iter(group)
        first = next(members, None)
        if first is None:
            return
        root = self.find(first)
        for term in members:
            self._parent[self.find(term)] = root


def _join_circuits(joints: _Joints, by_place: Mapping[int, list[int]]) -> None:
    """Join what carries one number; several base colours of it wait for what lies between them."""
    terms = joints.terms
    fuses = _two_sided_fuses(terms)
    for group in _grouped((i for i, t in enumerate(terms) if t.joins), lambda i: terms[i].circuit).values():
        between = _on_both_sides(terms, group, fuses)
        if between:
            joints.mark(group, "fuse-between")
            group = [i for i in group if i not in between]
        colored, blank = _by_base(terms, group)
        if len(colored) < 2 or any(terms[i].role in ON_THE_PATH for i in blank):
            joints.bind(group)
            continue
        for same in (*colored, blank):
            joints.bind(same)
        joints.in_question.append((colored, blank))


def _by_base(terms: Sequence[Term], group: Iterable[int]) -> tuple[list[list[int]], list[int]]:
    """Return terms grouped by base colour, and those without one."""
    of_base = _grouped(group, lambda i: terms[i].base)
    blank = of_base.pop("", [])
    return list(of_base.values()), blank


def _two_sided_fuses(terms: Sequence[Term]) -> set[str]:
    """Return the fuse holders that are one fuse with a cavity on each side; a box has more.

    A box whose table prints both sides of each fuse names them itself (`Term.fuse`).
    """
    places: dict[str, set[int]] = defaultdict(set)
    for term in terms:
        if term.role == "fuse":
            places[term.connector].add(term.place)
    return {name for name, found in places.items() if len(found) == 2}


def _on_both_sides(terms: Sequence[Term], group: Iterable[int], fuses: set[str]) -> set[int]:
    """Return the terms of one number at a fuse that has it on both sides."""
    at: dict[tuple[str, str], list[int]] = defaultdict(list)
    for i in group:
        if terms[i].fuse or terms[i].connector in fuses:
            at[terms[i].connector, terms[i].fuse].append(i)
    return {i for found in at.values() if len({terms[i].place for i in found}) > 1 for i in found}


def _join_splices(joints: _Joints) -> None:
    terms = joints.terms
    legs = (i for i, term in enumerate(terms) if term.role == "splice")
    for same in _grouped(legs, lambda i: terms[i].connector).values():
        joints.bind(same)
        wires = [i for i in same if not terms[i].listed]
        for i in same if wires else ():
            if terms[i].listed and not any(may_meet(terms[i].circuit, terms[j].circuit) for j in wires):
                joints.mark((i,), "splice-contradicts")


def _join_named_splices(joints: _Joints, at_splices: Iterable[tuple[int, int]]) -> None:
    """Join rows to the splice they name; one of another circuit, which nothing else joins, contradicts it."""
    terms, strange = joints.terms, []
    named: dict[int, list[int]] = defaultdict(list)
    for row, splice in at_splices:
        named[row].append(splice)
    for row, own in named.items():
        if any(may_meet(terms[row].circuit, terms[splice].circuit) for splice in own):
            joints.bind((own[0], row))
        else:
            strange.append((row, own[0]))
    for row, splice in strange:
        if joints.find(row) != joints.find(splice):
            joints.mark((row, splice), "splice-contradicts")
            joints.bind((splice, row))


def _join_cavities(joints: _Joints, by_place: Mapping[int, list[int]]) -> set[int]:
    """Join the wires of each cavity, and return the places that hold two wires or more.

    Tables that put different circuits into one cavity contradict each other; their rows stay apart.
    """
    terms = joints.terms
    several: set[int] = set()
    for place, group in by_place.items():
        if len(group) < 2:
            continue
        if terms[group[0]].role == "ground":  # a stud is an end: what meets there stays apart
            for same in _grouped(group, lambda i: (terms[i].circuit, terms[i].base)).values():
                if terms[same[0]].joins or len({terms[i].table for i in same}) == len(same):
                    joints.bind(same)  # one table printing a voltage's name twice has two wires
            continue
        wires = [i for i in group if not terms[i].listed]
        contradicts = _contradicts(terms, wires)
        if contradicts or _hangs_on_option(terms, wires):
            joints.mark(group, "cavity-contradicts" if contradicts else "options-open")
            for same in _grouped(group, lambda i: terms[i].circuit).values():
                colored, blank = _by_base(terms, same)
                for one in [same] if len(colored) < 2 else (*colored, blank):
                    joints.bind(one)
            continue
        joints.bind(group)
        of_table = _grouped(wires, lambda i: (terms[i].table, terms[i].option))
        if any(len(rows) > 1 for rows in of_table.values()):
            several.add(place)
    return several


def _contradicts(terms: Sequence[Term], group: Sequence[int]) -> bool:
    """Say whether two tables print what cannot both be in one cavity: neither's wires hold the other's."""
    contents: dict[tuple[tuple[int, int, int], str], set[str]] = defaultdict(set)
    for i in group:
        if terms[i].circuit:
            contents[terms[i].table, terms[i].option].add(terms[i].circuit)
    for (one, option), here in contents.items():
        for (other, of_option), there in contents.items():
            apart = one != other and option == of_option
            if apart and not here <= there and not there <= here:
                return True
    return _colors_contradict(terms, group)


def _hangs_on_option(terms: Sequence[Term], group: Sequence[int]) -> bool:
    """Say whether an option puts another circuit into a cavity: beside what is there, or in its stead."""
    of_option: dict[str, set[str]] = defaultdict(set)
    for i in group:
        if terms[i].circuit:
            of_option[terms[i].option].add(terms[i].circuit)
    plain = of_option.pop("", set())
    return any(plain and not circuits <= plain for circuits in of_option.values())


def _colors_contradict(terms: Sequence[Term], group: Sequence[int]) -> bool:
    """Say whether tables give one wire of a cavity two base colours."""
    bases: dict[tuple[str, str], dict[tuple[int, int, int], set[str]]] = defaultdict(lambda: defaultdict(set))
    unnumbered = any(terms[i].base and not terms[i].circuit for i in group)
    for i in group:
        if terms[i].base:
            bases[terms[i].circuit, terms[i].option][terms[i].table].add(terms[i].base)
            # a table without numbers is held against all that another puts there
            if unnumbered and terms[i].circuit:
                bases["", terms[i].option][terms[i].table].add(terms[i].base)
    return any(
        not here <= there and not there <= here
        for of_table in bases.values()
        for here in of_table.values()
        for there in of_table.values()
    )


def _join_mates(joints: _Joints, here: Sequence[int], there: Sequence[int]) -> None:
    terms = joints.terms
    if any(len(group) > 1 and _contradicts(terms, group) for group in (here, there)):
        return  # which of the wires goes on is not known; what carries one number is joined by it
    if here and there:
        joints.bind((*here, *there))


class _Marks:
    """What can be said of a net by its terms alone."""

    def __init__(
        self,
        terms: Sequence[Term],
        mated: set[int],
        several: set[int],
        by_place: Mapping[int, list[int]],
    ) -> None:
        self._terms = terms
        self._mated = mated
        self._several = several
        legs: dict[str, set[int]] = defaultdict(set)
        for place, group in by_place.items():
            if terms[group[0]].role == "splice" and not all(terms[i].listed for i in group):
                legs[terms[group[0]].connector].add(place)
        self._only_listed = {term.connector for term in terms if term.listed and term.role == "splice"}
        self._only_listed -= legs.keys()
        self._one_legged = {name for name, places in legs.items() if len(places) < 2}
        # a splice with all its wires in one place, as lists without leg names print it, has its legs
        for name in list(self._one_legged):
            (place,) = legs[name]
            if place in several:
                self._one_legged.discard(name)

    def flags(self, members: Sequence[int]) -> tuple[str, ...]:
        """Return the flags of a net with these terms."""
        terms = [self._terms[i] for i in members]
        ends: set[int] = set()
        mate_missing = one_leg = spliced = listed = doubtful = False
        for term in terms:
            if term.role == "inline":
                mate_missing = mate_missing or term.place not in self._mated
            elif term.role == "splice":
                spliced = True
                one_leg = one_leg or term.connector in self._one_legged
                listed = listed or term.connector in self._only_listed
            else:
                ends.add(term.place)
            spliced = spliced or term.place in self._several
            doubtful = doubtful or term.doubtful
        said = {
            "end-missing": len(ends) < 2,
            "mate-missing": mate_missing,
            "splice-one-leg": one_leg,
            "splice-listed": listed,
            "splice-unseen": len(ends) >= _LEAST_BRANCHED and not spliced,
            "joint-not-stated": len(ends) > 1 and _joint_not_stated(terms),
            "pins-in-doubt": doubtful,
        }
        return tuple(flag for flag, holds in said.items() if holds)


def _joint_not_stated(terms: Iterable[Term]) -> bool:
    places: dict[tuple[str, str], set[int]] = defaultdict(set)
    for term in terms:
        if term.role in ("component", "unknown") and term.joins:
            places[term.owner or term.connector, term.circuit].add(term.place)
    return any(len(found) > 1 for found in places.values())


def _grouped(items: Iterable[int], key: Callable[[int], _Key]) -> dict[_Key, list[int]]:
    groups: dict[_Key, list[int]] = defaultdict(list)
    for item in items:
        groups[key(item)].append(item)
    return groups
