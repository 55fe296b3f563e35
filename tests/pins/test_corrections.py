"""Decisions of the person laid over a document as read."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from xref.pins.corrections import PUT_ASIDE, UNCONFIRMED, Laid, lay
from xref.pins.corrections_match import decisions_for, share
from xref.pins.corrections_records import (
    Changes,
    Decision,
    HeadDecision,
    PutAside,
    RowDecision,
    region_of,
    row_as_read,
    texts_of,
)
from xref.records import Box, Connector, Document, PageNote, Pin

SHA = "a" * 64
AT = "2026-11-25T14:03:00Z"


def document(sha256: str = SHA, name: str = "loom.pdf", scheme: str = "iec60757") -> Document:
    """Make a document."""
    return Document(
        machine="lift", name=name, path=f"/m/{name}", sha256=sha256, pages=3, reader="1", scheme=scheme
    )


def pin(cavity: str, circuit: str = "", row: int = 0, **more: Any) -> Pin:
    """Make a row of X5 on page 1."""
    row = row or int(cavity)
    at = {"x0": 50.0, "x1": 500.0, "top": 100.0 + 20 * row, "bottom": 112.0 + 20 * row, "row_no": row}
    fields: dict[str, Any] = {"machine": "lift", "document": "loom.pdf", "page": 1, "connector": "X5", **at}
    return Pin(cavity=cavity, circuit=circuit, **{**fields, **more})


PINS = [
    pin("1", "1440", color_code="BU/YE", base_color="blue", stripe_color="yellow", size="0.5", size_mm2=0.5),
    pin("2", "1441", color_code="XX", flags=("color-unknown", "row-assembled")),
    pin("3", "1442", flags=("heading-uncertain",)),
    pin("4", status="unused"),
]
NOTES = [PageNote(document="loom.pdf", page=1, page_label="1", outcome="read", why="header", machine="lift")]
HEADS = [Connector(machine="lift", connector="X5", document="loom.pdf", pages=(1,), cavities_read=4)]


def lay_over(decisions: list[Decision], pins: list[Pin] | None = None, of: Document | None = None) -> Laid:
    """Lay decisions over the sample."""
    return lay(of or document(), HEADS, PINS if pins is None else pins, NOTES, decisions)


def about(place: int, *changes: tuple[str, str], accepted: bool = False, number: int = 1) -> RowDecision:
    """Decide about a row of the sample."""
    read = PINS[place]
    row = row_as_read(read, SHA, 1)
    return RowDecision(
        id=number,
        at=AT,
        row=row,
        changes=changes,
        accepted=accepted,
        shown=texts_of(read) if accepted else (),
    )


def test_without_decisions_a_document_is_as_it_was_read() -> None:
    """Nothing is changed that nobody decided about."""
    made = lay_over([])
    assert list(made.pins) == PINS and list(made.connectors) == HEADS and list(made.page_notes) == NOTES


def test_an_accepted_row_has_no_doubts_and_says_who_accepted_it_and_when() -> None:
    """Accepting takes the doubts away and leaves the decision with its time."""
    row = lay_over([about(1, accepted=True)]).pins[1]
    assert row.flags == () and row.notices == (f"accepted-by-person@{AT}",)
    assert row.circuit == "1441"


def test_a_row_read_otherwise_than_it_was_accepted_is_in_doubt() -> None:
    """What was accepted is the row as it was shown, not whatever a later reader finds in its place."""
    now = [replace(p, circuit="1444") if p.cavity == "2" else p for p in PINS]
    row = lay_over([about(1, accepted=True)], now).pins[1]
    assert UNCONFIRMED in row.flags and "color-unknown" in row.flags


def test_a_corrected_colour_is_decoded_anew() -> None:
    """The code is read by the document's scheme (IEC 60757: RD red, WH white); other doubts stay."""
    row = lay_over([about(1, ("color_code", "RD/WH"))]).pins[1]
    assert (row.base_color, row.stripe_color) == ("red", "white")
    assert row.flags == ("row-assembled",)


def test_a_corrected_colour_that_nobody_knows_is_a_doubt() -> None:
    """A code in no scheme stays a doubt, whoever gave it."""
    row = lay_over([about(0, ("color_code", "QQ"))]).pins[0]
    assert row.base_color == "" and "color-unknown" in row.flags


