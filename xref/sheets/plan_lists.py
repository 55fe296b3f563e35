"""The lists of a plan beside its cuts: extensions, caps, in-lines, what is refused, wire, readings …"""

from __future__ import annotations

from collections.abc import Iterable

from xref.data.plan_readings import machine_readings
from xref.moves.figures import FATE_WORDS, by_fate, metres_text, size_text
from xref.moves.ids import cavity_words
from xref.moves.kept_texts import BUS_NOTE, SUPPLY_NOTE, bus_rows, reading_rows, supply_counts, supply_rows
from xref.moves.metering import readings_of
from xref.moves.needs import wire_needed
from xref.moves.records import Join, Plan
from xref.moves.worklist import LIVE_WORDS, inline_remarks, join_ends, stub_names, wire_words
from xref.sheets.printed import Wire
from xref.sheets.printed_plan import ListCell, Listing
from xref.sheets.texts import on_one_line
from xref.sheets.wires import wire_in_words

#: Nets named under a fate that touches nothing: the rest are counted.
_MOST_NAMED = 24

_MACHINE_NOTE = "Read these before the first cut; else an old fault is blamed on the new work."
_METER_NOTE = (
    "Power off, battery disconnected, the plugs of all modules on these nets off, the in-lines on the way "
    "plugged together. Null the leads first. Where a line does not read as it should before the cut, the "
    "table is wrong for this machine: do not cut."
)
_REFUSED_NOTE = (
    "No cut is proposed for these, whatever the plan says. Never put an ohmmeter on an airbag circuit."
)


def listings_of(plan: Plan) -> tuple[Listing, ...]:
    """Return the lists in the order they are worked with; one without lines is left out."""
    found = (
        _refused(plan),
        _inlines(plan),
        _host(plan),
        _supplies(plan),
        _buses(plan),
        _bus_readings(plan),
        _joins(plan),
        _caps(plan),
        _links(plan),
        _wire(plan),
        _machine(plan),
        _readings(plan),
        _fates(plan),
    )
    return tuple(listing for listing in found if listing.rows)


def _listing(
    kind: str,
    title: str,
    columns: Iterable[tuple[str, float]],
    rows: Iterable[tuple[ListCell, ...]],
    *,
    note: str = "",
    ticks: tuple[str, ...] = (),
) -> Listing:
    columns = list(columns)
    return Listing(
        kind=kind,
        title=title,
        heads=tuple(head for head, _ in columns),
        shares=tuple(share for _, share in columns),
        rows=tuple(
            tuple(cell if isinstance(cell, Wire) else on_one_line(cell) for cell in row) for row in rows
        ),
        note=note,
        ticks=ticks,
    )


def _refused(plan: Plan) -> Listing:
    rows = [
        (item.circuit, ", ".join(cavity_words(pin) for pin in item.pins), item.reason)
        for item in plan.refused
    ]
    columns = (("Circuit", 0.14), ("Where it is", 0.5), ("Why", 0.36))
    return _listing("refused", "Never cut by this plan", columns, rows, note=_REFUSED_NOTE)


def _inlines(plan: Plan) -> Listing:
    ordered = sorted(plan.inlines, key=lambda item: item.fate != "goes")
    rows = [
        (
            item.connector,
            "GOES" if item.fate == "goes" else "stays",
            "" if item.fate == "goes" else str(item.cavities_used_after),
            "; ".join((item.because, *inline_remarks(item))),
        )
        for item in ordered
    ]
    columns = (("In-line", 0.14), ("Fate", 0.08), ("Still used", 0.09), ("Because", 0.69))
    return _listing("inline", "In-line connectors", columns, rows)


def _host(plan: Plan) -> Listing:
    ordered = sorted(plan.host, key=lambda need: need.pin.component or need.pin.connector)
    names = {net.number: net.name for net in plan.nets}
    rows = [
        (
            cavity_words(need.pin),
            need.pin.component,
            need.kind,
            names[need.net],
            need.pin.function,
            need.answer or "NOT ANSWERED",
        )
        for need in ordered
    ]
    columns = (
        *(("Cavity", 0.12), ("Module", 0.17), ("Kind", 0.08), ("Circuit", 0.12), ("Function", 0.24)),
        ("From the new vehicle", 0.27),
    )
    return _listing("host", "What the new vehicle gives", columns, rows, ticks=("fitted",))


def _supplies(plan: Plan) -> Listing:
    rows = [row for module in plan.supplies for row in supply_rows(module)]
    columns = (
        *(("Module", 0.18), ("Kind", 0.16), ("Cavity", 0.1), ("Circuit", 0.1)),
        *(("Before", 0.26), ("After", 0.2)),
    )
    note = " ".join((SUPPLY_NOTE, *(f"{text}." for text in supply_counts(plan.supplies))))
    return _listing(
        "supply", "Feeds and grounds of moved modules", columns, rows, note=note, ticks=("metered",)
    )


