"""Labels of a plan: every wire end once, no two alike, made for its wire, and nothing cut off in silence."""

from __future__ import annotations

import json
import re
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.conftest import ROOT
from xref.cli import main
from xref.data.wire_labels import outer_diameter, outer_diameters, short_color
from xref.moves.ids import ALPHABET, extension_labels, spoken
from xref.moves.label_fit import (
    LARGEST_HEAD_PT,
    LEADING,
    MARGIN_MM,
    MM_PER_POINT,
    SMALLEST_PT,
    Tape,
    circumference_mm,
    flag_length_mm,
    labelled,
    longer_flag,
    rolls,
    tape_m,
)
from xref.moves.labels import WireEnd, alike, marks_along, wire_ends
from xref.moves.plan_file import parse_plan
from xref.moves.records import Plan
from xref.moves.work_out import work_out
from xref.pipeline import index_paths
from xref.records import Pin
from xref.settings import Settings
from xref.store.index import Index
from xref.workspace import Workspace

PLAN = """
machine = "forklift"
rest = "stays"
system_volts = 24
[place]
"Mast controller" = "stern locker"
"A50" = "wheelhouse"
"A40" = "wheelhouse"
[route]
"stern locker - wheelhouse" = 4.2
"""


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Workspace:
    """Index the demo manuals once."""
    found = Workspace(tmp_path_factory.mktemp("labels"))
    manuals = sorted((ROOT / "examples" / "manuals").glob("*.pdf"))
    index_paths(manuals, found, machine="forklift", settings=Settings(workers=2))
    return found


@pytest.fixture(scope="module")
def plan(workspace: Workspace) -> Plan:
    """Work out the demo's plan."""
    with Index.open(workspace) as index:
        return work_out(index, parse_plan(PLAN))


def end(*way: str, head: tuple[str, ...] = ("FMTP", "2312"), size: float | None = 0.35) -> WireEnd:
    """Make a wire end."""
    return WireEnd(
        order=1,
        id="FMTPP",
        text=" ".join((*head, *way)),
        head=head,
        way=way or ("B16:3", ">A30 X1:B3"),
        color="wht/pink",
        cut="FMTP",
        side="plug",
        place="",
        pin=Pin(document="m.pdf", page=1, connector="B16", cavity="3", circuit="2312"),
        size_mm2=size,
        color_code="WH-PK",
    )


def half_em(text: str, bold: bool) -> float:
    """Measure as type does whose every letter is half as wide as it is high."""
    return 0.5 * len(text)


def test_every_wire_end_has_one_label_and_no_two_are_alike(plan: Plan) -> None:
    """Both stubs of each cut and both ends of each extension are labelled, as the plan counts them."""
    ends = wire_ends(plan)
    assert len(ends) == plan.counts["labels"] > 100
    assert not alike(ends)
    assert len({one.id for one in ends}) == len(ends)
    assert [one.order for one in ends] == list(range(1, len(ends) + 1))


def test_the_texts_on_labels_are_those_of_the_plan(plan: Plan) -> None:
    """What the plan shows for a line is what is printed: in its order, word for word."""
    texts = [text for line in (*plan.cuts, *plan.joins) for text in line.labels]
    assert [one.text for one in wire_ends(plan)] == texts
    for one in wire_ends(plan):
        assert " ".join((*one.head, "".join(one.way))) == one.text


def test_the_end_of_an_extension_bears_the_id_of_the_stub_it_is_joined_to(plan: Plan) -> None:
    """Whoever joins looks for two labels with one id; the far end is named where it has another."""
    ends = {one.text: one for one in wire_ends(plan)}
    extensions = [join for join in plan.joins if join.wire is not None]
    assert extensions
    for join in extensions:
        for text, other in zip(join.labels, reversed(join.labels), strict=True):
            one = ends[text]
            at = {cut: place for (cut, _), place in zip(join.stubs, join.at, strict=True)}
            sides = [own for own in join.stubs if own[0] == one.cut]
            places = [p for own, p in zip(join.stubs, join.at, strict=True) if own in sides]
            assert one.cut in at and one.place in places
            far = ends[other].cut
            assert far == one.cut or f">{far} " in text


