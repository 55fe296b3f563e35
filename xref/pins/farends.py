"""What the far ends of a document's wires say of a table: whose cavities hold the circuits it lists.

`X5:3` beside circuit 1440 in one table, and 1440 in cavity 3 of another: that one is X5's, whatever its
heading seems to say. Wire lists tell the same of both ends.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from xref.pins.build import Made
from xref.rows.cavities import connectors_listed

#: So many wires that end in the same cavities as a table's show whose it is, and this share of all that end
#: there.
FEWEST = 4
SHARE = 0.6
#: A name is believed where so many of the wires said to end there, or more, do.
BORNE_OUT = 0.25
#: Far ends are believed where this share of those that can be compared is borne out by the tables.
BELIEVED = 0.5

#: A wire in a cavity: the cavity and the circuit.
Held = tuple[str, str]
#: A block of a table.
_Place = tuple[int, int, int]


def named_by_far_ends(made: Sequence[Made]) -> list[Made]:
    """Give a table the name that the wires elsewhere have for it, where its own name is borne out by none.

    Such a name is doubted. It is taken only where no other table has it.
    """
    told, tables = _told(made), _tables(made)
    known = {_bare(m.pin.connector) for m in made if m.part.plan.kind != "ends"}
    names: dict[_Place, str] = {}
    for place, (name, held) in tables.items():
        if _bare(name) in told:
            continue
        fits = {n: len(held & wires) for n, wires in told.items() if n not in known and _apart(n, name)}
        best = max(fits, key=lambda n: fits[n], default="")
        if best and fits[best] >= FEWEST and fits[best] >= SHARE * len(told[best]):
            names[place] = best
    twice = Counter(names.values())
    names = {place: name for place, name in names.items() if twice[name] == 1}
    return [_renamed(m, names[p]) if (p := _place(m)) in names and not m.row.connector else m for m in made]


def check_far_ends(made: Sequence[Made]) -> Iterator[tuple[int, str]]:
    """Yield the rows of connectors that hold hardly one of the wires that are said to end there."""
    told = _told(made)
    held: dict[str, set[Held]] = defaultdict(set)
    for _, (name, own) in _tables(made).items():
        held[_bare(name)] |= own
    borne = {name: len(wires & held[name]) for name, wires in told.items() if name in held}
    total = sum(len(told[name]) for name in borne)
    if sum(borne.values()) < BELIEVED * total:
        return
    odd = {n for n, count in borne.items() if len(told[n]) >= FEWEST and count < BORNE_OUT * len(told[n])}
    for i, m in enumerate(made):
        if _bare(m.pin.connector) in odd and m.part.plan.kind != "ends":
            yield i, "heading-uncertain"


def _told(made: Sequence[Made]) -> dict[str, set[Held]]:
    """Return for each connector the wires that other tables say end there."""
    told: dict[str, set[Held]] = defaultdict(set)
    for m in made:
        if not m.pin.circuit:
            continue
        if m.part.plan.kind == "ends":
            told[_bare(m.pin.connector)].add((m.pin.cavity, m.pin.circuit))
            continue
        far = connectors_listed(m.pin.goes_to)
        if len(far) == 1:
            told[_bare(far[0][0])].add((far[0][1], m.pin.circuit))
    return told


def _tables(made: Sequence[Made]) -> dict[_Place, tuple[str, set[Held]]]:
    """Return the name and the wires of each block of a table that is no list of wires or connectors."""
    tables: dict[_Place, tuple[str, set[Held]]] = {}
    for m in made:
        if m.part.plan.kind != "ends" and m.pin.cavity:
            name, held = tables.setdefault(_place(m), (m.pin.connector, set()))
            if name == m.pin.connector and m.pin.circuit:
                held.add((m.pin.cavity, m.pin.circuit))
    return tables


def _place(m: Made) -> _Place:
    return m.pin.page, m.pin.table_no, m.part.block


def _bare(name: str) -> str:
    return name.lstrip("-=+")


def _apart(one: str, other: str) -> bool:
    """True for two connectors: `X5` and `X5-A` may be one."""
    a, b = _bare(one), _bare(other)
    return not a.startswith(b) and not b.startswith(a)


def _renamed(m: Made, name: str) -> Made:
    flags = tuple(dict.fromkeys((*m.pin.flags, "heading-uncertain")))
    head = replace(m.head, connector=name)
    return replace(m, head=head, pin=replace(m.pin, connector=name, connector_name="", flags=flags))
