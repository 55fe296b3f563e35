"""Header lines: segments, split phrases, headers of two lines, and the columns they name."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.tables.drawn import Page, body, contents, only_table
from xref.tables.headerline import (
    Segment,
    grow_header,
    is_header_line,
    line_to_segments,
    merge_segments,
    segments_to_columns,
)
from xref.tables.lines import Line, words_to_lines
from xref.tables.vocabulary import best_role, split_phrases


def _lines(page: Page) -> list[Line]:
    (content,) = contents(page.save())
    return words_to_lines(content.words)


def _header(tmp_path: Path, texts: Sequence[str], xs: Sequence[float]) -> list[Segment]:
    (line,) = _lines(Page(tmp_path / "a.pdf").aligned([texts], xs))
    return line_to_segments(line)


@pytest.mark.parametrize(
    ("words", "starts"),
    [
        ("Cavity Color Circuit Size", [0, 1, 2, 3]),
        ("Pin No. Wire Color Circuit No. Function", [0, 2, 4, 6]),
        ("Wire Color", [0]),
        ("Kammer-Nr. Aderfarbe Querschnitt Funktion", [0, 1, 2, 3]),
        ("Lamp supply", [0]),
    ],
)
def test_a_run_of_words_falls_into_known_phrases(words: str, starts: list[int]) -> None:
    """The fewest phrases that cover the most words: `Wire Color` is one, `Color Circuit` two."""
    assert split_phrases(words.split()) == starts


@pytest.mark.parametrize(
    ("text", "role"),
    [
        ("Pin No.", "cavity"),
        ("Kammer", "cavity"),
        ("ピン番号", "cavity"),
        ("Wire Colour", "color"),
        ("Aderfarbe", "color"),
        ("Couleur", "color"),
        ("線色", "color"),
        ("Circuit", "circuit"),
        ("Ckt. #", "circuit"),
        ("Querschnitt mm²", "size"),
        ("Circiut", "circuit"),
        ("Funktion", "function"),
        ("Torque", "distractor"),
    ],
)
def test_header_words_have_roles(text: str, role: str) -> None:
    """Words of six languages, with a misprint, name what stands under them (common trade practice)."""
    found, score = best_role(text)
    assert found == role and score > 0.6


@pytest.mark.parametrize("text", ["Lamp supply", "1440", "BK", ""])
def test_cells_are_no_header_words(text: str) -> None:
    """What stands in rows names no column."""
    assert best_role(text)[1] < 0.6


def test_segments_part_at_wide_gaps(tmp_path: Path) -> None:
    """`Wire Color` with a blank in it is one segment, and each segment spans its words."""
    segments = _header(tmp_path, ("Pin No.", "Wire Color", "Circuit No.", "Function"), (60, 130, 210, 290))
    assert [s.text for s in segments] == ["Pin No.", "Wire Color", "Circuit No.", "Function"]
    assert all(abs(s.x0 - x) < 2 and s.x1 > s.x0 for s, x in zip(segments, (60, 130, 210, 290), strict=True))


def test_headers_that_stand_as_close_as_words_are_parted_by_meaning(tmp_path: Path) -> None:
    """Narrow columns leave only a blank between their headers; known phrases show where one ends."""
    (line,) = _lines(Page(tmp_path / "a.pdf").heading("Cavity Color Circuit Size", size=9))
    assert [s.text for s in line_to_segments(line)] == ["Cavity", "Color", "Circuit", "Size"]


@pytest.mark.parametrize(
    ("texts", "is_one"),
    [
        (("Cavity", "Color", "Circuit", "Function"), True),
        (("Pin", "Signal"), True),
        (("Splice", "Circuit", "Color"), True),
        (("1", "BK", "1440", "Lamp"), False),
        (("Chapter", "Page", "Date"), False),
        (("Color", "12"), False),
    ],
)
def test_a_line_of_header_words_is_a_header(tmp_path: Path, texts: tuple[str, ...], is_one: bool) -> None:
    """Two words for what a wire has make a header; numbers in the line make it a row."""
    xs = tuple(60 + 90 * i for i in range(len(texts)))
    assert is_header_line(_header(tmp_path, texts, xs)) is is_one


def test_a_header_of_two_lines_is_one_header(tmp_path: Path) -> None:
    """`Wire` over `Color` is the header Wire Color, and the line below is no row."""
    lines = _lines(
        Page(tmp_path / "a.pdf")
        .aligned([("Pin", "Wire", "Circuit", "Function")], (60, 130, 210, 290), down=11)
        .aligned([("No.", "Color", "No.", "")], (60, 130, 210, 290), down=16)
        .aligned([("1", "BK", "1440", "Lamp")], (60, 130, 210, 290), bold_first=False)
    )
    first, end, segments = grow_header(lines, 0)
    assert (first, end) == (0, 2)
    assert [s.text for s in segments] == ["Pin No.", "Wire Color", "Circuit No.", "Function"]


def test_rows_do_not_join_a_header(tmp_path: Path) -> None:
    """A row right under its header stays a row."""
    lines = _lines(
        Page(tmp_path / "a.pdf").aligned(
            [("Cavity", "Color", "Circuit"), ("1", "BK", "1440"), ("2", "RD", "1441")],
            (60, 130, 210),
            pitch=11,
        )
    )
    assert grow_header(lines, 0)[:2] == (0, 1)


def test_segments_over_one_another_are_joined_and_others_keep_their_place() -> None:
    """Upper text comes first; what stands alone stays where it is."""
    upper = [Segment(text="Wire", x0=100, x1=120), Segment(text="Function", x0=200, x1=240)]
    lower = [Segment(text="Pin", x0=50, x1=65), Segment(text="Color", x0=98, x1=124)]
    merged = merge_segments(upper, lower)
    assert [s.text for s in merged] == ["Pin", "Wire Color", "Function"]
    assert (merged[1].x0, merged[1].x1) == (98, 124)


def test_headers_go_to_the_columns_they_stand_over() -> None:
    """Order is kept, and a column without header, or a header without column, is left alone."""
    spans = [(50.0, 60.0), (100.0, 130.0), (150.0, 180.0), (220.0, 300.0)]
    full = [Segment(text=t, x0=x, x1=x + 25) for t, x in zip("abcd", (48, 102, 150, 220), strict=True)]
    assert segments_to_columns(full, spans) == ["a", "b", "c", "d"]
    assert segments_to_columns([full[0], full[1], full[3]], spans) == ["a", "b", "", "d"]
    assert segments_to_columns(full, [spans[0], spans[1], spans[3]]) == ["a", "b", "d"]
    assert segments_to_columns([], spans) == ["", "", "", ""]


def test_a_line_that_ends_one_header_is_no_row(tmp_path: Path) -> None:
    """`number` under `Cavity`, while the other headers have one line, belongs to the header."""
    page = Page(tmp_path / "a.pdf").heading("Connector X5")
    page.aligned((("", "Color", "Circuit"),), (60, 130, 200), down=4)
    page.y -= 10
    page.aligned((("Cavity", "", ""), ("number", "", "")), (60, 130, 200), pitch=13, down=15)
    page.aligned(
        (("1", "BK", "1440"), ("2", "RD", "1441"), ("3", "BU", "1442")), (60, 130, 200), bold_first=False
    )
    table = only_table(page)
    assert table.header == ("Cavity number", "Color", "Circuit")
    assert body(table)[0] == ["1", "BK", "1440"]
