"""Parts of a document to pins: colours decoded, sizes in mm², each pin with the doubts of its reading."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from xref.colors.choose import SchemeChoice, choose_scheme
from xref.colors.decode import decode
from xref.colors.key import ColorKey, read_key
from xref.pins.heading import Head
from xref.pins.parts import Part
from xref.pins.roles import half_named, half_of, harness_of, role_of
from xref.pins.sizes import SizeColumn, decide_unit, to_mm2
from xref.pins.values import Wire, blank_if_none, color_in_cavity
from xref.records import NUMBERED, Pin, Role, Status
from xref.rows.evidence import SIGNAL
from xref.rows.row import Row
from xref.tables.page import PageReading

#: A document prints circuit numbers when it has this many for each signal name; fewer are stray.
CIRCUITS = 0.25
#: So many rows, and this share of a table's texts, must be such names where no column holds circuits.
FEWEST_NAMES = 3
NAMES = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """How this document is to be read as a whole."""

    machine: str
    document: str
    scheme: SchemeChoice
    circuits: bool  #: it prints circuit numbers; if not, the signal's name stands for them


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A pin with the head it was made under, to build connectors from."""

    pin: Pin
    head: Head
    second: bool  #: a further wire of the cavity above, as the table shows by merging or a blank cavity
    role_why: str
    part: Part  #: the block of its table
    row: Row  #: as read, with what stood in columns that no field holds


def document_key(readings: Iterable[PageReading]) -> ColorKey | None:
    """Return the document's own colour key, if it prints one."""
    best: ColorKey | None = None
    for reading in readings:
        key = read_key(reading.key_pairs) if reading.key_pairs else None
        if key is not None and (best is None or len(key.codes) > len(best.codes)):
            best = key
    return best


def document_ways(
    machine: str, document: str, parts: Sequence[Part], readings: Sequence[PageReading]
) -> Ways:
    """Decide scheme and kind of circuit names over the whole document."""
    codes: Counter[str] = Counter()
    circuits = signals = 0
    for part in parts:
        named = "circuit" not in part.plan.guessed
        for row, wires in zip(part.rows, part.wires, strict=True):
            for wire in wires:
                color = blank_if_none(wire.color or color_in_cavity(row))
                if color and not row.unused:
                    codes[color] += 1
                circuits += named and bool(blank_if_none(wire.circuit))
                signals += bool(wire.signal)
    return Ways(
        machine=machine,
        document=document,
        scheme=choose_scheme(codes, document_key(readings)),
        circuits=circuits > 0 and circuits >= CIRCUITS * signals,
    )


def parts_to_pins(parts: Sequence[Part], ways: Ways) -> list[Made]:
    """Return the pins of a document in printed order."""
    made: list[Made] = []
    columns = _size_columns(parts)
    for part in parts:
        column = columns[_size_header(part)]
        before = ""
        signals = not ways.circuits and _named_by_signals(part)
        for row, wires in zip(part.rows, part.wires, strict=True):
            for n, wire in enumerate(map(_by_signal, wires) if signals else wires):
                second = n > 0 or (bool(before) and row.cavity == before and part.plan.kind == "pins")
                made.append(_pin(part, row, wire, column, ways, second=second))
            before = row.cavity
    return made


def _named_by_signals(part: Part) -> bool:
    """True where no column holds circuits and the texts are names such as `CAN_H`, `!RESET`, `THR2`."""
    if "circuit" in part.plan.facts or part.plan.kind != "pins":
        return False
    texts = [t for wires in part.wires for w in wires if (t := blank_if_none(w.signal or w.function))]
    names = [t for t in texts if SIGNAL.fullmatch(t)]
    return len(names) >= FEWEST_NAMES and len(names) >= NAMES * len(texts)


def _by_signal(wire: Wire) -> Wire:
    """Take the name that stands in the function's column for the signal's."""
    if wire.signal or not SIGNAL.fullmatch(wire.function):
        return wire
    return replace(wire, signal=wire.function, function="")


