"""What is left of a plan, and what may be marked: nothing that was done is ever dropped."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.moves.progress_sample import PLAN, line_of, marked, pins, worked, workspace
from xref.errors import UsageError
from xref.moves.ids import ALPHABET
from xref.moves.line_ids import ids_meant, near_ids, typed_key
from xref.moves.marking import Wanted, marks_to_undo, marks_wanted
from xref.moves.progress import progress_of
from xref.moves.progress_lines import lines_of_plan
from xref.moves.readings import checked_reading, is_live, is_open, shows_continuity
from xref.moves.records import Plan
from xref.store.work_progress import Mark

READY = ("labelled", "metered", "cut")


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    """Return the plan of the small move."""
    workspace(tmp_path)
    return worked(tmp_path)


def wanted(*ids: str, **more: object) -> Wanted:
    """Make what the person says."""
    return Wanted(ids=ids, **more)  # type: ignore[arg-type]


def test_lines_come_plug_by_plug_first_the_cuts_then_what_they_make_possible(plan: Plan) -> None:
    """The order of work: all cuts of a plug, then its joints and caps; each line with its steps."""
    lines = lines_of_plan(plan)
    assert [(line.pin.connector, line.kind, line.circuit) for line in lines] == [
        ("B1", "cut", "100"),
        ("B1", "cut", "200"),
        ("B1", "join", "100"),
        ("B1", "join", "200"),
        ("H1", "cut", "300"),
        ("H1", "cap", "300"),
    ]
    assert {(line.kind, line.steps) for line in lines} == {
        ("cut", ("labelled", "metered", "cut")),
        ("join", ("labelled", "joined", "metered")),
        ("cap", ("capped",)),
    }


def test_with_nothing_done_all_is_left_and_the_machine_is_whole(plan: Plan) -> None:
    """Every step counts as left, every crossing net still crosses, no wire lies open."""
    progress = progress_of(plan, [])
    assert progress.whole and not progress.open
    assert [state.next for state in progress.left] == ["labelled"] * 5 + ["capped"]
    assert progress.counts == {
        "labelled": (0, 5),
        "metered": (0, 5),
        "cut": (0, 3),
        "joined": (0, 2),
        "capped": (0, 1),
    }
    assert [(item.name, item.joined, item.of) for item in progress.crossing] == [
        ("100", 0, 1),
        ("200", 0, 1),
        ("400", 0, 0),
    ]
    assert progress.crossing[2].why.startswith("may be a safety circuit (brake)")
    assert [(stop.connectors, stop.left, stop.reached) for stop in progress.stops] == [
        (("B1",), 4, False),
        (("H1",), 2, False),
    ]


def test_a_cut_wire_lies_open_until_all_its_stubs_are_joined_or_capped(plan: Plan) -> None:
    """The machine is whole before the cut and after the joint, not between."""
    cut = marked(plan, "100", *READY, value="0.2 ohm")
    progress = progress_of(plan, cut)
    assert not progress.whole and progress.open == (line_of(plan, "100").id,)
    assert progress.stops[0].open == progress.open and progress.stops[1].open == ()
    joined = [*cut, *marked(plan, "100", "joined", kind="join", first=4)]
    assert progress_of(plan, joined).whole
    assert [item.name for item in progress_of(plan, joined).crossing] == ["200", "400"]


def test_a_joint_of_one_stub_makes_nothing_whole(plan: Plan) -> None:
    """A wire joined with nothing lies open and its net still crosses, whatever was marked; it is said."""
    (join,) = (join for join in plan.joins if join.id == line_of(plan, "100", "join").id)
    one = replace(join, cuts=join.cuts[:1], stubs=join.stubs[:1])
    half = replace(plan, joins=tuple(one if other is join else other for other in plan.joins))
    marks = marked(half, "100", *READY, value="0.2 ohm")
    marks += marked(half, "100", "labelled", "joined", "metered", kind="join", first=5, value="0.1 ohm")
    progress = progress_of(half, marks)
    assert not progress.whole and progress.open == (line_of(half, "100").id,)
    assert [(item.name, item.joined) for item in progress.crossing][:1] == [("100", 0)]
    (state,) = (s for s in progress.lines if s.line.id == join.id)
    assert "joined with nothing" in state.remarks[0]
    to_host = replace(half, joins=tuple(replace(other, host="fuse 3") for other in half.joins))
    assert progress_of(
        to_host,
        marked(to_host, "100", *READY, value="0.2 ohm")
        + [replace(mark, id=9) for mark in marked(to_host, "100", "joined", kind="join")],
    ).whole, "one stub is joined to the new vehicle"


def test_a_cut_that_no_joint_and_no_cap_serves_lies_open(plan: Plan) -> None:
    """Where the plan says nothing of what becomes of its stubs, they are open when it is cut."""
    bare = replace(plan, caps=())
    progress = progress_of(bare, marked(bare, "300", *READY, value="0.2 ohm"))
    assert progress.open == (line_of(bare, "300").id,)


def test_a_stop_point_is_reached_when_all_lines_of_the_plug_are_done(plan: Plan) -> None:
    """With the horn's wire labelled, metered, cut and capped its plug is done."""
    marks = marked(plan, "300", *READY, value="0.2 ohm") + marked(plan, "300", "capped", kind="cap", first=9)
    progress = progress_of(plan, marks)
    assert [stop.reached for stop in progress.stops] == [False, True]
    assert [state.line.circuit for state in progress.left] == ["100", "200", "100", "200"]


