"""A plan as a JSON object for programs. Keys are fixed; they are only ever added."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from xref.harness.json_answers import JsonObject, pin_to_json
from xref.moves.json_kept import bus_to_json, supplies_to_json
from xref.moves.records import Cut, Join, Plan, PlannedNet


def plan_to_json(plan: Plan) -> JsonObject:
    """Return the object `xref plan show --json` writes."""
    return {
        "plan": plan.name,
        "machine": plan.machine,
        "nets": [_net(net) for net in plan.nets],
        "cuts": [_cut(cut) for cut in plan.cuts],
        "joins": [_join(join) for join in plan.joins],
        "caps": [
            {"id": cap.id, "net": cap.net, "cut": cap.cut, "side": cap.side, "live": cap.live}
            for cap in plan.caps
        ],
        "links": [
            {
                "net": link.net,
                "from": pin_to_json(link.start),
                "to": pin_to_json(link.end),
                "old_m": link.old_m,
                "new_m": link.new_m,
            }
            for link in plan.links
        ],
        "inlines": [
            {
                "connector": item.connector,
                "fate": item.fate,
                "border": item.border,
                "cavities_used_after": item.cavities_used_after,
                "because": item.because,
                "free": list(item.free),
                "rejoined": item.rejoined,
            }
            for item in plan.inlines
        ],
        "refused": [
            {
                "net": item.net,
                "circuit": item.circuit,
                "pins": [pin_to_json(pin) for pin in item.pins],
                "reason": item.reason,
            }
            for item in plan.refused
        ],
        "host": [
            {"net": need.net, "pin": pin_to_json(need.pin), "kind": need.kind, "answer": need.answer}
            for need in plan.host
        ],
        "buses": [bus_to_json(pair) for pair in plan.buses],
        "supplies": [supplies_to_json(module) for module in plan.supplies],
        "counts": plan.counts,
        "cautions": list(plan.cautions),
        "questions": [
            {"about": item.about, "text": item.text, "settle": item.settle, "kind": item.kind}
            for item in plan.questions
        ],
    }


def _net(net: PlannedNet) -> JsonObject:
    choice: Mapping[str, Any] | None = None
    if net.splice is not None:
        choice = {
            "moves": net.splice.moves,
            "stays": net.splice.stays,
            "doubled": net.splice.doubled,
            "chosen": net.splice.chosen,
        }
    return {
        "net": net.number,
        "circuits": list(net.circuits),
        "ends": [{**pin_to_json(end.pin), "place": end.where} for end in net.ends],
        "fate": net.fate,
        "places": list(net.places),
        "crossings": net.crossings,
        "at_least": net.at_least,
        "splice": choice,
        "reason": net.reason,
        "flags": list(net.flags),
        "refused": net.refused,
        "review": list(net.review),
        "accepted": net.accepted,
    }


def _cut(cut: Cut) -> JsonObject:
    return {
        "id": cut.id,
        "net": cut.net,
        "circuit": cut.circuit,
        **pin_to_json(cut.pin),
        "color_code": cut.pin.color_code,
        "to": None if cut.to is None else pin_to_json(cut.to),
        "wires": cut.wires,
        "where": cut.where,
        "labels": list(cut.labels),
        "then": cut.then,
        "document": cut.pin.document,
        "page": cut.pin.page,
        "checks_before": list(cut.checks_before),
    }


def _join(join: Join) -> JsonObject:
    wire = None
    if join.wire is not None:
        wire = {
            "size_mm2": join.wire.size_mm2,
            "color": join.wire.color,
            "length_m": join.wire.length_m,
            "base_color": join.wire.base_color,
            "stripe_color": join.wire.stripe_color,
            "ring_color": join.wire.ring_color,
        }
    return {
        "id": join.id,
        "net": join.net,
        "cuts": list(join.cuts),
        "stubs": [
            {"cut": cut, "side": side, "place": at}
            for (cut, side), at in zip(join.stubs, join.at, strict=True)
        ],
        "place": join.place,
        "wire": wire,
        "labels": list(join.labels),
        "host": join.host,
    }
