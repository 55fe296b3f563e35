"""Lines between a connector's heading and its tables that say which half of it each table shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pins.halfmarks import FIELDS, Said, said_of_half, two_halves
from xref.pins.heading import parse_heading, without_number
from xref.pins.lines import stands_out
from xref.pins.naming import POSSIBLE, RIGHT_OVER, Naming
from xref.pins.overleaf import Owner
from xref.pins.pinouts import Pinout
from xref.tables.table import Around

#: Two halves have this share of their cavities in common.
ALIKE = 0.6


def half_line(pinout: Pinout) -> Around | None:
    """Return the nearest line over a table that says which half it is, and no more."""
    over = [
        a
        for a in pinout.table.around
        if a.where in ("above", "title", "beside") or (a.where == "page" and -2 <= a.gap <= RIGHT_OVER)
    ]
    said = [a for a in over if _says_half(a, pinout)]
    return min(said, key=lambda a: a.gap, default=None)


def _says_half(near: Around, pinout: Pinout) -> bool:
    """True for `Half A (cab harness)`, `Plug`; a letter or a harness alone must stand out."""
    said = _said(near.line.text)
    if said.place or not any(getattr(said, field) for field in FIELDS):
        return False
    if parse_heading(near.line.text).designator:
        return False
    return bool(said.mark) or (near.where != "beside" and stands_out(near.line, pinout.table))


def _said(text: str) -> Said:
    return said_of_half(without_number(text).rstrip(":"))


def with_half(
    owner: Owner | None, pinout: Pinout, best: Naming | None, last: tuple[Pinout, Owner] | None
) -> Owner | None:
    """Add to an owner which half its table is; one headed as the other half only takes the name before."""
    line = half_line(pinout)
    if line is None or pinout.listed:
        return owner
    text = line.line.text.strip()
    named = best is not None and best.head.designator and best.score >= POSSIBLE and best.where != "page"
    if named and best is not None:
        over = best.near is None or best.near.gap > line.gap or line.where == "beside"
        return _marked(owner, text) if owner is not None and over else owner
    if last is not None and _other_half(pinout, text, last):
        return replace(_marked(last[1], text), heads=(_marked(last[1], text).heads[-1],) * len(pinout.blocks))
    page = best is not None and best.head.designator and best.where == "page" and best.score >= POSSIBLE
    return _marked(owner, text) if owner is not None and page else owner


def _other_half(pinout: Pinout, text: str, last: tuple[Pinout, Owner]) -> bool:
    before, owner = last
    if pinout.page.page - before.page.page > 1 or not owner.heads[-1].half_text:
        return False
    one, other = two_halves(_said(owner.heads[-1].half_text), _said(text))
    return bool(one and other) and _alike(before.cavities, pinout.cavities)


def _alike(a: Sequence[str], b: Sequence[str]) -> bool:
    one, other = set(a), set(b)
    return len(one & other) >= ALIKE * len(one | other) > 0


def _marked(owner: Owner, text: str) -> Owner:
    return replace(owner, heads=tuple(replace(h, half_text=text) for h in owner.heads))