def test_plugs_that_a_joint_holds_together_are_one_stop_point(tmp_path: Path) -> None:
    """An in-line that goes is cut at both halves; the machine is whole when both are done."""
    workspace(tmp_path, [*pins(), *_INLINE])
    plan = worked(tmp_path, '[place]\n"Lift controller" = "locker"\n"Sensor" = "locker"\n"Fan" = "locker"\n')
    two = [join for join in plan.joins if len(join.cuts) == 2]
    assert two, "the sample has no joint of two cuts"
    stops = progress_of(plan, []).stops
    assert [stop.connectors for stop in stops if len(stop.connectors) > 1] == [("X5 half A", "X5 half B")]


def _pin(connector: str, cavity: str, circuit: str, row: int, **more: object) -> object:
    from tests.store.sample import pin

    return pin(connector, cavity, circuit, row_no=row, function="Fan", **more)


_INLINE = [
    _pin("A1", "7", "700", 11, component="Lift controller", role="component"),
    _pin("X5", "1", "700", 12, half="A", role="inline", goes_to="A1:7"),
    _pin("X5", "1", "701", 13, half="B", role="inline", goes_to="F1:1"),
    _pin("F1", "1", "701", 14, component="Fan", role="component"),
]


def test_no_cut_without_labels_and_meter(plan: Plan) -> None:
    """The sentence names all that is missing; --anyway keeps it with the mark."""
    line = line_of(plan, "100")
    with pytest.raises(
        UsageError, match="cannot be marked cut yet: its two labels are not marked; it was not m"
    ):
        marks_wanted(plan, [], wanted(line.id))
    with pytest.raises(UsageError, match="cut yet: it was not metered"):
        marks_wanted(plan, marked(plan, "100", "labelled"), wanted(line.id))
    (mark,) = marks_wanted(plan, marked(plan, "100", "labelled"), wanted(line.id, anyway=True)).marks
    assert (mark.step, mark.anyway) == ("cut", "it was not metered")
    (mark,) = marks_wanted(plan, marked(plan, "100", "labelled", "metered"), wanted(line.id)).marks
    assert (mark.step, mark.anyway) == ("cut", "")


def test_an_open_reading_is_no_leave_to_cut(plan: Plan) -> None:
    """A wire that shows no continuity may be the wrong one; a later reading that shows some is enough."""
    line = line_of(plan, "100")
    open_ = marked(plan, "100", "labelled", "metered", value="OL")
    with pytest.raises(UsageError, match="its last reading shows no continuity"):
        marks_wanted(plan, open_, wanted(line.id))
    (state, *_) = progress_of(plan, open_).left
    assert state.next == "metered" and "shows no continuity: OL, it is open" in state.remarks[0]
    both = [*open_, replace(open_[1], id=9, value="0.3 ohm")]
    assert marks_wanted(plan, both, wanted(line.id)).marks


