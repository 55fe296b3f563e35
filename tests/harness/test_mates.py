"""Evidence makes an in-line: two halves of one name, or cavity lists that mirror each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness.sample import filled
from tests.store.sample import pin
from xref.harness.lookup import answer_circuit
from xref.harness.mates import mates_of
from xref.records import Pin
from xref.store.index import Index


def loom(name: str, circuits: dict[str, str], **fields: object) -> list[Pin]:
    """Make a connector's pins from cavity to circuit."""
    return [pin(name, cavity, circuit, **fields) for cavity, circuit in circuits.items()]


FOUR = {"1": "101", "2": "102", "3": "103", "4": "104"}


def roles(folder: Path, *pins: Pin) -> dict[str, set[str]]:
    """Return the settled roles by connector."""
    found: dict[str, set[str]] = {}
    with Index.open(filled(folder, *pins)) as index:
        for there in index.all_pins():
            found.setdefault(there.connector, set()).add(there.role)
    return found


def test_halves_in_two_documents_are_an_inline(tmp_path: Path) -> None:
    """Two halves of one designator in different documents are one in-line, and its cavities mate."""
    a = loom("X5", FOUR, half="A")
    b = loom("X5", FOUR, half="B", document="rear.pdf")
    with Index.open(filled(tmp_path, *a, *b)) as index:
        assert {p.role for p in index.all_pins()} == {"inline"}
        (passing,) = answer_circuit(index, "102").pass_throughs
        assert [(p.half, p.document) for p in passing.halves] == [("A", "loom.pdf"), ("B", "rear.pdf")]
        assert "rear.pdf" in index.connectors()[0].role_why


def test_halves_of_two_machines_are_no_inline(tmp_path: Path) -> None:
    """One half in each of two machines makes no in-line."""
    b = loom("X5", FOUR, half="B", document="boat.pdf", machine="boat")
    assert roles(tmp_path, *loom("X5", FOUR, half="A"), *b) == {"X5": {"unknown"}}


def test_mirrored_lists_are_an_inline(tmp_path: Path) -> None:
    """Two connectors of different names with the same circuits in the same cavities mate cavity by cavity."""
    padded = {f"0{cavity}": circuit for cavity, circuit in FOUR.items()}
    with Index.open(filled(tmp_path, *loom("C11", FOUR), *loom("D7", padded))) as index:
        (passing,) = answer_circuit(index, "103").pass_throughs
        assert [(p.connector, p.cavity) for p in passing.halves] == [("C11", "3"), ("D7", "03")]
        assert not passing.missing_half


def test_known_inlines_may_change_a_number(tmp_path: Path) -> None:
    """In-lines by their headings mate when most numbers agree; the changed one goes on under its new name."""
    changed = {**FOUR, "5": "905"}
    pins = [*loom("C11", {**FOUR, "5": "105"}, role="inline"), *loom("D7", changed, role="inline")]
    with Index.open(filled(tmp_path, *pins)) as index:
        (further,) = answer_circuit(index, "105").continues_as
        assert (further.circuit, further.at.connector) == ("905", "C11")


@pytest.mark.parametrize(
    "others",
    [
        loom("D7", {**FOUR, "4": "999"}),
        loom("D7", {"1": "101", "2": "102", "3": "103"}),
        loom("D7", FOUR, component="Left lamp", role="component"),
        loom("D7", FOUR, component="Left lamp"),
        [*loom("D7", FOUR), *loom("E8", FOUR)],
        loom("D7", {"2": "101", "1": "102", "4": "103", "3": "104"}),
    ],
)
def test_likeness_short_of_a_mirror_decides_nothing(tmp_path: Path, others: list[Pin]) -> None:
    """A differing number, a named component, a third of the kind or other cavities leave the role open."""
    assert "inline" not in roles(tmp_path, *loom("C11", FOUR), *others)["C11"]


def test_voltages_do_not_mirror(tmp_path: Path) -> None:
    """Lists alike only in the names of voltages are no evidence."""
    feeds = {"1": "GND", "2": "+12V", "3": "B+", "4": "+5V"}
    assert roles(tmp_path, *loom("C11", feeds), *loom("D7", feeds))["C11"] == {"unknown"}


def test_letters_decide_nothing(tmp_path: Path) -> None:
    """A name's letters alone make no role: the same letter stands for different things.

    Source: IEC 81346-2 and DIN 40719-2 give S, X, G and F different meanings.
    """
    names = ("X1", "S1", "G1", "F1", "J1")
    found = roles(tmp_path, *(pin(name, "1", str(n)) for n, name in enumerate(names)))
    assert found == {name: {"unknown"} for name in names}


def test_inline_goes_when_its_other_half_goes(tmp_path: Path) -> None:
    """A settled role is taken back once its evidence is gone from the documents."""
    workspace = filled(
        tmp_path, *loom("X5", FOUR, half="A"), *loom("X5", FOUR, half="B", document="rear.pdf")
    )
    with Index.open(workspace, write=True) as index:
        index.forget("rear.pdf", "lift")
    filled(tmp_path, *loom("X9", {"1": "5"}, document="other.pdf"))
    with Index.open(workspace) as index:
        assert {p.role for p in index.pins_of("X5")} == {"unknown"}


def test_options_do_not_mate(tmp_path: Path) -> None:
    """Cavities printed for different options are not plugged together."""
    a = pin("X5", "1", "7", half="A", role="inline", option="with heater")
    b = pin("X5", "1", "7", half="B", role="inline", option="without heater")
    c = pin("X5", "1", "8", half="B", role="inline")
    with Index.open(filled(tmp_path, a, b, c)) as index:
        assert [(mate.half, mate.circuit, mate.option) for mate in mates_of(index, a)] == [("B", "8", "")]