def test_no_sign_of_an_id_is_taken_for_another() -> None:
    """Signs that eyes confuse are not in ids: 0 O Q, 1 I L, 2 Z, 5 S, 6 G, 8 B, U V, M N."""
    for group in ("0OQ", "1IL", "2Z", "5S", "6G", "8B", "UV", "MN"):
        assert len(set(group) & set(ALPHABET)) <= 1


def test_short_color_words_are_told_apart_in_small_print() -> None:
    """Any two of them differ in two letters or more, so that one smeared letter makes no other colour."""
    colors = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white", "pink")
    for one, other in combinations([short_color(color) for color in colors], 2):
        length = max(len(one), len(other))
        differing = sum(a != b for a, b in zip(one.ljust(length), other.ljust(length), strict=True))
        assert differing >= 2, (one, other)
    assert short_color("light green", "black", "red") == "lt green/blk/red"
    assert short_color("", "red") == ""


def test_an_extension_with_several_stubs_says_how_many() -> None:
    """The first stub's id stands first, then how many more are joined there."""
    one, other = extension_labels("1440", (("ACDE", "FHJK"), "locker"), (("MPRT",), "as fitted"))
    assert one == "ACDE+1 ext 1440 locker>MPRT as fitted"
    assert other == "MPRT ext 1440 as fitted>ACDE locker"


# --- lengths -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("od", "turn"), [(1.3, 4.08), (1.9, 5.97), (2.4, 7.54), (3.0, 9.42), (4.3, 13.5), (6.0, 18.8)]
)
def test_a_turn_is_pi_times_the_diameter(od: float, turn: float) -> None:
    """Source: geometry, worked out by hand for the diameters of thin-wall cable."""
    assert circumference_mm(od) == pytest.approx(turn, abs=0.05)


def test_the_worked_example_of_flags() -> None:
    """Source: by hand: 2 × 20 + π × 1.3 + 2 = 46.1 mm; 40 make 1844 mm; 173 go on a roll of 8 m."""
    assert flag_length_mm(20, 1.3) == 46.1
    labels = labelled([end()] * 40, Tape(od_mm=1.3), half_em)
    assert tape_m(labels) == 1.844
    assert rolls(labels, 8.0) == 1 and rolls([], 8.0) == 0
    assert (rolls(labels[:1] * 173, 8.0), rolls(labels[:1] * 174, 8.0)) == (1, 2)


@pytest.mark.parametrize(
    ("length", "marks"),
    [(50, 0), (75.9, 0), (76, 1), (120, 1), (178, 1), (179, 2), (381, 2), (382, 3), (762, 3), (763, 4)],
)
def test_marks_along_a_wire(length: float, marks: int) -> None:
    """Source: FAA AC 43.13-1B, 11-205 to 11-208.

    None under 3 in, one in the middle of 3 to 7 in, else at each end and every 15 in (76, 178, 381 mm).
    """
    assert marks_along(length) == marks


def test_no_two_marks_along_a_long_wire_lie_further_apart_than_fifteen_inches() -> None:
    """Source: FAA AC 43.13-1B, 11-205 to 11-208: ends and marks between them at most 381 mm apart."""
    for length in range(179, 5000, 7):
        assert length / (marks_along(length) - 1) <= 381.0
        assert marks_along(length) == 2 or length / (marks_along(length) - 2) > 381.0


def test_marks_along_stand_between_the_two_ends(plan: Plan) -> None:
    """With `along`, only extensions of known length get more labels, each with its number, none alike."""
    ends, more = wire_ends(plan), wire_ends(plan, along=True)
    lengths = [join.wire.length_m for join in plan.joins if join.wire and join.wire.length_m is not None]
    assert lengths
    assert len(more) - len(ends) == sum(max(0, marks_along(1000 * length) - 2) for length in lengths)
    assert not alike(more) and len({one.id for one in more}) == len(more)
    first = next(n for n, one in enumerate(more) if one.side == "along")
    assert more[first - 1].side == "extension" and more[first].text.endswith("(1 of 11)")


@pytest.mark.parametrize(
    ("size", "od"), [(0.5, 1.7), (0.75, 1.9), (1.0, 2.1), (1.5, 2.4), (2.5, 3.0), (6.0, 4.3)]
)
def test_diameters_of_thin_wall_cable(size: float, od: float) -> None:
    """Source: a dealer's published table of thin-wall automotive cables to ISO 6722 class B."""
    assert outer_diameter(size) == od


