"""Answers about nets, in-lines and neighbours as JSON objects for programs. Keys are only ever added."""

from __future__ import annotations

from collections.abc import Iterable

from xref.harness.answers import InlineAnswer, InlineCavity, InlineView, Neighbor
from xref.harness.json_answers import (
    JsonObject,
    appearance_to_json,
    near_to_json,
    outdated_to_json,
    unread_to_json,
)


def neighbors_to_json(neighbors: Iterable[Neighbor]) -> list[JsonObject]:
    """Return what `xref connector --neighbors --json` adds under `neighbors`."""
    return [
        {
            "machine": neighbor.machine,
            "component": neighbor.component,
            "role": neighbor.role,
            "connectors": list(neighbor.connectors),
            "circuits": list(neighbor.circuits),
            "count": neighbor.count,
            "through": list(neighbor.through),
            "only": neighbor.only,
            "doubtful": neighbor.doubtful,
        }
        for neighbor in neighbors
    ]


def inlines_to_json(answer: InlineAnswer) -> JsonObject:
    """Return the object `xref inlines --json` writes."""
    return {
        "inlines": [_inline(view) for view in answer.inlines],
        "near": [near_to_json("connector", near) for near in answer.near],
        "unread_pages": unread_to_json(answer.unread_pages),
        "outdated_documents": outdated_to_json(answer.outdated),
    }


def _inline(view: InlineView) -> JsonObject:
    return {
        "machine": view.machine,
        "connector": view.names,
        "halves": [
            {
                "connector": half.connector,
                "half": half.half,
                "harness": half.harness,
                "gender": half.gender,
                "cavities_stated": half.cavities_stated,
            }
            for half in view.halves
        ],
        "how": view.how,
        "used": {"both": view.both, "one": view.count("one"), "nothing": view.count("nothing")},
        "components": [{"component": name, "circuits": number} for name, number in view.components],
        "differences": list(view.differences),
        "cavities": [_cavity(cavity) for cavity in view.cavities],
        "doubtful": view.doubtful,
    }


def _cavity(cavity: InlineCavity) -> JsonObject:
    return {
        "cavity": cavity.cavity,
        "use": cavity.use,
        "one": [appearance_to_json(pin) for pin in cavity.one],
        "other": [appearance_to_json(pin) for pin in cavity.other],
        "differences": list(cavity.differences),
    }