@pytest.mark.parametrize(
    ("good", "bad", "why"),
    [
        ("0.2 ohm", "24 V", "24 V, it is live"),
        ("0.2 ohm", "OL", "OL, it is open"),
        ("200 mohm", "2 kohm", "2 kohm, a wire has at most 50 ohm"),
        ("0.2 ohm", "0.1 V", "0.1 V, that is no number of ohms"),
    ],
)
def test_the_last_reading_before_a_cut_counts(plan: Plan, good: str, bad: str, why: str) -> None:
    """A bad reading after a good one stops the cut, says what to do, and comes next; undone, it does not."""
    line = line_of(plan, "100")
    marks = [
        *marked(plan, "100", "labelled", "metered", value=good),
        *marked(plan, "100", "metered", first=3, value=bad),
    ]
    with pytest.raises(UsageError, match=f"its last reading shows no continuity: {why}") as error:
        marks_wanted(plan, marks, wanted(line.id))
    assert "meter again" in error.value.hint and f"{line.id} --undo --step metered" in error.value.hint
    (state, *_) = progress_of(plan, marks).left
    assert state.next == "metered" and why in state.remarks[0]
    silent = [*marks, *marked(plan, "100", "metered", first=4)]
    assert progress_of(plan, silent).left[0].next == "metered", "no value takes no value back"
    taken = marks_to_undo(plan, marks, wanted(line.id, step="metered"))
    assert taken == marks[2:]
    assert marks_wanted(plan, marks[:2], wanted(line.id)).marks


def test_a_reading_after_the_cut_says_nothing_of_the_cut(plan: Plan) -> None:
    """A cut wire is open: that reading is kept, and asks for nothing."""
    marks = marked(plan, "100", *READY, value="0.2 ohm") + marked(plan, "100", "metered", first=9, value="OL")
    (state,) = (s for s in progress_of(plan, marks).lines if s.line.id == line_of(plan, "100").id)
    assert state.left == () and state.remarks == ()


def test_the_last_reading_of_a_joint_counts(plan: Plan) -> None:
    """A joint that was through and is open now is metered again."""
    marks = marked(plan, "100", *READY, value="0.2 ohm")
    marks += marked(plan, "100", "labelled", "joined", "metered", kind="join", first=5, value="0.1 ohm")
    marks += marked(plan, "100", "metered", kind="join", first=9, value="OL")
    (state,) = (s for s in progress_of(plan, marks).lines if s.line.kind == "join" and s.marks)
    assert state.left == ("metered",) and "OL" in state.remarks[0]


@pytest.mark.parametrize("value", ["12 V", "50 kohm", "1 MΩ", "> 20 MΩ", "10 A", "> 3 ohm", "75 ohm"])
def test_what_is_no_continuity_is_no_leave_to_cut(plan: Plan, value: str) -> None:
    """Volts mean that the wire is live, thousands of ohms that another thing was metered."""
    line = line_of(plan, "100")
    with pytest.raises(UsageError, match="its last reading shows no continuity"):
        marks_wanted(plan, marked(plan, "100", "labelled", "metered", value=value), wanted(line.id))


@pytest.mark.parametrize("value", ["0.3 ohm", "0,3 Ω", "300 mohm", "-0.1 Ohm", "12 ohms", "< 1 Ω", "0.02 kΩ"])
def test_some_ohms_are_continuity(plan: Plan, value: str) -> None:
    """However a meter shows them."""
    line = line_of(plan, "100")
    assert marks_wanted(plan, marked(plan, "100", "labelled", "metered", value=value), wanted(line.id)).marks


def test_what_is_not_cut_is_neither_joined_nor_capped(plan: Plan) -> None:
    """A joint waits for each of its cuts, a cap for its own; a reading for the joint."""
    join, cap = line_of(plan, "100", "join"), line_of(plan, "300", "cap")
    for line in (join, cap):
        with pytest.raises(UsageError, match=f"{line.cuts[0]} is not cut"):
            marks_wanted(plan, [], wanted(line.id))
    with pytest.raises(UsageError, match="a reading proves nothing"):
        marks_wanted(plan, [], wanted(join.id, value="0.1 ohm"))
    both = marks_wanted(plan, marked(plan, "100", "labelled", "metered"), wanted(join.cuts[0], join.id))
    assert [(mark.line, mark.step) for mark in both.marks] == [(join.cuts[0], "cut"), (join.id, "joined")]


