"""Which row a decision is about: never a neighbour, never one of another document by chance."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from xref.pins.corrections import lay
from xref.pins.corrections_records import RowDecision, row_as_read
from xref.records import Document, Pin

SHA = "a" * 64


def document(sha256: str = SHA, name: str = "loom.pdf") -> Document:
    """Make a document."""
    return Document(machine="lift", name=name, path=f"/m/{name}", sha256=sha256, pages=3, reader="1")


def pin(cavity: str, circuit: str, row: int, **more: Any) -> Pin:
    """Make a row of X5 on page 1."""
    at = {"x0": 50.0, "x1": 500.0, "top": 100.0 + 20 * row, "bottom": 112.0 + 20 * row, "row_no": row}
    fields: dict[str, Any] = {"machine": "lift", "document": "loom.pdf", "page": 1, "connector": "X5", **at}
    return Pin(cavity=cavity, circuit=circuit, **{**fields, **more})


PINS = [pin("1", "1440", 1), pin("2", "1441", 2), pin("3", "1442", 3)]


def correction(read: Pin, wire: int = 1) -> RowDecision:
    """Say that circuit 77 stands in a row."""
    return RowDecision(
        id=1, at="2026-11-25T14:03:00Z", row=row_as_read(read, SHA, wire), changes=(("circuit", "77"),)
    )


def circuits(decision: RowDecision, pins: list[Pin], of: Document | None = None) -> list[str]:
    """Return the circuits after the decision."""
    return [p.circuit for p in lay(of or document(), [], pins, [], [decision]).pins]


def test_each_of_two_wires_in_a_cavity_can_be_meant() -> None:
    """Rows of one box and cavity are told apart by their order, the first as well as the second."""
    twins = [pin("1", "10", 1), pin("1", "11", 1), pin("2", "12", 2)]
    assert circuits(correction(twins[0], 1), twins) == ["77", "11", "12"]
    assert circuits(correction(twins[1], 2), twins) == ["10", "77", "12"]


def test_the_same_cavity_elsewhere_on_the_page_is_another_row() -> None:
    """The row is gone from where it stood; cavity 2 of another table of the page is not taken for it."""
    others = [replace(p, connector="X8", top=p.top + 400, bottom=p.bottom + 400) for p in PINS]
    made = lay(document(), [], others, [], [correction(PINS[1])])
    assert list(made.pins) == others and made.lost == (1,)


def test_a_document_of_another_name_is_touched_only_where_all_texts_are_the_same() -> None:
    """Any document may print the same cavity: without the name only equal rows are the same row."""
    other = document("b" * 64, "renamed.pdf")
    assert circuits(correction(PINS[1]), PINS, other) == ["1440", "77", "1442"]
    differs = [replace(p, function="Lamp") for p in PINS]
    made = lay(other, [], differs, [], [correction(PINS[1])])
    assert list(made.pins) == differs and made.lost == ()


def test_of_equal_rows_the_nearest_page_is_meant() -> None:
    """A changed document prints a row twice: the one nearest to the old page is taken."""
    twice = [replace(PINS[1], page=3), replace(PINS[1], page=2)]
    assert circuits(correction(PINS[1]), twice, document("b" * 64)) == ["1441", "77"]
