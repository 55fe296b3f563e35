"""Rows by free text, and the exact shapes programs rely on."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import connector, pin, unread
from xref.errors import NoIndex
from xref.harness import json_answers
from xref.harness.lookup import answer_circuit, answer_connector, answer_find
from xref.store.index import Index
from xref.workspace import Workspace

APPEARANCE = set(
    json.loads(
        '["machine","connector","half","cavity","circuit","color_code","base_color","stripe_color","size",'
        '"option","role","function","document","page","flags","notices"]'
    )
)


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """Index two machines, one with an in-line that changes the number."""
    pins = [
        pin("X1", "1", "1440", function="Bilge pump feed", flags=("cavity-gap",)),
        pin("X5", "1", "1440", half="A", role="inline"),
        pin("X5", "1", "1450", half="B", role="inline"),
        pin("X9", "1", "1440A", function="Bilge pump feed"),
        pin("X9", "2", "5", function="Horn", machine="boat", document="boat.pdf"),
    ]
    return filled(tmp_path, *pins, connectors=[connector("X1", cavities_stated=2)], pages=[unread()])


def test_find_ranks_rows_that_fit_in_several_texts(workspace: Workspace) -> None:
    """A row that fits by its function and its connector stands before one that fits by one of them."""
    with Index.open(workspace) as index:
        answer = answer_find(index, workspace, "bilge pump x9")
        assert (answer.hits[0].pin.connector, answer.hits[0].pin.circuit) == ("X9", "1440A")
        assert [hit.score for hit in answer.hits] == sorted((hit.score for hit in answer.hits), reverse=True)
        assert answer_find(index, workspace, "horn", "lift").hits == ()
        assert answer_find(index, workspace, "blige pump").near[0].name == "bilge pump"


def test_circuit_object(workspace: Workspace) -> None:
    """The circuit's object has exactly the agreed keys, in plain JSON types."""
    with Index.open(workspace) as index:
        found = json.loads(json.dumps(json_answers.circuit_to_json(answer_circuit(index, "1440"))))
    keys = (
        "circuit appearances ends pass_throughs splices grounds fuses continues_as nets near notices"
        " unread_pages outdated_documents"
    )
    assert list(found) == keys.split()
    assert all(set(item) == APPEARANCE for item in found["appearances"])
    assert {"connector", "machine", "halves"} <= set(found["pass_throughs"][0])
    assert found["continues_as"] == [
        {"circuit": "1450", "at": {"connector": "X5", "half": "A", "cavity": "1"}}
    ]
    assert {"circuit", "why"} <= set(found["near"][0]) and found["near"][0]["circuit"] == "1440A"
    assert found["unread_pages"] == [{"document": "loom.pdf", "page": 3, "why": "picture only"}]
    assert found["ends"][0]["flags"] == ["cavity-gap"]


def test_connector_object(workspace: Workspace) -> None:
    """The connector's object has the agreed keys."""
    with Index.open(workspace) as index:
        found = json.loads(json.dumps(json_answers.connector_to_json(answer_connector(index, "X1"))))
    assert {"connectors", "near", "unread_pages"} <= set(found)
    head = (
        "machine connector half role component connector_name harness color location gender cavities_stated"
    )
    assert {*head.split(), "view", "pages", "pins"} <= set(found["connectors"][0])
    assert found["connectors"][0]["missing"] == ["2"]


def test_find_object(workspace: Workspace) -> None:
    """Each hit is an appearance with its score."""
    with Index.open(workspace) as index:
        found = json.loads(json.dumps(json_answers.find_to_json(answer_find(index, workspace, "bilge"))))
    assert all(set(hit) == APPEARANCE | {"score"} for hit in found["hits"]) and found["hits"]


def test_a_row_on_two_copies_of_a_page_stands_once(tmp_path: Path) -> None:
    """The same row at the same place of two pages is one appearance that names both pages."""
    place = {"x0": 50.0, "x1": 500.0, "bottom": 118.0}
    one = pin("X1", "1", "1440", function="Feed", top=100.0, **place)
    copy = pin("X1", "1", "1440", function="Feed", top=100.4, document="extract.pdf", page=7, **place)
    doubted = pin("X1", "1", "1440", function="Feed", top=100.0, page=3, flags=("cavity-gap",), **place)
    below = pin("X1", "1", "1440", function="Feed", top=200.0, page=4, **place)
    workspace = filled(tmp_path, one, copy, doubted, below)
    with Index.open(workspace) as index:
        found = json_answers.circuit_to_json(answer_circuit(index, "1440"))
        named = json_answers.connector_to_json(answer_connector(index, "X1"))
        words = json_answers.find_to_json(answer_find(index, workspace, "feed"))
    for rows in (found["appearances"], found["ends"], words["hits"]):
        assert sorted((row["document"], row["page"], len(row.get("also_on", ()))) for row in rows) == [
            ("extract.pdf", 7, 1),
            ("loom.pdf", 3, 0),
            ("loom.pdf", 4, 0),
        ]
    assert found["appearances"][0]["also_on"] == [{"document": "loom.pdf", "page": 1}]
    (row,) = named["connectors"][0]["pins"]
    assert row["also_on"] == [{"document": "loom.pdf", "page": 1}]


def test_nothing_found_is_an_object_too(workspace: Workspace) -> None:
    """Nothing found has the same keys with empty lists."""
    with Index.open(workspace) as index:
        found = json_answers.circuit_to_json(answer_circuit(index, "zzz"))
    assert found["appearances"] == found["ends"] == found["continues_as"] == []


def test_error_object() -> None:
    """An error is one object with code, message and hint."""
    made = json_answers.error_to_json(NoIndex("There is no index.", hint="Make one."))
    assert made == {"error": {"code": "no-index", "message": "There is no index.", "hint": "Make one."}}