def test_a_joint_is_metered_after_it_was_made(plan: Plan) -> None:
    """A reading from before the joint (or from before it was made anew) does not prove it."""
    marks = marked(plan, "100", "labelled", "metered", "joined", kind="join", value="0.1 ohm")
    (state,) = (s for s in progress_of(plan, marks).lines if s.line.id == line_of(plan, "100", "join").id)
    assert state.left == ("metered",)


def test_steps_and_values_that_do_not_fit_are_refused(plan: Plan) -> None:
    """A cut is not capped, a cap not labelled, one reading is not that of two lines."""
    cut, cap = line_of(plan, "100"), line_of(plan, "300", "cap")
    with pytest.raises(UsageError, match="is a cut: it cannot be marked capped"):
        marks_wanted(plan, [], wanted(cut.id, step="capped"))
    with pytest.raises(UsageError, match="is a cap: it cannot be marked labelled"):
        marks_wanted(plan, [], wanted(cap.id, step="labelled"))
    with pytest.raises(UsageError, match="One reading cannot be that of 2 lines"):
        marks_wanted(plan, [], wanted(cut.id, cap.id, value="0.1 ohm"))
    with pytest.raises(UsageError, match="--value goes with --step metered"):
        marks_wanted(plan, [], wanted(cut.id, step="labelled", value="0.1 ohm"))


def test_a_step_that_is_done_already_is_said_and_not_kept_twice(plan: Plan) -> None:
    """Nothing new comes of it; a further reading or a note is something new."""
    marks, line = marked(plan, "100", "labelled"), line_of(plan, "100")
    made = marks_wanted(plan, marks, wanted(line.id, step="labelled"))
    assert made.marks == [] and made.already == marks
    assert marks_wanted(plan, marks, wanted(line.id, step="labelled", note="yellow tape")).marks


def test_marks_stay_with_their_lines_when_the_plan_changes(plan: Plan, tmp_path: Path) -> None:
    """A line is known by its wire end, whatever else is in the plan."""
    marks = marked(plan, "100", *READY, value="0.2 ohm")
    other = worked(tmp_path, PLAN.replace('"Horn"', "") + "[tails]\nmetres = 0.2\n")
    progress = progress_of(other, marks)
    assert progress.no_longer_asked == ()
    assert [s.left for s in progress.lines if s.line.kind == "cut"] == [(), ("labelled", "metered", "cut")]


def test_what_was_done_and_is_no_longer_asked_for_is_listed(plan: Plan, tmp_path: Path) -> None:
    """A wire that was cut and is in no plan any more lies open, and is said, until it is joined or undone."""
    marks = marked(plan, "300", *READY, value="0.2 ohm")
    other = worked(tmp_path, '[place]\n"Lift controller" = "locker"\n')
    progress = progress_of(other, marks)
    (gone,) = progress.no_longer_asked
    assert (gone.line, gone.steps, gone.open) == (
        line_of(plan, "300").id,
        ("labelled", "metered", "cut"),
        True,
    )
    assert not progress.whole and progress.open == (gone.line,)
    assert marks_to_undo(other, marks, wanted(gone.line)) == [marks[-1]]
    assert progress_of(other, marks[:-1]).whole
    with pytest.raises(UsageError, match="no longer asks for"):
        marks_wanted(other, marks, wanted(gone.line))


def test_a_joint_of_both_stubs_makes_a_forgotten_cut_whole(plan: Plan, tmp_path: Path) -> None:
    """Cut and joined with an extension: electrically one, though no plan asks for it."""
    marks = marked(plan, "100", *READY, value="1 ohm") + marked(plan, "100", "joined", kind="join", first=9)
    empty = worked(tmp_path, "")
    progress = progress_of(empty, marks)
    assert [(item.kind, item.open) for item in progress.no_longer_asked] == [("cut", False), ("join", False)]
    assert progress.whole and progress.lines == ()


