"""The arithmetic of the reading score, on rows small enough to count by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.reading_score import Known, Score, accepts, known_from_csv, loose, pair_rows, score_document
from xref.records import Pin

CONTENT = {"circuit": "1440", "function": "Fuel pump feed", "size": "0.5", "role": "component"}


def _known(**more: object) -> Known:
    fields = {
        "document": "m.pdf",
        "page": 1,
        "connector": "C1",
        "cavity": "1",
        "color_code": "BU/YE",
    } | CONTENT
    return Known(**(fields | more))  # type: ignore[arg-type]


def _read(**more: object) -> Pin:
    fields = {
        "document": "m.pdf",
        "page": 1,
        "connector": "C1",
        "cavity": "1",
        "color_code": "BU/YE",
    } | CONTENT
    return Pin(**(fields | more))  # type: ignore[arg-type]


def _score(known: list[Known], read: list[Pin], bare: tuple[int, ...] = ()) -> Score:
    score = Score()
    score_document(score, "m.pdf", known, read, bare)
    return score


def test_equal_rows_score_full() -> None:
    """A row read as it stands is found, right and not silent."""
    total = _score([_known()], [_read()]).total
    assert (total.recall, total.precision, total.silent) == (100.0, 100.0, 0)


def test_lost_and_invented_rows_count_apart() -> None:
    """Of two known rows one lost halves the recall; of two read rows one invented halves the precision."""
    total = _score([_known(), _known(cavity="2")], [_read(), _read(cavity="9")]).total
    assert (total.recall, total.precision) == (50.0, 50.0)
    assert (total.silent, total.vouched, total.silent_per_10k) == (1, 2, 5000.0)


@pytest.mark.parametrize("field", ["circuit", "color_code", "connector", "cavity"])
def test_wrong_key_field_without_doubt_is_silent(field: str) -> None:
    """A vouched row with another circuit, colour, connector or cavity is silently wrong."""
    total = _score([_known()], [_read(**{field: "X"})]).total
    assert (total.silent, total.right) == (1, 0)


def test_wrong_row_with_a_doubt_is_not_silent() -> None:
    """A named doubt takes the row out of the vouched ones."""
    total = _score([_known()], [_read(circuit="1441", flags=("column-guessed",))]).total
    assert (total.silent, total.vouched, total.doubted, total.right) == (0, 0, 1, 0)


def test_wrong_function_is_not_right_but_cuts_no_wire() -> None:
    """A function read otherwise makes the row wrong and counts among `silent_any` only."""
    total = _score([_known()], [_read(function="Fuel")]).total
    assert (total.right, total.silent, total.silent_any) == (0, 0, 1)


def test_wrongly_decoded_color_is_silent_and_an_undecoded_one_is_not() -> None:
    """Black for white is a wrong wire; no answer is none."""
    known = [_known(base_color="white")]
    assert _score(known, [_read(base_color="black")]).total.silent == 1
    assert _score(known, [_read(base_color="")]).total.silent == 0


def test_two_wires_in_a_cavity_pair_by_content() -> None:
    """Two rows of one cavity are paired with the read rows that agree most, whatever their order."""
    known = [_known(circuit="1"), _known(circuit="2")]
    assert sorted(pair_rows(known, [_read(circuit="2"), _read(circuit="1")])) == [(0, 1), (1, 0)]


def test_a_row_read_twice_is_once_right_and_once_not_there() -> None:
    """A known row takes one read row only."""
    total = _score([_known()], [_read(), _read()]).total
    assert (total.right, total.read, total.silent) == (1, 2, 1)


def test_swapped_halves_are_silent() -> None:
    """The other half's name on a row is a wrong row."""
    known = [_known(half="male|M"), _known(half="female|F", circuit="7")]
    read = [_read(half="female"), _read(half="male", circuit="7")]
    assert _score(known, read).total.silent == 2
    assert _score(known, [_read(half="M"), _read(half="F", circuit="7")]).total.right == 2


def test_rows_from_pages_without_pinout_are_counted() -> None:
    """A row read on a distractor page stands in its own column."""
    total = _score([_known()], [_read(), _read(page=3)], bare=(3,)).total
    assert (total.on_distractors, total.silent) == (1, 1)


def test_accepted_texts_fold_white_space_and_dashes() -> None:
    """Bars separate accepted texts, a star accepts any, blanks and dashes are alike, case counts in codes."""
    assert accepts("18|18 AWG", "18  AWG") and accepts("*", "anything") and accepts("BU–YE", "BU-YE")
    assert not accepts("Br", "BR")
    assert accepts("FUEL pump", "Fuel  Pump", names=True)
    assert loose("燃料 ポンプ") == "燃料ポンプ"


def test_signal_names_may_stand_for_circuits_in_real_documents(tmp_path: Path) -> None:
    """Where the truth has `also`, the signal may stand as circuit or as function; another text may not."""
    file = tmp_path / "t.csv"
    file.write_text(
        "page,connector,cavity,color_code,circuit,function,also,required\n"
        "1,A|Port A,1,red,VCC,,+5V,y\n1,A,2,,GND,,*,y\n1,A,3,,TX,,,n\n",
        encoding="utf-8",
    )
    known = known_from_csv(file, "m.pdf")
    one = {"connector": "A", "cavity": "1", "color_code": "red", "size": ""}
    assert _score(known[:1], [_read(**one, circuit="VCC", function="+5V")]).total.right == 1
    assert _score(known[:1], [_read(**one, circuit="", function="VCC")]).total.right == 1
    assert _score(known[:1], [_read(**one, circuit="RX", function="")]).total.right == 0
    two = {"connector": "A", "cavity": "2", "color_code": "", "circuit": "GND"}
    assert _score(known[1:2], [_read(**two, function="whatever")]).total.right == 1
    assert _score(known[2:], []).total.known == 0
