"""The plan as one flat CSV table, safe in a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from xref.sheets.plainfiles import write_csv
from xref.sheets.printed import Wire
from xref.sheets.printed_plan import PLAN_TICKS, Listing, PrintedCut, PrintedPlan, PrintedStation
from xref.sheets.shape import Shape

COLUMNS = (
    "kind",
    "text",
    "figure",
    "one_by_one",
    "how",
    "id",
    "connector",
    "component",
    "going",
    "cavity",
    "circuit",
    "color_code",
    "color",
    "size",
    "function",
    "where",
    "meter_first",
    "reads",
    "label_plug",
    "label_loom",
    "plug_stub",
    "loom_stub",
    "extension",
    "document",
    "manual_page",
    *PLAN_TICKS,
)
#: Between several entries of one cell.
_BETWEEN = " | "


def write_plan_csv(plan: PrintedPlan, path: Path) -> None:
    """Write the plan; `kind` says what a row is: caution, question, count, cut, or the list it is of."""
    shape = Shape(name="plan", columns=COLUMNS)
    write_csv(shape, (shape.cells(row) for row in _rows(plan)), path, plain=False)


def _rows(plan: PrintedPlan) -> Iterator[Mapping[str, object]]:
    named = f"{plan.title} — {plan.machine}" if plan.machine else plan.title
    yield {"kind": "plan", "text": named}
    yield from ({"kind": "caution", "text": text} for text in plan.cautions)
    if plan.nothing:
        yield {"kind": "plan", "text": plan.nothing}
    for title, questions in plan.questions:
        for text, settle in questions:
            yield {"kind": "question", "text": _BETWEEN.join((text, settle)), "how": title}
    for item in plan.figures:
        yield {
            "kind": "count",
            "text": item.title,
            "figure": item.figure,
            "one_by_one": item.one_by_one,
            "how": item.how,
        }
    yield from ({"kind": "not readable", "text": text} for text in plan.unread)
    for station in plan.stations:
        yield from (_cut(station, cut) for cut in station.cuts)
    for listing in plan.listings:
        yield from _listing(listing)


def _cut(station: PrintedStation, cut: PrintedCut) -> dict[str, object]:
    return {
        "kind": "cut",
        "text": f"SAFETY: {cut.safety}" if cut.safety else "",
        "id": cut.id,
        "connector": station.name,
        "component": station.component,
        "going": station.going,
        "cavity": cut.cavity,
        "circuit": cut.circuit,
        "color_code": cut.wire.code if cut.wire else "",
        "color": cut.wire.words if cut.wire else "",
        "size": cut.size,
        "function": cut.does,
        "where": cut.where,
        "meter_first": _BETWEEN.join((*station.checks, *cut.meter)),
        "label_plug": cut.labels[0],
        "label_loom": cut.labels[1],
        "plug_stub": cut.plug,
        "loom_stub": cut.loom,
        "extension": _BETWEEN.join(cut.extensions),
        "document": cut.document,
        "manual_page": cut.page,
    }


def _listing(listing: Listing) -> Iterator[Mapping[str, object]]:
    if listing.note:
        yield {"kind": listing.kind, "how": "note", "text": listing.note}
    for row in listing.rows:
        cells = [f"{cell.words} ({cell.code})" if isinstance(cell, Wire) else cell for cell in row]
        named = [f"{head}: {cell}" for head, cell in zip(listing.heads, cells, strict=True) if cell]
        yield {"kind": listing.kind, "id": cells[0], "text": _BETWEEN.join(named)}
