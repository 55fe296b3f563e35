"""What the person says stands in a row, put into the pin: colours decoded and sizes converted anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from xref.colors.choose import SchemeChoice
from xref.colors.decode import decode
from xref.colors.key import ColorKey
from xref.pins.corrections_records import Changes
from xref.pins.sizes import SizeColumn, decide_unit, to_mm2
from xref.records import Connector, Pin

#: Doubts that are settled once the person has said what stands in the field.
SETTLED_BY: Mapping[str, frozenset[str]] = {
    "connector": frozenset({"heading-uncertain"}),
    "half": frozenset({"half-unmarked"}),
    "cavity": frozenset({"cavity-repeated", "cavity-gap", "cavity-odd", "cavity-over-stated"}),
    "circuit": frozenset({"potential-undecided", "circuit-odd", "circuit-missing", "mates-disagree"}),
    "color_code": frozenset(
        {"color-unknown", "color-undecided", "color-repeated", "color-odd", "color-missing"}
    ),
    "function": frozenset({"function-missing", "text-overfull"}),
    "size": frozenset({"size-undecided"}),
    "status": frozenset({"unused-but-filled"}),
    "role": frozenset({"role-undecided"}),
}
#: A printed number and its mm² that differ by less are the same size: the column is in mm².
_SAME_MM2 = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How the document writes its colours and sizes, told from its rows."""

    scheme: SchemeChoice
    sizes: SizeColumn


def manner_of(scheme: str, pins: Sequence[Pin]) -> Manner:
    """Return how a document's codes and sizes are to be read, from what its rows were read as."""
    if scheme == "key":
        return Manner(scheme=SchemeChoice(scheme="key", why="", key=_key_of(pins)), sizes=_sizes_of(pins))
    return Manner(scheme=SchemeChoice(scheme=scheme, why=""), sizes=_sizes_of(pins))


def _key_of(pins: Iterable[Pin]) -> ColorKey:
    """Return the document's own key as far as its rows show it: `BU/YE`, blue and yellow."""
    votes: dict[str, Counter[str]] = {}
    for pin in pins:
        parts = pin.color_code.replace("-", "/").split("/")
        colors = [c for c in (pin.base_color, pin.stripe_color, pin.ring_color) if c]
        if pin.color_code and len(parts) == len(colors):
            for part, color in zip(parts, colors, strict=True):
                votes.setdefault(part.strip(), Counter())[color] += 1
    return ColorKey(codes={code: found.most_common(1)[0][0] for code, found in votes.items()}, duplicates={})


def _sizes_of(pins: Iterable[Pin]) -> SizeColumn:
    known = [(p.size, p.size_mm2) for p in pins if p.size and p.size_mm2 is not None]
    area = sum(
        _number(size) is not None and abs((_number(size) or 0.0) - mm2) < _SAME_MM2 for size, mm2 in known
    )
    if not known:
        return decide_unit([p.size for p in pins if p.size])
    unit = "mm2" if area * 2 >= len(known) else "awg"
    return SizeColumn(unit="mm2" if unit == "mm2" else "awg", why="the other rows of the document")


def _number(text: str) -> float | None:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return None


def corrected(pin: Pin, changes: Changes, manner: Manner, heads: Mapping[tuple[str, str], Pin]) -> Pin:
    """Return the pin with what the person says; the doubts that settles are gone, new ones are named.

    `heads` gives a pin of each connector (half) of the document: a row that is moved to another
    connector takes over what that one is.
    """
    said = dict(changes)
    flags = [flag for flag in pin.flags if not any(flag in SETTLED_BY.get(name, ()) for name in said)]
    fields: dict[str, Any] = dict(said)
    if "color_code" in said:
        decoded = decode(said["color_code"], manner.scheme)
        fields |= {"base_color": decoded.base, "stripe_color": decoded.stripe, "ring_color": decoded.ring}
        flags += decoded.doubts
    if "size" in said:
        fields["size_mm2"] = to_mm2(said["size"], manner.sizes) if said["size"] else None
        if said["size"] and fields["size_mm2"] is None:
            flags.append("size-undecided")
    if {"connector", "half"} & set(said):
        fields |= _head_fields(
            said.get("connector", pin.connector), said.get("half", pin.half), said, pin, heads
        )
    if "status" not in said and pin.status != "used" and (said.get("circuit") or said.get("color_code")):
        fields["status"] = "used"
    return replace(pin, **fields, flags=tuple(dict.fromkeys(flags)))


def _head_fields(
    connector: str, half: str, said: Mapping[str, str], pin: Pin, heads: Mapping[tuple[str, str], Pin]
) -> dict[str, Any]:
    if connector == pin.connector and half == pin.half:
        return {}
    other = heads.get((connector, half))
    if other is not None:
        taken = {n: getattr(other, n) for n in ("role", "component", "connector_name", "harness")}
    elif connector == pin.connector:
        taken = {}
    else:
        taken = {"role": "unknown", "component": "", "connector_name": ""}
    return {name: value for name, value in taken.items() if name not in said}


def headed(pin: Pin, changes: Changes, heads: Mapping[tuple[str, str], Pin] | None) -> Pin:
    """Return the pin under the connector as the person set it.

    With `heads` (as for `corrected`) one table goes to another connector: what that one is, is taken from
    there or left blank. Without, the connector itself is set, and what it is stays.
    """
    said: dict[str, Any] = dict(changes)
    flags = [flag for flag in pin.flags if not any(flag in SETTLED_BY.get(name, ()) for name in said)]
    if heads is not None:
        half = (said.get("connector", pin.connector), said.get("half", pin.half))
        said |= _head_fields(*half, said, pin, heads)
    return replace(pin, **said, flags=tuple(flags))


def head_record(record: Connector, changes: Changes, why: str) -> Connector:
    """Return the connector as the person set it."""
    said: dict[str, Any] = dict(changes)
    flags = [flag for flag in record.flags if not any(flag in SETTLED_BY.get(name, ()) for name in said)]
    if "role" in said:
        said["role_why"] = why
    return replace(record, **said, flags=tuple(flags))