def test_a_colour_is_read_by_the_documents_own_key_as_its_rows_show_it() -> None:
    """Where the document has its own key, the codes mean what they mean in its other rows."""
    own = [pin("1", color_code="S/W", base_color="black", stripe_color="white"), pin("2", "7")]
    row = RowDecision(id=1, at=AT, row=row_as_read(own[1], SHA, 1), changes=(("color_code", "W/S"),))
    made = lay_over([row], own, document(scheme="key"))
    assert (made.pins[1].base_color, made.pins[1].stripe_color) == ("white", "black")


def test_a_corrected_size_is_in_the_unit_of_the_other_rows() -> None:
    """0.75 beside rows in mm² is mm²."""
    assert lay_over([about(1, ("size", "0.75"))]).pins[1].size_mm2 == 0.75


def test_a_circuit_in_an_empty_cavity_makes_it_used() -> None:
    """A row said to be unused carries a wire once the person names its circuit."""
    assert lay_over([about(3, ("circuit", "9"))]).pins[3].status == "used"


def test_a_later_decision_is_laid_over_an_earlier_one() -> None:
    """The last word counts, and what it does not name stays."""
    first = about(0, ("circuit", "1"), ("function", "Lamp"))
    second = about(0, ("circuit", "2"), number=2)
    row = lay_over([first, second]).pins[0]
    assert (row.circuit, row.function) == ("2", "Lamp")
    assert len([n for n in row.notices if n.startswith("corrected")]) == 1


def test_a_row_is_found_where_a_newer_reader_draws_its_box_a_little_otherwise() -> None:
    """The box may shift by less than a row; the decision still is about the same row, without doubt."""
    now = [replace(p, x0=p.x0 - 6, top=p.top - 2, bottom=p.bottom + 3) for p in PINS]
    made = lay_over([about(1, ("circuit", "77"))], now)
    assert [p.circuit for p in made.pins] == ["1440", "77", "1442", ""]
    assert UNCONFIRMED not in made.pins[1].flags


def test_two_rows_of_one_box_are_told_apart_by_their_order() -> None:
    """Two wires in a cavity are two rows; the decision is about the one it was made for."""
    twins = [pin("1", "10"), pin("1", "11"), pin("2", "12")]
    second = RowDecision(id=1, at=AT, row=row_as_read(twins[1], SHA, 2), changes=(("circuit", "99"),))
    assert [p.circuit for p in lay_over([second], twins).pins] == ["10", "99", "12"]


def test_in_a_changed_document_a_row_is_found_by_its_texts_and_is_in_doubt() -> None:
    """Another edition: the correction is laid where the same texts stand, and waits to be confirmed."""
    moved = [replace(p, page=2, top=p.top + 300, bottom=p.bottom + 300) for p in PINS]
    made = lay_over([about(1, ("circuit", "77"))], moved, document("b" * 64))
    assert made.pins[1].circuit == "77" and UNCONFIRMED in made.pins[1].flags
    assert made.rows[1].by_text == (1,) and made.lost == ()


def test_in_a_changed_document_acceptance_takes_no_doubt_away() -> None:
    """A row accepted in one edition keeps its doubts in the next until it is accepted there."""
    made = lay_over([about(1, accepted=True)], PINS, document("b" * 64))
    assert set(made.pins[1].flags) == {"color-unknown", "row-assembled", UNCONFIRMED}


def test_a_changed_row_of_a_changed_document_is_doubted_and_not_changed() -> None:
    """Where the cavity holds something else now, the old correction says nothing about it."""
    now = [replace(p, circuit="5000", color_code="GN") if p.cavity == "2" else p for p in PINS]
    made = lay_over([about(1, ("circuit", "77"))], now, document("b" * 64))
    assert made.pins[1].circuit == "5000" and UNCONFIRMED in made.pins[1].flags


def test_a_decision_that_fits_no_row_is_named() -> None:
    """Nothing is lost in silence: the number of the decision is handed out."""
    made = lay_over([about(1, ("circuit", "77"), number=9)], [PINS[0]], document("b" * 64))
    assert made.lost == (9,) and list(made.pins) == [PINS[0]]


def test_a_table_put_aside_vanishes_and_its_page_says_so() -> None:
    """No row and no connector is left of it, and the page is named as put aside by the person."""
    made = lay_over([PutAside(id=1, at=AT, region=region_of(PINS, SHA))])
    assert made.pins == () and made.connectors == ()
    assert (made.page_notes[0].outcome, made.page_notes[0].why) == ("skipped", PUT_ASIDE)


def test_rows_outside_the_table_put_aside_stay() -> None:
    """Only the rows inside its box are gone."""
    made = lay_over([PutAside(id=1, at=AT, region=region_of(PINS[:2], SHA))])
    assert [p.cavity for p in made.pins] == ["3", "4"]
    assert made.page_notes[0].outcome == "read" and made.connectors[0].cavities_read == 2


