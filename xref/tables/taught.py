"""A page layout the person taught: the columns' places and meanings, and finding it on a page again.

Where a table of the page stands in the taught columns, its cells are kept and only the meaning of the
columns is the person's. Where nothing was found, the lines under the taught header (or, without header,
the lines with a cavity in the cavity column) are cut at the taught borders.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.pages.content import PageContent
from xref.tables.layout import TAUGHT, TaughtLayout
from xref.tables.lines import words_to_lines
from xref.tables.page import PageReading
from xref.tables.table import Band, Table
from xref.tables.taught_cut import SAME_BORDER, cut_layout, cut_tables, folded, overlap


def taught_reading(
    content: PageContent, reading: PageReading, layouts: Sequence[TaughtLayout], *, candidate: bool
) -> PageReading:
    """Return the page's reading with every table of a taught layout read that way.

    A page that would not have been looked at (`candidate` is False) keeps its taught tables only.
    """
    lines = words_to_lines(content.words)
    tables = list(reading.tables)
    taught: list[Table] = []
    for layout in layouts:
        own = [t for t in tables if not layout.anew and fits(t, layout)]
        cut = cut_tables(content, lines, layout, [t.box for t in taught])
        taught += [_compared(replace(t, taught=layout), cut) for t in own]
        tables = [t for t in tables if t not in own]
        if not own:
            tables = [t for t in tables if not any(overlap(t.box, c.box) for c in cut)]
            taught += cut
    if not taught and not candidate:
        return PageReading(
            page=reading.page, label=reading.label, outcome="skipped", why=reading.why, frame=reading.frame
        )
    kept = sorted([*(tables if candidate else []), *taught], key=lambda t: (round(t.box.top / 6), t.box.x0))
    numbered = tuple(replace(t, number=n) for n, t in enumerate(kept, start=1))
    why = TAUGHT if taught else reading.why
    return replace(reading, tables=numbered, why=why)


def _compared(table: Table, cut: Sequence[Table]) -> Table:
    """Mark the rows of a table that was found which the lines cut at its borders read otherwise.

    The person vouches for the columns, not for the rows; two readings that agree do.
    """
    second = [band for other in cut if overlap(other.box, table.box) for band in other.bands]
    known = {_texts(band) for band in second}
    wrong = (b for b in table.bands if any(c.text for c in b.cells) and _texts(b) not in known)
    tops = {round(band.box.top, 0) for band in wrong} if second else set()
    return replace(table, contested=tuple(sorted({*table.contested, *tops})))


def _texts(band: Band) -> tuple[str, ...]:
    return tuple("".join(c.text.split()) for c in band.cells)


def fits(table: Table, layout: TaughtLayout) -> bool:
    """Say whether a table stands in the taught columns, wherever on the page, under the same header."""
    if table.columns != len(layout.roles):
        return False
    shift = table.edges[1] - layout.edges[1] if table.columns > 1 else 0.0
    inner = zip(table.edges[1:-1], layout.edges[1:-1], strict=True)
    if any(abs(a - b - shift) > SAME_BORDER for a, b in inner):
        return False
    return folded(table.header) == folded(layout.header)


def layout_of(
    content: PageContent, table: Table, roles: Sequence[str], *, anew: bool = False
) -> TaughtLayout:
    """Return the layout of a table whose columns the person named; with `anew` its cells are not kept."""
    below = replace(content, words=tuple(w for w in content.words if w.box.top >= table.box.top - 1))
    cut = cut_layout(below, roles, table.edges)
    line = cut.line if cut else ()
    return TaughtLayout(roles=tuple(roles), edges=table.edges, header=table.header, line=line, anew=anew)
