"""A page whose text runs sideways, turned so that it reads from left to right."""

from __future__ import annotations

from dataclasses import replace

from xref.records import Box, Pin
from xref.sheets.page_seen import OwnerSeen, PageExplained, TableSeen


def upright(page: PageExplained) -> PageExplained:
    """Return the page with every box turned as the page was turned for reading (clockwise, degrees)."""
    if not page.turned:
        return page

    def box(of: Box) -> Box:
        return turned_box(of, page.turned, page.width, page.height)

    def table(of: TableSeen) -> TableSeen:
        return replace(
            of,
            box=box(of.box),
            bands=tuple(map(box, of.bands)),
            columns=tuple(replace(column, box=box(column.box)) for column in of.columns),
            owners=tuple(map(owner, of.owners)),
        )

    def owner(of: OwnerSeen) -> OwnerSeen:
        return replace(of, heading_box=box(of.heading_box) if of.heading_box else None)

    def row(of: Pin) -> Pin:
        to = box(of.box)
        return replace(of, x0=to.x0, top=to.top, x1=to.x1, bottom=to.bottom)

    sideways = page.turned in (90, 270)
    return replace(
        page,
        width=page.height if sideways else page.width,
        height=page.width if sideways else page.height,
        rules=tuple(map(box, page.rules)),
        words=tuple(map(box, page.words)),
        tables=tuple(map(table, page.tables)),
        rows=tuple(map(row, page.rows)),
    )


def turned_box(box: Box, turned: int, width: float, height: float) -> Box:
    """Turn a box clockwise with its page of this width and height, by 90, 180 or 270 degrees."""
    if turned == 90:
        return Box(x0=height - box.bottom, top=box.x0, x1=height - box.top, bottom=box.x1)
    if turned == 180:
        return Box(x0=width - box.x1, top=height - box.bottom, x1=width - box.x0, bottom=height - box.top)
    if turned == 270:
        return Box(x0=box.top, top=width - box.x1, x1=box.bottom, bottom=width - box.x0)
    return box