def test_a_diameter_is_never_guessed_too_small() -> None:
    """A size between two is taken as the thicker; thicker than all, or none, is not known."""
    assert outer_diameter(0.6) == outer_diameter(0.75)
    assert outer_diameter(None) is None and outer_diameter(70.0) is None
    diameters = list(outer_diameters().values())
    assert diameters == sorted(diameters)


# --- kinds and fitting -------------------------------------------------------------------------


def test_a_thin_wire_gets_a_flag_instead_of_a_wrap() -> None:
    """Round a wire of 2 mm or less, or one of unknown size, nobody reads a wrap."""
    ends = [end(size=size) for size in (0.5, 0.75, 1.5, 6.0, None)]
    labels = labelled(ends, Tape(kind="wrap", width_mm=24), half_em)
    assert [label.kind for label in labels] == ["flag", "flag", "wrap", "wrap", "flag"]
    assert labels[3].length_mm == pytest.approx(2 * circumference_mm(4.3), abs=0.1)
    assert not labels[-1].od_known and labels[0].od_known


def test_a_sleeve_must_go_over_its_wire() -> None:
    """A tube 6 mm wide laid flat has a bore of 3.8 mm: not for a wire of 4.3 mm."""
    thin, thick = labelled([end(size=0.5), end(size=6.0)], Tape(kind="sleeve", width_mm=6), half_em)
    assert thin.fits
    assert "does not go over" in thick.why


def test_a_text_that_does_not_fit_is_said_and_kept_whole() -> None:
    """The label says why, still holds every word, and the flag that would do is known."""
    long = end("controller of the mast in the stern", ">the other side of the boat")
    (label,) = labelled([long], Tape(width_mm=9), half_em)
    assert not label.fits and "20 × 9 mm" in label.why
    printed = " ".join(line.text for line in label.lines)
    assert all(word in printed for word in long.text.split())
    flag = longer_flag([label], Tape(width_mm=9), half_em)
    assert flag is not None and flag > 20
    assert labelled([long], Tape(width_mm=9, flag_mm=flag), half_em)[0].fits
    assert not labelled([long], Tape(width_mm=9, flag_mm=flag - 1), half_em)[0].fits
    assert longer_flag([label], Tape(width_mm=3), half_em) is None


_WORDS = st.text("ABX17:-/ ", min_size=1, max_size=14).map(str.strip).filter(bool)


@settings(max_examples=150, deadline=None)
@given(
    head=st.lists(_WORDS, min_size=1, max_size=2),
    way=st.lists(_WORDS, min_size=1, max_size=3),
    kind=st.sampled_from(["flag", "sleeve", "wrap"]),
    width=st.sampled_from([6.0, 9.0, 12.0, 18.0, 24.0]),
    flag=st.integers(10, 40),
    size=st.sampled_from([None, 0.35, 1.5, 6.0, 25.0]),
)
def test_what_is_said_to_fit_fits(
    head: list[str], way: list[str], kind: str, width: float, flag: int, size: float | None
) -> None:
    """Every word stands on the label, no line is wider and all together are not higher than its room."""
    one = end(*way, head=tuple(head), size=size)
    tape = Tape(kind=kind, width_mm=width, flag_mm=flag)  # type: ignore[arg-type]
    (label,) = labelled([one], tape, half_em)
    words = " ".join((*head, *way, one.color)).split()
    assert " ".join(line.text for line in label.lines).split() == words
    assert all(SMALLEST_PT <= line.size_pt <= LARGEST_HEAD_PT for line in label.lines)
    if not label.fits:
        return
    wide = {"flag": flag, "sleeve": label.length_mm, "wrap": width}[label.kind] - 2 * MARGIN_MM
    high = (circumference_mm(label.od_mm) if label.kind == "wrap" else width) - 2 * MARGIN_MM
    for line in label.lines:
        assert 0.5 * len(line.text) * line.size_pt * MM_PER_POINT <= wide + 1e-6
    assert sum(line.size_pt for line in label.lines) * LEADING * MM_PER_POINT <= high + 1e-6


# --- the command -------------------------------------------------------------------------------


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    """Write the plan."""
    path = tmp_path / "plan.toml"
    path.write_text(PLAN, encoding="utf-8")
    return path


