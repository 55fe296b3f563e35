"""Checks on a document's pins that share nothing with the reading they check; each names its doubt."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from xref.pins.build import Made
from xref.pins.check_cavities import check_cavities
from xref.pins.check_circuits import check_circuits
from xref.pins.check_ends import check_ends, check_names
from xref.pins.check_notices import check_oddities, check_potentials
from xref.pins.check_print import check_print
from xref.pins.farends import check_far_ends
from xref.pins.second_reading import check_second
from xref.records import Connector, Pin, Role

#: Up to this share of circuits with a blank in them, the blank is an accident of reading.
FEW_BLANKS = 0.2
#: Doubts that say that a row was cut wrongly; when so many, and this share, of a table's rows have one,
#: the rest is doubtful, too.
MISREAD = frozenset(
    {
        *("row-assembled", "readings-disagree", "text-overfull", "cavity-odd", "cavity-gap"),
        *("circuit-odd", "color-odd", "unused-but-filled"),
    }
)
FEWEST_FAILED = 2
SHARE_FAILED = 0.3

#: Columns whose role was guessed; so many rows that bear all checks show that the guess was right.
GUESSED = "column-guessed"
FEWEST_PROVEN = 4

_Key = tuple[str, str]


def check_pins(made: Sequence[Made]) -> list[Pin]:
    """Return the pins with the doubts and notices that only the whole connector shows."""
    groups: dict[_Key, list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        groups[(m.pin.connector, m.pin.half)].append(i)
    flags: dict[int, list[str]] = defaultdict(list)
    notices: dict[int, list[str]] = defaultdict(list)
    for members in groups.values():
        _repeated(made, members, flags, notices)
        _over_stated(made, members, flags)
        _same_colors(made, members, notices)
        for i, doubt in check_cavities(made, members):
            flags[i].append(doubt)
    for check in (check_circuits, check_ends, check_names, check_far_ends, check_second):
        for i, doubt in check(made):
            flags[i].append(doubt)
    named, undecided = check_potentials(made)
    for i, doubt in undecided:
        flags[i].append(doubt)
    for i, notice in (*named, *check_oddities(made)):
        notices[i].append(notice)
    _blanks(made, flags)
    for i, doubt in check_print(made):
        # A stamp alone changes no letter; it may be why something else does not fit.
        if doubt != "under-watermark" or flags[i]:
            flags[i].append(doubt)
    _spread(made, flags)
    proven = _proven(made, flags)
    return [
        replace(
            m.pin,
            flags=tuple(f for f in dict.fromkeys([*m.pin.flags, *flags[i]]) if (i, f) not in proven),
            notices=tuple(dict.fromkeys([*m.pin.notices, *notices[i]])),
        )
        for i, m in enumerate(made)
    ]


def _proven(made: Sequence[Made], flags: dict[int, list[str]]) -> set[tuple[int, str]]:
    """Return the doubts of rows in tables whose guessed columns bear every check: then none are left.

    Each row must be clean otherwise, and say what wire it is; of such rows drawn, 2 in 291 were wrong.
    """
    tables: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        tables[(m.pin.page, m.pin.table_no)].append(i)
    proven: set[tuple[int, str]] = set()
    for rows in tables.values():
        clean = all(not {*flags[i], *made[i].pin.flags} - {GUESSED} for i in rows)
        wires = [i for i in rows if made[i].pin.status != "unused"]
        told = [i for i in wires if made[i].pin.color_code or made[i].pin.circuit]
        if clean and len(told) >= FEWEST_PROVEN and len(told) == len(wires):
            proven.update((i, GUESSED) for i in rows)
    return proven


def _spread(made: Sequence[Made], flags: dict[int, list[str]]) -> None:
    """Where many rows of a table do not bear a check, the others were cut by the same knife."""
    tables: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, m in enumerate(made):
        tables[(m.pin.page, m.pin.table_no)].append(i)
    for rows in tables.values():
        failed = [i for i in rows if MISREAD & {*flags[i], *made[i].pin.flags}]
        if len(failed) >= FEWEST_FAILED and len(failed) >= SHARE_FAILED * len(rows):
            for i in rows:
                if i not in failed and made[i].pin.status != "unused":
                    flags[i].append("neighbours-doubtful")


def _blanks(made: Sequence[Made], flags: dict[int, list[str]]) -> None:
    """Where a document writes its circuits without blanks, one with a blank is two, or a cut-off text."""
    named = [i for i, m in enumerate(made) if m.pin.circuit]
    blank = [i for i in named if " " in made[i].pin.circuit]
    if len(blank) <= FEW_BLANKS * len(named):
        for i in blank:
            flags[i].append("row-assembled")


def _repeated(
    made: Sequence[Made],
    members: Sequence[int],
    flags: dict[int, list[str]],
    notices: dict[int, list[str]],
) -> None:
    """The same cavity printed again with something else in it, and no option to tell them apart."""
    seen: dict[tuple[str, str], int] = {}
    for i in members:
        pin = made[i].pin
        if not pin.cavity or made[i].second or pin.role in ("splice", "ground"):
            continue
        key = (pin.cavity, pin.option)
        if key not in seen:
            seen[key] = i
            continue
        first = made[seen[key]].pin
        same = (pin.circuit, pin.color_code, pin.status) == (first.circuit, first.color_code, first.status)
        if same and (pin.page, pin.table_no) != (first.page, first.table_no):
            notices[i].append("duplicate-page")
        elif (pin.goes_to or first.goes_to) and pin.goes_to != first.goes_to:
            continue  # a wire list prints a cavity once for each wire
        else:
            flags[i].append("cavity-repeated")
            flags[seen[key]].append("cavity-repeated")


def _over_stated(made: Sequence[Made], members: Sequence[int], flags: dict[int, list[str]]) -> None:
    stated = next((made[i].head.ways for i in members if made[i].head.ways), None)
    if not stated:
        return
    cavities = {made[i].pin.cavity for i in members if made[i].pin.cavity}
    if len(cavities) <= stated:
        return
    numbers = [int(c) for c in cavities if c.isdecimal()]
    # Where nearly all are numbers, those that are none are too many; else it may be any of them.
    counted = len(numbers) >= stated
    for i in members:
        cavity = made[i].pin.cavity
        beyond = int(cavity) > stated if cavity.isdecimal() else True
        if beyond or not counted:
            flags[i].append("cavity-over-stated")


def _same_colors(made: Sequence[Made], members: Sequence[int], notices: dict[int, list[str]]) -> None:
    by_colors: dict[tuple[str, str], list[int]] = defaultdict(list)
    for i in members:
        pin = made[i].pin
        if pin.base_color and pin.role not in ("splice", "ground", "fuse"):
            by_colors[(pin.base_color, pin.stripe_color)].append(i)
    for (base, stripe), found in by_colors.items():
        if len({made[i].pin.cavity for i in found}) > 1:
            for i in found:
                notices[i].append("same-color-in-connector")
        if stripe and base != stripe and (stripe, base) in by_colors:
            for i in found:
                notices[i].append("reversed-colors-in-connector")


def _is_own(row: Made, name: str) -> bool:
    """False for the heading of a list that names connectors row by row: it says nothing of any of them."""
    return row.head.connector == name or bool(row.pin.connector_name)


def pins_to_connectors(made: Sequence[Made], pins: Sequence[Pin]) -> list[Connector]:
    """Return a connector record for each connector (half) of the document, from heads and pins."""
    groups: dict[_Key, list[int]] = defaultdict(list)
    for i, pin in enumerate(pins):
        groups[(pin.connector, pin.half)].append(i)
    connectors = []
    for (name, half), members in groups.items():
        here = [pins[i] for i in members]
        own = [made[i].head for i in members if _is_own(made[i], name)]
        role: Role = next((p.role for p in here if p.role != "unknown"), "unknown")
        pages = sorted({p.page for p in here})
        connectors.append(
            Connector(
                machine=here[0].machine,
                connector=name,
                half=half,
                role=role,
                component=next((p.component for p in here if p.component), ""),
                connector_name=next((p.connector_name for p in here if p.connector_name), ""),
                harness=next((p.harness for p in here if p.harness), ""),
                color=next((h.color for h in own if h.color), ""),
                location=next((h.location for h in own if h.location), ""),
                gender=next((h.gender for h in own if h.gender), ""),
                cavities_stated=next((h.ways for h in own if h.ways), None),
                cavities_read=len({p.cavity for p in here if p.cavity}),
                view=next((h.view for h in own if h.view), ""),
                document=here[0].document,
                pages=tuple(pages),
                flags=tuple(
                    sorted(
                        {f for p in here for f in p.flags if f in ("heading-uncertain", "cavity-over-stated")}
                    )
                ),
                role_why=next((made[i].role_why for i in members if made[i].role_why), ""),
            )
        )
    return connectors
