"""Letter-spaced lines are read as the words they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables.drawn import PAGE, Page, contents
from xref.tables.lines import words_to_lines
from xref.tables.spaced import respaced


@pytest.mark.parametrize("text", ["Connector X373 - Joystick (15-way, white)", "X5 Pump", "K23-A"])
@pytest.mark.parametrize("apart", [0.0, 1.5, 3.0, 4.5])
def test_letters_set_apart_are_words_again(tmp_path: Path, text: str, apart: float) -> None:
    """However far the letters of a heading stand apart, its words come back."""
    page = Page(tmp_path / "a.pdf")
    page.canvas.setFont("Helvetica-Bold", 12)
    page.canvas.drawString(60, PAGE[1] - 90, text, charSpace=apart)
    (content,) = contents(page.save())
    (line,) = words_to_lines(content.words)
    assert respaced(line).text == text


def test_single_characters_that_stand_apart_are_left_alone(tmp_path: Path) -> None:
    """The cavities of a drawn face are no word."""
    page = Page(tmp_path / "a.pdf")
    for n in range(6):
        page.line(str(n + 1), x=60 + 24 * n, down=0)
    (content,) = contents(page.save())
    (line,) = words_to_lines(content.words)
    assert respaced(line).text == "1 2 3 4 5 6"