def _asked(capsys: pytest.CaptureFixture[str], workspace: Workspace, *arguments: str) -> tuple[int, dict]:  # type: ignore[type-arg]
    code = main(["-q", "-w", str(workspace.folder), "plan", "labels", *arguments, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_the_command_answers_with_every_label(
    capsys: pytest.CaptureFixture[str], workspace: Workspace, plan: Plan, plan_file: Path, tmp_path: Path
) -> None:
    """File, labels, their number, the metres of tape, and what does not fit."""
    out = tmp_path / "labels.csv"
    code, answer = _asked(capsys, workspace, str(plan_file), "-o", str(out), "--roll", "8")
    assert code == 0 and out.is_file() and answer["file"] == str(out)
    assert answer["count"] == len(answer["labels"]) == plan.counts["labels"]
    total = sum(label["length_mm"] for label in answer["labels"]) / 1000
    assert answer["tape_m"] == pytest.approx(total)
    assert answer["rolls"] == 2 and answer["tape_m"] <= 16
    bad = [label["id"] for label in answer["labels"] if not label["fits"]]
    assert [item["id"] for item in answer["too_long"]] == bad
    assert all(re.fullmatch(f"[{ALPHABET}]{{4,}}", label["cut"]) for label in answer["labels"])


def test_strict_asks_for_every_text_to_fit(
    capsys: pytest.CaptureFixture[str], workspace: Workspace, plan_file: Path, tmp_path: Path
) -> None:
    """A tape too narrow for some is an answer, and exit code 1 only where --strict asks."""
    asked = (str(plan_file), "-o", str(tmp_path / "narrow.csv"), "--width", "6", "--flag", "20")
    code, answer = _asked(capsys, workspace, *asked)
    assert code == 0 and answer["too_long"]
    assert _asked(capsys, workspace, *asked, "--strict")[0] == 1


@pytest.mark.parametrize(
    "wrong",
    [
        ("-o", "labels.doc"),
        ("-o", "labels.pdf", "--width", "0"),
        ("-o", "labels.pdf", "--flag", "nan"),
        ("-o", "labels.pdf", "--gap", "-1"),
        ("-o", "labels.pdf", "--tape", "--sheet", "A4"),
        ("-o", "labels.pdf", "--flag", "150", "--sheet", "A4"),
        ("-o", "labels.pdf", "--kind", "ribbon"),
    ],
)
def test_a_wrong_use_is_one_sentence(
    capsys: pytest.CaptureFixture[str],
    workspace: Workspace,
    plan_file: Path,
    tmp_path: Path,
    wrong: tuple[str, ...],
) -> None:
    """Exit code 2, what is wrong and what to do; nothing is written."""
    arguments = [str(tmp_path / text) if text.startswith("labels.") else text for text in wrong]
    code, answer = _asked(capsys, workspace, str(plan_file), *arguments)
    assert code == 2 and answer["error"]["message"] and answer["error"]["hint"]
    assert [path.name for path in tmp_path.iterdir()] == ["plan.toml"]


def test_a_plan_that_cuts_nothing_has_nothing_to_label(
    capsys: pytest.CaptureFixture[str], workspace: Workspace, tmp_path: Path
) -> None:
    """No file is written, and the exit code is that of nothing found."""
    empty = tmp_path / "empty.toml"
    empty.write_text('machine = "forklift"\n', encoding="utf-8")
    code, answer = _asked(capsys, workspace, str(empty), "-o", str(tmp_path / "labels.pdf"))
    assert code == 1 and answer["file"] is None and answer["count"] == 0
    assert not (tmp_path / "labels.pdf").exists()


def test_flags_are_as_long_as_the_texts_need(
    capsys: pytest.CaptureFixture[str], workspace: Workspace, plan_file: Path, tmp_path: Path
) -> None:
    """Where nobody says how long they are every text fits; a length that is given is kept."""
    out = str(tmp_path / "labels.pdf")
    narrow = ("--width", "6")
    _, fitted = _asked(capsys, workspace, str(plan_file), "-o", out, *narrow)
    _, given = _asked(capsys, workspace, str(plan_file), "-o", out, *narrow, "--flag", "12")
    assert not fitted["too_long"] and given["too_long"]


def test_a_stud_without_cavities_is_named_without_a_colon() -> None:
    """`MP3`, not `MP3:`: nobody looks for a number that was lost."""
    assert spoken(("MP3", "", "")) == "MP3" and spoken(("X5", "A", "7")) == "X5A:7"