def test_a_table_put_aside_in_an_earlier_edition_is_kept_in_doubt() -> None:
    """In another edition nothing vanishes by an old decision; its rows wait to be judged anew."""
    made = lay_over([PutAside(id=1, at=AT, region=region_of(PINS, SHA))], PINS, document("b" * 64))
    assert len(made.pins) == 4 and all(UNCONFIRMED in p.flags for p in made.pins)


def head(changes: Changes, region: bool = False) -> HeadDecision:
    """Decide about X5."""
    found = region_of(PINS[2:], SHA) if region else None
    return HeadDecision(id=1, at=AT, machine="lift", connector="X5", half="", changes=changes, region=found)


def test_a_connector_is_renamed_everywhere_and_its_record_with_it() -> None:
    """Name and half of a connector are those the person gives; the doubt about its heading is settled."""
    made = lay_over([head((("connector", "X6"), ("half", "A"), ("role", "inline")))])
    assert {(p.connector, p.half, p.role) for p in made.pins} == {("X6", "A", "inline")}
    assert [(c.connector, c.half, c.role) for c in made.connectors] == [("X6", "A", "inline")]
    assert "by the person" in made.connectors[0].role_why
    assert made.pins[2].flags == ()


def test_a_table_can_go_to_another_connector_alone() -> None:
    """The rows of that table change their connector; what the wrong one was is not taken along."""
    pins = [replace(p, component="Pump", role="component") for p in PINS]
    made = lay_over([head((("connector", "X9"),), region=True)], pins)
    assert [p.connector for p in made.pins] == ["X5", "X5", "X9", "X9"]
    assert (made.pins[2].component, made.pins[2].role) == ("", "unknown")
    assert made.pins[0].component == "Pump"


def test_the_same_name_confirms_a_heading() -> None:
    """A doubtful heading is settled by saying that it is right."""
    made = lay_over([head((("connector", "X5"),), region=True)])
    assert made.pins[2].flags == () and made.pins[1].flags == PINS[1].flags


def test_a_cavity_that_stood_twice_is_judged_anew() -> None:
    """Correcting one of two equal cavities settles the doubt of the other; making two alike raises it."""
    twice = [pin("1", "10", flags=("cavity-repeated",)), pin("1", "11", row=2, flags=("cavity-repeated",))]
    mended = RowDecision(id=1, at=AT, row=row_as_read(twice[1], SHA, 1), changes=(("cavity", "2"),))
    assert [p.flags for p in lay_over([mended], twice).pins] == [(), ()]
    made = lay_over([about(1, ("cavity", "1"))])
    assert "cavity-repeated" in made.pins[0].flags and "cavity-repeated" in made.pins[1].flags


def test_decisions_of_another_document_are_left_out() -> None:
    """A decision concerns the content it was made on, or what took its place under its name."""
    other = replace(about(0, ("circuit", "1")).row, sha256="c" * 64, document="other.pdf")
    decision = replace(about(0, ("circuit", "1")), row=other)
    there = document("c" * 64, "other.pdf")
    assert decisions_for(document(), [decision], [there]) == []
    assert decisions_for(there, [decision], [document()]) == [decision]
    changed = document("d" * 64, "other.pdf")
    assert decisions_for(changed, [decision], [document()]) == [decision]
    assert decisions_for(document(), [decision], [changed]) == []


def test_a_decision_about_a_connector_stays_in_its_machine() -> None:
    """X5 of another machine is another connector."""
    tug = replace(document(), machine="tug")
    assert decisions_for(tug, [head((("role", "inline"),))], []) == []


@given(
    st.permutations(
        [
            about(0, ("circuit", "7")),
            about(1, ("function", "Lamp"), number=2),
            about(2, accepted=True, number=3),
        ]
    )
)
def test_decisions_about_different_rows_do_not_hinder_each_other(decisions: list[Decision]) -> None:
    """Whatever their order, each row is what its own decision says."""
    made = lay_over(decisions)
    assert made.pins[0].circuit == "7" and made.pins[1].function == "Lamp" and made.pins[2].flags == ()


def test_boxes_are_the_same_row_by_what_they_share() -> None:
    """A row and its neighbour share nothing; a row drawn higher shares all of the smaller box."""
    row = Box(x0=0, top=0, x1=100, bottom=10)
    assert share(row, Box(x0=0, top=10, x1=100, bottom=20)) == 0.0
    assert share(row, Box(x0=0, top=-3, x1=100, bottom=14)) == 1.0
