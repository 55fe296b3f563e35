"""Rows in doubt: worst first, and only those that stand in the way of a module."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.sample import connector, document, pin
from xref.harness.doubts import COLUMNS, doubt_lines, doubtful_rows
from xref.harness.doubts_words import RISKS, look_at, means, rank, risk_of
from xref.records import DOUBTS
from xref.store.index import Index
from xref.store.work import Work
from xref.workspace import Workspace


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """A mast controller on X1, an in-line it goes through, and a lamp that has nothing to do with it."""
    found = Workspace(tmp_path)
    rows = [
        pin("X1", "1", "10", component="Mast", role="component", row_no=1, flags=("size-undecided",)),
        pin("X1", "2", "11", component="Mast", role="component", row_no=2),
        pin("X5", "7", "11", half="A", role="inline", row_no=3, flags=("cavity-repeated",)),
        pin("X9", "1", "90", component="Lamp", role="component", row_no=4, flags=("heading-uncertain",)),
        pin("X9", "2", "91", component="Lamp", row_no=5, flags=("color-unknown", "cavity-gap")),
    ]
    heads = [connector("X1", component="Mast"), connector("X5", half="A", role="inline")]
    heads.append(connector("X9", component="Lamp"))
    with Index.open(found, write=True) as index:
        index.replace(document(), heads, rows, [])
    return found


def places(workspace: Workspace, **asked: object) -> list[str]:
    """Return connector and cavity of the rows listed, in order."""
    with Index.open(workspace) as index, Work.open(workspace, write=True) as work:
        found = doubtful_rows(index, work, **asked)  # type: ignore[arg-type]
        return [f"{row.pin.connector}:{row.pin.cavity}" for row in found.rows]


def test_what_would_cut_the_wrong_wire_comes_first(workspace: Workspace) -> None:
    """A doubtful connector before a doubtful cavity before a doubtful colour before a doubtful size."""
    assert places(workspace) == ["X9:1", "X5:7", "X9:2", "X1:1"]


def test_only_what_stands_in_the_way_of_a_module(workspace: Workspace) -> None:
    """The rows of its plugs, and those of the circuits that leave them; other modules stay out."""
    assert places(workspace, component="Mast") == ["X5:7", "X1:1"]
    assert places(workspace, component="nobody") == []


def test_rows_of_one_connector_with_those_that_are_vouched_for(workspace: Workspace) -> None:
    """Any row can be looked at and has a number, doubtful ones first."""
    assert places(workspace, connector="x1", vouched=True) == ["X1:1", "X1:2"]


def test_each_doubt_is_a_line_of_the_table(workspace: Workspace) -> None:
    """The table has one line per row and doubt, the worst doubt of a row first."""
    with Index.open(workspace) as index, Work.open(workspace, write=True) as work:
        lines = list(doubt_lines(doubtful_rows(index, work).rows))
    assert [(line["connector"], line["doubt"]) for line in lines] == [
        ("X9", "heading-uncertain"),
        ("X5", "cavity-repeated"),
        ("X9", "cavity-gap"),
        ("X9", "color-unknown"),
        ("X1", "size-undecided"),
    ]
    assert all(tuple(line) == COLUMNS or set(line) == set(COLUMNS) for line in lines)


@pytest.mark.parametrize("doubt", DOUBTS)
def test_every_doubt_says_what_it_means_and_where_to_look(doubt: str) -> None:
    """No doubt is a bare name: it has a meaning, a risk, and something of its own to look at."""
    assert means(doubt) != doubt and risk_of(doubt) in RISKS
    assert look_at(doubt).endswith((".", "?"))
    assert look_at(doubt) != look_at("never heard of") or doubt == "readings-disagree"


def test_a_doubt_nobody_described_is_still_told() -> None:
    """A doubt of another version has a place in the order and something to look at."""
    assert RISKS[rank("new-doubt") // (len(DOUBTS) + 1)] == "row"
    assert look_at("new-doubt") == "Compare every cell of the row with the page."