def _size_columns(parts: Sequence[Part]) -> dict[str, SizeColumn]:
    """Decide the unit once for all columns of a document that have one header: they are one habit."""
    sizes: dict[str, list[str]] = {}
    for part in parts:
        column = sizes.setdefault(_size_header(part), [])
        column += [w.size for wires in part.wires for w in wires if w.size]
    return {header: decide_unit(cells, header) for header, cells in sizes.items()}


def _size_header(part: Part) -> str:
    at = part.plan.columns.get("size", part.plan.columns.get("color", -1))
    return part.table.header[at] if at >= 0 else ""


def _pin(part: Part, row: Row, wire: Wire, column: SizeColumn, ways: Ways, *, second: bool) -> Made:
    head = part.head
    code = blank_if_none(wire.color or color_in_cavity(row))
    decoded = decode(code, ways.scheme) if code else None
    status = _status(row, wire, code)
    circuit = blank_if_none(wire.circuit)
    function = wire.function or wire.signal
    role, why = role_of(head, part.plan.kind, row)
    notices = []
    if not ways.circuits and wire.signal and not circuit and status == "used":
        circuit, function = wire.signal, wire.function
        notices.append("signal-as-circuit")
    if status == "unused":
        function = ""
    if role == "splice":
        notices += ["splice-listed"] if row.whole else []
        notices += [f"splice-wires{NUMBERED}{row.stated}"] if row.stated else []
    mm2 = to_mm2(wire.size, column) if wire.size else None
    doubts = [*part.doubts, *row.doubts, *(decoded.doubts if decoded else ())]
    if wire.size and mm2 is None and blank_if_none(wire.size):
        doubts.append("size-undecided")
    if part.plan.kind == "pair" and row.half and not any(part.plan.halves) and not any(head.halves):
        doubts.append("half-unmarked")
    if row.unused and (code or circuit):
        doubts.append("unused-but-filled")
    own = half_named(head, row, part.plan.halves)
    box = part.page.to_page(row.box)
    pin = Pin(
        machine=ways.machine,
        connector=own or row.connector or head.connector,
        half="" if own else half_of(head, row, part.plan.halves),
        cavity=wire.cavity,
        color_code=code,
        circuit=circuit,
        function=_with_rating(function, wire.rating) if part.plan.kind == "fuse" else function,
        size=blank_if_none(wire.size),
        base_color=decoded.base if decoded else "",
        stripe_color=decoded.stripe if decoded else "",
        ring_color=decoded.ring if decoded else "",
        size_mm2=mm2,
        status=status,
        option=wire.option,
        goes_to=wire.goes_to,
        role=role,
        component=_component(head, wire, role),
        connector_name=head.name if not row.connector else "",
        harness=harness_of(head, row, part.plan.halves) or wire.harness,
        document=ways.document,
        page=part.page.page,
        page_label=part.page.label,
        table_no=part.table.number,
        row_no=row.row_no,
        x0=round(box.x0, 1),
        top=round(box.top, 1),
        x1=round(box.x1, 1),
        bottom=round(box.bottom, 1),
        flags=tuple(dict.fromkeys(doubts)),
        notices=tuple(notices),
    )
    return Made(pin=pin, head=head, second=second, role_why=why, part=part, row=row)


def _status(row: Row, wire: Wire, code: str) -> Status:
    circuit = blank_if_none(wire.circuit)
    if row.unused and not (code or circuit):
        return "unused"
    if code or circuit or wire.function or wire.signal or wire.goes_to:
        return "used"
    return "not stated"


def _with_rating(function: str, rating: str) -> str:
    if not rating or rating in function:
        return function
    amps = rating if not rating.replace(".", "").replace(",", "").isdigit() else f"{rating} A"
    return f"{function}, {amps}" if function else amps


def _component(head: Head, wire: Wire, role: Role) -> str:
    if wire.component or head.component:
        return wire.component or head.component
    return head.name if role in ("component", "fuse") else ""
