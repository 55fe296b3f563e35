"""Free text: ranked, forgiving, safe for any question, and of one state with the index."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.store.sample import document, pin
from xref.store.index import Index
from xref.store.search import SearchResult, rebuild_search, search
from xref.workspace import Workspace

FUNCTIONS = (
    "Hydraulic pump feed",
    "Pump relay",
    "Hydraulikpumpe Versorgung",
    "Éclairage arrière",
    "燃料ポンプ電源",
    "Horn",
)


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Workspace:
    """Index some functions in several languages."""
    workspace = Workspace(tmp_path_factory.mktemp("search"))
    with Index.open(workspace, write=True) as index:
        rows = [pin("X1", str(n), str(1440 + n), function=text) for n, text in enumerate(FUNCTIONS)]
        index.replace(document(), [], rows, [])
        rebuild_search(index, workspace)
    return workspace


def ask(workspace: Workspace, text: str) -> SearchResult:
    """Search as a look-up does."""
    with Index.open(workspace) as index:
        return search(text, 10, index=index, workspace=workspace)


@pytest.mark.parametrize(
    ("asked", "best"),
    [
        ("hydraulic pump", "Hydraulic pump feed"),
        ("PUMP FEED", "Hydraulic pump feed"),
        ("hydralic", "Hydraulic pump feed"),
        ("hydraulikp", "Hydraulikpumpe Versorgung"),
        ("eclairage", "Éclairage arrière"),
        ("ポンプ", "燃料ポンプ電源"),
        ("sorgung", "Hydraulikpumpe Versorgung"),
        ("1443", "1443"),
        ("x1", "X1"),
    ],
)
def test_finds(workspace: Workspace, asked: str, best: str) -> None:
    """Words, beginnings, misprints, accents, scripts without blanks and inner parts find their text."""
    assert ask(workspace, asked).hits[0].text == best


def test_did_you_mean(workspace: Workspace) -> None:
    """An unknown word is answered with the likest word of the documents; a known one is not."""
    assert ask(workspace, "hydrauilc pump").did_you_mean == ("hydraulic pump",)
    assert ask(workspace, "hydraulic pump").did_you_mean == ()


@pytest.mark.parametrize(
    ("asked", "meant"), [("bump", "pump"), ("orn", ""), ("hidraulik", "hydraulic"), ("xxxxxx", "")]
)
def test_a_misspelt_first_letter_is_put_right_too(workspace: Workspace, asked: str, meant: str) -> None:
    """One letter may be wrong anywhere in a word that is long enough to be known by the others."""
    assert ask(workspace, asked).did_you_mean == ((meant,) if meant else ())


def test_a_number_that_is_there_is_not_the_beginning_of_others(tmp_path: Path) -> None:
    """12 asks for 12, not for 1200, where 12 stands in the documents."""
    workspace = Workspace(tmp_path)
    with Index.open(workspace, write=True) as index:
        rows = [pin("X1", str(n), circuit) for n, circuit in enumerate(("12", "1200", "13"))]
        index.replace(document(), [], rows, [])
    assert {hit.text for hit in ask(workspace, "12").hits if hit.field == "circuit"} == {"12"}
    assert {hit.text for hit in ask(workspace, "120").hits} == {"1200"}


def test_another_digit_is_another_number(workspace: Workspace) -> None:
    """A number that is not there finds no number near it."""
    assert ask(workspace, "1499").hits == ()


@given(st.text(max_size=40))
@example('"((pump AND NOT OR [TO] {a~^*?:\\')
@example("text:*")
@example("a" * 5000)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_is_a_safe_question(workspace: Workspace, text: str) -> None:
    """No text a person may type is an error."""
    assert len(ask(workspace, text).hits) <= 10


@pytest.mark.parametrize("harm", ["gone", "emptied", "garbled"])
def test_rebuilt_when_missing_or_broken(tmp_path: Path, workspace: Workspace, harm: str) -> None:
    """A folder that is gone, empty or garbled is made anew by the next question."""
    copy = Workspace(tmp_path)
    shutil.copytree(workspace.derived, copy.derived)
    if harm == "gone":
        shutil.rmtree(copy.search)
    for path in copy.search.glob("*"):
        if harm == "emptied":
            path.unlink()
        else:
            path.write_bytes(b"\x00garbled" * 30)
    assert ask(copy, "pump").hits == ask(workspace, "pump").hits


def test_follows_the_index(tmp_path: Path) -> None:
    """Texts that came since the last building are found, those that went are not."""
    workspace = Workspace(tmp_path)
    with Index.open(workspace, write=True) as index:
        index.replace(document(), [], [pin("X1", "1", "7", function="Horn")], [])
        rebuild_search(index, workspace)
        index.replace(document(), [], [pin("X1", "1", "7", function="Winch")], [])
        index.set_roles([])
        index.mark_settled()
    assert [hit.text for hit in ask(workspace, "winch").hits] == ["Winch"]
    assert ask(workspace, "horn").hits == ()
