"""What documents say together about one pin, and when two rows are one wire end."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import connector, pin
from xref.harness.lookup import answer_circuit, answer_connector, module_sheet
from xref.harness.same import destinations, in_cavity_order, same_pins
from xref.store.index import Index

LIST = "wire-list.pdf"


def test_wire_list_takes_the_role_another_document_gives(tmp_path: Path) -> None:
    """A ground and a splice printed in a list that knows no roles are no further ends."""
    pins = [
        pin("A1", "1", "7", role="component"),
        pin("G5", "1", "7", role="ground"),
        pin("SP2", "a", "7", role="splice"),
        *(pin(name, cavity, "7", document=LIST) for name, cavity in (("A1", "1"), ("G5", "1"), ("SP2", "a"))),
    ]
    heads = [
        connector("A1", role="component", component="Pump"),
        connector("G5", role="ground"),
        connector("SP2", role="splice"),
        *(connector(name, role="unknown", document=LIST) for name in ("A1", "G5", "SP2")),
    ]
    with Index.open(filled(tmp_path, *pins, connectors=heads)) as index:
        answer = answer_circuit(index, "7")
    assert [(p.connector, p.component, p.document) for p in answer.ends] == [
        ("A1", "Pump", "loom.pdf"),
        ("A1", "Pump", LIST),
    ]
    assert {p.connector for p in answer.grounds} == {"G5"} and len(answer.grounds) == 2
    assert {p.connector for p in answer.splices} == {"SP2"} and len(answer.splices) == 2


def test_documents_that_contradict_each_other_settle_nothing(tmp_path: Path) -> None:
    """Where two documents give a connector different roles, a third that is silent stays unknown."""
    pins = [
        pin("K1", "1", "7", role="component", document="a.pdf"),
        pin("K1", "1", "7", role="fuse", document="b.pdf"),
        pin("K1", "1", "7", document=LIST),
    ]
    heads = [
        connector("K1", role="component", document="a.pdf"),
        connector("K1", role="fuse", document="b.pdf"),
        connector("K1", role="unknown", document=LIST),
    ]
    with Index.open(filled(tmp_path, *pins, connectors=heads)) as index:
        assert sorted(p.role for p in answer_circuit(index, "7").appearances) == [
            "component",
            "fuse",
            "unknown",
        ]


def test_once_is_judged_over_the_machine(tmp_path: Path) -> None:
    """A circuit that each document prints in one cavity is not said to appear once if the cavities differ."""
    once = ("circuit-once",)
    pins = [
        pin("A1", "1", "7", notices=once),
        pin("A2", "1", "7", notices=once, document="rear.pdf"),
        pin("A1", "2", "8", notices=once),
        pin("A1", "2", "8", notices=once, document="rear.pdf"),
    ]
    with Index.open(filled(tmp_path, *pins)) as index:
        assert all(not p.notices for p in answer_circuit(index, "7").appearances)
        assert all(p.notices == once for p in answer_circuit(index, "8").appearances)
        (view,) = answer_connector(index, "A1").connectors
    assert [(p.cavity, p.notices) for p in view.pins] == [("1", ()), ("2", once)]


@pytest.mark.parametrize("title", ["Harness Main harness", "half A Harness Main harness", "Main harness"])
def test_title_that_repeats_the_harness_is_no_name(tmp_path: Path, title: str) -> None:
    """`Harness Main harness` is where the plug belongs, not what it is called."""
    named = pin("A1", "1", "7", connector_name=title, harness="Main harness")
    head = connector("A1", connector_name=title, harness="Main harness")
    with Index.open(filled(tmp_path, named, connectors=[head])) as index:
        (view,) = answer_connector(index, "A1").connectors
        assert view.connector.connector_name == "" and view.connector.harness == "Main harness"
        assert answer_circuit(index, "7").ends[0].connector_name == ""


def test_pages_stand_with_their_document(tmp_path: Path) -> None:
    """A page of one document is never given as a page of another."""
    heads = [connector("A1", pages=(5,)), connector("A1", document=LIST, pages=(9,))]
    pins = [pin("A1", "1", "7", page=5), pin("A1", "1", "7", page=9, document=LIST)]
    with Index.open(filled(tmp_path, *pins, connectors=heads)) as index:
        (view,) = answer_connector(index, "A1").connectors
    assert dict(view.documents) == {"loom.pdf": (5,), LIST: (9,)}
    assert len(view.pins) == 1 and len(view.rows) == 2


def test_module_sheet_has_one_line_for_a_wire_printed_twice(tmp_path: Path) -> None:
    """A wire end that two documents print, one of them without its option, is one line with both rows."""
    pins = [
        pin("A1", "1", "7", option="with heater"),
        pin("A1", "1", "7", document=LIST),
        pin("B2", "1", "7"),
    ]
    with Index.open(filled(tmp_path, *pins)) as index:
        (part,) = module_sheet(index, ["A1"]).parts
    assert [(line.pin.option, len(line.rows)) for line in part.lines] == [("with heater", 2)]


def test_the_way_back_is_no_change_of_number(tmp_path: Path) -> None:
    """Followed from 100, the wire continues as 110; that 110 continues as 100 is not said."""
    pins = [
        pin("A1", "1", "100"),
        pin("X5", "1", "100", half="A", role="inline"),
        pin("X5", "1", "110", half="B", role="inline"),
        pin("B2", "1", "110"),
    ]
    with Index.open(filled(tmp_path, *pins)) as index:
        (part,) = module_sheet(index, ["A1"]).parts
    others = part.lines[0].others
    assert others is not None and [further.circuit for further in others.continues_as] == ["110"]


def test_two_options_or_two_rows_of_a_table_are_two() -> None:
    """Rows of different options, or of one table, are never one wire end."""
    one = pin("A1", "1", "7", option="with heater")
    assert len(same_pins([one, replace(one, document=LIST, option="without heater")])) == 2
    assert len(same_pins([one, replace(one, row_no=one.row_no + 1)])) == 2
    assert len(same_pins([one, replace(one, document=LIST, option="")])) == 1


def test_cavities_keep_the_order_of_the_fullest_document() -> None:
    """A list that prints two cavities in its own order does not turn the connector's order round."""
    full = [pin("F1", cavity, cavity) for cavity in ("IN1", "1", "2")]
    listed = [pin("F1", cavity, cavity, document="a-list.pdf") for cavity in ("2", "IN1")]
    assert [p.cavity for p in in_cavity_order(listed + full)] == ["IN1", "IN1", "1", "2", "2"]