def _buses(plan: Plan) -> Listing:
    rows = [row for pair in plan.buses for row in bus_rows(pair)]
    columns = (("Bus", 0.16), ("What", 0.18), ("Before", 0.34), ("After", 0.32))
    return _listing("bus", "Bus pairs", columns, rows, note=BUS_NOTE)


def _bus_readings(plan: Plan) -> Listing:
    rows = reading_rows() if any(not pair.rule for pair in plan.buses) else []
    columns = (("H to L", 0.14), ("What it means", 0.24), ("But", 0.36), ("Source", 0.26))
    note = "Of high-speed CAN only, battery off, modules asleep. Between these values nothing is proved."
    return _listing("bus reading", "What a reading between H and L means", columns, rows, note=note)


def _joins(plan: Plan) -> Listing:
    columns = (
        *(("Joint", 0.09), ("Where", 0.17), ("What is joined there", 0.27), ("Wire", 0.13), ("Colour", 0.13)),
        ("Labels of the extension", 0.21),
    )
    rows = [_join(join) for join in plan.joins]
    return _listing("join", "Joints and extensions", columns, rows, ticks=("done",))


def _join(join: Join) -> tuple[ListCell, ...]:
    ends = "; ".join(f"{place}: {stub_names(stubs) or '–'}" for place, stubs in join_ends(join))
    if join.wire is None:
        what = f"to the new vehicle: {join.host}" if join.host else "joined directly"
        return (join.id, join.place, ends, what, "", "")
    wire = join.wire
    drawn = _drawn(wire.color, wire.base_color, wire.stripe_color, wire.ring_color)
    return (join.id, join.place, ends, wire_words(wire), drawn, " | ".join(join.labels))


def _caps(plan: Plan) -> Listing:
    pins = {cut.id: cut.pin for cut in plan.cuts}
    rows = [
        (cap.id, cap.cut, f"{cap.side} side", cavity_words(pins[cap.cut]), LIVE_WORDS[cap.live])
        for cap in plan.caps
    ]
    columns = (("Cap", 0.12), ("Cut", 0.12), ("Stub", 0.16), ("Cut at", 0.24), ("Live?", 0.36))
    return _listing("cap", "Stubs to be capped", columns, rows, ticks=("capped",))


def _links(plan: Plan) -> Listing:
    names = {net.number: net.name for net in plan.nets}
    rows = [(names[link.net], cavity_words(link.start), cavity_words(link.end)) for link in plan.links]
    columns = (("Circuit", 0.3), ("From", 0.35), ("To", 0.35))
    return _listing("link", "Short links between modules that move together", columns, rows)


def _wire(plan: Plan) -> Listing:
    rows = [
        (
            size_text(need.size_mm2),
            _drawn(need.color, need.base_color, need.stripe_color, need.ring_color),
            str(need.pieces),
            metres_text(need),
        )
        for need in wire_needed(plan.joins)
    ]
    columns = (("Size", 0.16), ("Colour", 0.4), ("Pieces", 0.12), ("Metres, estimated", 0.32))
    note = str(_how(plan, "wire"))
    return _listing("wire", "Wire needed", columns, rows, note=f"{note}.", ticks=("here",))


def _machine(plan: Plan) -> Listing:
    rows = [(when, what, "", "") for when, what in machine_readings()] if plan.cuts else []
    columns = (("When", 0.1), ("What is read on the whole machine", 0.5), ("Before…", 0.2), ("After…", 0.2))
    return _listing("machine", "Before and after: the machine", columns, rows, note=_MACHINE_NOTE)


def _readings(plan: Plan) -> Listing:
    rows = [
        (
            reading.circuit,
            cavity_words(reading.start),
            cavity_words(reading.end),
            reading.before,
            "",
            reading.after,
            "",
            "a second way exists: this proves nothing" if reading.ring else "",
        )
        for reading in readings_of(plan)
    ]
    columns = (
        *(("Circuit", 0.12), ("From", 0.12), ("To", 0.12), ("Before must be", 0.11), ("Ω before…", 0.13)),
        *(("After must be", 0.11), ("Ω after…", 0.13), ("Note", 0.16)),
    )
    return _listing("reading", "Before and after: every wire", columns, rows, note=_METER_NOTE)


def _fates(plan: Plan) -> Listing:
    rows: list[tuple[str, str, str, str]] = []
    for fate, nets in by_fate(plan):
        named = [net.name for net in nets if net.touched or fate != "stays"]
        more = len(named) - _MOST_NAMED
        said = ", ".join(named[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
        rows.append((fate, str(len(nets)), FATE_WORDS[fate], said))
    rows.append(("all", str(len(plan.nets)), "every net of the machine, each counted once", ""))
    columns = (("Fate", 0.1), ("Nets", 0.06), ("Meaning", 0.34), ("Circuits", 0.5))
    return _listing("fate", "What happens to every net of the machine", columns, rows)


def _drawn(code: str, base: str, stripe: str, ring: str) -> ListCell:
    return wire_in_words(code, base, stripe, ring) or "colour not known"


def _how(plan: Plan, name: str) -> object:
    how = plan.counts.get("how")
    return how.get(name, "estimated") if isinstance(how, dict) else "estimated"
