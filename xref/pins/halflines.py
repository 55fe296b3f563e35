"""Lines between a connector's heading and its tables that say which half of it each table shows."""

from __future__ import annotations

from dataclasses import replace

from xref.pins.halfmarks import FIELDS, Said, said_of_half, share_cavities, two_halves
from xref.pins.heading import Head, parse_heading, without_number
from xref.pins.lines import stands_out
from xref.pins.naming import POSSIBLE, RIGHT_OVER, Naming
from xref.pins.overleaf import Owner
from xref.pins.pinouts import Pinout
from xref.tables.lines import box_of, join_words, line_to_chunks
from xref.tables.table import Around


def half_line(pinout: Pinout) -> Around | None:
    """Return the nearest line over a table that says which half it is, and no more."""
    said = [a for a in (*_over(pinout), *_beside(pinout)) if _says_half(a, pinout)]
    return min(said, key=lambda a: a.gap, default=None)


def _over(pinout: Pinout) -> list[Around]:
    near = [a for a in pinout.table.around if a.where == "page" and -2 <= a.gap <= RIGHT_OVER]
    return [*near, *(a for a in pinout.table.around if a.where in ("above", "title"))]


def _beside(pinout: Pinout) -> list[Around]:
    return [a for a in pinout.table.around if a.where == "beside"]


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
    if pinout.listed:
        return owner
    if owner is not None and _holds_both(pinout):
        return replace(owner, heads=tuple(_with_halves(h, pinout) for h in owner.heads))
    line = half_line(pinout)
    if line is None:
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


def _holds_both(pinout: Pinout) -> bool:
    """True where each row holds both halves, and no header of the table says which is which."""
    return (
        len(pinout.blocks) == 1 and pinout.blocks[0][0].kind == "pair" and not any(pinout.blocks[0][0].halves)
    )


def _with_halves(head: Head, pinout: Pinout) -> Head:
    """Add the two texts that stand beside each other over the halves of a table."""
    plan, table = pinout.blocks[0][0], pinout.table
    border = table.edges[min(plan.other.values(), default=0)]
    for near in sorted(_over(pinout), key=lambda a: a.gap):
        chunks = line_to_chunks(near.line)
        for edge in (border - table.size, (box_of(near.line.words).x0 + box_of(near.line.words).x1) / 2):
            left, right = (
                " – ".join(join_words(c) for c in chunks if (box_of(c).x0 >= edge) is other)
                for other in (False, True)
            )
            said = [said_of_half(text, head.connector) for text in (left, right)]
            if left and right and all(two_halves(*said)):
                return replace(head, halves=(left, right))
    return head


def _other_half(pinout: Pinout, text: str, last: tuple[Pinout, Owner]) -> bool:
    before, owner = last
    if pinout.page.page - before.page.page > 1 or not owner.heads[-1].half_text:
        return False
    one, other = two_halves(_said(owner.heads[-1].half_text), _said(text))
    return bool(one and other) and share_cavities(before.cavities, pinout.cavities)


def _marked(owner: Owner, text: str) -> Owner:
    return replace(owner, heads=tuple(replace(h, half_text=text) for h in owner.heads))
