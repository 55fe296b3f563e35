"""Random harnesses with random plans, worked out from the rows a manual would print of them."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from tests.harness.random_harness import Cavity, End, Harness, Printing, Size, printed, random_harness
from tests.harness.test_net_properties import pure_nets
from xref.harness.answers import InlineCavity, InlineView
from xref.harness.netmap import map_of
from xref.moves.fates import Places
from xref.moves.json_plan import plan_to_json
from xref.moves.known import Known
from xref.moves.plan_file import PlanFile
from xref.moves.work_out import worked_out
from xref.records import Connector, Pin

#: Words a row may print as its function, and whether a line may be proposed for its net.
FUNCTIONS: Mapping[str, bool] = {
    "Work lamp, left": True,
    "Sensor return": True,
    "CAN high": True,
    "Shield": True,
    "Airbag squib": False,
    "Brake light switch": False,
    "Steering angle": False,
}
PLACES = ("bow", "stern locker", "wheelhouse")


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A harness with its rows, and where each connector will be."""

    harness: Harness
    rows: Sequence[tuple[Pin, End]]
    of: Mapping[str, str]
    otherwise: str = "as fitted"
    keep: frozenset[str] = frozenset()
    plan: PlanFile = field(default_factory=PlanFile)

    def where(self, connector: str) -> str:
        """Return where a connector will be."""
        return self.of.get(connector, self.otherwise)

    def planless(self, net: frozenset[End]) -> bool:
        """Say whether some row of a net prints a function that forbids lines."""
        return any(not FUNCTIONS.get(pin.function, True) for pin, end in self.rows if end in net)

    def printed(self) -> set[tuple[str, int, Cavity]]:
        """Return document, page and cavity of every row."""
        return {(pin.document, pin.page, Cavity(pin.connector, pin.half, pin.cavity)) for pin, _ in self.rows}

    def worked_out(self) -> dict[str, Any]:
        """Return the plan as the object a program gets."""
        known = known_of(self.harness, self.rows)
        line = {name: self.harness.components.get(name, name) for name in self.of}
        places = Places(dict(self.of), self.otherwise, line)
        plan = plan_to_json(worked_out("lift", self.plan, places, self.keep, known))
        return json.loads(json.dumps(plan))  # type: ignore[no-any-return]


def known_of(harness: Harness, rows: Sequence[tuple[Pin, End]]) -> Known:
    """Return what the rows say of a harness: nets and maps by the pure functions, in-lines as drawn."""
    used = [pin for pin, end in rows if end.wire >= 0]
    nets = dict(enumerate(pure_nets(harness, rows), start=1))
    return Known(
        flags={number: net.flags for number, net in nets.items()},
        maps={
            number: map_of([used[i] for i in net.members], harness.mates()) for number, net in nets.items()
        },
        inlines=[
            _view(harness, name, [pin for pin, _ in rows if pin.connector == name])
            for name in harness.inlines
        ],
    )


def _view(harness: Harness, name: str, pins: Sequence[Pin]) -> InlineView:
    cavities: dict[str, tuple[list[Pin], list[Pin]]] = defaultdict(lambda: ([], []))
    for pin in pins:
        cavities[pin.cavity]["AB".index(pin.half)].append(pin)
    return InlineView(
        machine="lift",
        halves=tuple(
            Connector(machine="lift", connector=name, half=half, role="inline", document="") for half in "AB"
        ),
        how="designator",
        cavities=tuple(
            InlineCavity(cavity=cavity, one=tuple(one), other=tuple(other))
            for cavity, (one, other) in sorted(cavities.items())
        ),
        components=(),
    )


def random_case(
    seed: int, size: Size, functions: float = 0.15, goes_to: str = "next", splices: bool = True, lost: int = 0
) -> Case:
    """Make a harness, print it, and choose what moves where, what is dropped and what is kept.

    Without `splices` no row of a splice is printed; `lost` tables stand nowhere.
    """
    dice = Random(seed)
    harness = random_harness(dice, size)
    how = Printing(goes_to=goes_to, harness_names=dice.random() < 0.7)  # type: ignore[arg-type]
    rows = with_functions(printed(harness, dice, how), dice, functions)
    if not splices:
        rows = [row for row in rows if row[0].role != "splice"]
    tables = sorted({(pin.connector, pin.half) for pin, _ in rows})
    missing = dice.sample(tables, min(lost, len(tables)))
    rows = [row for row in rows if (row[0].connector, row[0].half) not in missing]
    places = PLACES[: dice.randint(1, 3)]
    of = random_places(harness, dice, places)
    kept = [name for name in harness.inlines if dice.random() < 0.1]
    circuits = sorted({pin.circuit for pin, _ in rows if pin.circuit})
    shorten = tuple(circuit for circuit in circuits if dice.random() < 0.2)
    host = {f"{pin.connector}:{pin.cavity}": "host 24 V, fuse H3" for pin, _ in rows if dice.random() < 0.1}
    return Case(
        harness=harness,
        rows=rows,
        of=of,
        otherwise=dice.choice(("as fitted", "as fitted", "left behind")),
        keep=frozenset(kept),
        plan=PlanFile(
            place={name: where for name, where in of.items() if where in places}, shorten=shorten, host=host
        ),
    )


def random_places(
    harness: Harness, dice: Random, places: Sequence[str], dropped: float = 0.15
) -> dict[str, str]:
    """Give some components, studs and fuses a place, and drop some."""
    share = dice.choice((0.2, 0.5, 0.8))
    owners: dict[str, str] = {}
    of: dict[str, str] = {}
    for (connector, _), role in harness.roles.items():
        if role in ("inline", "splice"):
            continue
        owner = harness.components.get(connector, connector)
        if owner not in owners:
            owners[owner] = dice.choice(places) if dice.random() < share else ""
            if dice.random() < dropped:
                owners[owner] = "dropped"
        if owners[owner]:
            of[connector] = owners[owner]
    return of


def with_functions(rows: Sequence[tuple[Pin, End]], dice: Random, share: float) -> list[tuple[Pin, End]]:
    """Print a function on some rows; copies of a row print the same."""
    words: dict[End, str] = {}
    pick: Callable[[], str] = lambda: dice.choice(sorted(FUNCTIONS)) if dice.random() < share else ""  # noqa: E731
    for _, end in rows:
        words.setdefault(end, pick())
    return [(replace(pin, function="" if end.wire < 0 else words[end]), end) for pin, end in rows]