def test_a_cavity_that_another_document_pads_is_the_same(plan: Plan) -> None:
    """`02` and `2` are one cavity: marks made under one spelling hold under the other."""
    (mark,) = marked(plan, "200", "labelled")
    (end,) = mark.ends
    padded = replace(mark, ends=(replace(end, cavity="2"),), said=mark.said.replace(":02", ":2"))
    progress = progress_of(plan, [padded])
    assert progress.no_longer_asked == () and progress.counts["labelled"] == (1, 4)


def test_another_circuit_in_the_same_cavity_is_another_wire(plan: Plan) -> None:
    """What was done at it is listed, with the line that is there now."""
    (mark,) = marked(plan, "200", "labelled")
    (end,) = mark.ends
    (gone,) = progress_of(plan, [replace(mark, ends=(replace(end, circuit="201"),))]).no_longer_asked
    assert line_of(plan, "200").id in gone.here and not gone.open


def test_a_changed_label_or_joint_is_done_anew(plan: Plan) -> None:
    """Labels that bear another text, and an extension that ran elsewhere, count as left and are said."""
    label, joint = marked(plan, "100", "labelled"), marked(plan, "100", "joined", kind="join", first=5)
    marks = [replace(label[0], said="XXXX old text"), replace(joint[0], said="as fitted – wheelhouse")]
    progress = progress_of(plan, marks)
    cut, join = (s for s in progress.lines if s.line.circuit == "100")
    assert cut.next == "labelled" and "was labelled as “XXXX old text”; the plan now says" in cut.remarks[0]
    assert "joined" in join.left and "was joined as “as fitted – wheelhouse”" in join.remarks[0]
    with pytest.raises(UsageError, match="bear another text"):
        marks_wanted(plan, marks, wanted(cut.line.id))


def test_undo_takes_back_the_last_mark_or_the_last_of_a_step(plan: Plan) -> None:
    """Nothing to take back is said; a wire that is joined does not become uncut."""
    line, marks = line_of(plan, "100"), marked(plan, "100", *READY, value="0.2 ohm")
    assert marks_to_undo(plan, marks, wanted(line.id)) == [marks[2]]
    assert marks_to_undo(plan, marks, wanted(line.id, step="labelled")) == [marks[0]]
    with pytest.raises(UsageError, match="not marked joined"):
        marks_to_undo(plan, marks, wanted(line.id, step="joined"))
    joined = [*marks, *marked(plan, "100", "joined", kind="join", first=8)]
    with pytest.raises(UsageError, match="cannot be uncut"):
        marks_to_undo(plan, joined, wanted(line.id))
    assert marks_to_undo(plan, joined, wanted(line.id, anyway=True)) == [marks[2]]
    assert marks_to_undo(plan, joined, wanted(line_of(plan, "100", "join").id, line.id)) == [
        joined[3],
        marks[2],
    ]
    undone = [replace(mark, undone_at="2026-01-02T00:00:00Z") for mark in marks]
    with pytest.raises(UsageError, match="is not marked"):
        marks_to_undo(plan, undone, wanted(line.id))


def test_wires_that_nothing_tells_apart_are_marked_only_together(plan: Plan) -> None:
    """Two wires of one circuit in one cavity have one id: a mark says it of both, and only on purpose."""
    twice = replace(plan, cuts=(*plan.cuts, plan.cuts[0]))
    with pytest.raises(UsageError, match="stands for 2 wires"):
        marks_wanted(twice, [], wanted(plan.cuts[0].id, step="labelled"))


def test_ids_are_found_as_people_type_them() -> None:
    """Case, blanks and look-alikes are folded; no sign of an id is folded into another."""
    assert len({typed_key(sign) for sign in ALPHABET}) == len(ALPHABET)
    known = ["FMTP", "FMTPJ1", "FMTPJ10", "K4CJ", "9XXK"]
    for typed in ("FMTP", "fmtp", " Fntp ", "F-M-T-P", "ｆｍｔｐ", "FМТР"):
        assert ids_meant(typed, known) == ["FMTP"], typed
    assert ids_meant("fmtpjl", known) == ["FMTPJ1"] and ids_meant("FMTPJIO", known) == ["FMTPJ10"]
    assert ids_meant("FMTX", known) == [] and ids_meant("", known) == []


