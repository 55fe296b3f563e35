"""Answers as JSON objects for programs. Keys are fixed; they are only ever added."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from xref.errors import XrefError
from xref.harness.answers import (
    CircuitAnswer,
    ConnectorAnswer,
    ConnectorView,
    FindAnswer,
    Near,
    NetView,
    Outdated,
    TraceAnswer,
)
from xref.harness.routes import Route
from xref.harness.same import rows_once
from xref.records import PageNote, Pin

JsonObject = dict[str, Any]

_APPEARANCE = (
    *("machine", "connector", "half", "cavity", "circuit", "color_code", "base_color", "stripe_color"),
    *("size", "option", "role", "function", "document", "page"),
)
_HOP = (
    *("machine", "connector", "half", "cavity", "circuit", "color_code", "base_color", "stripe_color"),
    *("role", "component", "harness", "document", "page"),
)
_HEAD = (
    *("machine", "connector", "half", "role", "component", "connector_name", "harness", "color"),
    *("location", "gender", "cavities_stated", "view"),
)


def circuit_to_json(answer: CircuitAnswer) -> JsonObject:
    """Return the object `xref circuit --json` writes."""
    return {
        "circuit": answer.circuit,
        "appearances": _appearances(answer.appearances),
        "ends": _appearances(answer.ends),
        "pass_throughs": [
            {
                "connector": passing.connector,
                "machine": passing.machine,
                "halves": _appearances(passing.halves),
                "missing_half": passing.missing_half,
            }
            for passing in answer.pass_throughs
        ],
        "splices": _appearances(answer.splices),
        "grounds": _appearances(answer.grounds),
        "fuses": _appearances(answer.fuses),
        "continues_as": [
            {"circuit": further.circuit, "at": pin_to_json(further.at)} for further in answer.continues_as
        ],
        "nets": [_net(net) for net in answer.nets],
        "near": [near_to_json("circuit", near) for near in answer.near],
        "notices": list(answer.notices),
        "unread_pages": unread_to_json(answer.unread_pages),
        "outdated_documents": outdated_to_json(answer.outdated),
    }


def connector_to_json(answer: ConnectorAnswer) -> JsonObject:
    """Return the object `xref connector --json` writes."""
    return {
        "connectors": [_view(view) for view in answer.connectors],
        "near": [near_to_json("connector", near) for near in answer.near],
        "unread_pages": unread_to_json(answer.unread_pages),
        "outdated_documents": outdated_to_json(answer.outdated),
    }


def find_to_json(answer: FindAnswer) -> JsonObject:
    """Return the object `xref find --json` writes."""
    scores = {hit.pin: hit.score for hit in answer.hits}
    return {
        "hits": [
            {**appearance_to_json(pin, further), "score": round(scores[pin], 4)}
            for pin, further in rows_once(scores)
        ],
        "near": [near_to_json("text", near) for near in answer.near],
        "unread_pages": unread_to_json(answer.unread_pages),
        "outdated_documents": outdated_to_json(answer.outdated),
    }


def trace_to_json(answer: TraceAnswer) -> JsonObject:
    """Return the object `xref trace --json` writes."""
    return {
        "from": answer.start,
        "to": answer.end,
        "paths": [_path(route) for route in answer.paths],
        "missing": list(answer.missing),
        "notices": list(answer.notices),
        "near": [near_to_json("name", near) for near in answer.near],
        "unread_pages": unread_to_json(answer.unread_pages),
        "outdated_documents": outdated_to_json(answer.outdated),
    }


def error_to_json(error: XrefError) -> JsonObject:
    """Return the object that stands on stdout with exit code 2."""
    return {"error": {"code": error.code, "message": error.message, "hint": error.hint}}


def appearance_to_json(pin: Pin, further: Iterable[Pin] = ()) -> JsonObject:
    """Return one appearance; `further`, if any, are the same row on other copies of its page."""
    found: JsonObject = {name: getattr(pin, name) for name in _APPEARANCE}
    also = [{"document": row.document, "page": row.page} for row in further]
    found |= {"flags": list(pin.flags), "notices": list(pin.notices)}
    return {**found, "also_on": also} if also else found


def outdated_to_json(outdated: Iterable[Outdated]) -> list[JsonObject]:
    """Return the documents whose file is not as it was read."""
    return [{"document": item.document, "why": item.why} for item in outdated]


def pin_to_json(pin: Pin) -> JsonObject:
    """Return where a pin is."""
    return {"connector": pin.connector, "half": pin.half, "cavity": pin.cavity}


def _path(route: Route) -> JsonObject:
    return {
        "hops": [
            {**{name: getattr(pin, name) for name in _HOP}, "flags": list(pin.flags)} for pin in route.hops
        ],
        "order": route.order,
        "between": list(route.between),
        "maybe": list(route.maybe),
        "within": list(route.within),
    }


def _net(net: NetView) -> JsonObject:
    return {
        "net": net.net,
        "machine": net.machine,
        "flags": list(net.flags),
        "ends": [pin_to_json(pin) for pin in net.ends],
        "order": net.order,
        "missing": list(net.missing),
        "notices": list(net.notices),
    }


def _view(view: ConnectorView) -> JsonObject:
    return {
        **{name: getattr(view.connector, name) for name in _HEAD},
        "pages": list(view.connector.pages),
        "documents": {name: list(pages) for name, pages in view.documents},
        "pins": _pins(view),
        "missing": list(view.missing),
        "same_color": [list(group) for group in view.same_color],
        "reversed_color": [list(pair) for pair in view.reversed_color],
    }


def _pins(view: ConnectorView) -> list[JsonObject]:
    shown = set(view.pins)
    return [appearance_to_json(pin, further) for pin, further in rows_once(view.rows) if pin in shown]


def _appearances(pins: Iterable[Pin]) -> list[JsonObject]:
    return [appearance_to_json(pin, further) for pin, further in rows_once(pins)]


def near_to_json(key: str, near: Near) -> JsonObject:
    """Return a name that resembles the asked one."""
    return {key: near.name, "why": near.why, "machine": near.machine}


def unread_to_json(notes: Iterable[PageNote]) -> list[JsonObject]:
    """Return the pages nobody could read."""
    return [{"document": note.document, "page": note.page, "why": note.why} for note in notes]
