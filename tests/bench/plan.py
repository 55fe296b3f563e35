"""How long a plan takes over a machine of 100,000 pins, beside reading the same rows.

    python -m tests.bench.plan [--pins 100000] [--keep FOLDER]

Times depend on the machine, so the plan stands beside one read of all the machine's pins in the same run: the
best of several, after one that warms up.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from random import Random

from tests.harness.random_harness import Printing, Size, printed, random_harness
from tests.harness.sample import filled
from xref.moves.plan_file import PlanFile
from xref.moves.work_out import work_out
from xref.store.index import Index
from xref.workspace import Workspace

#: Rows a net of the random harness has, about.
_ROWS_PER_NET = 20
#: Modules of a machine of so many pins, and of them those that move.
_PINS_PER_MODULE, _MOVED = 60, 5
_LOOMS = 60
_ROUNDS = 5


def fill(folder: Path, pins: int) -> Workspace:
    """Print a large random harness and keep it in an index with its nets."""
    dice = Random(1440)
    size = Size(nets=pins // _ROWS_PER_NET, harnesses=_LOOMS, components=pins // _PINS_PER_MODULE)
    began = time.perf_counter()
    harness = random_harness(dice, size)
    rows = printed(harness, dice, Printing(documents=10, doubled=0.0, copied=0.0))
    workspace = filled(folder, *(pin for pin, _ in rows))
    print(f"{len(rows):,} pins stored in {time.perf_counter() - began:.1f} s")
    return workspace


def best_of(work: Callable[[], object]) -> float:
    """Return the seconds a piece of work takes, the best of several rounds."""
    times = []
    for _ in range(_ROUNDS + 1):
        began = time.process_time()
        work()
        times.append(time.process_time() - began)
    return min(times[1:])


def measure(workspace: Workspace) -> None:
    """Print how long reading and planning take."""
    plans = {
        "a plan that moves nothing": PlanFile(),
        f"a plan that moves {_MOVED} modules": PlanFile(place={f"Module {n}": "bow" for n in range(_MOVED)}),
        "and leaves the rest behind": PlanFile(
            place={f"Module {n}": "bow" for n in range(_MOVED)}, rest="left behind"
        ),
    }
    print(f"{'':34}{'CPU s':>8}{'x read':>8}")
    with Index.open(workspace) as index:
        read = best_of(lambda: sum(len(pins) for *_, pins in index.all_nets("lift")))
        print(f"{'all pins, net by net':34}{read:8.2f}{1:8.2f}")
        for name, plan in plans.items():
            took = best_of(lambda plan=plan: work_out(index, plan))  # type: ignore[misc]
            print(f"{name:34}{took:8.2f}{took / read:8.2f}")
        counts = work_out(index, plans[f"a plan that moves {_MOVED} modules"]).counts
        print(", ".join(f"{counts[name]:,} {name}" for name in ("nets", "inlines", "crosses", "cuts")))


def main() -> None:
    """Fill an index if need be and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pins", type=int, default=100_000)
    parser.add_argument("--keep", type=Path, help="folder to keep the index in, for another run")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = given.keep or Path(scratch)
        workspace = Workspace(folder)
        measure(workspace if workspace.index_db.exists() else fill(folder, given.pins))


if __name__ == "__main__":
    main()
