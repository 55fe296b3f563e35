"""The counting of doubts and of pages that cannot be read, on rows small enough to count by hand."""

from __future__ import annotations

import json
from pathlib import Path

from tests.bench.reading_doubts import judge_doubts, silent_kinds
from tests.bench.reading_pages import KnownPages, PageScore, pages_from_json, score_pages
from tests.bench.reading_score import Judged, Known, agreement
from xref.records import PageNote, Pin


def _note(page: int, outcome: str, why: str = "") -> PageNote:
    return PageNote(document="m.pdf", page=page, page_label="", outcome=outcome, why=why)  # type: ignore[arg-type]


def test_a_doubt_is_right_when_its_row_is_wrong() -> None:
    """Two rows with a doubt, one of them wrong: right in half; a wrong role alone is no wrong row."""
    rows = [
        Judged(flags=("cavity-gap",), off=("circuit",)),
        Judged(flags=("cavity-gap", "color-unknown"), off=("role",)),
    ]
    counts = judge_doubts(rows)
    assert (counts["cavity-gap"].raised, counts["cavity-gap"].wrong) == (2, 1)
    assert (counts["cavity-gap"].alone, counts["cavity-gap"].alone_wrong) == (1, 1)
    assert (counts["color-unknown"].wrong, counts["color-unknown"].any_field) == (0, 1)
    assert (counts["cavity-gap"].right, counts["color-unknown"].right) == (0.5, 0.0)


def test_silently_wrong_rows_count_by_what_is_wrong() -> None:
    """Only rows without doubt are silent."""
    rows = [
        Judged(flags=(), off=("circuit", "function")),
        Judged(flags=(), off=("not there",)),
        Judged(flags=("cavity-gap",), off=("circuit",)),
        Judged(flags=(), off=("role",)),
        Judged(flags=(), off=()),
    ]
    assert silent_kinds(rows) == {"circuit function": 1, "not there": 1}


def test_pages_passed_over_in_silence_are_counted() -> None:
    """A scan must be named unread, a picture beside text named as such; rows from them are counted."""
    known = KnownPages(unread=frozenset({1, 2}), pictures=frozenset({3, 4}))
    notes = [
        _note(1, "unread", "picture only"),
        _note(2, "skipped", "no text"),
        _note(3, "skipped", "no sign; a picture covers 20% of the page and was not read"),
        _note(4, "read", "table words"),
    ]
    score = PageScore()
    score_pages(score, "m.pdf", known, notes, [2, 4, 4], [4])
    assert (score.known["unread"], score.named["unread"], score.rows["unread"]) == (2, 1, 1)
    assert (score.known["picture"], score.named["picture"], score.rows["picture"]) == (2, 1, 0)
    assert score.silent == [("m.pdf", 2, "unread"), ("m.pdf", 4, "picture")]


def test_known_pages_come_from_the_file_beside_the_manual(tmp_path: Path) -> None:
    """The file lists the pages of each kind."""
    path = tmp_path / "m.json"
    path.write_text(
        json.dumps({"distractor_pages": [5], "unread_pages": [1], "picture_pages": [3]}), encoding="utf-8"
    )
    assert pages_from_json(path) == KnownPages(
        distractors=frozenset({5}), unread=frozenset({1}), pictures=frozenset({3})
    )


def test_any_decoded_color_is_accepted_where_the_truth_leaves_it_open() -> None:
    """A code that two schemes decode otherwise may be decoded either way; its stripe as well."""
    known = Known(
        document="m.pdf", page=1, connector="C1", cavity="1", base_color="blue|black", stripe_color="*"
    )
    read = Pin(connector="C1", cavity="1", document="m.pdf", page=1, base_color="black", stripe_color="red")
    other = Pin(connector="C1", cavity="1", document="m.pdf", page=1, base_color="red")
    assert agreement(known, read)["colors"] and not agreement(known, other)["colors"]
