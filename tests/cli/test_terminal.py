"""The screen: columns, wrapping, styles."""

from __future__ import annotations

import io
import json

import pytest

from xref.cli.terminal import Row, Screen, wants_styles, write_json
from xref.cli.text import width_of

LONG = "Lift valve, lowering, supply after the emergency stop switch and the horn relay"


def _screen(width: int = 80, styled: bool = False) -> Screen:
    return Screen(stream=io.StringIO(), width=width, styled=styled)


def _written(target: Screen) -> str:
    assert isinstance(target.stream, io.StringIO)
    return target.stream.getvalue()


@pytest.mark.parametrize("width", [20, 34, 60, 80, 200])
def test_nothing_is_cut_off_at_any_width(width: int) -> None:
    """On a narrow screen cells wrap or go below one another; every word stays, none sticks out."""
    target = _screen(width)
    target.rows([Row(cells=("M12 X1:7", "BU/YE", "blue with yellow stripe", LONG), notes=[(LONG, "doubt")])])
    lines = _written(target).splitlines()
    assert max(map(width_of, lines)) <= width
    text = "".join(lines).replace(" ", "")
    for word in ("M12X1:7", "BU/YE", "yellow", "emergency"):
        assert word in text
    assert text.count("relay") == 2


def test_columns_that_are_empty_in_every_row_take_no_room() -> None:
    """A table without stripes or options has no gap where they would stand."""
    target = _screen()
    target.rows([Row(cells=("1", "", "BU")), Row(cells=("2", "", "RD"))], indent=0)
    assert _written(target) == "1  BU\n2  RD\n"


def test_cells_line_up_beside_wide_characters() -> None:
    """A column of Japanese text is as wide on the screen as its widest cell."""
    target = _screen()
    target.rows([Row(cells=("線色", "x")), Row(cells=("ab", "y"))], indent=0)
    assert _written(target) == "線色  x\nab    y\n"


def test_escape_sequences_of_a_document_never_reach_the_screen() -> None:
    """The only escape bytes written are our own, and only where styles are wanted."""
    for styled in (False, True):
        target = _screen(styled=styled)
        target.line("\x1b[2J wiped", "bold")
        target.rows([Row(cells=("\x1b[2J", "b"), notes=[("\x9b31m", "doubt")])])
        text = _written(target)
        for own in ("\x1b[1m", "\x1b[1;33m", "\x1b[0m"):
            text = text.replace(own, "")
        assert "\x1b" not in text and "\x9b" not in text
        assert r"\x1b[2J" in text


def test_no_color_and_pipes_get_no_styles(monkeypatch: pytest.MonkeyPatch) -> None:
    """Styles need a terminal that is not dumb, and NO_COLOR unset or empty (as no-color.org asks)."""

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert wants_styles(Terminal())
    assert not wants_styles(io.StringIO())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not wants_styles(Terminal())
    monkeypatch.setenv("NO_COLOR", "")
    assert wants_styles(Terminal())
    monkeypatch.setenv("TERM", "dumb")
    assert not wants_styles(Terminal())


def test_a_silent_screen_says_nothing() -> None:
    """`--quiet` silences the talk."""
    target = Screen(stream=io.StringIO(), width=80, silent=True)
    target.line("progress")
    assert _written(target) == ""


def test_json_keeps_every_character_and_writes_none_that_acts(capsys: pytest.CaptureFixture[str]) -> None:
    """What is read back is what went in, and the bytes on the way hold no control or format character."""
    value = "線色 \x1b[31m \u202e0441 \x9b \u2028 \U000e0041 \x00"
    write_json({"text": value})
    out = capsys.readouterr().out
    assert json.loads(out) == {"text": value}
    assert all(char.isprintable() or char == "\n" for char in out)
    assert "線色" in out
