"""Page readings as they are kept until their document is read to its end."""

from __future__ import annotations

import gc
import pickle
from pathlib import Path

import pytest

from tests.tables.drawn import Page, contents
from xref.pages.circles import seldom_collecting
from xref.tables.kept import keep, kept_to_readings
from xref.tables.page import PageReading, content_to_reading

ROWS = (("Cavity", "Color", "Circuit"), *((str(n), "BK", str(1440 + n)) for n in range(1, 21)))


def _reading(tmp_path: Path) -> PageReading:
    page = Page(tmp_path / "a.pdf").heading("Connector X5 – Work lamps").ruled(ROWS, (60, 60, 80))
    return content_to_reading(contents(page.save())[0], "asked")


def test_what_is_kept_comes_out_as_it_went_in(tmp_path: Path) -> None:
    """A reading with tables and one without are the same afterwards."""
    blank = PageReading(page=2, label="", outcome="skipped", why="no sign of a pinout")
    readings = [_reading(tmp_path), blank]
    assert kept_to_readings([keep(r) for r in readings]) == readings


def test_collecting_is_as_usual_afterwards() -> None:
    """What is seldom done for a while is done as before when it is over, also after a fault."""
    usual = gc.get_threshold()
    with pytest.raises(ValueError, match="planted"), seldom_collecting():
        assert gc.get_threshold() > usual
        raise ValueError("planted")
    assert gc.get_threshold() == usual


def test_what_is_kept_takes_little_room(tmp_path: Path) -> None:
    """A page of twenty rows takes a few kilobytes, so that a long manual's readings add up to little."""
    kept = keep(_reading(tmp_path))
    assert isinstance(kept, bytes)
    assert len(kept) < 4_000 < len(pickle.dumps(_reading(tmp_path)))


def test_pairs_that_make_no_key_are_not_kept(tmp_path: Path) -> None:
    """Neighbours on a line are kept only from a page that prints a colour key."""
    assert _reading(tmp_path).key_pairs == ()
    page = Page(tmp_path / "key.pdf").aligned((("BK", "black"), ("RD", "red"), ("BU", "blue")), (60, 120))
    assert ("RD", "red") in content_to_reading(contents(page.save())[0], "asked").key_pairs
