"""Rows that rest on words nobody sees, or that a stamp crosses."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.pins.manual import ROWS, manual
from tests.tables.drawn import contents
from xref.pages.content import Word
from xref.pins.document import readings_to_pins
from xref.records import Pin
from xref.tables.page import content_to_reading


def _read(tmp_path: Path, word: str, **changed: bool) -> tuple[Pin, ...]:
    """Read a manual in which one word is drawn otherwise."""

    def drawn(w: Word) -> Word:
        return replace(w, **changed) if w.text == word else w  # type: ignore[arg-type]

    (content,) = contents(manual(tmp_path, ("Connector X5 - Lamp", ROWS)).save())
    content = replace(content, words=tuple(map(drawn, content.words)))
    return readings_to_pins("", "a.pdf", [content_to_reading(content, "asked")]).pins


@pytest.mark.parametrize(("how", "doubt"), [("hidden", "text-guessed"), ("unmapped", "unmapped-characters")])
def test_a_row_says_what_its_words_rest_on(tmp_path: Path, how: str, doubt: str) -> None:
    """Only the row that holds such a word is in doubt."""
    made = _read(tmp_path, "1441", **{how: True})
    assert [(p.cavity, p.flags) for p in made] == [("1", ()), ("2", (doubt,)), ("3", ())]


def test_a_stamp_alone_is_no_doubt(tmp_path: Path) -> None:
    """Letters of a stamp are taken out; they are named only where something else does not fit."""
    assert [p.flags for p in _read(tmp_path, "1441", underlay=True)] == [(), (), ()]