def test_an_unknown_id_is_answered_with_near_ones(plan: Plan) -> None:
    """Signs in another order or one wrong sign; what is like nothing gets the plan's lines."""
    id_ = line_of(plan, "100").id
    assert near_ids(id_[0] + id_[2] + id_[1] + id_[3], [id_, "WWWW"])[0] == id_
    with pytest.raises(UsageError) as error:
        marks_wanted(plan, [], wanted(f"{id_[:3]}7"))
    assert f"Did you mean {id_}" in error.value.hint and "Nothing was marked" in error.value.hint
    with pytest.raises(UsageError, match="no line"):
        marks_wanted(plan, [], wanted(id_, "77777"))


@pytest.mark.parametrize(
    "text",
    [
        "0.3 ohm",
        "0,3 Ω",
        "0,4 ohm",
        "0,123 ohm",
        "12,5 V",
        "1,2345 kohm",
        ">20 MΩ",
        "24.1V",
        "-0.02 V",
        "OL",
        "ol MΩ",
        "open",
        "∞",
    ],
)
def test_readings_are_kept_as_typed(text: str) -> None:
    """A number with its unit, or an open circuit."""
    assert checked_reading(f" {text} ") == text
    assert is_open(text) == (text[0] in "Oo∞")


@pytest.mark.parametrize("text", ["1,234 ohm", "12,500 V", "< 1,000 Ω", "1,234"])
def test_a_comma_that_may_part_thousands_is_asked_about(text: str) -> None:
    """A wire of 1.234 ohm is through, one of 1234 ohm is not: what was meant is not guessed."""
    with pytest.raises(UsageError, match=r"may be 1?[12]?\.\d{3} or 1\d+"):
        checked_reading(text)
    assert not shows_continuity(text)


@pytest.mark.parametrize("text", ["0,4", "0.4", "24"])
def test_a_number_alone_is_asked_for_its_unit(text: str) -> None:
    """Ohms and volts are opposites here: both are offered, ready to type."""
    with pytest.raises(UsageError, match="has no unit") as error:
        checked_reading(text)
    assert f'"{text} ohm" or "{text} V"' in error.value.hint


@pytest.mark.parametrize("text", ["good", "ohm 3", "=1+1 V", "0.3 ohm and warm", "1 " + "x" * 60, "OL " * 20])
def test_what_is_no_reading_is_refused(text: str) -> None:
    """A bare number has no meaning later, words belong into the note."""
    with pytest.raises(UsageError, match="no reading"):
        checked_reading(text)


def test_marks_taken_back_count_no_more(plan: Plan) -> None:
    """Only what holds is progress."""
    undone: list[Mark] = [replace(m, undone_at="2026-01-02T00:00:00Z") for m in marked(plan, "300", *READY)]
    assert progress_of(plan, undone).counts == progress_of(plan, []).counts


def test_a_label_of_another_cavity_is_printed_anew(tmp_path: Path) -> None:
    """`X1:11` and `X11:1` are not the same label, however alike they look without the colon."""
    workspace(tmp_path)
    plan = worked(tmp_path)
    line = line_of(plan, "100")
    said = line.said["labelled"]
    moved = said.replace("A1:1", "A:11")
    assert moved != said
    (mark,) = marked(plan, "100", "labelled")
    (state,) = (s for s in progress_of(plan, [replace(mark, said=moved)]).lines if s.line.id == line.id)
    assert not state.done("labelled")
    (state,) = (s for s in progress_of(plan, [mark]).lines if s.line.id == line.id)
    assert state.done("labelled")


@pytest.mark.parametrize(
    "text", ["12 V", "24.1V", "−12 V", "900 mV", "12 V DC", "12 VDC", "3 A", "0,2 A", "40 mA"]
)
def test_a_reading_of_a_live_wire(text: str) -> None:
    """Volts, or any current, on a wire about to be cut: it is fed."""
    assert is_live(text)


@pytest.mark.parametrize("text", ["40 mV", "0.1 V", "0.3 ohm", "OL", "20 MΩ", "0 A", "1 mA"])
def test_a_reading_of_a_dead_wire(text: str) -> None:
    """Millivolts are what a meter picks up from the air."""
    assert not is_live(text)
