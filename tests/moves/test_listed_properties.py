"""Random harnesses whose splices stand in a list, one row each: plans carried out on the true wires."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

import pytest

from tests.harness.random_harness import Cavity, End, Harness, Printing, Size, printed, random_harness
from tests.harness.sample import filled
from tests.moves.cases import PLACES, Case, random_places
from tests.moves.test_plan_properties import wrong
from xref.moves.json_plan import plan_to_json
from xref.moves.plan_file import PlanFile
from xref.moves.work_out import work_out
from xref.records import Pin
from xref.store.index import Index

#: Wires of a splice bear its number, for a list does not say what else they bear.
SIZE = {"suffixes": 0.0, "potential": 0.0, "number_changes": 0.05, "chained": 0.1}

Rows = list[tuple[Pin, End]]


def listed_harness(dice: Random) -> Harness:
    """Make a harness whose splices have no cavities."""
    made = random_harness(
        dice, Size(nets=dice.randrange(2, 9), harnesses=dice.randrange(1, 4), most_ends=6, **SIZE)
    )

    def bare(cavity: Cavity) -> Cavity:
        return cavity._replace(cavity="") if made.role(cavity) == "splice" else cavity

    made.wires = [replace(w, ends=(bare(w.ends[0]), bare(w.ends[1]))) for w in made.wires]
    return made


def with_list(harness: Harness, rows: Sequence[tuple[Pin, End]], counts: bool) -> Rows:
    """Return the rows with one row for each splice in place of those of its wires."""
    wires = Counter(cavity for _, cavity in harness.ends() if harness.role(cavity) == "splice")
    found: Rows = []
    first: dict[str, Pin] = {}
    for pin, end in rows:
        if pin.role == "splice":
            first.setdefault(pin.connector, pin)
        else:
            found.append((replace(pin, goes_to=pin.goes_to.removesuffix(":")), end))
    for number, (name, pin) in enumerate(sorted(first.items()), start=1):
        said = [f"splice-wires={wires[Cavity(name, pin.half, '')]}"] if counts else []
        look = {"color_code": "", "base_color": "", "stripe_color": "", "size": "", "size_mm2": None}
        where = {"document": "manual-0.pdf", "page": 900, "row_no": number, "goes_to": "", "harness": ""}
        row = replace(pin, notices=("splice-listed", *said), **look, **where)  # type: ignore[arg-type]
        found.append((row, End(-1, 0)))
    return found


def planned(
    folder: Path, seed: int, goes_to: str, counts: bool, lost: int = 0
) -> tuple[Case, dict[str, Any]]:
    """Return a random case and its plan, through an index."""
    dice = Random(seed)
    harness = listed_harness(dice)
    how = Printing(goes_to=goes_to, doubled=0.0, copied=0.0, unused=0.0, blank_colors=0.0)  # type: ignore[arg-type]
    rows = with_list(harness, printed(harness, dice, how), counts)
    tables = sorted({(pin.connector, pin.half) for pin, _ in rows if pin.role != "splice"})
    missing = dice.sample(tables, min(lost, len(tables) - 1))
    rows = [row for row in rows if (row[0].connector, row[0].half) not in missing]
    of = random_places(harness, dice, PLACES[: dice.randint(1, 3)])
    named = {pin.connector for pin, _ in rows}
    owners = {harness.components.get(name, name): where for name, where in of.items() if name in named}
    plan = PlanFile(
        place={name: where for name, where in owners.items() if where != "dropped"},
        drop=tuple(name for name, where in owners.items() if where == "dropped"),
    )
    with Index.open(filled(folder, *(pin for pin, _ in rows))) as index:
        doubtful = any(mate.doubtful for mate in index.mates())
        found = json.loads(json.dumps(plan_to_json(work_out(index, plan))))
    if doubtful:
        pytest.skip("an in-line that changes nearly everything is in doubt")
    return Case(harness=harness, rows=rows, of=of, plan=plan), found


@pytest.mark.parametrize("seed", range(60))
def test_counted_splices_that_rows_name(tmp_path: Path, seed: int) -> None:
    """With the number of wires said and every far end named, all nets are known, and right."""
    case, plan = planned(tmp_path, seed, "next", counts=True)
    assert not wrong(case, plan)
    assert not [net["reason"] for net in plan["nets"] if net["fate"] == "unknown"]


@pytest.mark.parametrize("seed", range(60))
@pytest.mark.parametrize(("goes_to", "counts"), [("none", True), ("next", False), ("none", False)])
def test_less_that_is_said_joins_nothing_wrong(tmp_path: Path, seed: int, goes_to: str, counts: bool) -> None:
    """Where far ends or numbers are not printed, nets may be unknown, and what is known is right."""
    case, plan = planned(tmp_path, seed, goes_to, counts)
    assert not wrong(case, plan, complete=False)


@pytest.mark.parametrize("seed", range(60))
def test_a_lost_table_is_missed_at_a_counted_splice(tmp_path: Path, seed: int) -> None:
    """A splice with fewer wires than are said makes its net unknown: none of it is cut."""
    case, plan = planned(tmp_path, seed, "next", counts=True, lost=2)
    assert not wrong(case, plan, complete=False)
    ends = {end for _, end in case.rows}
    fate = {
        (end["connector"], end["half"], end["cavity"]): net["fate"]
        for net in plan["nets"]
        for end in net["ends"]
    }
    for net in case.harness.true_nets():
        at = {end: case.harness.wires[end.wire].ends[end.side] for end in net}
        lacking = {
            case.harness.wires[end.wire].ends[1 - end.side]
            for end in net
            if end not in ends and case.harness.role(at[end]) != "splice"
        }
        if any(case.harness.role(cavity) == "splice" for cavity in lacking):
            fates = {fate.get(tuple(cavity)) for end, cavity in at.items() if end in ends}
            assert fates <= {"unknown", None}