def test_destination_without_its_cavity_is_not_said_beside_the_one_with_it() -> None:
    """`SP41` and `SP41:a` are one destination; `SP4` is another."""
    rows = [pin("A1", "1", "7", goes_to=text) for text in ("SP41", "SP41:a", "SP4", "SP41:a", "")]
    assert destinations(rows) == ["SP41:a", "SP4"]


def test_legs_of_a_splice_go_on_under_their_own_numbers(tmp_path: Path) -> None:
    """A splice proves 1440A and 1440B to be one net: the answer names the others, the sheet follows them."""
    pins = [
        pin("A1", "1", "1440A"),
        pin("SP2", "a", "1440A", role="splice"),
        pin("SP2", "b", "1440B", role="splice"),
        pin("SP2", "c", "1440C", role="splice", option="with heater"),
        pin("B2", "1", "1440B"),
    ]
    with Index.open(filled(tmp_path, *pins)) as index:
        answer = answer_circuit(index, "1440A")
        (part,) = module_sheet(index, ["A1"]).parts
    assert [(c.circuit, c.at.connector) for c in answer.continues_as] == [("1440B", "SP2"), ("1440C", "SP2")]
    assert [p.connector for p in answer.ends] == ["A1"]
    others = part.lines[0].others
    assert others is not None and [p.connector for p in others.ends] == ["A1", "B2"]
